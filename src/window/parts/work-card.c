/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/parts/work-card.h"

#define SHOWN_AFTER_MS 500
#define PULSE_MS 100

struct _SbWorkCard {
  GtkBox parent_instance;

  GtkWidget *title;
  GtkWidget *bar;
  GtkWidget *enough;
  GtkWidget *cancel;
  GCancellable *cancellable;
  double fraction;
  guint timeout;
};

G_DEFINE_FINAL_TYPE (SbWorkCard, sb_work_card, GTK_TYPE_BOX)

enum {
  ENOUGH,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static gboolean
pulse_cb (gpointer user_data)
{
  SbWorkCard *self = user_data;

  if (self->fraction < 0)
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (self->bar));
  return G_SOURCE_CONTINUE;
}

static gboolean
show_cb (gpointer user_data)
{
  SbWorkCard *self = user_data;

  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  self->timeout = g_timeout_add (PULSE_MS, pulse_cb, self);
  return G_SOURCE_REMOVE;
}

static void
cancel_cb (SbWorkCard *self)
{
  gtk_widget_set_sensitive (self->cancel, FALSE);
  g_cancellable_cancel (self->cancellable);
}

static void
enough_cb (SbWorkCard *self)
{
  gtk_widget_set_sensitive (self->enough, FALSE);
  g_signal_emit (self, signals[ENOUGH], 0);
}

static void
sb_work_card_dispose (GObject *object)
{
  SbWorkCard *self = SB_WORK_CARD (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (sb_work_card_parent_class)->dispose (object);
}

static void
sb_work_card_class_init (SbWorkCardClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_work_card_dispose;
  signals[ENOUGH] = g_signal_new ("enough", SB_TYPE_WORK_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
sb_work_card_init (SbWorkCard *self)
{
  GtkWidget *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_widget_add_css_class (GTK_WIDGET (self), "work-card");
  gtk_box_set_spacing (GTK_BOX (self), 12);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  self->fraction = -1;

  gtk_widget_set_hexpand (text, TRUE);
  gtk_widget_set_valign (text, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (self), text);
  self->title = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->title), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_width_chars (GTK_LABEL (self->title), 34);
  gtk_box_append (GTK_BOX (text), self->title);
  self->bar = gtk_progress_bar_new ();
  gtk_box_append (GTK_BOX (text), self->bar);

  self->enough = gtk_button_new_with_mnemonic (_ ("_Enough"));
  gtk_widget_set_valign (self->enough, GTK_ALIGN_CENTER);
  gtk_widget_set_visible (self->enough, FALSE);
  g_signal_connect_swapped (self->enough, "clicked", G_CALLBACK (enough_cb), self);
  gtk_box_append (GTK_BOX (self), self->enough);
  self->cancel = gtk_button_new_with_mnemonic (_ ("_Cancel"));
  gtk_widget_set_valign (self->cancel, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (self->cancel, "clicked", G_CALLBACK (cancel_cb), self);
  gtk_box_append (GTK_BOX (self), self->cancel);
}

SbWorkCard *
sb_work_card_new (GtkBox *area, const char *title, GCancellable *cancellable)
{
  SbWorkCard *self = g_object_new (SB_TYPE_WORK_CARD, NULL);

  g_set_object (&self->cancellable, cancellable);
  gtk_widget_set_visible (self->cancel, cancellable != NULL);
  sb_work_card_set_text (self, title);
  gtk_box_append (area, GTK_WIDGET (self));
  self->timeout = g_timeout_add (SHOWN_AFTER_MS, show_cb, self);
  return self;
}

void
sb_work_card_set_text (SbWorkCard *self, const char *text)
{
  g_return_if_fail (SB_IS_WORK_CARD (self));

  gtk_label_set_label (GTK_LABEL (self->title), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                  -1);
}

void
sb_work_card_set_fraction (SbWorkCard *self, double fraction)
{
  g_return_if_fail (SB_IS_WORK_CARD (self));

  self->fraction = fraction;
  if (fraction >= 0)
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), CLAMP (fraction, 0, 1));
}

void
sb_work_card_offer_enough (SbWorkCard *self, const char *tooltip)
{
  g_return_if_fail (SB_IS_WORK_CARD (self));

  gtk_widget_set_visible (self->enough, TRUE);
  gtk_widget_set_tooltip_text (self->enough, tooltip);
}

void
sb_work_card_done (SbWorkCard *self)
{
  g_return_if_fail (SB_IS_WORK_CARD (self));

  GtkWidget *area = gtk_widget_get_parent (GTK_WIDGET (self));
  if (area)
    gtk_box_remove (GTK_BOX (area), GTK_WIDGET (self));
}
