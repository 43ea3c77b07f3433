/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/srgb.h"

#include <math.h>

static SbSrgb tables;

const SbSrgb *
sb_srgb_tables (void)
{
  static gsize done;

  if (g_once_init_enter (&done)) {
    for (int i = 0; i < 256; i++) {
      double v = i / 255.0;
      tables.linear[i] = (float)(v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4));
    }
    for (int i = 0; i < (int)G_N_ELEMENTS (tables.encoded); i++) {
      double l = MIN (i / (double)SB_SRGB_STEPS, 1);
      double v = l <= 0.0031308 ? 12.92 * l : 1.055 * pow (l, 1 / 2.4) - 0.055;
      tables.encoded[i] = (guint8)lround (v * 255);
    }
    g_once_init_leave (&done, 1);
  }
  return &tables;
}
