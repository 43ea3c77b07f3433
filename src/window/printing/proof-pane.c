/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/finding-card.h"
#include "window/canvas/page-preview.h"
#include "window/printing/move-all-inside.h"
#include "window/printing/printer-box.h"
#include "window/printing/proof-pane.h"

#define MOST_CARDS 60 /* more cards than anybody reads; the rest is counted */

struct _SbProofPane {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkWidget *page_label;
  SbPagePreview *preview;
  SbPrinterBox *printer_box;
  GtkWidget *all_button;
  GtkWidget *fine_box;
  GtkWidget *fine_label;
  GtkListBox *findings_list;
  GtkWidget *more_label;
  GtkGrid *figures_grid;

  /* owned */
  SbDesk *desk;
  SbCanvas *canvas;
  char *findings_shown;     /* the sentences of the cards */
  GPtrArray *figure_values; /* GtkLabel, borrowed from the grid */
};

G_DEFINE_FINAL_TYPE (SbProofPane, sb_proof_pane, GTK_TYPE_WIDGET)

/* --- Findings --- */

static void
show_piece_cb (SbProofPane *self, guint piece_id)
{
  sb_selection_set_piece (sb_desk_get_selection (self->desk), piece_id);
  sb_canvas_show_piece (self->canvas, piece_id);
}

static void
row_activated_cb (SbProofPane *self, GtkListBoxRow *row)
{
  guint piece_id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "piece-id"));

  if (piece_id)
    sb_selection_set_piece (sb_desk_get_selection (self->desk), piece_id);
}

static void
move_all_cb (SbProofPane *self)
{
  sb_desk_move_all_inside (self->desk);
}

static void
add_card (SbProofPane *self, const SbFinding *finding)
{
  GtkWidget *card = sb_finding_card_new (self->desk, finding, TRUE);
  GtkWidget *row = gtk_list_box_row_new ();
  g_autofree char *told =
      g_strdup_printf ("%s: %s", sb_severity_get_word (finding->severity), finding->message);

  g_signal_connect_swapped (card, "show-piece", G_CALLBACK (show_piece_cb), self);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), card);
  gboolean shown = finding->layout_id == sb_job_get_view (sb_desk_get_job (self->desk));
  g_object_set_data (G_OBJECT (row), "piece-id", GUINT_TO_POINTER (shown ? finding->piece_id : 0));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, told, -1);
  gtk_list_box_append (self->findings_list, row);
}

/* Wanted stickers that lie on no page. */
static int
count_missing (SbState *state)
{
  int missing = 0;

  for (guint i = 0; i < state->designs->len && state->view == NULL; i++) {
    const SbDesign *design = state->designs->pdata[i];
    if (!design->freebie)
      missing += MAX (0, design->wanted - sb_state_count_placed (state, design->id));
  }
  return missing;
}

static void
update_fine (SbProofPane *self, guint n_findings)
{
  gboolean checked = sb_checker_get_figures (sb_desk_get_checker (self->desk), 0) != NULL;
  SbState *state = sb_desk_get_state (self->desk);
  guint pieces = 0;

  for (guint i = 0; i < state->pages->len; i++)
    pieces += sb_state_get_page (state, i)->n_pieces;
  gtk_widget_set_visible (self->fine_box, n_findings == 0 && checked);
  gtk_label_set_label (GTK_LABEL (self->fine_label),
                       pieces == 0 ? _ ("Nothing lies on the pages yet.")
                                   : _ ("Nothing is lost. Every sticker prints whole."));
}

static void
update_findings (SbProofPane *self)
{
  GPtrArray *findings = sb_checker_get_findings (sb_desk_get_checker (self->desk));
  g_autoptr (GString) sentences = g_string_new (NULL);
  guint misplaced = 0;

  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    misplaced += finding->rule == SB_RULE_EDGE || finding->rule == SB_RULE_OVERLAP ||
                 finding->rule == SB_RULE_GAP;
    g_string_append_printf (sentences, "%u %s\n", finding->piece_id, finding->message);
  }
  update_fine (self, findings->len);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->findings_list), GTK_ACCESSIBLE_STATE_BUSY,
                               sb_checker_is_behind (sb_desk_get_checker (self->desk)), -1);
  gtk_widget_set_visible (self->all_button, misplaced > 1);
  if (g_strcmp0 (sentences->str, self->findings_shown) == 0)
    return;
  g_free (self->findings_shown);
  self->findings_shown = g_strdup (sentences->str);

  GtkWidget *row;
  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->findings_list))))
    gtk_list_box_remove (self->findings_list, row);
  for (guint i = 0; i < MIN (findings->len, MOST_CARDS); i++)
    add_card (self, findings->pdata[i]);
  gtk_widget_set_visible (self->more_label, findings->len > MOST_CARDS);
  if (findings->len > MOST_CARDS) {
    guint more = findings->len - MOST_CARDS;
    g_autofree char *text =
        g_strdup_printf (ngettext ("and %u more finding", "and %u more findings", more), more);
    gtk_label_set_label (GTK_LABEL (self->more_label), text);
  }
}

/* --- Page and figures --- */

static void
set_figure (SbProofPane *self, guint row, const char *name, const char *value)
{
  if (row >= self->figure_values->len) {
    GtkWidget *label = gtk_label_new (name);
    GtkWidget *number = gtk_label_new (NULL);
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_widget_set_hexpand (label, TRUE);
    gtk_widget_add_css_class (label, "dim-label");
    gtk_label_set_xalign (GTK_LABEL (number), 1);
    gtk_widget_add_css_class (number, "numeric");
    gtk_grid_attach (self->figures_grid, label, 0, (int)row, 1, 1);
    gtk_grid_attach (self->figures_grid, number, 1, (int)row, 1, 1);
    g_ptr_array_add (self->figure_values, number);
  }
  gtk_label_set_label (self->figure_values->pdata[row], value);
}

static char *
format_area (double mm2, SbUnit unit)
{
  return unit == SB_UNIT_INCH
             ? g_strdup_printf (_ ("%.1f sq in"), mm2 / (SB_MM_PER_INCH * SB_MM_PER_INCH))
             : g_strdup_printf (_ ("%.0f cm²"), mm2 / 100);
}

static void
update_figures (SbProofPane *self)
{
  guint page = 0;
  SbState *state = sb_desk_get_state (self->desk);
  SbUnit unit = sb_desk_get_unit (self->desk);

  g_object_get (self->canvas, "page", &page, NULL);
  page = MIN (page, state->pages->len - 1);
  g_autofree char *label = g_strdup_printf (_ ("Page %u of %u"), page + 1, state->pages->len);
  gtk_label_set_label (GTK_LABEL (self->page_label), label);
  const SbPageFigures *figures = sb_checker_get_figures (sb_desk_get_checker (self->desk), page);
  if (!figures)
    return;
  g_autofree char *pieces = g_strdup_printf ("%u", figures->pieces);
  g_autofree char *missing = g_strdup_printf ("%d", count_missing (state));
  g_autofree char *waste = g_strdup_printf (_ ("%.1f %%"), figures->waste_percent);
  g_autofree char *stickers = format_area (figures->outline_mm2, unit);
  g_autofree char *artwork = format_area (figures->artwork_mm2, unit);
  g_autofree char *printable = format_area (figures->printable_mm2, unit);
  guint row = 0;
  set_figure (self, row++, _ ("Pieces on this page"), pieces);
  set_figure (self, row++, _ ("Wanted, on no page yet"), missing);
  set_figure (self, row++, _ ("Waste"), waste);
  set_figure (self, row++, _ ("Stickers"), stickers);
  set_figure (self, row++, _ ("Artwork"), artwork);
  set_figure (self, row++, _ ("Printable area"), printable);
}

/* Painting waits for the end of a drag: the settled state changes once. */
static void
update_preview (SbProofPane *self)
{
  guint page = 0;
  SbState *state = sb_desk_get_settled (self->desk);

  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_object_get (self->canvas, "page", &page, NULL);
  sb_page_preview_show (self->preview, state, MIN (page, state->pages->len - 1));
}

static void
page_changed_cb (SbProofPane *self)
{
  update_figures (self);
  update_preview (self);
}

static void
job_changed_cb (SbProofPane *self)
{
  update_preview (self);
}

/* While it is not seen the proof costs nothing; it catches up when it is shown. */
static void
checker_changed_cb (SbProofPane *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  update_findings (self);
  update_figures (self);
}

static void
mapped_cb (SbProofPane *self)
{
  update_preview (self);
  checker_changed_cb (self);
}

static void
sb_proof_pane_dispose (GObject *object)
{
  SbProofPane *self = SB_PROOF_PANE (object);

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_checker (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
    g_signal_handlers_disconnect_by_data (self->canvas, self);
  }
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_PROOF_PANE);
  g_clear_object (&self->canvas);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->figure_values, g_ptr_array_unref);
  g_clear_pointer (&self->findings_shown, g_free);
  G_OBJECT_CLASS (sb_proof_pane_parent_class)->dispose (object);
}

static void
sb_proof_pane_class_init (SbProofPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_proof_pane_dispose;
  g_type_ensure (SB_TYPE_PAGE_PREVIEW);
  g_type_ensure (SB_TYPE_PRINTER_BOX);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/proof-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, box);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, page_label);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, preview);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, printer_box);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, all_button);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, fine_box);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, fine_label);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, findings_list);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, more_label);
  gtk_widget_class_bind_template_child (widget_class, SbProofPane, figures_grid);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, move_all_cb);
}

static void
sb_proof_pane_init (SbProofPane *self)
{
  self->figure_values = g_ptr_array_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sb_proof_pane_new (SbDesk *desk, SbCanvas *canvas)
{
  SbProofPane *self = g_object_new (SB_TYPE_PROOF_PANE, NULL);

  self->desk = g_object_ref (desk);
  self->canvas = g_object_ref (canvas);
  sb_printer_box_set_desk (self->printer_box, desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (job_changed_cb), self);
  g_signal_connect_swapped (sb_desk_get_checker (desk), "changed", G_CALLBACK (checker_changed_cb),
                            self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit",
                            G_CALLBACK (checker_changed_cb), self);
  g_signal_connect_swapped (canvas, "notify::page", G_CALLBACK (page_changed_cb), self);
  g_signal_connect (self, "map", G_CALLBACK (mapped_cb), NULL);
  return GTK_WIDGET (self);
}
