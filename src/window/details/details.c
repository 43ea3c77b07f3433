/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/finding-card.h"
#include "window/details/details-design.h"
#include "window/details/details-layout.h"
#include "window/details/details-pieces.h"
#include "window/details/details-sheet.h"
#include "window/details/details-text.h"
#include "window/details/details.h"
#include "window/parts/wheel.h"

#define MOST_FINDINGS 3 /* the proof lists them all */

struct _SbDetails {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller;
  GtkWidget *title_label;
  GtkWidget *badge_label;
  GtkWidget *findings_box;
  SbDetailsPieces *pieces;
  SbDetailsText *text;
  SbDetailsDesign *design;
  SbDetailsLayout *layout;
  SbDetailsSheet *sheet;

  /* owned */
  SbDesk *desk;
  char *findings_shown; /* the sentences of the cards, to leave cards alone that still hold */
};

G_DEFINE_FINAL_TYPE (SbDetails, sb_details, GTK_TYPE_WIDGET)

static char *
dup_title (SbDetails *self, SbDesign *design)
{
  SbSelection *selection = sb_desk_get_selection (self->desk);
  guint n = 0;
  const guint *pieces = sb_selection_get_pieces (selection, &n);

  if (n == 1)
    return sb_piece_get_label (sb_desk_get_state (self->desk), pieces[0]);
  if (n > 1)
    return g_strdup_printf (ngettext ("%u piece", "%u pieces", n), n);
  const SbLayout *layout = sb_desk_get_state (self->desk)->view;
  return g_strdup (design ? design->name : layout ? layout->name : _ ("Sheet"));
}

static void
update_badge (SbDetails *self, SbDesign *design)
{
  g_autofree char *text = NULL;
  int dpi =
      design ? sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm) : 0;
  gboolean coarse = design && sb_design_is_coarse (design);

  gtk_widget_set_visible (self->badge_label, design != NULL);
  if (!design)
    return;
  text = dpi == 0 ? g_strdup (_ ("vector"))
         : coarse ? g_strdup_printf (_ ("▲ %d dpi"), dpi)
                  : g_strdup_printf (_ ("%d dpi"), dpi);
  gtk_label_set_label (GTK_LABEL (self->badge_label), text);
  if (coarse)
    gtk_widget_add_css_class (self->badge_label, "caution");
  else
    gtk_widget_remove_css_class (self->badge_label, "caution");
}

/* Of all selected pieces the design is shown only when it is the same one. */
static SbDesign *
common_design (SbDetails *self)
{
  SbState *state = sb_desk_get_state (self->desk);
  SbDesign *current = sb_desk_get_current_design (self->desk);
  guint n = 0;
  const guint *pieces = sb_selection_get_pieces (sb_desk_get_selection (self->desk), &n);

  for (guint i = 0; current && i < n; i++) {
    const SbPiece *piece = sb_state_get_piece (state, pieces[i], NULL);
    if (piece && piece->design_id != current->id)
      return NULL;
  }
  return current;
}

static gboolean
concerns_selection (SbDetails *self, const SbFinding *finding)
{
  SbSelection *selection = sb_desk_get_selection (self->desk);

  if (finding->layout_id != sb_job_get_view (sb_desk_get_job (self->desk)))
    return FALSE; /* of pieces that are not shown */
  return sb_selection_contains (selection, finding->piece_id) ||
         (finding->other_id && sb_selection_contains (selection, finding->other_id));
}

static void
update_findings (SbDetails *self)
{
  GPtrArray *findings = sb_checker_get_findings (sb_desk_get_checker (self->desk));
  g_autoptr (GPtrArray) shown = g_ptr_array_new ();
  g_autoptr (GString) sentences = g_string_new (NULL);

  for (guint i = 0; i < findings->len && shown->len < MOST_FINDINGS; i++) {
    SbFinding *finding = findings->pdata[i];
    if (concerns_selection (self, finding)) {
      g_ptr_array_add (shown, finding);
      g_string_append_printf (sentences, "%u %s\n", finding->piece_id, finding->message);
    }
  }
  if (g_strcmp0 (sentences->str, self->findings_shown) == 0)
    return;
  g_free (self->findings_shown);
  self->findings_shown = g_strdup (sentences->str);

  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (self->findings_box)))
    gtk_box_remove (GTK_BOX (self->findings_box), child);
  for (guint i = 0; i < shown->len; i++)
    gtk_box_append (GTK_BOX (self->findings_box),
                    sb_finding_card_new (self->desk, shown->pdata[i], FALSE));
  gtk_widget_set_visible (self->findings_box, shown->len > 0);
}

static void
update (SbDetails *self)
{
  SbDesign *design = common_design (self);
  guint n = sb_selection_get_n_pieces (sb_desk_get_selection (self->desk));
  g_autofree char *title = dup_title (self, design);

  gtk_label_set_label (GTK_LABEL (self->title_label), title);
  update_badge (self, design);
  gtk_widget_set_visible (GTK_WIDGET (self->pieces), n > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->design), design != NULL);
  gboolean in_layout = sb_desk_get_state (self->desk)->view != NULL;
  gtk_widget_set_visible (GTK_WIDGET (self->sheet), n == 0 && !design && !in_layout);
  if (n > 0)
    sb_details_pieces_update (self->pieces);
  sb_details_text_show (self->text, design);
  sb_details_design_show (self->design, design);
  if (n == 0 && !design && !in_layout)
    sb_details_sheet_update (self->sheet);
  if (n == 0 && !design && in_layout) /* what is not seen is not painted */
    sb_details_layout_update (self->layout);
  gtk_widget_set_visible (GTK_WIDGET (self->layout), n == 0 && !design && in_layout);
  update_findings (self);
}

static void
selection_changed_cb (SbDetails *self)
{
  GtkAdjustment *adjustment =
      gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));

  gtk_adjustment_set_value (adjustment, 0);
  update (self);
}

static void
sb_details_dispose (GObject *object)
{
  SbDetails *self = SB_DETAILS (object);

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_selection (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_checker (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
  }
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->findings_shown, g_free);
  G_OBJECT_CLASS (sb_details_parent_class)->dispose (object);
}

static void
sb_details_class_init (SbDetailsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_dispose;
  g_type_ensure (SB_TYPE_DETAILS_PIECES);
  g_type_ensure (SB_TYPE_DETAILS_DESIGN);
  g_type_ensure (SB_TYPE_DETAILS_SHEET);
  g_type_ensure (SB_TYPE_DETAILS_TEXT);
  g_type_ensure (SB_TYPE_DETAILS_LAYOUT);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details.ui");
  gtk_widget_class_bind_template_child (widget_class, SbDetails, scroller);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, title_label);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, badge_label);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, findings_box);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, pieces);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, text);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, design);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, layout);
  gtk_widget_class_bind_template_child (widget_class, SbDetails, sheet);
}

static void
sb_details_init (SbDetails *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sb_details_new (SbDesk *desk)
{
  SbDetails *self = g_object_new (SB_TYPE_DETAILS, NULL);

  self->desk = g_object_ref (desk);
  sb_details_pieces_set_desk (self->pieces, desk);
  sb_details_text_set_desk (self->text, desk);
  sb_details_design_set_desk (self->design, desk);
  sb_details_layout_set_desk (self->layout, desk);
  sb_details_sheet_set_desk (self->sheet, desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (sb_desk_get_selection (desk), "changed",
                            G_CALLBACK (selection_changed_cb), self);
  g_signal_connect_swapped (sb_desk_get_checker (desk), "changed", G_CALLBACK (update_findings),
                            self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit", G_CALLBACK (update),
                            self);
  update (self);
  sb_wheel_pass_on (GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
