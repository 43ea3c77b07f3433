/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The few tags of a TIFF directory that matter here: a TIFF file's own, and those of the EXIF block
 * of a JPEG, which has the same build (TIFF 6.0; CIPA DC-008). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
  guint32 width, height; /* px as stored; 0 when missing */
  int orientation;       /* 1..8 */
  double x_dpi, y_dpi;   /* 0 when missing or without a unit */
  gboolean alpha;        /* an extra sample that is alpha */
} SbTiffTags;

/* Reads the first directory. FALSE when `data` is no TIFF or is cut short. */
gboolean sb_tiff_tags_read (const guint8 *data, gsize size, SbTiffTags *tags);

G_END_DECLS
