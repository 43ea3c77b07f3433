/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "output/export.h"
#include "packing/impose.h"
#include "window/details/details-sheet.h"
#include "window/parts/measure-entry.h"
#include "window/parts/rgb.h"
#include "window/printing/printer-margins.h"

#define HAND_GAP_UM 3000 /* the least that scissors manage between pieces (handbook 4.3) */

/* The kinds of stock that makers buy (handbook 1.2): common practice, to be corrected by what the
 * packet says. */
static const struct {
  const char *name;
  gboolean inkjet_ok, laser_ok, film;
  double drying_hours;
  guint32 rgb;
} stocks[] = {
    {N_ ("Matte sticker paper"), TRUE, FALSE, FALSE, 0, SB_STOCK_WHITE},
    {N_ ("Glossy sticker paper"), TRUE, FALSE, FALSE, 24, SB_STOCK_WHITE},
    {N_ ("Laser label paper"), FALSE, TRUE, FALSE, 0, SB_STOCK_WHITE},
    {N_ ("Kraft sticker paper"), TRUE, TRUE, FALSE, 0, 0xc2996b},
    {N_ ("White film for inkjet"), TRUE, FALSE, TRUE, 24, SB_STOCK_WHITE},
    {N_ ("White film for laser"), FALSE, TRUE, TRUE, 0, SB_STOCK_WHITE},
};

struct _SbDetailsSheet {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkDropDown *paper_drop;
  SbMeasureEntry *width_entry;
  SbMeasureEntry *height_entry;
  GtkToggleButton *portrait_button;
  GtkToggleButton *landscape_button;
  SbMeasureEntry *top_entry;
  SbMeasureEntry *right_entry;
  SbMeasureEntry *bottom_entry;
  SbMeasureEntry *left_entry;
  GtkWidget *source_label;
  SbMeasureEntry *gap_entry;
  GtkWidget *gap_label;
  GtkDropDown *stock_drop;
  GtkSwitch *inkjet_switch;
  GtkSwitch *laser_switch;
  GtkSwitch *film_switch;
  GtkColorChooser *stock_colour;
  GtkWidget *stock_label;

  /* owned */
  SbDesk *desk;

  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbDetailsSheet, sb_details_sheet, GTK_TYPE_WIDGET)

/* Sheets and cards are laid anew on what is another page now. Takes `next`. */
static void
edit_page (SbDetailsSheet *self, SbState *next, const char *name)
{
  sb_job_edit (sb_desk_get_job (self->desk), sb_impose_all (next), name, NULL);
  sb_state_unref (next);
}

static void
edit (SbDetailsSheet *self, SbState *next, const char *name)
{
  sb_job_edit (sb_desk_get_job (self->desk), next, name, NULL);
}

static void
ask_printer (SbDetailsSheet *self)
{
  SbState *state = sb_desk_get_settled (self->desk);

  if (state->printer && state->margins_source != SB_MARGINS_TYPED)
    sb_printer_margins_ask (self->desk, state->printer);
}

/* The strip turns with the sheet. A printer that is chosen says anew what it cannot reach on other
 * paper. */
static void
set_paper (SbDetailsSheet *self, const char *name, sb_um width, sb_um height)
{
  SbState *state = sb_desk_get_settled (self->desk);
  SbMargins sheet =
      sb_margins_sheet_from_page (state->margins, state->page_width > state->page_height);
  g_autoptr (SbState) paper = sb_edit_set_paper (state, name, width, height);

  edit_page (self,
             state->overshoot > 0
                 ? sb_state_ref (paper) /* its margins follow the paper by themselves */
                 : sb_edit_set_margins (paper, sb_margins_page_from_sheet (sheet, width > height),
                                        state->margins_source),
             _ ("Change Paper"));
  ask_printer (self);
}

static void
paper_changed_cb (SbDetailsSheet *self)
{
  gsize n = 0;
  const SbPaper *papers = sb_papers (&n);
  guint selected = gtk_drop_down_get_selected (self->paper_drop);

  if (self->updating || selected >= n)
    return;
  SbState *state = sb_desk_get_settled (self->desk);
  const SbPaper *paper = &papers[selected];
  gboolean landscape = state->page_width > state->page_height;
  set_paper (self, paper->name, landscape ? paper->height : paper->width,
             landscape ? paper->width : paper->height);
}

static void
size_committed_cb (SbDetailsSheet *self)
{
  sb_um width = sb_um_from_mm (sb_measure_entry_get_value (self->width_entry));
  sb_um height = sb_um_from_mm (sb_measure_entry_get_value (self->height_entry));
  char least_mm[G_ASCII_DTOSTR_BUF_SIZE], most_mm[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *name = NULL;
  sb_um least = MIN (width, height), most = MAX (width, height);

  if (self->updating)
    return;
  g_ascii_formatd (least_mm, sizeof least_mm, "%.3f", sb_um_to_mm (least));
  g_ascii_formatd (most_mm, sizeof most_mm, "%.3f", sb_um_to_mm (most));
  g_autofree char *text = g_strdup_printf ("%sx%smm", least_mm, most_mm);
  if (sb_paper_parse (text, &name, &least, &most, NULL))
    set_paper (self, name, width, height);
  else
    sb_details_sheet_update (self);
}

static void
orientation_cb (SbDetailsSheet *self)
{
  SbState *state = self->desk ? sb_desk_get_settled (self->desk) : NULL;

  if (self->updating || !state)
    return;
  gboolean landscape = state->page_width > state->page_height;
  if (gtk_toggle_button_get_active (self->portrait_button) == landscape)
    set_paper (self, state->paper_name, state->page_height, state->page_width);
}

static void
margins_committed_cb (SbDetailsSheet *self)
{
  if (self->updating)
    return;
  SbMargins margins = {
      .top = sb_um_from_mm (sb_measure_entry_get_value (self->top_entry)),
      .right = sb_um_from_mm (sb_measure_entry_get_value (self->right_entry)),
      .bottom = sb_um_from_mm (sb_measure_entry_get_value (self->bottom_entry)),
      .left = sb_um_from_mm (sb_measure_entry_get_value (self->left_entry)),
  };
  edit_page (self,
             sb_edit_set_margins (sb_desk_get_settled (self->desk), margins, SB_MARGINS_TYPED),
             _ ("Non-printable Strip"));
}

static void
gap_committed_cb (SbDetailsSheet *self, double mm)
{
  if (!self->updating)
    edit (self, sb_edit_set_gap (sb_desk_get_settled (self->desk), sb_um_from_mm (mm)),
          _ ("Change Gap"));
}

static void
stock_changed_cb (SbDetailsSheet *self)
{
  guint selected = gtk_drop_down_get_selected (self->stock_drop);

  if (self->updating || selected >= G_N_ELEMENTS (stocks))
    return;
  SbStock stock = {
      .name = (char *)stocks[selected].name,
      .inkjet_ok = stocks[selected].inkjet_ok,
      .laser_ok = stocks[selected].laser_ok,
      .film = stocks[selected].film,
      .drying_hours = stocks[selected].drying_hours,
      .rgb = stocks[selected].rgb,
  };
  edit (self, sb_edit_set_stock (sb_desk_get_settled (self->desk), &stock), _ ("Change Stock"));
  ask_printer (self); /* a calibration is for one stock */
}

static void
stock_switched_cb (SbDetailsSheet *self)
{
  if (self->updating)
    return;
  SbState *state = sb_desk_get_settled (self->desk);
  SbStock stock = state->stock;
  GdkRGBA colour;
  stock.inkjet_ok = gtk_switch_get_active (self->inkjet_switch);
  stock.laser_ok = gtk_switch_get_active (self->laser_switch);
  stock.film = gtk_switch_get_active (self->film_switch);
  gtk_color_chooser_get_rgba (self->stock_colour, &colour);
  stock.rgb = sb_rgba_to_rgb (&colour);
  edit (self, sb_edit_set_stock (state, &stock), _ ("Change Stock"));
}

static void
update_paper (SbDetailsSheet *self, SbState *state)
{
  gsize n = 0;
  const SbPaper *papers = sb_papers (&n);
  guint selected = (guint)n; /* "Own size" */

  for (guint i = 0; i < n; i++)
    if (g_str_equal (papers[i].name, state->paper_name))
      selected = i;
  gtk_drop_down_set_selected (self->paper_drop, selected);
  sb_measure_entry_set_value (self->width_entry, sb_um_to_mm (state->page_width));
  sb_measure_entry_set_value (self->height_entry, sb_um_to_mm (state->page_height));
  gtk_toggle_button_set_active (self->portrait_button, state->page_width <= state->page_height);
  gtk_toggle_button_set_active (self->landscape_button, state->page_width > state->page_height);
}

static void
update_margins (SbDetailsSheet *self, SbState *state)
{
  g_autofree char *text = NULL;

  sb_measure_entry_set_value (self->top_entry, sb_um_to_mm (state->margins.top));
  sb_measure_entry_set_value (self->right_entry, sb_um_to_mm (state->margins.right));
  sb_measure_entry_set_value (self->bottom_entry, sb_um_to_mm (state->margins.bottom));
  sb_measure_entry_set_value (self->left_entry, sb_um_to_mm (state->margins.left));
  switch (state->margins_source) {
  case SB_MARGINS_PRINTER:
    text = g_strdup_printf (_ ("As %s says of this paper. Choose another printer in the proof."),
                            state->printer ? state->printer : _ ("the printer"));
    break;
  case SB_MARGINS_TYPED:
    text = g_strdup (_ ("Typed by you; a printer’s own word is not asked."));
    break;
  case SB_MARGINS_FALLBACK:
  default:
    text =
        g_strdup (_ ("What nearly any printer can do. Choose yours in the proof to know exactly."));
    break;
  }
  gtk_label_set_label (GTK_LABEL (self->source_label), text);
}

static void
update_stock (SbDetailsSheet *self, SbState *state)
{
  GtkStringList *names = GTK_STRING_LIST (gtk_drop_down_get_model (self->stock_drop));
  guint selected = G_N_ELEMENTS (stocks);
  const char *label = sb_stock_get_label (&state->stock), *caution = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (stocks); i++)
    if (g_str_equal (_ (stocks[i].name), label))
      selected = i;
  /* A stock of the maker's own from the file stands last. */
  gtk_string_list_splice (names, G_N_ELEMENTS (stocks),
                          g_list_model_get_n_items (G_LIST_MODEL (names)) -
                              (guint)G_N_ELEMENTS (stocks),
                          selected == G_N_ELEMENTS (stocks) ? (const char *[]){label, NULL} : NULL);
  gtk_drop_down_set_selected (self->stock_drop, selected);
  gtk_switch_set_active (self->inkjet_switch, state->stock.inkjet_ok);
  gtk_switch_set_active (self->laser_switch, state->stock.laser_ok);
  gtk_switch_set_active (self->film_switch, state->stock.film);
  GdkRGBA colour = sb_rgba_from_rgb (state->stock.rgb);
  gtk_color_chooser_set_rgba (self->stock_colour, &colour);
  if (!state->stock.laser_ok)
    caution = _ ("Never put this stock into a laser printer: it can melt onto the hot fuser.");
  else if (state->stock.film)
    caution = _ ("Laser printers run hot: only film whose packet says “laser”.");
  gtk_label_set_label (GTK_LABEL (self->stock_label), caution ? caution : "");
  gtk_widget_set_visible (self->stock_label, caution != NULL);
}

void
sb_details_sheet_update (SbDetailsSheet *self)
{
  g_return_if_fail (SB_IS_DETAILS_SHEET (self));

  SbState *state = sb_desk_get_state (self->desk);
  SbUnit unit = sb_desk_get_unit (self->desk);
  SbMeasureEntry *entries[] = {self->width_entry, self->height_entry, self->top_entry,
                               self->right_entry, self->bottom_entry, self->left_entry,
                               self->gap_entry};

  self->updating = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    sb_measure_entry_set_unit (entries[i], unit);
  update_paper (self, state);
  update_margins (self, state);
  sb_measure_entry_set_value (self->gap_entry, sb_um_to_mm (state->gap));
  gtk_label_set_label (GTK_LABEL (self->gap_label),
                       state->gap == 0            ? _ ("Stickers may share one cut.")
                       : state->gap < HAND_GAP_UM ? _ ("Narrow for scissors: a slip cuts two.")
                                                  : _ ("Scissors can pass between the stickers."));
  update_stock (self, state);
  self->updating = FALSE;
}

static void
sb_details_sheet_dispose (GObject *object)
{
  SbDetailsSheet *self = SB_DETAILS_SHEET (object);

  self->updating = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_SHEET);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_details_sheet_parent_class)->dispose (object);
}

static void
sb_details_sheet_class_init (SbDetailsSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_sheet_dispose;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details-sheet.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbDetailsSheet, name)
  BIND (box);
  BIND (paper_drop);
  BIND (width_entry);
  BIND (height_entry);
  BIND (portrait_button);
  BIND (landscape_button);
  BIND (top_entry);
  BIND (right_entry);
  BIND (bottom_entry);
  BIND (left_entry);
  BIND (source_label);
  BIND (gap_entry);
  BIND (gap_label);
  BIND (stock_drop);
  BIND (inkjet_switch);
  BIND (laser_switch);
  BIND (film_switch);
  BIND (stock_colour);
  BIND (stock_label);
#undef BIND
#define BIND(name) gtk_widget_class_bind_template_callback (widget_class, name)
  BIND (paper_changed_cb);
  BIND (size_committed_cb);
  BIND (orientation_cb);
  BIND (margins_committed_cb);
  BIND (gap_committed_cb);
  BIND (stock_changed_cb);
  BIND (stock_switched_cb);
#undef BIND
}

static void
sb_details_sheet_init (SbDetailsSheet *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);
  gsize n = 0;
  const SbPaper *papers = sb_papers (&n);

  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (gsize i = 0; i < n; i++)
    gtk_string_list_append (names, _ (papers[i].label));
  gtk_string_list_append (names, _ ("Own size"));
  gtk_drop_down_set_model (self->paper_drop, G_LIST_MODEL (names));
  for (guint i = 0; i < G_N_ELEMENTS (stocks); i++)
    gtk_string_list_append (kinds, _ (stocks[i].name));
  gtk_drop_down_set_model (self->stock_drop, G_LIST_MODEL (kinds));
  self->updating = FALSE;
}

void
sb_details_sheet_set_desk (SbDetailsSheet *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_SHEET (self));
  g_return_if_fail (self->desk == NULL);
  self->desk = g_object_ref (desk);
}
