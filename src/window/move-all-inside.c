/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/move-all-inside.h"

#include <glib/gi18n.h>

#include "proof/proof.h"

typedef struct {
  SbState *before;
  SbState *after;
  guint left; /* findings that no move clears */
} Work;

static void
work_free (Work *work)
{
  sb_state_unref (work->before);
  g_clear_pointer (&work->after, sb_state_unref);
  g_free (work);
}

static void
run (GTask *task, gpointer desk, gpointer data, GCancellable *cancellable)
{
  Work *work = data;

  work->after = sb_proof_move_all_inside (work->before);
  g_autoptr (GPtrArray) findings = sb_proof_run (work->after, SB_UNIT_MM);
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    work->left += finding->rule == SB_RULE_EDGE || finding->rule == SB_RULE_OVERLAP ||
                  finding->rule == SB_RULE_GAP;
  }
  g_task_return_boolean (task, TRUE);
}

static void
say (SbDesk *desk, guint left, gboolean moved)
{
  if (left == 0) {
    sb_desk_say (desk, _ ("Everything is inside"));
    return;
  }
  const char *format =
      moved ? ngettext ("Moved what could be moved; %u finding is left that moving cannot mend",
                        "Moved what could be moved; %u findings are left that moving cannot mend",
                        left)
            : ngettext ("Moving cannot mend the %u finding that is left",
                        "Moving cannot mend the %u findings that are left", left);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_autofree char *text = g_strdup_printf (format, left);
#pragma GCC diagnostic pop
  sb_desk_say (desk, text);
}

static void
done_cb (GObject *object, GAsyncResult *result, gpointer data)
{
  SbDesk *desk = SB_DESK (object);
  Work *work = g_task_get_task_data (G_TASK (result));

  if (sb_desk_get_settled (desk) != work->before)
    return;
  gboolean moved = work->after != work->before;
  if (moved)
    sb_job_edit (sb_desk_get_job (desk), sb_state_ref (work->after), _ ("Move All Inside"), NULL);
  say (desk, work->left, moved);
}

void
sb_desk_move_all_inside (SbDesk *desk)
{
  g_autoptr (GTask) task = g_task_new (desk, NULL, done_cb, NULL);
  Work *work = g_new0 (Work, 1);

  work->before = sb_state_ref (sb_desk_get_settled (desk));
  g_task_set_task_data (task, work, (GDestroyNotify)work_free);
  g_task_run_in_thread (task, run);
}
