/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/design-split.h"
#include "job/edit.h"
#include "window/cleanup/cleanup-batch.h"
#include "window/cleanup/cleanup-split-run.h"

typedef struct {
  SbDesign *scan;
  SbSplit *split; /* NULL: still to be found */
  gboolean upright, keep;
} Making;

static void
making_free (gpointer data)
{
  Making *making = data;

  sb_design_unref (making->scan);
  sb_split_unref (making->split);
  g_free (making);
}

static GPtrArray *
make (gpointer data, GCancellable *cancellable, GError **error)
{
  Making *making = data;

  if (!making->split)
    making->split = sb_design_find_paintings (making->scan, cancellable, error);
  return making->split
             ? sb_design_split (making->scan, making->split, making->upright, cancellable, error)
             : NULL;
}

static SbState *
take (SbState *state, GPtrArray *designs, gpointer data)
{
  Making *making = data;
  SbState *all = sb_state_ref (state);

  for (guint i = 0; i < designs->len; i++) {
    SbState *next = sb_edit_add_design (all, sb_design_copy (designs->pdata[i]), NULL);
    sb_state_unref (all);
    all = next;
  }
  if (making->keep || !sb_state_get_design (all, making->scan->id))
    return all;
  SbState *without = sb_edit_remove_design (all, making->scan->id);
  sb_state_unref (all);
  return without;
}

void
sb_cleanup_split_run (SbDesk *desk, SbDesign *scan, SbSplit *split, gboolean upright, gboolean keep)
{
  Making *making = g_new0 (Making, 1);
  guint n = split ? sb_split_get_n_parts (split) : 0;

  making->scan = sb_design_ref (scan);
  making->split = split ? sb_split_ref (split) : NULL;
  making->upright = upright;
  making->keep = keep;
  g_autofree char *name = g_strdup_printf (_ ("Split %s"), scan->name);
  g_autofree char *told =
      n > 0 ? g_strdup_printf (ngettext ("%u design was made", "%u designs were made", n), n)
            : g_strdup_printf (_ ("%s was split into designs"), scan->name);
  SbCleanupBatch batch = {
      _ ("Splitting the scan"), _ ("The scan could not be split"), name, told, make, take};
  sb_cleanup_batch_run (desk, &batch, making, making_free);
}
