/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "border/silhouette.h"
#include "drawing.h"

#define DPI 300.0
#define MM(px) ((px)*25.4 / DPI)

static SbSilhouette *
silhouette_of (SbDrawing *drawing)
{
  SbSilhouetteParams params = sb_silhouette_params_default ();
  double width = MM (drawing->width), height = MM (drawing->height);
  g_autoptr (GError) error = NULL;
  SbSilhouette *silhouette =
      sb_silhouette_from_coverage (sb_drawing_end (drawing), width, height, &params, &error);
  g_assert_no_error (error);
  return silhouette;
}

static void
draw_disc (SbDrawing *drawing, double x, double y, double radius)
{
  SbPoint p[2048];
  sb_drawing_add (drawing, p, sb_drawing_regular (p, G_N_ELEMENTS (p), (SbPoint){x, y}, radius, 0));
}

static void
draw_box (SbDrawing *drawing, double x0, double y0, double x1, double y1)
{
  SbPoint p[] = {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
  sb_drawing_add (drawing, p, 4);
}

static void
erase_box (SbDrawing *drawing, double x0, double y0, double x1, double y1)
{
  SbPoint p[] = {{x0, y0}, {x0, y1}, {x1, y1}, {x1, y0}};
  sb_drawing_add (drawing, p, 4);
}

static SbGrowth *
grow (SbSilhouette *silhouette, const SbBorderParams *params)
{
  g_autoptr (GError) error = NULL;
  SbGrowth *growth = sb_border_grow (silhouette, params, NULL, &error);
  g_assert_no_error (error);
  return growth;
}

START_TEST (disc_grows_to_disc)
{
  SbDrawing *drawing = sb_drawing_new (400, 400);
  draw_disc (drawing, 200.3, 199.8, 120);
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  g_autoptr (SbGrowth) growth = grow (silhouette, &params);
  double r = MM (120) + params.width_mm;
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_outline (growth)), G_PI * r * r,
                           0.0005 * G_PI * r * r);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (sb_growth_get_artwork (growth)),
                           G_PI * MM (120) * MM (120), 0.002 * G_PI * MM (120) * MM (120));
  ck_assert_uint_eq (sb_growth_get_n_islands (growth), 1);
  ck_assert_uint_le (sb_outline_get_ring (sb_growth_get_outline (growth), 0)->n_curves, 14);
}
END_TEST

START_TEST (holes_are_filled_unless_kept)
{
  SbDrawing *drawing = sb_drawing_new (500, 500);
  draw_box (drawing, 50, 50, 450, 450);
  erase_box (drawing, 150, 150, 350, 350);
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  params.nook_mm = 1;
  g_autoptr (SbGrowth) filled = grow (silhouette, &params);
  ck_assert_uint_eq (sb_outline_get_n_rings (sb_growth_get_outline (filled)), 1);
  params.keep_holes = TRUE;
  g_autoptr (SbGrowth) kept = grow (silhouette, &params);
  ck_assert_uint_eq (sb_outline_get_n_rings (sb_growth_get_outline (kept)), 2);
  /* The hole shrinks by the border on each side, and the nook rounds its corners. */
  double side = MM (200) - 2 * params.width_mm, hole = side * side - (4 - G_PI) * 1;
  double lost = sb_outline_get_area_mm2 (sb_growth_get_outline (filled)) -
                sb_outline_get_area_mm2 (sb_growth_get_outline (kept));
  ck_assert_double_eq_tol (lost, hole, 0.002 * hole);
}
END_TEST

START_TEST (islands_join_when_growth_meets)
{
  SbDrawing *drawing = sb_drawing_new (700, 300);
  draw_disc (drawing, 150, 150, 60);
  draw_disc (drawing, 500, 150, 60); /* 230 px = 19.5 mm apart */
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  g_autoptr (SbGrowth) apart = grow (silhouette, &params);
  ck_assert_uint_eq (sb_growth_get_n_islands (apart), 2);
  ck_assert_double_eq (sb_growth_get_bridge_mm (apart), 0);
  params.width_mm = 10;
  g_autoptr (SbGrowth) joined = grow (silhouette, &params);
  ck_assert_uint_eq (sb_growth_get_n_islands (joined), 1);
  params.width_mm = 3;
  params.bridge = TRUE;
  g_autoptr (SbGrowth) bridged = grow (silhouette, &params);
  ck_assert_uint_eq (sb_growth_get_n_islands (bridged), 1);
  ck_assert_double_gt (sb_growth_get_bridge_mm (bridged), 1);
}
END_TEST

START_TEST (specks_are_dropped)
{
  SbDrawing *drawing = sb_drawing_new (400, 300);
  draw_disc (drawing, 150, 150, 60);
  draw_box (drawing, 380, 20, 384, 24); /* 0.34 mm */
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  g_autoptr (SbGrowth) growth = grow (silhouette, &params);
  ck_assert_uint_eq (sb_growth_get_n_islands (growth), 1);
}
END_TEST

START_TEST (nothing_but_specks_is_kept)
{
  SbDrawing *drawing = sb_drawing_new (100, 100);
  draw_box (drawing, 50, 50, 53, 53);
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  g_autoptr (SbGrowth) growth = grow (silhouette, &params);
  ck_assert_uint_eq (sb_growth_get_n_islands (growth), 1);
}
END_TEST

START_TEST (nothing_at_all_is_an_error)
{
  SbSilhouetteParams params = sb_silhouette_params_default ();
  g_autoptr (GError) error = NULL;
  g_assert_null (sb_silhouette_from_coverage (sb_coverage_new (20, 20), 10, 10, &params, &error));
  g_assert_error (error, SB_BORDER_ERROR, SB_BORDER_ERROR_EMPTY);
}
END_TEST

START_TEST (no_border_is_the_artwork_itself)
{
  SbDrawing *drawing = sb_drawing_new (300, 300);
  draw_box (drawing, 50, 50, 250, 200);
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = params.nook_mm = 0;
  g_autoptr (SbGrowth) growth = grow (silhouette, &params);
  SbOutline *outline = sb_growth_get_outline (growth);
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), MM (200) * MM (150), 0.002);
  ck_assert_uint_le (sb_outline_get_ring (outline, 0)->n_curves, 8);
}
END_TEST

static gpointer
cancel_soon (gpointer cancellable)
{
  g_usleep (10000);
  g_cancellable_cancel (cancellable);
  return NULL;
}

/* Dots for which a bridge takes long to find. */
START_TEST (growth_can_be_given_up)
{
  SbDrawing *drawing = sb_drawing_new (1500, 1500);
  for (int y = 100; y < 1500; y += 200)
    for (int x = 100; x < 1500; x += 200)
      draw_box (drawing, x, y, x + 100, y + 100);
  g_autoptr (SbSilhouette) silhouette = silhouette_of (drawing);
  SbBorderParams params = sb_border_params_default ();
  params.width_mm = 0.1;
  params.nook_mm = 0;
  params.bridge = TRUE;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  GThread *thread = g_thread_new ("cancel", cancel_soon, cancellable);
  SbGrowth *growth = sb_border_grow (silhouette, &params, cancellable, &error);
  g_thread_join (thread);
  ck_assert_ptr_null (growth);
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("border growth");
  TCase *tcase = tcase_create ("grow");
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, disc_grows_to_disc);
  tcase_add_test (tcase, holes_are_filled_unless_kept);
  tcase_add_test (tcase, islands_join_when_growth_meets);
  tcase_add_test (tcase, specks_are_dropped);
  tcase_add_test (tcase, nothing_but_specks_is_kept);
  tcase_add_test (tcase, nothing_at_all_is_an_error);
  tcase_add_test (tcase, no_border_is_the_artwork_itself);
  tcase_add_test (tcase, growth_can_be_given_up);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
