/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "window/parts/palette.h"

#define RGBA(hex, alpha)                                                                           \
  {                                                                                                \
    ((hex) >> 16 & 0xff) / 255.0f, ((hex) >> 8 & 0xff) / 255.0f, ((hex)&0xff) / 255.0f, (alpha)    \
  }

static const SbPalette plain = {
    .accent = RGBA (0x0f6f66, 1),
    .ring_tint = RGBA (0x0f6f66, 0.12f),
    .ring_hatch = RGBA (0x3b9289, 1),
    .strip = RGBA (0x8a5a2b, 1),
    .strip_wash = RGBA (0xffffff, 0.7f),
    .waste = RGBA (0x857aa6, 1),
    .spot = RGBA (0x6b5b95, 1),
    .plate = RGBA (0x2b2a28, 1),
    .plate_text = RGBA (0xffffff, 1),
    .stop = RGBA (0xa3261b, 1),
    .caution = RGBA (0x8a4b08, 1),
    .note = RGBA (0x4a5568, 1),
    .fit = RGBA (0x0f6f66, 0.14f),
};

static const SbPalette strong = {
    .accent = RGBA (0x00443e, 1),
    .ring_tint = RGBA (0x00443e, 0.22f),
    .ring_hatch = RGBA (0x00443e, 1),
    .strip = RGBA (0x5a3000, 1),
    .strip_wash = RGBA (0xffffff, 0.8f),
    .waste = RGBA (0x3a2a6b, 1),
    .spot = RGBA (0x2f1f5c, 1),
    .plate = RGBA (0x000000, 1),
    .plate_text = RGBA (0xffffff, 1),
    .stop = RGBA (0x7d0c04, 1),
    .caution = RGBA (0x5c2f00, 1),
    .note = RGBA (0x1f2937, 1),
    .fit = RGBA (0x00443e, 0.25f),
};

gboolean
sb_palette_is_high_contrast (GtkWidget *widget)
{
  g_autofree char *theme = NULL;

  g_object_get (gtk_widget_get_settings (widget), "gtk-theme-name", &theme, NULL);
  return theme && (strstr (theme, "HighContrast") != NULL || strstr (theme, "-hc") != NULL);
}

const SbPalette *
sb_palette_get_for (gboolean high_contrast)
{
  return high_contrast ? &strong : &plain;
}

const SbPalette *
sb_palette_get (GtkWidget *widget)
{
  return sb_palette_get_for (sb_palette_is_high_contrast (widget));
}
