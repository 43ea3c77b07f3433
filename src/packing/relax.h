/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Relaxation: copies that overlap push each other apart all at once, and turn as they are pushed,
 * until the sum of the squares of what is missing to the gap is nothing (soft bodies brought to
 * rest: C. O'Hern, L. Silbert, A. Liu, S. Nagel, "Jamming at zero temperature and zero applied
 * stress", Phys. Rev. E 68, 011306, 2003; going down by E. Bitzek, P. Koskinen, F. Gaehler,
 * M. Moseler, P. Gumbsch, "Structural relaxation made simple", Phys. Rev. Lett. 97, 170201, 2006).
 * Where that runs aground a copy or two change places, and the better one of both is gone on from
 * (D. Wales, J. Doye, "Global optimization by basin-hopping", J. Phys. Chem. A 101, 1997).
 *
 * It is for copies that may lie in any turn: shapes whose poses are `cyclic` are turned freely,
 * between the poses too. Others keep a pose or hop to another one.
 *
 * One thread at a time; the same seed and calls give the same places on any machine. */
#pragma once

#include "packing/random.h"
#include "packing/task.h"

G_BEGIN_DECLS

typedef struct _SbRelaxer SbRelaxer;

/* Borrows `task`, whose shapes must all be there. */
SbRelaxer *sb_relaxer_new (const SbTask *task, SbRandom random) G_GNUC_WARN_UNUSED_RESULT;

/* Takes `placings` (copied) as the layout to begin with. */
void sb_relaxer_set (SbRelaxer *relaxer, SbIBox box, const SbPlacing *placings, guint n);

void sb_relaxer_free (SbRelaxer *relaxer);

/* Goes on until the parts of all copies keep the gap and stay in the box (TRUE) or about
 * `evaluations` more places have been looked at; the first time it lets the layout come to rest,
 * whatever that takes. */
gboolean sb_relaxer_run (SbRelaxer *relaxer, guint64 evaluations);

/* Goes on from another layout than the one it has ended with. */
void sb_relaxer_disturb (SbRelaxer *relaxer);

/* Where copy `i` lies: its place, and its turn (thousandths of a degree) or pose in `placing`. */
SbPlacing sb_relaxer_get (const SbRelaxer *relaxer, guint i, gint32 *turn);

/* Places of copies looked at since it was made. */
guint64 sb_relaxer_get_evaluations (const SbRelaxer *relaxer);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRelaxer, sb_relaxer_free)

G_END_DECLS
