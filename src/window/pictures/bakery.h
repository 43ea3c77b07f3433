/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Keeps the baked textures of a canvas: equal pieces share one, what is missing is baked in a
 * thread, the longest unused go when they take more than the budget. Main thread only.
 *
 * Signal "baked" when textures that were asked for are there, or better artwork is. */
#pragma once

#include "window/pictures/art-store.h"
#include "window/pictures/bake.h"

G_BEGIN_DECLS

#define SB_TYPE_BAKERY (sb_bakery_get_type ())
G_DECLARE_FINAL_TYPE (SbBakery, sb_bakery, SB, BAKERY, GObject)

/* A texture and where it lies. */
typedef struct {
  SbPixels *pixels; /* owned by whoever holds the struct */
  int left, top;    /* px of the outline box's centre */
  double px_a_mm;
} SbBaked;

SbBakery *sb_bakery_new (SbArtStore *store) G_GNUC_WARN_UNUSED_RESULT;

/* The texture of `key`, if it is there. When it is not, or its artwork has too few pixels, it is
 * baked soon. Returns FALSE, and leaves `*baked` alone, when there is none yet. */
gboolean sb_bakery_get (SbBakery *self, const SbBakeKey *key, SbBaked *baked);

/* The same, baked at once with the artwork there is: for what turns under the pointer. */
void sb_bakery_get_now (SbBakery *self, const SbBakeKey *key, SbBaked *baked);

/* Drops what waits to be baked: the scale has changed. */
void sb_bakery_forget_waiting (SbBakery *self);

gsize sb_bakery_get_bytes (SbBakery *self);
gboolean sb_bakery_is_busy (SbBakery *self);

static inline void
sb_baked_clear (SbBaked *baked)
{
  g_clear_pointer (&baked->pixels, sb_pixels_unref);
}

G_END_DECLS
