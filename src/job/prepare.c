/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Preparing all designs of a job: each is measured on its own, so they go to as many threads as the
 * machine has processors. A picture that several show a part of is decoded once, and one whose
 * outlines are known not at all. */
#include "config.h"

#include "job/job-json.h"
#include "job/outline-cache.h"
#include "picture/hold.h"

typedef struct {
  GCancellable *cancellable;
  GPtrArray *designs;
  GError **errors; /* one for each design */
} Task;

static void
prepare_one (gpointer place, gpointer data)
{
  Task *task = data;
  guint i = GPOINTER_TO_UINT (place) - 1;
  SbDesign *design = task->designs->pdata[i];

  if (!sb_outline_cache_take (design))
    sb_design_prepare (design, task->cancellable, &task->errors[i]);
}

static void
for_shared_pictures (GPtrArray *designs, void (*func) (SbPicture *))
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < designs->len; i++) {
    SbPicture *picture = ((SbDesign *)designs->pdata[i])->picture;
    if (!g_hash_table_add (seen, (gpointer)sb_picture_get_sha256 (picture)))
      func (picture);
  }
}

void
sb_designs_keep (GPtrArray *designs)
{
  guint n_new = 0;

  for (guint i = 0; i < designs->len; i++)
    n_new += sb_outline_cache_keep (designs->pdata[i]);
  if (n_new > 0)
    sb_outline_cache_tidy (SB_OUTLINE_CACHE_MOST_BYTES);
}

gboolean
sb_designs_prepare (GPtrArray *designs, GCancellable *cancellable, GError **error)
{
  g_autofree GError **errors = g_new0 (GError *, designs->len);
  Task task = {cancellable, designs, errors};
  for_shared_pictures (designs, sb_picture_hold);
  GThreadPool *pool =
      g_thread_pool_new (prepare_one, &task, (int)g_get_num_processors (), FALSE, NULL);
  for (guint i = 0; i < designs->len; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  for_shared_pictures (designs, sb_picture_release);

  gboolean ok = TRUE;
  for (guint i = 0; i < designs->len; i++) {
    if (errors[i] == NULL)
      continue;
    if (ok) {
      const SbDesign *design = designs->pdata[i];
      g_propagate_prefixed_error (error, errors[i], "%s: ", design->name);
    } else {
      g_error_free (errors[i]);
    }
    ok = FALSE;
  }
  return ok;
}
