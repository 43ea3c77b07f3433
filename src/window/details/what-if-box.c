/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "packing/what-if.h"
#include "window/details/what-if-box.h"
#include "window/parts/words.h"

#define LEAST_FACTOR 0.7 /* smaller than that is another sticker */
#define SECONDS 15
#define MOST_SHOWN 4

struct _SbWhatIfBox {
  GtkBox parent_instance;

  GtkWidget *button;
  GtkWidget *answers; /* a box of rows */

  /* owned */
  SbDesk *desk;
  GCancellable *running; /* or NULL */
  SbState *asked;        /* what the answers are about; or NULL */

  guint design_id;
};

G_DEFINE_FINAL_TYPE (SbWhatIfBox, sb_what_if_box, GTK_TYPE_BOX)

static void
clear (SbWhatIfBox *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->answers)))
    gtk_box_remove (GTK_BOX (self->answers), child);
  g_clear_pointer (&self->asked, sb_state_unref);
  if (self->running)
    g_cancellable_cancel (self->running);
  g_clear_object (&self->running);
  gtk_button_set_label (GTK_BUTTON (self->button), _ ("_What If It Were Smaller?"));
}

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = sb_words_new (text, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static void
append_text (SbWhatIfBox *self, const char *text)
{
  gtk_box_append (GTK_BOX (self->answers), make_label (text));
}

/* One answer with its button. */
typedef struct {
  SbWhatIfBox *box;
  SbState *state;
} Answer;

static void
answer_free (gpointer data, GClosure *closure)
{
  Answer *answer = data;

  sb_state_unref (answer->state);
  g_free (answer);
}

static void
apply_cb (Answer *answer)
{
  SbWhatIfBox *self = answer->box;
  SbDesign *design = sb_state_get_design (answer->state, self->design_id);

  if (sb_desk_get_settled (self->desk) != self->asked || !design)
    return;
  g_autofree char *name = g_strdup_printf (_ ("Make %s Smaller"), design->name);
  /* The edit clears the answers, this one too. */
  sb_job_edit (sb_desk_get_job (self->desk), sb_state_ref (answer->state), name, NULL);
}

static void
append_answer (SbWhatIfBox *self, const SbWhatIf *what)
{
  SbUnit unit = sb_desk_get_unit (self->desk);
  g_autofree char *smaller = sb_length_format (what->smaller_mm, unit);
  g_autofree char *size = sb_length_format_size (what->width_mm, what->height_mm, unit);
  g_autofree char *text =
      what->smaller_mm > 0
          ? g_strdup_printf (
                ngettext ("%s smaller and %u more fits", "%s smaller and %u more fit", what->more),
                smaller, what->more)
          : g_strdup_printf (ngettext ("As it is %u more fits", "As it is %u more fit", what->more),
                             what->more);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *button = gtk_button_new_with_label (_ ("Apply"));
  Answer *answer = g_new (Answer, 1);

  *answer = (Answer){self, sb_state_ref (what->state)};
  gtk_box_append (GTK_BOX (row), make_label (text));
  gtk_widget_set_tooltip_text (row, size);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  text, -1);
  g_signal_connect_data (button, "clicked", G_CALLBACK (apply_cb), answer, answer_free,
                         G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (row), button);
  gtk_box_append (GTK_BOX (self->answers), row);
}

static void
show_answers (SbWhatIfBox *self, GArray *answers)
{
  guint shown = 0;

  for (guint i = 0; i < answers->len && shown < MOST_SHOWN; i++) {
    const SbWhatIf *what = &g_array_index (answers, SbWhatIf, i);
    if (what->more == 0)
      continue;
    append_answer (self, what);
    shown++;
  }
  if (shown == 0) {
    g_autofree char *text = g_strdup_printf (
        _ ("No more fit, down to %.0f %% of the artwork’s size."), 100 * LEAST_FACTOR);
    append_text (self, text);
  }
}

typedef struct {
  SbState *state;
  guint design_id;
} Question;

static void
question_free (Question *question)
{
  sb_state_unref (question->state);
  g_free (question);
}

static void
ask_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  GError *error = NULL;
  GArray *answers =
      sb_what_if (question->state, question->design_id, LEAST_FACTOR, SECONDS, cancellable, &error);

  if (answers)
    g_task_return_pointer (task, answers, (GDestroyNotify)g_array_unref);
  else
    g_task_return_error (task, error);
}

static void
asked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  SbWhatIfBox *self = SB_WHAT_IF_BOX (source);
  GCancellable *cancellable = g_task_get_cancellable (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) answers = g_task_propagate_pointer (G_TASK (result), &error);

  if (cancellable != self->running)
    return; /* let go of meanwhile */
  SbState *asked = sb_state_ref (self->asked);
  clear (self);
  self->asked = asked;
  if (answers)
    show_answers (self, answers);
  else
    append_text (self, error->message);
}

static void
clicked_cb (SbWhatIfBox *self)
{
  gboolean stop = self->running != NULL;

  clear (self);
  if (stop)
    return;
  Question *question = g_new (Question, 1);
  self->asked = sb_state_ref (sb_desk_get_settled (self->desk));
  *question = (Question){sb_state_ref (self->asked), self->design_id};
  self->running = g_cancellable_new ();
  gtk_button_set_label (GTK_BUTTON (self->button), _ ("_Stop Looking"));
  append_text (self, _ ("Trying sizes…"));

  g_autoptr (GTask) task = g_task_new (self, self->running, asked_cb, NULL);
  g_task_set_task_data (task, question, (GDestroyNotify)question_free);
  g_task_run_in_thread (task, ask_in_thread);
}

static gboolean
has_free_piece (const SbState *state, guint design_id)
{
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    for (guint i = 0; i < page->n_pieces; i++)
      if (page->pieces[i].design_id == design_id && !page->pieces[i].pinned)
        return TRUE;
  }
  return FALSE;
}

void
sb_what_if_box_show (SbWhatIfBox *self, guint design_id)
{
  g_return_if_fail (SB_IS_WHAT_IF_BOX (self));

  if (design_id != self->design_id || sb_desk_get_settled (self->desk) != self->asked)
    clear (self);
  self->design_id = design_id;
  gtk_widget_set_visible (GTK_WIDGET (self),
                          has_free_piece (sb_desk_get_settled (self->desk), design_id));
}

static void
sb_what_if_box_dispose (GObject *object)
{
  SbWhatIfBox *self = SB_WHAT_IF_BOX (object);

  if (self->running)
    g_cancellable_cancel (self->running);
  g_clear_object (&self->running);
  g_clear_pointer (&self->asked, sb_state_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_what_if_box_parent_class)->dispose (object);
}

static void
sb_what_if_box_class_init (SbWhatIfBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_what_if_box_dispose;
}

static void
sb_what_if_box_init (SbWhatIfBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  self->button = gtk_button_new_with_mnemonic ("");
  gtk_widget_set_tooltip_text (self->button,
                               _ ("Tries smaller sizes and tells when more of it fit"));
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (clicked_cb), self);
  gtk_box_append (GTK_BOX (self), self->button);
  self->answers = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (self), self->answers);
  clear (self);
}

void
sb_what_if_box_set_desk (SbWhatIfBox *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_WHAT_IF_BOX (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = g_object_ref (desk);
}
