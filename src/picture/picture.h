/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Artwork as it came in: the bytes of the file, what its header says, and the ways to see it. The
 * bytes never change. Immutable, reference-counted, usable from any thread. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "measure/length.h"
#include "picture/cleanup.h"

G_BEGIN_DECLS

#define SB_PICTURE_MOST_SIDE 30000       /* px */
#define SB_PICTURE_MOST_PIXELS 400000000 /* 400 megapixels */
#define SB_PICTURE_MOST_BYTES (512 * 1024 * 1024)

#define SB_PICTURE_ERROR (sb_picture_error_quark ())
GQuark sb_picture_error_quark (void);
typedef enum {
  SB_PICTURE_ERROR_UNKNOWN,   /* no known format */
  SB_PICTURE_ERROR_CORRUPT,   /* cut short or damaged */
  SB_PICTURE_ERROR_TOO_LARGE, /* past the limits above */
  SB_PICTURE_ERROR_EMPTY,     /* no pixels, no size */
} SbPictureError;

typedef enum {
  SB_PICTURE_BITMAP,
  SB_PICTURE_VECTOR,
} SbPictureKind;

typedef struct _SbPicture SbPicture;

/* Reads the header of `bytes` (and of a PNG with an alpha channel rows until some pixels are
 * clear); `name` is only for messages and is what the maker calls the file. Limits are checked
 * before any pixel memory is taken. */
SbPicture *sb_picture_new (GBytes *bytes, const char *name,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Reads the file at `path` (a regular file of at most SB_PICTURE_MOST_BYTES) and its header. */
SbPicture *sb_picture_load (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* `picture`, or what it was cleaned from, cleaned by `recipe`: its pixels are those that come in,
 * cleaned each time they are asked for; its bytes, hash, ending and size stay. `px_per_mm` is of
 * its own pixels at the printed size. A recipe that changes nothing, and any for a vector, gives
 * the picture that came in. */
SbPicture *sb_picture_clean (SbPicture *picture, const SbCleanup *recipe,
                             double px_per_mm) G_GNUC_WARN_UNUSED_RESULT;
/* What a cleaned picture was made of, or the picture itself. A new reference. */
SbPicture *sb_picture_get_origin (SbPicture *picture) G_GNUC_WARN_UNUSED_RESULT;
/* Whether the pixels are other than the bytes say. */
gboolean sb_picture_is_cleaned (const SbPicture *picture);

/* What the last clean-up at full size gave, without its pixels; NULL where there was none yet. A
 * new reference. */
SbCleanResult *sb_picture_get_clean_result (SbPicture *picture) G_GNUC_WARN_UNUSED_RESULT;

/* Whether its pixels are to be enlarged as squares with hard edges. */
gboolean sb_picture_is_crisp (const SbPicture *picture);

SbPicture *sb_picture_ref (SbPicture *picture);
void sb_picture_unref (SbPicture *picture);

GBytes *sb_picture_get_bytes (const SbPicture *picture);
/* Lower-case hex SHA-256 of the bytes. */
const char *sb_picture_get_sha256 (const SbPicture *picture);
/* What tells pictures apart by their pixels: the hash and, of a cleaned picture, the recipe. */
const char *sb_picture_get_key (const SbPicture *picture);
/* The usual file ending of the format without the dot: "png", "svg", "jpg", "tif", ... */
const char *sb_picture_get_extension (const SbPicture *picture);
SbPictureKind sb_picture_get_kind (const SbPicture *picture);

/* Pixels as a viewer shows them (EXIF orientation applied). For vectors: CSS px of the size below.
 */
int sb_picture_get_width (const SbPicture *picture);
int sb_picture_get_height (const SbPicture *picture);

/* The physical size that the file states, in mm. FALSE when it states none (no pHYs, no density
 * tag, or only an aspect ratio): the maker must be asked. */
gboolean sb_picture_get_size_mm (const SbPicture *picture, double *width_mm, double *height_mm);

/* TRUE when some pixel may be transparent (a vector, or an alpha channel; that of a PNG only where
 * one pixel in 1000 is not opaque). */
gboolean sb_picture_has_alpha (const SbPicture *picture);

/* Decodes at full size to a CAIRO_FORMAT_ARGB32 surface, premultiplied sRGB, upright. The embedded
 * ICC profile (or gAMA/cHRM) is applied through lcms2. A damaged file is an error, never half a
 * picture. For vectors use sb_picture_render. Not cached: the caller owns the surface. */
cairo_surface_t *sb_picture_decode (const SbPicture *picture, GCancellable *cancellable,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* A rendering of the whole picture at exactly `width` x `height` px (1..SB_PICTURE_MOST_SIDE):
 * vectors drawn at that size, bitmaps decoded and resampled (downwards by the area's average in
 * linear light, upwards bilinear or, where crisp, as squares; premultiplied). */
cairo_surface_t *sb_picture_render (const SbPicture *picture, int width, int height,
                                    GCancellable *cancellable,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Vectors only: draws the picture into 0,0,width,height of `cr` as paths (for PDF and SVG). */
gboolean sb_picture_draw_vector (const SbPicture *picture, cairo_t *cr, double width, double height,
                                 GError **error);

/* Vectors only: draws how much of each pixel the picture covers, without its colours, on the whole
 * of a clear CAIRO_FORMAT_A8 surface. */
gboolean sb_picture_draw_coverage (const SbPicture *picture, cairo_surface_t *surface,
                                   GError **error);

/* Effective resolution at a printed size: pixels / inches on the worse axis, rounded to a whole
 * number. 0 for vectors, which have none. (Handbook section 2, source S24.) */
int sb_picture_get_dpi_at (const SbPicture *picture, double width_mm, double height_mm);

/* Handbook section 2: 300 and more is good for paintings and photos. */
#define SB_DPI_GOOD 300
#define SB_DPI_POOR 200
#define SB_DPI_BAD 150

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPicture, sb_picture_unref)

G_END_DECLS
