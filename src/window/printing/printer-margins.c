/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "output/export.h"
#include "packing/impose.h"
#include "printing/run.h"
#include "window/printing/printer-margins.h"

/* What was asked, and the answer. */
typedef struct {
  SbDesk *desk;
  SbState *state;
  char *printer;
  SbState *suited; /* the job as the printer prints it; or NULL: */
  GError *error;
} Question;

static void
question_free (Question *question)
{
  g_object_unref (question->desk);
  sb_state_unref (question->state);
  g_free (question->printer);
  g_clear_pointer (&question->suited, sb_state_unref);
  g_clear_error (&question->error);
  g_free (question);
}

static void
ask_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Question *question = data;

  question->suited = sb_print_suit (question->state, question->printer, NULL, &question->error);
  g_task_return_boolean (task, TRUE);
}

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Question *question = g_task_get_task_data (G_TASK (result));
  SbState *state = sb_desk_get_settled (question->desk);
  g_autofree char *name = g_strdup_printf (_ ("Proof for %s"), question->printer);

  if (!question->suited) {
    sb_desk_say (question->desk, question->error->message);
    return;
  }
  /* The maker may have gone on meanwhile; paper and lie must still be those that were asked for. */
  if (state->page_width != question->state->page_width ||
      state->page_height != question->state->page_height)
    return;
  g_autoptr (SbState) with_printer = sb_edit_set_printer (state, question->printer);
  const SbState *suited = question->suited;
  g_autoptr (SbState) next =
      suited->overshoot > 0
          ? sb_edit_set_borderless (with_printer, suited->overshoot)
          : sb_edit_set_margins (with_printer, suited->margins, suited->margins_source);
  sb_job_edit (sb_desk_get_job (question->desk), sb_impose_all (next), name, "printer");
}

static void
ask (SbDesk *desk, SbState *state, const char *printer)
{
  Question *question = g_new0 (Question, 1);
  question->desk = g_object_ref (desk);
  question->state = sb_state_ref (state);
  question->printer = g_strdup (printer);

  g_autoptr (GTask) task = g_task_new (NULL, NULL, answered_cb, NULL);
  g_task_set_task_data (task, question, (GDestroyNotify)question_free);
  g_task_run_in_thread (task, ask_in_thread);
}

void
sb_printer_margins_ask (SbDesk *desk, const char *printer)
{
  SbState *state = sb_desk_get_settled (desk);

  if (!printer) {
    g_autoptr (SbState) without = sb_edit_set_printer (state, NULL);
    SbState *next =
        state->margins_source == SB_MARGINS_TYPED
            ? sb_state_ref (without)
            : sb_edit_set_margins (without, sb_margins_fallback (), SB_MARGINS_FALLBACK);
    sb_job_edit (sb_desk_get_job (desk), next, _ ("Proof for Any Printer"), NULL);
    return;
  }
  ask (desk, state, printer);
}

void
sb_printer_margins_leave_borderless (SbDesk *desk)
{
  SbState *state = sb_desk_get_settled (desk);
  g_autoptr (SbState) bordered = sb_edit_set_margins (state, state->margins, SB_MARGINS_PRINTER);

  if (state->printer)
    ask (desk, bordered, state->printer);
}
