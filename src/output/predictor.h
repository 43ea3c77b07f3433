/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pixels packed as PNG packs them: a filter a row, then deflate (PNG specification, sections 9 and
 * 10; PDF reads the same with /Predictor 15, ISO 32000-1 section 7.4.4.4). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Packs `rows` rows of `row_bytes` bytes each; `pixel_bytes` is the distance to the pixel on the
 * left (1 where pixels share a byte). The same pixels give the same bytes. */
GByteArray *sb_predictor_pack (const guint8 *pixels, gsize row_bytes, gsize rows,
                               guint pixel_bytes) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
