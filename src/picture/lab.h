/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * CIE 1976 L*a*b* of sRGB colours, relative to D50 as in ICC profiles (CIE 15; IEC 61966-2-1;
 * sRGB's primaries adapted by Bradford's matrix). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
  float l, a, b;
} SbLab;

/* Of a colour of 8 bits a channel. */
SbLab sb_lab_from_rgb (guint8 red, guint8 green, guint8 blue);

/* CIE 1976 colour difference: the distance. */
double sb_lab_distance (SbLab a, SbLab b);

G_END_DECLS
