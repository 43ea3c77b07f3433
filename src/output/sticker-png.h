/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pictures that are not pages: a single sticker on nothing, a page marked for a shop's window. PNGs
 * in memory without any text or time in them. Slow: run in a thread. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* The sticker as it looks cut out: white within its outline, clear outside, no guide; true size at
 * `dpi` (pHYs). */
GBytes *sb_sticker_png (const SbDesign *design, int dpi, GCancellable *cancellable,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;

#define SB_SHOP_PICTURE_SIDE 1200 /* px, the longer one: too coarse to be printed from */

/* Page `index` with `mark` written across it again and again. */
GBytes *sb_shop_picture_png (const SbState *state, guint index, const char *mark,
                             GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
