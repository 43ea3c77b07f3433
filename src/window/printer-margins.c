/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "output/export.h"
#include "printing/run.h"
#include "window/printer-margins.h"

/* What was asked, and the answer. */
typedef struct {
  SbDesk *desk;
  char *printer;
  SbState *asked;
  SbState *suited; /* NULL when the printer could not be asked */
} Question;

static void
question_free (Question *question)
{
  g_object_unref (question->desk);
  g_free (question->printer);
  sb_state_unref (question->asked);
  g_clear_pointer (&question->suited, sb_state_unref);
  g_free (question);
}

static void
ask_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Question *question = data;

  question->suited = sb_print_suit (question->asked, question->printer, NULL, NULL);
  g_task_return_boolean (task, TRUE);
}

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Question *question = g_task_get_task_data (G_TASK (result));
  SbState *state = sb_desk_get_settled (question->desk);
  g_autofree char *name = g_strdup_printf (_ ("Proof for %s"), question->printer);
  SbState *next = sb_edit_set_printer (state, question->printer);

  /* The maker may have chosen another paper or typed margins meanwhile. */
  if (question->suited && state->margins_source != SB_MARGINS_TYPED &&
      state->page_width == question->asked->page_width &&
      state->page_height == question->asked->page_height) {
    SbState *with_margins =
        sb_edit_set_margins (next, question->suited->margins, question->suited->margins_source);
    sb_state_unref (next);
    next = with_margins;
  }
  sb_job_edit (sb_desk_get_job (question->desk), next, name, "printer");
}

void
sb_printer_margins_ask (SbDesk *desk, const char *printer)
{
  SbState *state = sb_desk_get_settled (desk);

  if (!printer) {
    SbState *without = sb_edit_set_printer (state, NULL);
    SbState *next = sb_edit_set_margins (without, sb_margins_fallback (), SB_MARGINS_FALLBACK);
    sb_state_unref (without);
    sb_job_edit (sb_desk_get_job (desk), next, _ ("Proof for Any Printer"), NULL);
    return;
  }
  Question *question = g_new0 (Question, 1);
  question->desk = g_object_ref (desk);
  question->printer = g_strdup (printer);
  question->asked = sb_state_ref (state);

  g_autoptr (GTask) task = g_task_new (NULL, NULL, answered_cb, NULL);
  g_task_set_task_data (task, question, (GDestroyNotify)question_free);
  g_task_run_in_thread (task, ask_in_thread);
}
