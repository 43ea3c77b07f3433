/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Packing copies into an open-ended strip, as short as can be found: the form in which the
 * packing literature states its test sets. */
#pragma once

#include <gio/gio.h>

#include "packing/task.h"

G_BEGIN_DECLS

typedef struct {
  guint64 seed;
  double seconds; /* time after which it stops; decides nothing else */
  guint64 effort; /* evaluations after which it stops; 0 = by time alone */
} SbStripParams;

typedef struct {
  sb_um length;
  guint n;
  SbPlacing *placings; /* in the order of the shapes given */
  guint64 evaluations;
} SbStrip;

/* Lays one copy of each of `shapes` (indices into the task's shapes) into the strip x >= 0,
 * 0 <= y <= width. Returns a layout that passes sb_task_check, or NULL when a shape is wider than
 * the strip in all its turns. `least_length` (0 for none): stops once the strip is that short. */
SbStrip *sb_strip_pack (const SbTask *task, sb_um width, const guint *shapes, guint n,
                        sb_um least_length, const SbStripParams *params,
                        GCancellable *cancellable) G_GNUC_WARN_UNUSED_RESULT;
void sb_strip_free (SbStrip *strip);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbStrip, sb_strip_free)

G_END_DECLS
