/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Real photographs and scans, cleaned with the settings that a picture starts with. They come with
 * Debian's packages opencv-doc (Apache-2.0 and BSD-3-Clause) and python3-skimage (public domain,
 * CC0 and BSD-3-Clause); those that are not installed are passed over. What is right about a result
 * is for a person to judge: with SB_TEST_KEEP each one is written there, beside the picture as it
 * came, on white and on mid grey. */
#include <glib.h>

#include "job/design.h"
#include "picture/clean-preview.h"

#define OPENCV "/usr/share/doc/opencv-doc/examples/"
#define SKIMAGE "/usr/lib/python3/dist-packages/skimage/data/"

static const char *const photos[] = {
    OPENCV "alphamat/input_images/plant.jpg",
    OPENCV "data/HappyFish.jpg",
    OPENCV "data/apple.jpg",
    OPENCV "data/blox.jpg",
    OPENCV "data/board.jpg",
    OPENCV "data/box.png",
    OPENCV "data/box_in_scene.png",
    OPENCV "data/butterfly.jpg",
    OPENCV "data/cards.png",
    OPENCV "data/fruits.jpg",
    OPENCV "data/home.jpg",
    OPENCV "data/imageTextN.png",
    OPENCV "data/imageTextR.png",
    OPENCV "data/left01.jpg",
    OPENCV "data/left08.jpg",
    OPENCV "data/notes.png",
    OPENCV "data/orange.jpg",
    OPENCV "data/smarties.png",
    OPENCV "data/squirrel_cls.jpg",
    OPENCV "data/stuff.jpg",
    OPENCV "data/sudoku.png",
    SKIMAGE "coffee.png",
    SKIMAGE "coins.png",
    SKIMAGE "horse.png",
    SKIMAGE "page.png",
    SKIMAGE "text.png",
};

/* As it came, then the result on two grounds. */
static void
write_strip (const char *name, cairo_surface_t *before, cairo_surface_t *after)
{
  const char *folder = g_getenv ("SB_TEST_KEEP");
  int w = cairo_image_surface_get_width (before), h = cairo_image_surface_get_height (before);

  if (folder == NULL)
    return;
  cairo_surface_t *strip = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 3 * w, h);
  cairo_t *cr = cairo_create (strip);
  for (int i = 0; i < 3; i++) {
    double ground = i == 2 ? 0.5 : 1;
    cairo_set_source_rgb (cr, ground, ground, ground);
    cairo_rectangle (cr, i * w, 0, w, h);
    cairo_fill (cr);
    cairo_set_source_surface (cr, i == 0 ? before : after, i * w, 0);
    cairo_paint (cr);
  }
  cairo_destroy (cr);
  g_autofree char *file = g_strconcat (name, ".png", NULL);
  g_autofree char *path = g_build_filename (folder, file, NULL);
  cairo_surface_write_to_png (strip, path);
  cairo_surface_destroy (strip);
}

static gboolean
clean_photo (const char *path)
{
  g_autoptr (SbPicture) picture = sb_picture_load (path, NULL);
  if (picture == NULL)
    return FALSE;
  g_autofree char *name = g_path_get_basename (path);
  g_autoptr (SbDesign) design = sb_design_new (picture, name);
  g_autoptr (SbCleanPreview) preview = sb_clean_preview_new (picture, 900, NULL, NULL);
  g_autoptr (SbCleanResult) result = sb_clean_preview_run (
      preview, &design->cleanup, sb_design_get_px_per_mm (design), NULL, NULL, NULL, NULL);
  SbPoint corners[4];

  g_print ("photo-%s-covered %.3f part\n", name, result->covered);
  if (sb_quad_find_sheet (sb_clean_preview_get_before (preview), corners))
    g_print ("photo-%s-sheet %.0f,%.0f %.0f,%.0f %.0f,%.0f %.0f,%.0f px\n", name, corners[0].x,
             corners[0].y, corners[1].x, corners[1].y, corners[2].x, corners[2].y, corners[3].x,
             corners[3].y);
  write_strip (name, sb_clean_preview_get_before (preview), result->surface);
  return TRUE;
}

int
main (int argc, char **argv)
{
  int n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (photos); i++)
    n += clean_photo (photos[i]);
  for (int i = 1; i < argc; i++)
    n += clean_photo (argv[i]);
  g_print ("photos-cleaned %d count\n", n);
  return 0;
}
