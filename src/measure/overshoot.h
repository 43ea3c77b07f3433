/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Borderless printing: the printer enlarges the page about its centre until it passes the paper's
 * edges by an overshoot, so that a rim of it is lost and nothing keeps its size. Facts: handbook
 * section 5.2. */
#pragma once

#include "measure/paper.h"

G_BEGIN_DECLS

#define SB_OVERSHOOT_UM 3000 /* where nothing else is known; 3 mm is usual */
#define SB_OVERSHOOT_MOST 15000

/* How a borderless print comes out. Machines differ in whether they enlarge both ways alike, so the
 * least and the most are given. */
typedef struct {
  double least_scale, most_scale; /* 1.0202 and 1.0286 for A4 and 3 mm */
  SbMargins lost;                 /* of the page as laid, at most */
} SbOvershoot;

/* A page of this size that goes past the paper by `overshoot`, all in um. */
SbOvershoot sb_overshoot (sb_um page_width, sb_um page_height, sb_um overshoot);

G_END_DECLS
