/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * JPEG bytes that may go into a document as they are, without being decoded and packed again. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The JPEG with its application and comment segments left out (they may tell place, camera and
 * owner), or NULL when any reader could show it otherwise than sb_picture_decode does: not grey or
 * YCbCr, 12 bits a sample, an ICC profile, an EXIF orientation or not `width` x `height` pixels. */
GBytes *sb_jpeg_strip (GBytes *jpeg, int width, int height) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
