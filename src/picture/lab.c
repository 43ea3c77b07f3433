/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/lab.h"

#include <math.h>

static float linear[256];

static void
fill_table (void)
{
  static gsize done;

  if (!g_once_init_enter (&done))
    return;
  for (int i = 0; i < 256; i++) {
    double v = i / 255.0;
    linear[i] = (float)(v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4));
  }
  g_once_init_leave (&done, 1);
}

static float
lab_curve (float t)
{
  return t > 216.0f / 24389.0f ? cbrtf (t) : (24389.0f / 27.0f * t + 16.0f) / 116.0f;
}

SbLab
sb_lab_from_rgb (guint8 red, guint8 green, guint8 blue)
{
  fill_table ();
  float r = linear[red], g = linear[green], b = linear[blue];
  float x = lab_curve ((0.4360747f * r + 0.3850649f * g + 0.1430804f * b) / 0.9642f);
  float y = lab_curve (0.2225045f * r + 0.7168786f * g + 0.0606169f * b);
  float z = lab_curve ((0.0139322f * r + 0.0971045f * g + 0.7141733f * b) / 0.8252f);

  return (SbLab){116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

double
sb_lab_distance (SbLab a, SbLab b)
{
  double l = a.l - b.l, da = a.a - b.a, db = a.b - b.b;
  return sqrt (l * l + da * da + db * db);
}
