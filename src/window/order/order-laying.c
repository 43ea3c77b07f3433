/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-laying.h"

#include <glib/gi18n.h>

#include "order/forced.h"
#include "order/plan.h"
#include "window/parts/error-dialog.h"
#include "window/parts/words.h"
#include "window/parts/work-card.h"

#define RUNNING_KEY "order-laying"
#define QUESTION_KEY "order-question"
#define FORCED_SECONDS 20

typedef struct {
  GtkWindow *window;
  GtkBox *area;
  SbDesk *desk;
  SbState *before;
  SbWorkCard *card;
  GCancellable *cancellable;
  SbPlan *plan;
  SbForced *forced;
} Laying;

static void
laying_free (Laying *laying)
{
  g_object_unref (laying->window);
  g_object_unref (laying->area);
  g_object_unref (laying->desk);
  sb_state_unref (laying->before);
  g_object_unref (laying->card);
  g_object_unref (laying->cancellable);
  g_clear_pointer (&laying->plan, sb_plan_free);
  sb_forced_free (laying->forced);
  g_free (laying);
}

static void
remove_question (GtkBox *area)
{
  GtkWidget *card = g_object_get_data (G_OBJECT (area), QUESTION_KEY);

  if (card)
    gtk_box_remove (area, card);
  g_object_set_data (G_OBJECT (area), QUESTION_KEY, NULL);
}

/* --- The question --- */

/* An answer: the job as it leaves it. */
typedef struct {
  GtkBox *area;
  SbDesk *desk;
  SbState *asked; /* the state the question was about */
  SbState *next;
} Answer;

static void
answer_free (gpointer data, GClosure *closure)
{
  Answer *answer = data;

  g_object_unref (answer->desk);
  sb_state_unref (answer->asked);
  sb_state_unref (answer->next);
  g_free (answer);
}

static void
answered_cb (GtkButton *button, Answer *answer)
{
  GtkBox *area = answer->area;

  if (sb_desk_get_whole (answer->desk) == answer->asked)
    sb_job_edit (sb_desk_get_job (answer->desk), sb_state_ref (answer->next),
                 _ ("Answer for the Last Sheet"), NULL);
  else
    sb_desk_say (answer->desk, _ ("The job changed meanwhile, so the layout was not used"));
  remove_question (area);
}

static void
add_answer (GtkWidget *buttons, Laying *laying, const char *label, SbState *next)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);
  Answer *answer = g_new0 (Answer, 1);

  answer->area = laying->area;
  answer->desk = g_object_ref (laying->desk);
  answer->asked = sb_state_ref (sb_desk_get_whole (laying->desk));
  answer->next = sb_state_ref (next);
  g_signal_connect_data (button, "clicked", G_CALLBACK (answered_cb), answer, answer_free, 0);
  gtk_box_append (GTK_BOX (buttons), button);
}

static char *
describe_missing (const SbForced *forced)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < forced->missing->len; i++) {
    const SbMissing *missing = &g_array_index (forced->missing, SbMissing, i);
    g_string_append_printf (text, "%s%d × %s", i > 0 ? ", " : "", missing->missing, missing->name);
  }
  if (forced->needed == 0)
    return g_strdup_printf (_ ("Dropping %s takes spares only."), text->str);
  return g_strdup_printf (ngettext ("Dropping %s leaves the order short of %u.",
                                    "Dropping %s leaves the order short of %u.", forced->needed),
                          text->str, forced->needed);
}

static void
dismissed_cb (GtkBox *area)
{
  remove_question (area);
}

static void
ask (Laying *laying)
{
  const SbForced *forced = laying->forced;
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *keep = gtk_button_new_with_mnemonic (_ ("_Leave It"));
  g_autofree char *heading =
      g_strdup_printf (ngettext ("%u piece forces sheet %u: shrink, drop or fill?",
                                 "%u pieces force sheet %u: shrink, drop or fill?", forced->pieces),
                       forced->pieces, forced->sheet);
  g_autofree char *missing = describe_missing (forced);
  g_autofree char *fill = g_strdup_printf (_ ("_Fill: %u More for Stock"), forced->extra);
  GtkWidget *title = sb_words_new (heading, NULL);

  gtk_widget_add_css_class (card, "work-card");
  gtk_widget_add_css_class (title, "heading");
  gtk_box_append (GTK_BOX (card), title);
  gtk_box_append (GTK_BOX (card), sb_words_new (missing, NULL));
  if (forced->shrunk) {
    g_autofree char *shrink = g_strdup_printf (_ ("_Shrink by %g %%"), forced->shrink_percent);
    add_answer (buttons, laying, shrink, forced->shrunk);
  }
  add_answer (buttons, laying, _ ("_Drop Them"), forced->dropped);
  if (forced->filled && forced->extra > 0)
    add_answer (buttons, laying, fill, forced->filled);
  g_signal_connect_swapped (keep, "clicked", G_CALLBACK (dismissed_cb), laying->area);
  gtk_box_append (GTK_BOX (buttons), keep);
  gtk_box_append (GTK_BOX (card), buttons);
  g_object_set_data (G_OBJECT (laying->area), QUESTION_KEY, card);
  gtk_box_append (laying->area, card);
}

/* --- Laying --- */

static void
lay_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Laying *laying = data;
  SbPlanParams params = sb_plan_params_default ();
  GError *error = NULL;

  laying->plan = sb_order_plan (laying->before, &params, cancellable, &error);
  if (!laying->plan) {
    g_task_return_error (task, error);
    return;
  }
  laying->forced = sb_order_find_forced (laying->plan->state, TRUE, FORCED_SECONDS, cancellable);
  g_task_return_boolean (task, TRUE);
}

static void
show_error (Laying *laying, const char *reason)
{
  sb_error_dialog_show (laying->window, _ ("The order was not laid out"), reason);
}

static void
take (Laying *laying)
{
  if (sb_desk_get_whole (laying->desk) != laying->before) {
    sb_desk_say (laying->desk, _ ("The job changed meanwhile, so the layout was not used"));
    return;
  }
  sb_job_edit (sb_desk_get_job (laying->desk), sb_state_ref (laying->plan->state),
               _ ("Lay Out the Order"), NULL);
  if (laying->plan->too_large > 0)
    show_error (laying, _ ("Some designs are larger than the printable area and were left out."));
  if (laying->forced)
    ask (laying);
}

static void
laid_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Laying *laying = user_data;
  g_autoptr (GError) error = NULL;
  gboolean here = gtk_widget_get_root (GTK_WIDGET (laying->area)) != NULL;

  g_object_set_data (G_OBJECT (laying->area), RUNNING_KEY, NULL);
  if (here)
    sb_work_card_done (laying->card);
  if (g_task_propagate_boolean (G_TASK (result), &error)) {
    if (here)
      take (laying);
  } else if (here && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    show_error (laying, error->message);
  }
  laying_free (laying);
}

static void
gone_cb (GCancellable *cancellable)
{
  g_cancellable_cancel (cancellable);
}

void
sb_order_laying_start (GtkWindow *window, GtkBox *area, SbDesk *desk)
{
  if (g_object_get_data (G_OBJECT (area), RUNNING_KEY))
    return;
  remove_question (area);
  Laying *laying = g_new0 (Laying, 1);
  laying->window = g_object_ref (window);
  laying->area = g_object_ref (area);
  laying->desk = g_object_ref (desk);
  laying->before = sb_state_ref (sb_desk_get_whole (desk));
  laying->cancellable = g_cancellable_new ();
  laying->card =
      g_object_ref (sb_work_card_new (area, _ ("Laying out the order"), laying->cancellable));
  sb_work_card_set_fraction (laying->card, -1);
  g_object_set_data (G_OBJECT (area), RUNNING_KEY, laying);
  g_signal_connect_object (window, "destroy", G_CALLBACK (gone_cb), laying->cancellable,
                           G_CONNECT_SWAPPED);
  g_autoptr (GTask) task = g_task_new (NULL, laying->cancellable, laid_cb, laying);
  g_task_set_task_data (task, laying, NULL);
  g_task_run_in_thread (task, lay_in_thread);
}
