/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plate that hangs on a piece with a finding: what is wrong in a few words, and the mend in its
 * menu. */
#pragma once

#include <gtk/gtk.h>

#include "proof/proof.h"

G_BEGIN_DECLS

#define SB_TYPE_FINDING_PLATE (sb_finding_plate_get_type ())
G_DECLARE_FINAL_TYPE (SbFindingPlate, sb_finding_plate, SB, FINDING_PLATE, GtkWidget)

GtkWidget *sb_finding_plate_new (void);

/* What it tells, or NULL to hide it. */
void sb_finding_plate_set_finding (SbFindingPlate *self, const SbFinding *finding, SbUnit unit);

/* "Border crosses by 1.3 mm". Free with g_free. */
char *sb_finding_plate_describe (const SbFinding *finding, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
