/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/lab.h"

#include <math.h>

#include "picture/srgb.h"

/* The cube root part of Lab by a table with linear steps between: 0.01 of a unit of a and b. */
#define CURVE_STEPS 4096

static float curve[CURVE_STEPS + 2];

static const float *
curve_table (void)
{
  static gsize done;

  if (g_once_init_enter (&done)) {
    for (int i = 0; i < CURVE_STEPS + 2; i++) {
      double t = i / (double)CURVE_STEPS;
      curve[i] = (float)(t > 216.0 / 24389 ? cbrt (t) : (24389.0 / 27 * t + 16) / 116);
    }
    g_once_init_leave (&done, 1);
  }
  return curve;
}

static float
lab_curve (const float *table, float t)
{
  float at = MIN (t, 1.0f) * CURVE_STEPS;
  int i = (int)at;
  return table[i] + (at - (float)i) * (table[i + 1] - table[i]);
}

SbLab
sb_lab_from_rgb (guint8 red, guint8 green, guint8 blue)
{
  const float *linear = sb_srgb_tables ()->linear, *table = curve_table ();
  float r = linear[red], g = linear[green], b = linear[blue];
  float x = lab_curve (table, (0.4360747f * r + 0.3850649f * g + 0.1430804f * b) / 0.9642f);
  float y = lab_curve (table, 0.2225045f * r + 0.7168786f * g + 0.0606169f * b);
  float z = lab_curve (table, (0.0139322f * r + 0.0971045f * g + 0.7141733f * b) / 0.8252f);

  return (SbLab){116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

double
sb_lab_distance (SbLab a, SbLab b)
{
  double l = a.l - b.l, da = a.a - b.a, db = a.b - b.b;
  return sqrt (l * l + da * da + db * db);
}
