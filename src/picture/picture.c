/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture/hold.h"
#include "picture/private.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "picture/resample.h"

struct _SbPicture {
  gatomicrefcount refs;
  GBytes *bytes;
  char *name;
  char *sha256;
  char *key;
  SbPictureKind kind;
  gboolean png;
  SbHeader header;
  SbPicture *origin; /* what came in, of a cleaned picture; else NULL */
  SbCleanup recipe;  /* with an origin */
  double px_per_mm;
  GMutex lock; /* of those below */
  int holds;
  cairo_surface_t *held; /* its pixels, once somebody has asked for them; or NULL */
  SbCleanResult *result; /* of the last clean-up at full size, without pixels; or NULL */
};

G_DEFINE_QUARK (sb_picture_error, sb_picture_error)

void
sb_picture_set_corrupt (GError **error, const char *name, const char *detail)
{
  g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_CORRUPT,
               _ ("%s is cut short or damaged: %s"), name, detail);
}

gboolean
sb_picture_check_size (gint64 width, gint64 height, const char *name, GError **error)
{
  if (width <= 0 || height <= 0) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY, _ ("%s has no pixels."), name);
    return FALSE;
  }
  if (width > SB_PICTURE_MOST_SIDE || height > SB_PICTURE_MOST_SIDE ||
      width * height > SB_PICTURE_MOST_PIXELS) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE,
                 _ ("%s is %'lld × %'lld pixels; the largest that can be opened has %'d on a side "
                    "and %d megapixels."),
                 name, (long long)width, (long long)height, SB_PICTURE_MOST_SIDE,
                 SB_PICTURE_MOST_PIXELS / 1000000);
    return FALSE;
  }
  return TRUE;
}

cairo_surface_t *
sb_picture_new_surface (int width, int height, const char *name, GError **error)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE,
                 _ ("There is not enough memory for the %d × %d pixels of %s."), width, height,
                 name);
    cairo_surface_destroy (surface);
    return NULL;
  }
  return surface;
}

/* 300 dpi is written as 11811 pixels per metre, which is 299.9994: a density that a whole number of
 * dots per inch would have been rounded to stands for that number. */
static double
unrounded (double dpi, double step)
{
  double whole = round (dpi);
  return fabs (dpi - whole) <= step / 2 ? whole : dpi;
}

void
sb_header_set_density (SbHeader *header, double x_dpi, double y_dpi, double step)
{
  if (!(x_dpi > 0) || !(y_dpi > 0))
    return;

  double width_mm = header->width / unrounded (x_dpi, step) * SB_MM_PER_INCH;
  double height_mm = header->height / unrounded (y_dpi, step) * SB_MM_PER_INCH;
  if (!(MIN (width_mm, height_mm) >= 0.01) || !(MAX (width_mm, height_mm) <= 10000))
    return;
  header->has_size = TRUE;
  header->width_mm = width_mm;
  header->height_mm = height_mm;
}

static gboolean
read_header (SbPicture *picture, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (picture->bytes, &size);

  picture->kind = SB_PICTURE_BITMAP;
  if (size == 0) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY, _ ("%s is empty."),
                 picture->name);
    return FALSE;
  }
  if (size > SB_PICTURE_MOST_BYTES) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE,
                 _ ("%s has more than %d MB, which is the most that can be opened."), picture->name,
                 SB_PICTURE_MOST_BYTES / 1024 / 1024);
    return FALSE;
  }
  if (sb_png_sniff (data, size)) {
    picture->png = TRUE;
    return sb_png_read_header (picture->bytes, picture->name, &picture->header, error);
  }
  if (sb_svg_sniff (data, size)) {
    picture->kind = SB_PICTURE_VECTOR;
    return sb_svg_read_header (picture->bytes, picture->name, &picture->header, error);
  }
  return sb_photo_read_header (picture->bytes, picture->name, &picture->header, error);
}

SbPicture *
sb_picture_new (GBytes *bytes, const char *name, GError **error)
{
  g_autoptr (SbPicture) picture = g_new0 (SbPicture, 1);

  g_atomic_ref_count_init (&picture->refs);
  g_mutex_init (&picture->lock);
  picture->bytes = g_bytes_ref (bytes);
  picture->name = g_strdup (name);
  if (!read_header (picture, error))
    return NULL;
  picture->sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  picture->key = g_strdup (picture->sha256);
  return g_steal_pointer (&picture);
}

/* A part keeps the density that the file states; what is straightened has none. */
static void
frame_header (SbHeader *header, const SbCleanup *recipe)
{
  const SbQuad *frame = sb_cleanup_get_frame (recipe);

  if (!frame->set)
    return;
  header->width_mm *= (double)frame->width / header->width;
  header->height_mm *= (double)frame->height / header->height;
  header->has_size &= !sb_quad_is_slanted (frame);
  header->width = frame->width;
  header->height = frame->height;
}

SbPicture *
sb_picture_clean (SbPicture *picture, const SbCleanup *recipe, double px_per_mm)
{
  SbPicture *origin = picture->origin != NULL ? picture->origin : picture;

  if (sb_cleanup_is_none (recipe) || origin->kind == SB_PICTURE_VECTOR)
    return sb_picture_ref (origin);
  SbPicture *cleaned = g_new0 (SbPicture, 1);
  g_atomic_ref_count_init (&cleaned->refs);
  g_mutex_init (&cleaned->lock);
  cleaned->kind = origin->kind;
  cleaned->png = origin->png;
  cleaned->header = origin->header;
  cleaned->bytes = g_bytes_ref (origin->bytes);
  cleaned->name = g_strdup (origin->name);
  cleaned->sha256 = g_strdup (origin->sha256);
  cleaned->origin = sb_picture_ref (origin);
  cleaned->recipe = *recipe;
  sb_strokes_ref (cleaned->recipe.strokes);
  cleaned->px_per_mm = px_per_mm;
  frame_header (&cleaned->header, recipe);
  cleaned->header.alpha |= recipe->remove_paper ||
                           sb_strokes_have (recipe->strokes, SB_STROKE_REMOVE) ||
                           sb_strokes_have (recipe->strokes, SB_STROKE_LASSO);
  g_autofree char *key = sb_cleanup_get_key (recipe);
  cleaned->key = g_strdup_printf ("%s %s %.17g", cleaned->sha256, key, px_per_mm);
  return cleaned;
}

SbPicture *
sb_picture_get_origin (SbPicture *picture)
{
  return sb_picture_ref (picture->origin != NULL ? picture->origin : picture);
}

gboolean
sb_picture_is_cleaned (const SbPicture *picture)
{
  return picture->origin != NULL;
}

static gboolean
check_file (const char *path, const char *name, GError **error)
{
  GStatBuf info;

  if (g_stat (path, &info) != 0) {
    int code = errno;
    g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (code), _ ("%s cannot be read: %s"),
                 name, g_strerror (code));
    return FALSE;
  }
  if (!S_ISREG (info.st_mode)) {
    g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_INVAL, _ ("%s is not a file."), name);
    return FALSE;
  }
  if (info.st_size > SB_PICTURE_MOST_BYTES) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE,
                 _ ("%s has more than %d MB, which is the most that can be opened."), name,
                 SB_PICTURE_MOST_BYTES / 1024 / 1024);
    return FALSE;
  }
  return TRUE;
}

SbPicture *
sb_picture_load (const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path);
  char *data;
  gsize size;
  g_autoptr (GError) local = NULL;

  if (!check_file (path, name, error))
    return NULL;
  if (!g_file_get_contents (path, &data, &size, &local)) {
    g_set_error (error, local->domain, local->code, _ ("%s cannot be read: %s"), name,
                 local->message);
    return NULL;
  }
  g_autoptr (GBytes) bytes = g_bytes_new_take (data, size);
  return sb_picture_new (bytes, name, error);
}

SbPicture *
sb_picture_ref (SbPicture *picture)
{
  g_atomic_ref_count_inc (&picture->refs);
  return picture;
}

void
sb_picture_unref (SbPicture *picture)
{
  if (!g_atomic_ref_count_dec (&picture->refs))
    return;
  g_bytes_unref (picture->bytes);
  g_free (picture->name);
  g_free (picture->sha256);
  g_free (picture->key);
  g_clear_pointer (&picture->origin, sb_picture_unref);
  sb_strokes_unref (picture->recipe.strokes);
  g_clear_pointer (&picture->held, cairo_surface_destroy);
  g_clear_pointer (&picture->result, sb_clean_result_unref);
  g_mutex_clear (&picture->lock);
  g_free (picture);
}

GBytes *
sb_picture_get_bytes (const SbPicture *picture)
{
  return picture->bytes;
}

const char *
sb_picture_get_sha256 (const SbPicture *picture)
{
  return picture->sha256;
}

const char *
sb_picture_get_key (const SbPicture *picture)
{
  return picture->key;
}

const char *
sb_picture_get_extension (const SbPicture *picture)
{
  return picture->header.extension;
}

SbPictureKind
sb_picture_get_kind (const SbPicture *picture)
{
  return picture->kind;
}

int
sb_picture_get_width (const SbPicture *picture)
{
  return picture->header.width;
}

int
sb_picture_get_height (const SbPicture *picture)
{
  return picture->header.height;
}

gboolean
sb_picture_is_crisp (const SbPicture *picture)
{
  return picture->recipe.crisp;
}

gboolean
sb_picture_get_size_mm (const SbPicture *picture, double *width_mm, double *height_mm)
{
  if (!picture->header.has_size)
    return FALSE;
  *width_mm = picture->header.width_mm;
  *height_mm = picture->header.height_mm;
  return TRUE;
}

gboolean
sb_picture_has_alpha (const SbPicture *picture)
{
  return picture->header.alpha;
}

static SbPicture *
origin_of (const SbPicture *picture)
{
  return picture->origin != NULL ? picture->origin : (SbPicture *)picture;
}

void
sb_picture_hold (SbPicture *picture)
{
  SbPicture *origin = origin_of (picture);
  g_mutex_lock (&origin->lock);
  origin->holds++;
  g_mutex_unlock (&origin->lock);
}

void
sb_picture_release (SbPicture *picture)
{
  SbPicture *origin = origin_of (picture);
  g_mutex_lock (&origin->lock);
  if (--origin->holds == 0)
    g_clear_pointer (&origin->held, cairo_surface_destroy);
  g_mutex_unlock (&origin->lock);
}

/* A second one that wants the pixels waits for the first. */
static cairo_surface_t *
decode_held (SbPicture *origin, GCancellable *cancellable, GError **error)
{
  g_mutex_lock (&origin->lock);
  cairo_surface_t *surface = origin->held != NULL ? cairo_surface_reference (origin->held)
                                                  : sb_picture_decode (origin, cancellable, error);
  if (origin->holds > 0 && origin->held == NULL && surface != NULL)
    origin->held = cairo_surface_reference (surface);
  g_mutex_unlock (&origin->lock);
  return surface;
}

cairo_surface_t *
sb_picture_render_origin (const SbPicture *picture, double scale, GCancellable *cancellable,
                          GError **error)
{
  SbPicture *origin = origin_of (picture);
  int width = MAX ((int)lround (origin->header.width * scale), 1);
  int height = MAX ((int)lround (origin->header.height * scale), 1);

  if (width == origin->header.width && height == origin->header.height)
    return decode_held (origin, cancellable, error);
  return sb_picture_render (origin, width, height, cancellable, error);
}

static void
keep_result (SbPicture *picture, const SbCleanResult *result)
{
  g_mutex_lock (&picture->lock);
  g_clear_pointer (&picture->result, sb_clean_result_unref);
  picture->result = sb_clean_result_without_pixels (result);
  g_mutex_unlock (&picture->lock);
}

SbCleanResult *
sb_picture_get_clean_result (SbPicture *picture)
{
  g_mutex_lock (&picture->lock);
  SbCleanResult *result = picture->result != NULL ? sb_clean_result_ref (picture->result) : NULL;
  g_mutex_unlock (&picture->lock);
  return result;
}

void
sb_picture_share_clean_result (SbPicture *picture, SbPicture *like)
{
  g_autoptr (SbCleanResult) result = sb_picture_get_clean_result (like);

  if (picture != like && result != NULL)
    keep_result (picture, result);
}

/* Cleaned at `scale`, 1 at the most. */
static cairo_surface_t *
render_cleaned (const SbPicture *picture, int width, int height, GCancellable *cancellable,
                GError **error)
{
  double scale = (double)width / picture->header.width;
  cairo_surface_t *whole = sb_picture_render_origin (picture, scale, cancellable, error);
  if (whole == NULL)
    return NULL;
  g_autoptr (SbCleaner) cleaner = sb_cleaner_new (whole, FALSE);
  cairo_surface_destroy (whole);
  g_autoptr (SbCleanResult) result =
      sb_cleaner_run (cleaner, &picture->recipe, width, height, picture->px_per_mm * scale, NULL,
                      NULL, cancellable, error);
  if (result == NULL)
    return NULL;
  if (width == picture->header.width && height == picture->header.height)
    keep_result ((SbPicture *)picture, result);
  return cairo_surface_reference (result->surface);
}

cairo_surface_t *
sb_picture_decode (const SbPicture *picture, GCancellable *cancellable, GError **error)
{
  if (picture->origin != NULL)
    return render_cleaned (picture, picture->header.width, picture->header.height, cancellable,
                           error);
  if (picture->kind == SB_PICTURE_VECTOR)
    return sb_picture_render (picture, picture->header.width, picture->header.height, cancellable,
                              error);
  if (picture->png)
    return sb_png_decode (picture->bytes, picture->name, cancellable, error);
  return sb_photo_decode (picture->bytes, picture->name, &picture->header, cancellable, error);
}

static gboolean
render_vector (const SbPicture *picture, cairo_surface_t *surface, GError **error)
{
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = sb_picture_draw_vector (picture, cr, cairo_image_surface_get_width (surface),
                                           cairo_image_surface_get_height (surface), error);

  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return drawn;
}

static gboolean
render_bitmap (const SbPicture *picture, cairo_surface_t *surface, GCancellable *cancellable,
               GError **error)
{
  cairo_surface_t *whole = picture->origin != NULL
                               ? sb_picture_decode (picture, cancellable, error)
                               : decode_held ((SbPicture *)picture, cancellable, error);
  if (whole == NULL)
    return FALSE;

  gboolean done = sb_resample (whole, surface, picture->recipe.crisp, cancellable, error);
  cairo_surface_destroy (whole);
  return done;
}

cairo_surface_t *
sb_picture_render (const SbPicture *picture, int width, int height, GCancellable *cancellable,
                   GError **error)
{
  if (!sb_picture_check_size (width, height, picture->name, error) ||
      g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  if (picture->kind == SB_PICTURE_BITMAP && width == picture->header.width &&
      height == picture->header.height)
    return sb_picture_decode (picture, cancellable, error);
  /* Cleaned at the size that is wanted, so that a preview is quick; but not past its own pixels,
   * which would be enlarged first. */
  if (picture->origin != NULL && width <= picture->header.width && height <= picture->header.height)
    return render_cleaned (picture, width, height, cancellable, error);

  cairo_surface_t *surface = sb_picture_new_surface (width, height, picture->name, error);
  if (surface == NULL)
    return NULL;
  gboolean done = picture->kind == SB_PICTURE_VECTOR
                      ? render_vector (picture, surface, error)
                      : render_bitmap (picture, surface, cancellable, error);
  if (!done)
    g_clear_pointer (&surface, cairo_surface_destroy);
  return surface;
}

gboolean
sb_picture_draw_vector (const SbPicture *picture, cairo_t *cr, double width, double height,
                        GError **error)
{
  g_return_val_if_fail (picture->kind == SB_PICTURE_VECTOR, FALSE);
  return sb_svg_draw (picture->bytes, picture->name, &picture->header, cr, width, height, error);
}

gboolean
sb_picture_draw_coverage (const SbPicture *picture, cairo_surface_t *surface, GError **error)
{
  g_return_val_if_fail (picture->kind == SB_PICTURE_VECTOR, FALSE);
  return sb_svg_draw_coverage (picture->bytes, picture->name, &picture->header, surface, error);
}

int
sb_picture_get_dpi_at (const SbPicture *picture, double width_mm, double height_mm)
{
  if (picture->kind == SB_PICTURE_VECTOR || !(width_mm > 0) || !(height_mm > 0))
    return 0;
  double across = picture->header.width / (width_mm / SB_MM_PER_INCH);
  double down = picture->header.height / (height_mm / SB_MM_PER_INCH);
  return (int)lround (MIN (MIN (across, down), 1e6));
}
