/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/canvas/finding-card.h"

struct _SbFindingCard {
  GtkBox parent_instance;

  SbDesk *desk;
  guint piece_id;
  guint layout_id; /* that the piece is of, or 0 */
};

G_DEFINE_FINAL_TYPE (SbFindingCard, sb_finding_card, GTK_TYPE_BOX)

enum {
  SHOW_PIECE,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

const char *
sb_severity_get_word (SbSeverity severity)
{
  switch (severity) {
  case SB_SEVERITY_STOP:
    return _ ("Stop");
  case SB_SEVERITY_CAUTION:
    return _ ("Caution");
  case SB_SEVERITY_NOTE:
  default:
    return _ ("Note");
  }
}

const char *
sb_severity_get_icon (SbSeverity severity)
{
  switch (severity) {
  case SB_SEVERITY_STOP:
    return "sb-stop-symbolic";
  case SB_SEVERITY_CAUTION:
    return "sb-caution-symbolic";
  case SB_SEVERITY_NOTE:
  default:
    return "sb-note-symbolic";
  }
}

gboolean
sb_findings_move_inside (SbDesk *desk, guint piece_id)
{
  SbState *state = sb_desk_get_settled (desk);
  SbPiece moved;

  if (!sb_state_get_piece (state, piece_id, NULL) ||
      !sb_proof_move_inside (state, piece_id, &moved))
    return FALSE;
  g_autofree char *name =
      g_strdup_printf (_ ("Move %s Inside"), sb_state_get_design (state, moved.design_id)->name);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_set_pieces (state, &moved, 1), name, NULL);
  return TRUE;
}

static guint
get_view (SbFindingCard *self)
{
  return sb_job_get_view (sb_desk_get_job (self->desk));
}

/* A piece of a layout is shown inside it. */
static void
show_cb (SbFindingCard *self)
{
  if (self->layout_id != get_view (self))
    sb_job_set_view (sb_desk_get_job (self->desk), self->layout_id);
  g_signal_emit (self, signals[SHOW_PIECE], 0, self->piece_id);
}

static void
move_inside_cb (SbFindingCard *self, GtkWidget *button)
{
  if (!sb_findings_move_inside (self->desk, self->piece_id)) {
    gtk_widget_set_sensitive (button, FALSE);
    gtk_widget_set_tooltip_text (button, _ ("Too large for the printable area"));
  }
}

static void
sb_finding_card_dispose (GObject *object)
{
  g_clear_object (&SB_FINDING_CARD (object)->desk);
  G_OBJECT_CLASS (sb_finding_card_parent_class)->dispose (object);
}

static void
sb_finding_card_class_init (SbFindingCardClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_finding_card_dispose;
  signals[SHOW_PIECE] = g_signal_new ("show-piece", SB_TYPE_FINDING_CARD, G_SIGNAL_RUN_LAST, 0,
                                      NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
sb_finding_card_init (SbFindingCard *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
}

static void
add_buttons (SbFindingCard *self, const SbFinding *finding, gboolean with_show)
{
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gboolean any = FALSE;

  if (finding->rule == SB_RULE_EDGE && finding->layout_id == get_view (self)) {
    GtkWidget *move = gtk_button_new_with_label (_ ("Move inside"));
    gtk_widget_set_tooltip_text (move, _ ("The shortest way that clears the strip"));
    g_signal_connect_swapped (move, "clicked", G_CALLBACK (move_inside_cb), self);
    gtk_box_append (GTK_BOX (buttons), move);
    any = TRUE;
  }
  if (with_show && finding->piece_id) {
    GtkWidget *show = gtk_button_new_with_label (_ ("Show"));
    gtk_widget_set_tooltip_text (show, _ ("Select the piece on the page"));
    g_signal_connect_swapped (show, "clicked", G_CALLBACK (show_cb), self);
    gtk_box_append (GTK_BOX (buttons), show);
    any = TRUE;
  }
  if (any)
    gtk_box_append (GTK_BOX (self), buttons);
  else
    g_object_unref (g_object_ref_sink (buttons));
}

GtkWidget *
sb_finding_card_new (SbDesk *desk, const SbFinding *finding, gboolean with_show)
{
  SbFindingCard *self = g_object_new (SB_TYPE_FINDING_CARD, NULL);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *icon = gtk_image_new_from_icon_name (sb_severity_get_icon (finding->severity));
  GtkWidget *word = gtk_label_new (sb_severity_get_word (finding->severity));
  GtkWidget *message = gtk_label_new (finding->message);

  self->desk = g_object_ref (desk);
  self->piece_id = finding->piece_id;
  self->layout_id = finding->layout_id;
  gtk_widget_add_css_class (GTK_WIDGET (self), "finding");
  gtk_widget_add_css_class (GTK_WIDGET (self), sb_severity_get_key (finding->severity));

  gtk_widget_add_css_class (word, "finding-word");
  gtk_box_append (GTK_BOX (head), icon);
  gtk_box_append (GTK_BOX (head), word);
  gtk_box_append (GTK_BOX (self), head);
  gtk_label_set_xalign (GTK_LABEL (message), 0);
  gtk_label_set_wrap (GTK_LABEL (message), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (message), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars (GTK_LABEL (message), 20);
  gtk_label_set_max_width_chars (GTK_LABEL (message), 30);
  gtk_box_append (GTK_BOX (self), message);
  add_buttons (self, finding, with_show);
  return GTK_WIDGET (self);
}
