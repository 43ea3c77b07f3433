/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/desk/text-pieces.h"
#include "window/drawer/layouts-pane.h"
#include "window/shell/view-bar.h"

struct _SbViewBar {
  GtkWidget parent_instance;

  GtkRevealer *revealer;
  GtkLabel *label;
  GtkWidget *back_text_button;

  SbDesk *desk; /* owned */
};

G_DEFINE_FINAL_TYPE (SbViewBar, sb_view_bar, GTK_TYPE_WIDGET)

static void
update (SbViewBar *self)
{
  const SbLayout *layout = sb_desk_get_state (self->desk)->view;

  gtk_revealer_set_reveal_child (self->revealer, layout != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->revealer), layout != NULL);
  if (!layout)
    return;
  /* Translators: what it is and its name, as in "Sticker sheet: Garden" */
  g_autofree char *text =
      g_strdup_printf (_ ("%s: %s"), sb_layout_kind_get_word (layout->kind), layout->name);
  gtk_label_set_label (self->label, text);
  gtk_widget_set_visible (self->back_text_button, layout->kind == SB_LAYOUT_HEADER);
}

static void
back_cb (SbViewBar *self)
{
  sb_selection_clear (sb_desk_get_selection (self->desk));
  sb_job_set_view (sb_desk_get_job (self->desk), 0);
}

static void
text_cb (SbViewBar *self)
{
  sb_text_pieces_add (self->desk, FALSE);
}

static void
back_text_cb (SbViewBar *self)
{
  sb_text_pieces_add (self->desk, TRUE);
}

static GtkWidget *
add_button (SbViewBar *self, GtkWidget *box, const char *label, const char *tip,
            void (*clicked) (SbViewBar *))
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (button, tip);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (clicked), self);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static void
sb_view_bar_dispose (GObject *object)
{
  SbViewBar *self = SB_VIEW_BAR (object);
  GtkWidget *child;

  if (self->desk)
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_view_bar_parent_class)->dispose (object);
}

static void
sb_view_bar_class_init (SbViewBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_view_bar_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_view_bar_init (SbViewBar *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *told = gtk_label_new (_ ("What is changed here is changed in all its copies"));

  self->revealer = GTK_REVEALER (gtk_revealer_new ());
  self->label = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->label, 0);
  gtk_label_set_ellipsize (self->label, PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (GTK_WIDGET (self->label), "heading");
  gtk_label_set_xalign (GTK_LABEL (told), 0);
  gtk_label_set_ellipsize (GTK_LABEL (told), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (told, "caption");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), GTK_WIDGET (self->label));
  gtk_box_append (GTK_BOX (words), told);
  gtk_widget_set_margin_start (box, 12);
  gtk_widget_set_margin_end (box, 12);
  gtk_widget_set_margin_top (box, 6);
  gtk_widget_set_margin_bottom (box, 6);
  add_button (self, box, _ ("_Back to Pages"), _ ("Show the pages of the job again"), back_cb);
  gtk_box_append (GTK_BOX (box), words);
  add_button (self, box, _ ("Add _Text"), _ ("Add a line of text"), text_cb);
  self->back_text_button = add_button (
      self, box, _ ("Text on the Bac_k"),
      _ ("Add a line of text on the back: it reads upright when the card is folded"), back_text_cb);
  gtk_revealer_set_child (self->revealer, box);
  gtk_widget_set_parent (GTK_WIDGET (self->revealer), GTK_WIDGET (self));
}

GtkWidget *
sb_view_bar_new (SbDesk *desk)
{
  SbViewBar *self = g_object_new (SB_TYPE_VIEW_BAR, NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (update), self);
  update (self);
  return GTK_WIDGET (self);
}
