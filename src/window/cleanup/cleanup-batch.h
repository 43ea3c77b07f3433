/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Designs made in a thread, with a card that says so, and taken to the job in one step. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* Makes the designs (SbDesign, prepared), in the thread; or NULL with an error. */
typedef GPtrArray *(*SbCleanupMake) (gpointer data, GCancellable *cancellable, GError **error);
/* Takes them into a state; a new reference. What must not change may be copied. */
typedef SbState *(*SbCleanupTake) (SbState *state, GPtrArray *designs, gpointer data);

typedef struct {
  const char *title;  /* what is going on */
  const char *failed; /* heads the error */
  const char *name;   /* of the step */
  const char *told;   /* said when it is done */
  SbCleanupMake make;
  SbCleanupTake take;
} SbCleanupBatch;

/* The strings are translated and copied. `data` is freed with `free_data` when all is over,
 * which may be after the window was closed. */
void sb_cleanup_batch_run (SbDesk *desk, const SbCleanupBatch *batch, gpointer data,
                           GDestroyNotify free_data);

G_END_DECLS
