/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Straight rows: full-length lanes with the gap between them, for a ruler and a knife. */
#pragma once

#include "packing/pages.h"

G_BEGIN_DECLS

/* Lays copies in lanes across the pages there are and as many new ones as it takes: the highest
 * first, each in the first lane with room for it, standing or lying as makes the lower lane. Lanes
 * keep clear of fixed copies over their whole length. Copies larger than a page are left out. */
void sb_rows_lay (SbPages *pages, const SbPlacing *copies, guint n);

G_END_DECLS
