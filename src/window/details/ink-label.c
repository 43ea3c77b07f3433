/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "output/coverage.h"
#include "window/details/ink-label.h"
#include "window/parts/words.h"

struct _SbInkLabel {
  GtkWidget parent_instance;

  GtkLabel *label;
  SbState *state; /* wanted; or NULL */
  gboolean running, again;
};

G_DEFINE_FINAL_TYPE (SbInkLabel, sb_ink_label, GTK_TYPE_WIDGET)

static void
measure_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autofree double *percent = sb_coverage_measure (data, cancellable, NULL);

  g_task_return_int (task, percent ? lround (percent[0]) : -1);
}

static void start (SbInkLabel *self);

static void
measured_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbInkLabel *self = SB_INK_LABEL (source);
  int percent = (int)g_task_propagate_int (G_TASK (result), NULL);

  self->running = FALSE;
  if (!self->state)
    return;
  /* Translators: the share of cyan, magenta, yellow and black together on the whole card */
  g_autofree char *told = g_strdup_printf (
      _ ("Ink: about %d %% of the card, all colours together, half more or less"), percent);
  gtk_label_set_label (self->label, percent < 0 ? "" : told);
  if (self->again)
    start (self);
}

static void
start (SbInkLabel *self)
{
  self->again = self->running;
  if (self->again)
    return;
  self->running = TRUE;
  g_autoptr (GTask) task = g_task_new (self, NULL, measured_cb, NULL);
  g_task_set_task_data (task, sb_state_ref (self->state), (GDestroyNotify)sb_state_unref);
  g_task_run_in_thread (task, measure_in_thread);
}

static void
sb_ink_label_dispose (GObject *object)
{
  SbInkLabel *self = SB_INK_LABEL (object);
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  if (child)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->state, sb_state_unref);
  G_OBJECT_CLASS (sb_ink_label_parent_class)->dispose (object);
}

static void
sb_ink_label_class_init (SbInkLabelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_ink_label_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_ink_label_init (SbInkLabel *self)
{
  GtkWidget *label = sb_words_new (NULL, "caption");

  self->label = GTK_LABEL (label);
  gtk_label_set_width_chars (self->label, 20);
  gtk_label_set_max_width_chars (self->label, 34);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
}

void
sb_ink_label_show (SbInkLabel *self, SbState *state)
{
  g_return_if_fail (SB_IS_INK_LABEL (self));

  if (self->state == state)
    return;
  sb_state_ref (state);
  g_clear_pointer (&self->state, sb_state_unref);
  self->state = state;
  start (self);
}
