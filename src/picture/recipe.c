/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/recipe.h"

#include <string.h>

SbCleanup
sb_cleanup_default (void)
{
  return (SbCleanup){.remove_paper = TRUE,
                     .even_light = TRUE,
                     .tolerance = 8,
                     .smoothness_mm = 0.05,
                     .speck_mm = 0.5,
                     .hair_mm = 0.15,
                     .pinhole_mm = 0.7,
                     .white_point = 1};
}

SbCleanup
sb_cleanup_keep_paper (void)
{
  SbCleanup recipe = sb_cleanup_default ();
  recipe.remove_paper = FALSE;
  recipe.whiten = TRUE;
  return recipe;
}

SbCleanup
sb_cleanup_none (void)
{
  SbCleanup recipe = sb_cleanup_default ();
  recipe.remove_paper = recipe.even_light = FALSE;
  return recipe;
}

gboolean
sb_cleanup_is_none (const SbCleanup *recipe)
{
  return !recipe->remove_paper && !recipe->even_light && !recipe->whiten && !recipe->crisp &&
         !recipe->frame.set && !recipe->sheet.set && recipe->strokes == NULL &&
         sb_adjust_is_none (&recipe->adjust);
}

gboolean
sb_cleanup_equal (const SbCleanup *a, const SbCleanup *b)
{
  return a->remove_paper == b->remove_paper && a->even_light == b->even_light &&
         a->paper_picked == b->paper_picked &&
         (!a->paper_picked || memcmp (a->paper, b->paper, sizeof a->paper) == 0) &&
         a->tolerance == b->tolerance && a->smoothness_mm == b->smoothness_mm &&
         a->open_enclosed == b->open_enclosed && a->speck_mm == b->speck_mm &&
         a->hair_mm == b->hair_mm && a->pinhole_mm == b->pinhole_mm && a->whiten == b->whiten &&
         a->white_point == b->white_point && a->black_point == b->black_point &&
         a->adjust.brightness == b->adjust.brightness && a->adjust.contrast == b->adjust.contrast &&
         a->adjust.warmth == b->adjust.warmth && a->adjust.saturation == b->adjust.saturation &&
         a->crisp == b->crisp && sb_quad_equal (&a->frame, &b->frame) &&
         sb_quad_equal (&a->sheet, &b->sheet) && sb_strokes_equal (a->strokes, b->strokes);
}

/* A number that is none becomes the least. */
static void
keep_within (double *value, double least, double most)
{
  *value = *value >= least ? MIN (*value, most) : least;
}

static void
tidy_frame (SbQuad *frame, int picture_width, int picture_height)
{
  frame->set = frame->set && sb_quad_is_usable (frame, picture_width, picture_height);
}

void
sb_cleanup_tidy (SbCleanup *recipe, int picture_width, int picture_height)
{
  SbAdjust *adjust = &recipe->adjust;

  keep_within (&recipe->tolerance, SB_CLEANUP_TOLERANCE_LEAST, SB_CLEANUP_TOLERANCE_MOST);
  keep_within (&recipe->smoothness_mm, 0, SB_CLEANUP_SMOOTHNESS_MOST_MM);
  keep_within (&recipe->speck_mm, 0, SB_CLEANUP_SPECK_MOST_MM);
  keep_within (&recipe->hair_mm, 0, SB_CLEANUP_HAIR_MOST_MM);
  keep_within (&recipe->pinhole_mm, 0, SB_CLEANUP_SPECK_MOST_MM);
  keep_within (&recipe->white_point, 0, SB_CLEANUP_POINT_MOST);
  keep_within (&recipe->black_point, 0, SB_CLEANUP_POINT_MOST);
  keep_within (&adjust->brightness, -100, 100);
  keep_within (&adjust->contrast, -100, 100);
  keep_within (&adjust->warmth, -100, 100);
  keep_within (&adjust->saturation, -100, 100);
  tidy_frame (&recipe->frame, picture_width, picture_height);
  tidy_frame (&recipe->sheet, picture_width, picture_height);
}

SbCleanup
sb_cleanup_alike (const SbCleanup *from, const SbCleanup *to)
{
  SbCleanup recipe = *from;
  recipe.frame = to->frame;
  recipe.sheet = to->sheet;
  recipe.strokes = to->strokes;
  return recipe;
}

const SbQuad *
sb_cleanup_get_frame (const SbCleanup *recipe)
{
  return recipe->frame.set ? &recipe->frame : &recipe->sheet;
}

static void
add_frame (GString *key, const SbQuad *frame)
{
  if (!frame->set) {
    g_string_append (key, " -");
    return;
  }
  g_string_append_printf (key, " %dx%d", frame->width, frame->height);
  for (int i = 0; i < 4; i++)
    g_string_append_printf (key, " %.17g %.17g", frame->corners[i].x, frame->corners[i].y);
}

static void
add_strokes (GString *key, const SbStrokes *strokes)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);

  for (guint i = 0; i < sb_strokes_get_n (strokes); i++) {
    SbStroke stroke = sb_strokes_get (strokes, i);
    g_checksum_update (sum, (const guchar *)&stroke.kind, sizeof stroke.kind);
    g_checksum_update (sum, (const guchar *)&stroke.radius, sizeof stroke.radius);
    g_checksum_update (sum, (const guchar *)&stroke.n_points, sizeof stroke.n_points);
    g_checksum_update (sum, (const guchar *)stroke.points,
                       (gssize)(2 * stroke.n_points * sizeof *stroke.points));
  }
  g_string_append_printf (key, " %s", g_checksum_get_string (sum));
}

char *
sb_cleanup_get_key (const SbCleanup *recipe)
{
  const double numbers[] = {
      recipe->tolerance,     recipe->smoothness_mm,     recipe->speck_mm,
      recipe->hair_mm,       recipe->pinhole_mm,        recipe->white_point,
      recipe->black_point,   recipe->adjust.brightness, recipe->adjust.contrast,
      recipe->adjust.warmth, recipe->adjust.saturation};
  GString *key = g_string_new (NULL);

  g_string_append_printf (key, "%d%d%d%d%d", recipe->remove_paper, recipe->even_light,
                          recipe->open_enclosed, recipe->whiten, recipe->crisp);
  if (recipe->paper_picked)
    g_string_append_printf (key, " %02x%02x%02x", recipe->paper[0], recipe->paper[1],
                            recipe->paper[2]);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    g_string_append_printf (key, " %.17g", numbers[i]);
  add_frame (key, &recipe->frame);
  add_frame (key, &recipe->sheet);
  if (recipe->strokes != NULL)
    add_strokes (key, recipe->strokes);
  return g_string_free (key, FALSE);
}
