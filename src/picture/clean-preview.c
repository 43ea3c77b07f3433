/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "picture/clean-preview.h"

#include <glib/gi18n.h>
#include <math.h>

#include "picture/private.h"

struct _SbCleanPreview {
  double scale; /* px of the preview to one of the picture */
  cairo_surface_t *before;
  SbCleaner *cleaner;
};

SbCleanPreview *
sb_clean_preview_new (SbPicture *picture, int most_side, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbPicture) origin = sb_picture_get_origin (picture);
  int side = MAX (sb_picture_get_width (origin), sb_picture_get_height (origin));

  if (sb_picture_get_kind (origin) == SB_PICTURE_VECTOR) {
    g_set_error_literal (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
                         _ ("A drawing made of lines has no paper to be cleaned of."));
    return NULL;
  }
  double scale = most_side > 0 ? MIN ((double)most_side / side, 1) : 1;
  cairo_surface_t *before = sb_picture_render_origin (origin, scale, cancellable, error);
  if (before == NULL)
    return NULL;
  SbCleanPreview *preview = g_new0 (SbCleanPreview, 1);
  preview->scale = scale;
  preview->before = before;
  preview->cleaner = sb_cleaner_new (before, TRUE);
  return preview;
}

void
sb_clean_preview_free (SbCleanPreview *preview)
{
  if (preview == NULL)
    return;
  sb_cleaner_free (preview->cleaner);
  cairo_surface_destroy (preview->before);
  g_free (preview);
}

cairo_surface_t *
sb_clean_preview_get_before (const SbCleanPreview *preview)
{
  return preview->before;
}

SbCleanResult *
sb_clean_preview_run (SbCleanPreview *preview, const SbCleanup *recipe, double px_per_mm,
                      SbProgress progress, gpointer progress_data, GCancellable *cancellable,
                      GError **error)
{
  const SbQuad *frame = sb_cleanup_get_frame (recipe);
  int width = cairo_image_surface_get_width (preview->before);
  int height = cairo_image_surface_get_height (preview->before);

  if (frame->set) {
    width = MAX ((int)lround (frame->width * preview->scale), 1);
    height = MAX ((int)lround (frame->height * preview->scale), 1);
  }
  return sb_cleaner_run (preview->cleaner, recipe, width, height, px_per_mm * preview->scale,
                         progress, progress_data, cancellable, error);
}
