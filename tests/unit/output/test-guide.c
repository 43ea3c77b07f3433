/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The guide is drawn to pixels, and pixels are asked how far from the outline they lie: by the
 * exact distance of geometry/relation.h, which the drawing does not use. */
#include "suite.h"

#include <cairo.h>
#include <math.h>

#include "geometry/relation.h"
#include "output/guide.h"

#define PX_PER_MM 50.0
#define RIM_MM 5.0
/* Half a pixel's diagonal, and the flattening of both sides. */
#define SLACK_MM (0.71 / PX_PER_MM + 0.02)

typedef struct {
  cairo_surface_t *image;
  SbBox box; /* mm */
} Drawn;

static Drawn
draw (const SbOutline *outline, const SbGuide *guide, double gap_mm)
{
  Drawn drawn = {0};
  SbBox box = sb_outline_get_box (outline);
  drawn.box = (SbBox){box.x0 - RIM_MM, box.y0 - RIM_MM, box.x1 + RIM_MM, box.y1 + RIM_MM};
  SbPoint origin;
  cairo_surface_t *surface = sb_guide_record (outline, guide, gap_mm, FALSE, &origin);
  ck_assert_ptr_nonnull (surface);
  drawn.image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32,
                                            (int)ceil ((drawn.box.x1 - drawn.box.x0) * PX_PER_MM),
                                            (int)ceil ((drawn.box.y1 - drawn.box.y0) * PX_PER_MM));
  cairo_t *cr = cairo_create (drawn.image);
  cairo_scale (cr, PX_PER_MM, PX_PER_MM);
  cairo_translate (cr, -drawn.box.x0, -drawn.box.y0);
  cairo_set_source_surface (cr, surface, origin.x, origin.y);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  cairo_surface_flush (drawn.image);
  return drawn;
}

static guint
alpha_at (const Drawn *drawn, int x, int y)
{
  const guint8 *row = cairo_image_surface_get_data (drawn->image) +
                      (gsize)y * (gsize)cairo_image_surface_get_stride (drawn->image);
  return ((const guint32 *)(const void *)row)[x] >> 24;
}

/* Distance of a pixel's middle to the outline's edge in mm, below 0 inside. */
static double
distance_at (const Drawn *drawn, const SbPolygon *polygon, int x, int y)
{
  SbIPoint p = sb_point_round (
      (SbPoint){drawn->box.x0 + (x + 0.5) / PX_PER_MM, drawn->box.y0 + (y + 0.5) / PX_PER_MM});
  if (sb_polygon_contains (polygon, p))
    return -1;
  /* A triangle of 2 um stands for the point. */
  SbIPoint corners[] = {{p.x - 1, p.y - 1}, {p.x + 1, p.y - 1}, {p.x, p.y + 1}};
  SbLoop loop = {3, corners};
  g_autoptr (SbPolygon) dot = sb_polygon_new (&loop, 1);
  return sb_polygons_distance_um (polygon, dot) / 1000;
}

/* Every inked pixel keeps the clearance and stays within the line. Returns how many were inked. */
static int
check_ink (const SbOutline *outline, const SbGuide *guide)
{
  Drawn drawn = draw (outline, guide, 4);
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 2);
  double line_mm = guide->line_pt * SB_MM_PER_PT;
  int inked = 0;
  for (int y = 0; y < cairo_image_surface_get_height (drawn.image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (drawn.image); x++) {
      if (alpha_at (&drawn, x, y) < 32)
        continue;
      double d = distance_at (&drawn, polygon, x, y);
      ck_assert_msg (d > SB_GUIDE_CLEARANCE_MM - SLACK_MM, "ink %.3f mm from the outline", d);
      ck_assert_msg (d < SB_GUIDE_CLEARANCE_MM + line_mm + SLACK_MM, "ink %.3f mm away", d);
      inked++;
    }
  cairo_surface_destroy (drawn.image);
  return inked;
}

static SbOutline *
outline_of (const char *path)
{
  g_autoptr (GError) error = NULL;
  SbOutline *outline = sb_outline_from_svg (path, &error);
  ck_assert_msg (outline != NULL, "%s", error ? error->message : "");
  return outline;
}

/* A round of radius 4: ink covers a ring of 2 pi (r + c + w / 2) w. */
START_TEST (ring_around_a_round)
{
  g_autoptr (SbOutline) outline =
      outline_of ("M 4 0 C 6.2091 0 8 1.7909 8 4 C 8 6.2091 6.2091 8 4 8 C 1.7909 8 0 6.2091 0 4 "
                  "C 0 1.7909 1.7909 0 4 0 Z");
  SbGuide guide = {SB_GUIDE_SCISSORS, 0.5, 0.35};
  Drawn drawn = draw (outline, &guide, 4);
  double sum = 0;
  for (int y = 0; y < cairo_image_surface_get_height (drawn.image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (drawn.image); x++)
      sum += alpha_at (&drawn, x, y) / 255.0;
  cairo_surface_destroy (drawn.image);
  double w = 0.5 * 25.4 / 72, want = 2 * G_PI * (4 + SB_GUIDE_CLEARANCE_MM + w / 2) * w;
  ck_assert_double_eq_tol (sum / PX_PER_MM / PX_PER_MM, want, 0.01 * want);
  ck_assert_int_gt (check_ink (outline, &guide), 0);
}
END_TEST

START_TEST (corners_and_hollows)
{
  /* A star whose inward corners are sharp, and a comb with a slit of 0.15 mm. */
  g_autoptr (SbOutline) star =
      outline_of ("M 5 0 L 6 3.5 L 10 4 L 6.5 5.5 L 8 10 L 5 7 L 2 10 L 3.5 5.5 L 0 4 L 4 3.5 Z");
  g_autoptr (SbOutline) slit =
      outline_of ("M 0 0 L 4 0 L 4 3 L 4.15 3 L 4.15 0 L 8 0 L 8 6 L 0 6 Z");
  SbGuide guide = {SB_GUIDE_KNIFE, 0.35, 0.18};
  ck_assert_int_gt (check_ink (star, &guide), 1000);
  ck_assert_int_gt (check_ink (slit, &guide), 1000);
}
END_TEST

START_TEST (hole_is_guided_inside_the_hole)
{
  g_autoptr (SbOutline) ring =
      outline_of ("M 0 0 L 10 0 L 10 10 L 0 10 Z M 3 3 L 3 7 L 7 7 L 7 3 Z");
  SbGuide guide = {SB_GUIDE_SCISSORS, 0.5, 0.35};
  ck_assert_int_gt (check_ink (ring, &guide), 1000);
  Drawn drawn = draw (ring, &guide, 4);
  /* 0.1 + half the line right of the hole's left edge. */
  int x = (int)((3 + 0.1 + 0.088 - drawn.box.x0) * PX_PER_MM);
  int y = (int)((5 - drawn.box.y0) * PX_PER_MM);
  ck_assert_int_gt (alpha_at (&drawn, x, y), 200);
  cairo_surface_destroy (drawn.image);
}
END_TEST

START_TEST (ticks_stay_outside_and_out_of_the_neighbours_half)
{
  g_autoptr (SbOutline) box = outline_of ("M 0 0 L 10 0 L 10 8 L 0 8 Z");
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (box, SB_TRANSFORM_IDENTITY, 2);
  SbGuide guide = {SB_GUIDE_TICKS, 0.5, 0.35};
  Drawn drawn = draw (box, &guide, 4);
  int inked = 0;
  for (int y = 0; y < cairo_image_surface_get_height (drawn.image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (drawn.image); x++)
      if (alpha_at (&drawn, x, y) >= 32) {
        double d = distance_at (&drawn, polygon, x, y);
        ck_assert_msg (d > SB_GUIDE_CLEARANCE_MM - SLACK_MM && d < 2 + SLACK_MM, "ink at %.3f", d);
        inked++;
      }
  cairo_surface_destroy (drawn.image);
  /* Eight ticks of 1.9 mm. */
  double want = 8 * 1.9 * 0.5 * 25.4 / 72 * PX_PER_MM * PX_PER_MM;
  ck_assert_double_eq_tol (inked, want, 0.15 * want);
}
END_TEST

/* The strongest grey and the inked area of a guide around a box of 30 x 20 mm. */
static guint8
darkest (const SbGuide *guide, double *inked_mm2)
{
  g_autoptr (SbOutline) box = outline_of ("M 0 0 L 30 0 L 30 20 L 0 20 Z");
  Drawn drawn = draw (box, guide, 4);
  guint8 least = 255;
  *inked_mm2 = 0;
  for (int y = 0; y < cairo_image_surface_get_height (drawn.image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (drawn.image); x++) {
      const guint8 *p = cairo_image_surface_get_data (drawn.image) +
                        (gsize)y * (gsize)cairo_image_surface_get_stride (drawn.image) +
                        4 * (gsize)x;
      *inked_mm2 += p[3] / 255.0 / PX_PER_MM / PX_PER_MM;
      if (p[3] == 255)
        least = MIN (least, p[0]);
    }
  cairo_surface_destroy (drawn.image);
  return least;
}

/* Handbook 4.4 (a proposal of its own, [OURS]): scissors 0.5 pt, 30 to 40 % black; kiss cut by
 * knife 0.35 to 0.5 pt, 15 to 20 %; solid strokes below 0.25 pt may vanish (source S77). */
START_TEST (tones_and_widths_are_the_handbooks)
{
  static const struct {
    SbGuideStyle style;
    double least_pt, most_pt, least_black, most_black;
  } rows[] = {{SB_GUIDE_SCISSORS, 0.5, 0.5, 0.30, 0.40}, {SB_GUIDE_KNIFE, 0.35, 0.5, 0.15, 0.20}};
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    SbGuide guide = sb_guide_for_style (rows[i].style);
    double inked, black = 1 - darkest (&guide, &inked) / 255.0;
    ck_assert_double_ge (black, rows[i].least_black - 0.01);
    ck_assert_double_le (black, rows[i].most_black + 0.01);
    /* The line's middle is 100 mm long and 4 quarter rounds more. */
    double pt = inked / (100 + 2 * G_PI * 0.2) * 72 / 25.4;
    ck_assert_double_ge (pt, rows[i].least_pt - 0.02);
    ck_assert_double_le (pt, rows[i].most_pt + 0.02);
    ck_assert_double_ge (guide.line_pt, 0.25);
  }
}
END_TEST

/* "Rectangles: corner ticks outside the pieces" (handbook 4.4), with round corners too; what is no
 * rectangle has no corners that ticks could show, and gets its line. */
START_TEST (ticks_are_for_rectangles)
{
  SbGuide ticks = {SB_GUIDE_TICKS, 0.5, 0.35};
  g_autoptr (SbOutline) rounded = outline_of (
      "M 3 0 L 17 0 C 18.657 0 20 1.343 20 3 L 20 17 C 20 18.657 18.657 20 17 20 L 3 20 "
      "C 1.343 20 0 18.657 0 17 L 0 3 C 0 1.343 1.343 0 3 0 Z");
  g_autoptr (SbOutline) round =
      outline_of ("M 4 0 C 6.2091 0 8 1.7909 8 4 C 8 6.2091 6.2091 8 4 8 C 1.7909 8 0 6.2091 0 4 "
                  "C 0 1.7909 1.7909 0 4 0 Z");
  Drawn drawn = draw (rounded, &ticks, 4);
  int x = (int)((10 - drawn.box.x0) * PX_PER_MM), rows = 0;
  for (int y = 0; y < cairo_image_surface_get_height (drawn.image); y++)
    rows += alpha_at (&drawn, x, y) > 0;
  ck_assert_msg (rows == 0, "nothing between the corners");
  cairo_surface_destroy (drawn.image);
  ck_assert_int_gt (check_ink (round, &ticks), 1000);
}
END_TEST

START_TEST (off_draws_nothing)
{
  g_autoptr (SbOutline) box = outline_of ("M 0 0 L 10 0 L 10 8 L 0 8 Z");
  SbGuide guide = {SB_GUIDE_OFF, 0.5, 0.35};
  SbPoint origin;
  ck_assert_ptr_null (sb_guide_record (box, &guide, 4, FALSE, &origin));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("guide");
  TCase *tc = tcase_create ("guide");
  tcase_add_test (tc, ring_around_a_round);
  tcase_add_test (tc, corners_and_hollows);
  tcase_add_test (tc, hole_is_guided_inside_the_hole);
  tcase_add_test (tc, ticks_stay_outside_and_out_of_the_neighbours_half);
  tcase_add_test (tc, tones_and_widths_are_the_handbooks);
  tcase_add_test (tc, ticks_are_for_rectangles);
  tcase_add_test (tc, off_draws_nothing);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
