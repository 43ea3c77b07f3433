/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Colours of the job (0xRRGGBB) and of GTK. */
#pragma once

#include <gdk/gdk.h>

G_BEGIN_DECLS

static inline GdkRGBA
sb_rgba_from_rgb (guint32 rgb)
{
  return (GdkRGBA){(float)(rgb >> 16 & 0xff) / 255, (float)(rgb >> 8 & 0xff) / 255,
                   (float)(rgb & 0xff) / 255, 1};
}

static inline guint32
sb_rgba_to_rgb (const GdkRGBA *rgba)
{
  return (guint32)(rgba->red * 255 + 0.5f) << 16 | (guint32)(rgba->green * 255 + 0.5f) << 8 |
         (guint32)(rgba->blue * 255 + 0.5f);
}

G_END_DECLS
