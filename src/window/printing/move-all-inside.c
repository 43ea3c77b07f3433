/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/printing/move-all-inside.h"

#include <glib/gi18n.h>

#include "proof/proof.h"

typedef struct {
  SbState *before;
  SbUnit unit;
  SbState *after;
  guint left;  /* findings that no move clears */
  char *worst; /* the first of them, or NULL */
} Work;

static void
work_free (Work *work)
{
  sb_state_unref (work->before);
  g_clear_pointer (&work->after, sb_state_unref);
  g_free (work->worst);
  g_free (work);
}

static void
run (GTask *task, gpointer desk, gpointer data, GCancellable *cancellable)
{
  Work *work = data;

  work->after = sb_proof_move_all_inside (work->before);
  g_autoptr (GPtrArray) findings = sb_proof_run (work->after, work->unit);
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (finding->rule != SB_RULE_EDGE && finding->rule != SB_RULE_OVERLAP &&
        finding->rule != SB_RULE_GAP)
      continue;
    work->left++;
    if (!work->worst)
      work->worst = g_strdup (finding->message);
  }
  g_task_return_boolean (task, TRUE);
}

static void
say (SbDesk *desk, const Work *work)
{
  g_autofree char *text = NULL;

  if (work->left == 0)
    text = g_strdup (_ ("Everything is inside"));
  else if (work->left == 1)
    /* Translators: a finding of the proof */
    text = g_strdup_printf (_ ("Moving cannot mend this: %s"), work->worst);
  else
    text = g_strdup_printf (ngettext ("Moving cannot mend this: %s; nor %u other finding",
                                      "Moving cannot mend this: %s; nor %u other findings",
                                      work->left - 1),
                            work->worst, work->left - 1);
  sb_desk_say (desk, text);
}

static void
done_cb (GObject *object, GAsyncResult *result, gpointer data)
{
  SbDesk *desk = SB_DESK (object);
  Work *work = g_task_get_task_data (G_TASK (result));

  if (sb_desk_get_settled (desk) != work->before)
    return;
  if (work->after != work->before)
    sb_job_edit (sb_desk_get_job (desk), sb_state_ref (work->after), _ ("Move All Inside"), NULL);
  say (desk, work);
}

void
sb_desk_move_all_inside (SbDesk *desk)
{
  g_autoptr (GTask) task = g_task_new (desk, NULL, done_cb, NULL);
  Work *work = g_new0 (Work, 1);

  work->before = sb_state_ref (sb_desk_get_settled (desk));
  work->unit = sb_desk_get_unit (desk);
  g_task_set_task_data (task, work, (GDestroyNotify)work_free);
  g_task_run_in_thread (task, run);
}
