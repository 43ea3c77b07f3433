/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A JPEG's markers: size, density and orientation (ITU-T T.81 Annex B, T.871 for JFIF, CIPA DC-008
 * for EXIF). */
#pragma once

#include "picture/private.h"

G_BEGIN_DECLS

/* Whether the bytes begin as a JPEG's do. */
gboolean sb_jpeg_sniff (const guint8 *data, gsize size);

/* Walks all markers up to the end of the image, so that a file that is cut short is found out
 * (libjpeg would fill it up with grey). JFIF's density is taken where it has a unit, else EXIF's.
 */
gboolean sb_jpeg_read_header (const guint8 *data, gsize size, const char *name, SbHeader *header,
                              GError **error);

G_END_DECLS
