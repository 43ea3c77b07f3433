/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/point.h"

#include <math.h>

/* Sine and cosine of an angle in degrees, reduced to an eighth of a turn first: quarter turns are
 * exact, and a shape turned by 90 degrees more has exactly the turned corners. */
static void
sine_cosine (double degrees, double *sine, double *cosine)
{
  double quarters = nearbyint (degrees / 90);
  double rest = (degrees - quarters * 90) * G_PI / 180;
  double s = sin (rest);
  double c = cos (rest);
  switch (((int)fmod (quarters, 4) + 4) % 4) {
  case 0:
    *sine = s;
    *cosine = c;
    break;
  case 1:
    *sine = c;
    *cosine = -s;
    break;
  case 2:
    *sine = -s;
    *cosine = -c;
    break;
  default:
    *sine = -c;
    *cosine = s;
    break;
  }
}

SbTransform
sb_transform_turn (SbPoint from, double degrees, SbPoint to)
{
  double s, c;
  g_return_val_if_fail (isfinite (degrees), SB_TRANSFORM_IDENTITY);
  sine_cosine (degrees, &s, &c);
  return (SbTransform){
      .xx = c,
      .yx = s,
      .xy = -s,
      .yy = c,
      .x0 = to.x - (c * from.x - s * from.y),
      .y0 = to.y - (s * from.x + c * from.y),
  };
}

SbTransform
sb_transform_chain (SbTransform first, SbTransform then)
{
  SbPoint origin = sb_transform_point (then, (SbPoint){first.x0, first.y0});
  return (SbTransform){
      .xx = then.xx * first.xx + then.xy * first.yx,
      .yx = then.yx * first.xx + then.yy * first.yx,
      .xy = then.xx * first.xy + then.xy * first.yy,
      .yy = then.yx * first.xy + then.yy * first.yy,
      .x0 = origin.x,
      .y0 = origin.y,
  };
}

gboolean
sb_transform_invert (SbTransform t, SbTransform *inverse)
{
  double det = t.xx * t.yy - t.xy * t.yx;
  if (!isnormal (det))
    return FALSE;
  inverse->xx = t.yy / det;
  inverse->yx = -t.yx / det;
  inverse->xy = -t.xy / det;
  inverse->yy = t.xx / det;
  inverse->x0 = -(inverse->xx * t.x0 + inverse->xy * t.y0);
  inverse->y0 = -(inverse->yx * t.x0 + inverse->yy * t.y0);
  return TRUE;
}

SbPoint
sb_transform_point (SbTransform t, SbPoint p)
{
  return (SbPoint){t.xx * p.x + t.xy * p.y + t.x0, t.yx * p.x + t.yy * p.y + t.y0};
}

SbIPoint
sb_point_round (SbPoint p)
{
  return (SbIPoint){sb_um_from_mm (p.x), sb_um_from_mm (p.y)};
}

gboolean
sb_box_is_empty (SbBox box)
{
  return box.x1 < box.x0;
}

SbBox
sb_box_union (SbBox a, SbBox b)
{
  if (sb_box_is_empty (a))
    return b;
  if (sb_box_is_empty (b))
    return a;
  return (SbBox){MIN (a.x0, b.x0), MIN (a.y0, b.y0), MAX (a.x1, b.x1), MAX (a.y1, b.y1)};
}

SbBox
sb_box_add (SbBox box, SbPoint p)
{
  return sb_box_union (box, (SbBox){p.x, p.y, p.x, p.y});
}

SbPoint
sb_box_centre (SbBox box)
{
  return (SbPoint){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}
