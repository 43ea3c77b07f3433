/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Necks and thin parts of an outline. Private to the room. */
#pragma once

#include "geometry/outline.h"

G_BEGIN_DECLS

#define SB_NECK_MOST_MM 8.0

/* The width of the thinnest neck under SB_NECK_MOST_MM and its middle; G_MAXDOUBLE when there is
 * none. A neck lies between two places of an outline that face each other across its inside and
 * are far apart along it; the round end of a spike is none. */
double sb_neck_find (const SbOutline *outline, SbPoint *where);

G_END_DECLS
