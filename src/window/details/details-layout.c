/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "packing/impose.h"
#include "window/canvas/folded-preview.h"
#include "window/details/details-layout.h"
#include "window/details/ink-label.h"
#include "window/drawer/layouts-pane.h"
#include "window/parts/measure-entry.h"
#include "window/parts/words.h"

#define KIND(kind) (1u << SB_LAYOUT_##kind)
#define ALL (KIND (SHEET) | KIND (HEADER) | KIND (BACKING))

/* The measures, which kinds have them, and their range in um. */
static const struct {
  const char *label;
  guint kinds;
  gsize offset;
  sb_um least, most;
  int times; /* the layout's number is so many times what is shown */
} measures[] = {
    {N_ ("Width"), KIND (SHEET) | KIND (BACKING), G_STRUCT_OFFSET (SbLayout, width),
     SB_LAYOUT_LEAST, SB_LAYOUT_MOST, 1},
    {N_ ("Height"), KIND (SHEET) | KIND (BACKING), G_STRUCT_OFFSET (SbLayout, height),
     SB_LAYOUT_LEAST, SB_LAYOUT_MOST, 1},
    {N_ ("Width of the bag"), KIND (HEADER), G_STRUCT_OFFSET (SbLayout, width), SB_LAYOUT_LEAST,
     SB_LAYOUT_MOST, 1},
    {N_ ("Folded height"), KIND (HEADER), G_STRUCT_OFFSET (SbLayout, height), SB_LAYOUT_LEAST / 2,
     SB_LAYOUT_MOST / 2, 2},
    {N_ ("Distance from edges"), ALL, G_STRUCT_OFFSET (SbLayout, edge), 0, SB_LAYOUT_EDGE_MOST, 1},
    {N_ ("Gap between stickers"), KIND (SHEET), G_STRUCT_OFFSET (SbLayout, gap), 0,
     SB_LAYOUT_GAP_MOST, 1},
    {N_ ("Corner radius"), ALL, G_STRUCT_OFFSET (SbLayout, corner), 0, SB_LAYOUT_CORNER_MOST, 1},
    {N_ ("Staple or seal zone"), KIND (HEADER), G_STRUCT_OFFSET (SbLayout, zone), 0,
     SB_LAYOUT_ZONE_MOST, 1},
    {N_ ("Hanging hole"), KIND (HEADER), G_STRUCT_OFFSET (SbLayout, hole), 0, SB_LAYOUT_HOLE_MOST,
     1},
    {N_ ("Fold to hole"), KIND (HEADER), G_STRUCT_OFFSET (SbLayout, hole_at), 0, SB_LAYOUT_MOST / 2,
     1},
    {N_ ("Lane between copies"), ALL, G_STRUCT_OFFSET (SbLayout, lane), 0, SB_LAYOUT_LANE_MOST, 1},
};
#define N_MEASURES G_N_ELEMENTS (measures)

struct _SbDetailsLayout {
  GtkWidget parent_instance;

  GtkEntry *name_entry;
  SbMeasureEntry *entries[N_MEASURES];
  GtkWidget *labels[N_MEASURES];
  GtkSpinButton *wanted_spin;
  GtkSpinButton *weight_spin;
  GtkWidget *weight_label;
  GtkColorButton *colour_button;
  GtkCheckButton *colour_check;
  GtkWidget *colour_box;
  GtkLabel *told_label;
  SbInkLabel *ink_label;
  GtkWidget *folded_box;
  SbFoldedPreview *front, *back;
  GtkLabel *care_label;

  SbDesk *desk; /* owned */

  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbDetailsLayout, sb_details_layout, GTK_TYPE_WIDGET)

static const SbLayout *
get_layout (SbDetailsLayout *self)
{
  return self->desk ? sb_desk_get_settled (self->desk)->view : NULL;
}

/* Makes `layout` (consumed) the one that is shown, and lays its copies on pages anew. */
static void
edit (SbDetailsLayout *self, SbLayout *layout)
{
  guint id = layout->id;
  SbState *whole = sb_desk_get_whole (self->desk);
  g_autoptr (SbState) changed = sb_edit_replace_layout (whole, layout);
  const char *name = sb_layout_kind_get_word (sb_state_get_layout (changed, id)->kind);
  g_autofree char *step = g_strdup_printf (_ ("Change %s"), name);

  sb_job_edit (sb_desk_get_job (self->desk), sb_impose_layout (changed, id), step, "layout");
}

static void
measure_cb (SbMeasureEntry *entry, double mm, gpointer user_data)
{
  SbDetailsLayout *self = user_data;
  const SbLayout *before = get_layout (self);

  if (self->updating || !before)
    return;
  SbLayout *layout = sb_layout_copy (before);
  for (guint i = 0; i < N_MEASURES; i++)
    if (self->entries[i] == entry)
      G_STRUCT_MEMBER (sb_um, layout, measures[i].offset) = measures[i].times * sb_um_from_mm (mm);
  edit (self, layout);
}

static void
counted_cb (SbDetailsLayout *self)
{
  const SbLayout *before = get_layout (self);

  if (self->updating || !before)
    return;
  SbLayout *layout = sb_layout_copy (before);
  layout->wanted = gtk_spin_button_get_value_as_int (self->wanted_spin);
  layout->weight = gtk_spin_button_get_value_as_int (self->weight_spin);
  edit (self, layout);
}

static void
colour_cb (SbDetailsLayout *self)
{
  const SbLayout *before = get_layout (self);
  GdkRGBA colour;

  if (self->updating || !before)
    return;
  SbLayout *layout = sb_layout_copy (before);
  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (self->colour_button), &colour);
  layout->background = -1;
  if (gtk_check_button_get_active (self->colour_check))
    layout->background = (int)(colour.red * 255 + 0.5f) << 16 |
                         (int)(colour.green * 255 + 0.5f) << 8 | (int)(colour.blue * 255 + 0.5f);
  edit (self, layout);
}

static void
name_cb (SbDetailsLayout *self)
{
  const SbLayout *before = get_layout (self);
  const char *name = gtk_editable_get_text (GTK_EDITABLE (self->name_entry));

  if (self->updating || !before || !*name)
    return;
  SbLayout *layout = sb_layout_copy (before);
  sb_layout_set_name (layout, name);
  edit (self, layout);
}

static void
remove_cb (SbDetailsLayout *self)
{
  const SbLayout *layout = get_layout (self);

  if (!layout)
    return;
  g_autofree char *name = g_strdup_printf (_ ("Remove %s"), layout->name);
  g_autofree char *said =
      g_strdup_printf (_ ("Removed %s and its pages; Undo brings it back"), layout->name);
  sb_job_edit (sb_desk_get_job (self->desk),
               sb_edit_remove_layout (sb_desk_get_whole (self->desk), layout->id), name, NULL);
  sb_desk_say (self->desk, said);
}

/* Updating */

static void
update_measures (SbDetailsLayout *self, const SbLayout *layout)
{
  for (guint i = 0; i < N_MEASURES; i++) {
    gboolean has = measures[i].kinds & 1u << layout->kind;
    sb_um value = G_STRUCT_MEMBER (sb_um, layout, measures[i].offset) / measures[i].times;

    gtk_widget_set_visible (self->labels[i], has);
    gtk_widget_set_visible (GTK_WIDGET (self->entries[i]), has);
    sb_measure_entry_set_unit (self->entries[i], sb_desk_get_unit (self->desk));
    sb_measure_entry_set_value (self->entries[i], sb_um_to_mm (value));
  }
}

static void
update_colour (SbDetailsLayout *self, const SbLayout *layout)
{
  int rgb = layout->background;
  GdkRGBA colour = {(float)(rgb >> 16 & 0xff) / 255, (float)(rgb >> 8 & 0xff) / 255,
                    (float)(rgb & 0xff) / 255, 1};

  gtk_check_button_set_active (self->colour_check, rgb >= 0);
  gtk_widget_set_sensitive (GTK_WIDGET (self->colour_button), rgb >= 0);
  if (rgb >= 0)
    gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (self->colour_button), &colour);
}

static void
update_told (SbDetailsLayout *self, const SbLayout *layout)
{
  const SbState *whole = sb_desk_get_whole (self->desk);
  guint n = sb_impose_count (whole, layout);
  guint pages = n > 0 ? ((guint)layout->wanted + n - 1) / n : 0;
  g_autofree char *told = NULL;

  if (n > 0)
    /* Translators: how many copies fit on a page, how many are wanted, and their pages */
    told = g_strdup_printf (
        ngettext ("%1$u to a page: %2$d on %3$u page", "%1$u to a page: %2$d on %3$u pages", pages),
        n, layout->wanted, pages);
  else
    told = g_strdup (_ ("It is larger than what can be printed of a page"));
  gtk_label_set_label (self->told_label, told);
}

/* Cautions where the work they are about is planned (handbook section 8). */
static const char *
get_care (SbLayoutKind kind)
{
  switch (kind) {
  case SB_LAYOUT_HEADER:
    return _ (
        "Staples are sharp and come loose: for packs that children open, take tape or a paper "
        "seal, and keep small parts from the youngest. Which weight of card a printer takes "
        "says its maker; score before folding. Local rules on packs and toys come first.");
  case SB_LAYOUT_BACKING:
    return _ ("Which weight of card a printer takes, and by which path, says its maker.");
  case SB_LAYOUT_SHEET:
  default:
    return _ ("Kiss cut: a sharp blade, several light strokes, a cutting mat below and a metal "
              "ruler with a raised edge, the other hand out of its path. Try the pressure on the "
              "test corner first. Used blades go into a closed, marked container; local rules say "
              "where that goes. Not for small children, nor for food, skin or mouth.");
  }
}

void
sb_details_layout_update (SbDetailsLayout *self)
{
  const SbLayout *layout = get_layout (self);
  SbState *shown = self->desk ? sb_desk_get_state (self->desk) : NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), layout != NULL);
  if (!layout)
    return;
  self->updating = TRUE;
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->name_entry)), layout->name))
    gtk_editable_set_text (GTK_EDITABLE (self->name_entry), layout->name);
  update_measures (self, layout);
  gtk_spin_button_set_value (self->wanted_spin, layout->wanted);
  gtk_spin_button_set_value (self->weight_spin, layout->weight);
  gtk_widget_set_visible (GTK_WIDGET (self->weight_spin), sb_layout_is_card (layout));
  gtk_widget_set_visible (self->weight_label, sb_layout_is_card (layout));
  gtk_widget_set_visible (self->colour_box, sb_layout_is_card (layout));
  update_colour (self, layout);
  update_told (self, layout);
  gtk_widget_set_visible (GTK_WIDGET (self->ink_label), sb_layout_is_card (layout));
  if (sb_layout_is_card (layout) && shown->view != NULL)
    sb_ink_label_show (self->ink_label, shown);
  gtk_widget_set_visible (self->folded_box, layout->kind == SB_LAYOUT_HEADER);
  if (layout->kind == SB_LAYOUT_HEADER && shown->view != NULL) {
    sb_folded_preview_show (self->front, shown, FALSE);
    sb_folded_preview_show (self->back, shown, TRUE);
  }
  gtk_label_set_label (self->care_label, get_care (layout->kind));
  self->updating = FALSE;
}

/* Building */

static GtkWidget *
add_label (GtkGrid *grid, const char *text, int row)
{
  GtkWidget *label = sb_words_new (text, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  return label;
}

static GtkSpinButton *
add_spin (SbDetailsLayout *self, GtkGrid *grid, GtkWidget *label, int most, int row)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (0, most, 1);

  gtk_widget_set_halign (spin, GTK_ALIGN_END);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_RELATION_LABELLED_BY, label,
                                  NULL, -1);
  g_signal_connect_swapped (spin, "value-changed", G_CALLBACK (counted_cb), self);
  gtk_grid_attach (grid, spin, 1, row, 1, 1);
  return GTK_SPIN_BUTTON (spin);
}

static void
add_name (SbDetailsLayout *self, GtkGrid *grid, int row)
{
  GtkWidget *label = add_label (grid, _ ("Name"), row);

  self->name_entry = GTK_ENTRY (gtk_entry_new ());
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name_entry), 14);
  gtk_entry_set_max_length (self->name_entry, SB_NAME_MOST);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->name_entry),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
  g_signal_connect_swapped (self->name_entry, "changed", G_CALLBACK (name_cb), self);
  gtk_grid_attach (grid, GTK_WIDGET (self->name_entry), 1, row, 1, 1);
}

static void
add_measures (SbDetailsLayout *self, GtkGrid *grid, int row)
{
  for (guint i = 0; i < N_MEASURES; i++) {
    self->labels[i] = add_label (grid, _ (measures[i].label), row + (int)i);
    self->entries[i] = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ (measures[i].label), "lower",
                                     sb_um_to_mm (measures[i].least), "upper",
                                     sb_um_to_mm (measures[i].most), NULL);
    g_signal_connect (self->entries[i], "committed", G_CALLBACK (measure_cb), self);
    gtk_widget_set_valign (GTK_WIDGET (self->entries[i]), GTK_ALIGN_CENTER);
    gtk_grid_attach (grid, GTK_WIDGET (self->entries[i]), 1, row + (int)i, 1, 1);
  }
}

static void
add_colour (SbDetailsLayout *self, GtkGrid *grid, int row)
{
  self->colour_box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->colour_check = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_ ("Background")));
  self->colour_button =
      GTK_COLOR_BUTTON (gtk_color_button_new_with_rgba (&(GdkRGBA){1, 0.96f, 0.84f, 1}));
  gtk_color_button_set_title (self->colour_button, _ ("Background of the card"));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->colour_button),
                               _ ("Light colours take little ink and dry soon"));
  gtk_widget_set_hexpand (GTK_WIDGET (self->colour_check), TRUE);
  g_signal_connect_swapped (self->colour_check, "toggled", G_CALLBACK (colour_cb), self);
  g_signal_connect_swapped (self->colour_button, "color-set", G_CALLBACK (colour_cb), self);
  gtk_box_append (GTK_BOX (self->colour_box), GTK_WIDGET (self->colour_check));
  gtk_box_append (GTK_BOX (self->colour_box), GTK_WIDGET (self->colour_button));
  gtk_grid_attach (grid, self->colour_box, 0, row, 2, 1);
}

static GtkWidget *
add_folded (SbFoldedPreview **preview, const char *title)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *label = gtk_label_new (title);

  *preview = g_object_new (SB_TYPE_FOLDED_PREVIEW, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (*preview), GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  -1);
  gtk_widget_add_css_class (label, "caption");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (*preview));
  gtk_box_append (GTK_BOX (box), label);
  gtk_widget_set_hexpand (box, TRUE);
  return box;
}

static GtkLabel *
add_words (GtkBox *box)
{
  GtkWidget *label = sb_words_new (NULL, "caption");

  gtk_label_set_width_chars (GTK_LABEL (label), 20);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 34);
  gtk_box_append (box, label);
  return GTK_LABEL (label);
}

static void
sb_details_layout_dispose (GObject *object)
{
  SbDetailsLayout *self = SB_DETAILS_LAYOUT (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_details_layout_parent_class)->dispose (object);
}

static void
sb_details_layout_class_init (SbDetailsLayoutClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_details_layout_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_details_layout_init (SbDetailsLayout *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *grid = gtk_grid_new ();
  GtkWidget *remove = gtk_button_new_with_mnemonic (_ ("_Remove"));
  int row = 0;

  self->updating = TRUE;
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  add_name (self, GTK_GRID (grid), row++);
  self->wanted_spin = add_spin (
      self, GTK_GRID (grid), add_label (GTK_GRID (grid), _ ("Wanted"), row), SB_WANTED_MOST, row);
  row++;
  add_measures (self, GTK_GRID (grid), row);
  row += (int)N_MEASURES;
  self->weight_label = add_label (GTK_GRID (grid), _ ("Weight, g/m²"), row);
  self->weight_spin =
      add_spin (self, GTK_GRID (grid), self->weight_label, SB_LAYOUT_WEIGHT_MOST, row++);
  add_colour (self, GTK_GRID (grid), row);
  gtk_box_append (GTK_BOX (box), grid);
  self->told_label = add_words (GTK_BOX (box));
  self->ink_label = g_object_new (SB_TYPE_INK_LABEL, NULL);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->ink_label));
  self->folded_box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_box_append (GTK_BOX (self->folded_box), add_folded (&self->front, _ ("Folded, front")));
  gtk_box_append (GTK_BOX (self->folded_box), add_folded (&self->back, _ ("Folded, back")));
  gtk_box_append (GTK_BOX (box), self->folded_box);
  self->care_label = add_words (GTK_BOX (box));
  gtk_widget_set_halign (remove, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (remove, _ ("Take it and the pages it is laid on out of the job"));
  g_signal_connect_swapped (remove, "clicked", G_CALLBACK (remove_cb), self);
  gtk_box_append (GTK_BOX (box), remove);
  gtk_widget_set_parent (box, GTK_WIDGET (self));
  self->updating = FALSE;
}

void
sb_details_layout_set_desk (SbDetailsLayout *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_LAYOUT (self));
  self->desk = g_object_ref (desk);
}
