/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * sRGB's curve (IEC 61966-2-1) by tables, for loops over pixels. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SB_SRGB_STEPS 16384
#define SB_SRGB_MOST 4 /* light up to this many times white may be encoded */

typedef struct {
  float linear[256];                                /* light 0..1 of a channel's value */
  guint8 encoded[SB_SRGB_MOST * SB_SRGB_STEPS + 1]; /* of light i / SB_SRGB_STEPS */
} SbSrgb;

/* Made once; thread-safe. */
const SbSrgb *sb_srgb_tables (void);

/* `light` within 0..SB_SRGB_MOST. */
static inline guint8
sb_srgb_encode (const SbSrgb *srgb, float light)
{
  return srgb->encoded[(int)(light * SB_SRGB_STEPS + 0.5f)];
}

G_END_DECLS
