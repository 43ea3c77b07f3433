/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/overshoot.h"

/* Enlarged by `scale` about its centre, a side shows only length / scale of itself. */
static sb_um
lost_at_each_end (sb_um length, double scale)
{
  return sb_um_from_mm (sb_um_to_mm (length) * (1 - 1 / scale) / 2);
}

SbOvershoot
sb_overshoot (sb_um page_width, sb_um page_height, sb_um overshoot)
{
  double across = 1 + 2.0 * overshoot / page_width;
  double along = 1 + 2.0 * overshoot / page_height;
  double most = MAX (across, along);
  sb_um sides = lost_at_each_end (page_width, most);
  sb_um ends = lost_at_each_end (page_height, most);
  return (SbOvershoot){MIN (across, along), most, {ends, sides, ends, sides}};
}
