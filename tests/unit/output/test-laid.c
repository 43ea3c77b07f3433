/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <cairo.h>
#include <string.h>

#include "job/layout-view.h"
#include "make-job.h"
#include "output/laid.h"
#include "output/painter.h"
#include "packing/impose.h"

#define PX_PER_MM 8
#define WIDTH_MM 80
#define FOLDED_MM 40

static cairo_surface_t *
paint (const SbState *state, guint index, const SbLayout *half_of, gboolean back)
{
  const SbPaintOptions options = {.mode = SB_PAINT_FULL};
  int width = (int)(sb_um_to_mm (state->page_width) * PX_PER_MM);
  int height = (int)(sb_um_to_mm (state->page_height) * PX_PER_MM);
  if (half_of != NULL)
    height /= 2;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, PX_PER_MM * 25.4 / 72, PX_PER_MM * 25.4 / 72);
  if (half_of != NULL)
    sb_laid_enter_half (cr, half_of, back, 72 / 25.4);
  g_autoptr (SbPainter) painter = sb_painter_new (state, 0);
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_painter_paint (painter, cr, index, &options, NULL, &error), "%s",
                 error ? error->message : "");
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static int
get_tone (cairo_surface_t *surface, int x, int y)
{
  const guchar *row =
      cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);
  return row[4 * x + 1];
}

/* A header card with one line on its front or on its back, 25 mm from the fold. */
static SbState *
make_card (gboolean on_back, guint *id)
{
  SbState *state = sb_make_job (0);
  g_autoptr (SbLettering) lettering = sb_lettering_new ("Seed swap");
  SbDesign *text = sb_design_new_text (lettering, NULL);
  ck_assert (sb_design_prepare (text, NULL, NULL));
  SbPiece piece = {.at = {WIDTH_MM * 500, (FOLDED_MM + (on_back ? -25 : 25)) * 1000},
                   .turn = on_back ? 180000 : 0};
  sb_take (&state, sb_edit_add_design (state, text, &piece.design_id));
  SbLayout *card = sb_layout_new_header ("Rue", WIDTH_MM * 1000, FOLDED_MM * 1000);
  card->hole = 0;
  sb_layout_set_pieces (card, &piece, 1);
  sb_take (&state, sb_edit_add_layout (state, card, id));
  return state;
}

/* How many pixels two pictures of a size differ in by more than anti-aliasing does. */
static int
count_differences (cairo_surface_t *a, cairo_surface_t *b, int *n_dark)
{
  int n = 0;
  ck_assert_int_eq (cairo_image_surface_get_height (a), cairo_image_surface_get_height (b));
  for (int y = 0; y < cairo_image_surface_get_height (a); y++) {
    for (int x = 0; x < cairo_image_surface_get_width (a); x++) {
      n += ABS (get_tone (a, x, y) - get_tone (b, x, y)) > 64;
      *n_dark += get_tone (a, x, y) < 128;
    }
  }
  return n;
}

/* Folding by hand: the upper half goes behind along the fold and is seen from there, which turns it
 * by 180 degrees (handbook 3.4: "not mirrored"). Pixel by pixel, apart from the program's own. */
static cairo_surface_t *
fold_back_half (cairo_surface_t *flat)
{
  int width = cairo_image_surface_get_width (flat);
  int height = cairo_image_surface_get_height (flat) / 2;
  cairo_surface_t *back = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  const guint32 *from = (const guint32 *)(gpointer)cairo_image_surface_get_data (flat);
  guint32 *to = (guint32 *)(gpointer)cairo_image_surface_get_data (back);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      to[y * width + x] = from[(height - 1 - y) * width + (width - 1 - x)];
  cairo_surface_mark_dirty (back);
  return back;
}

START_TEST (test_the_back_is_upright_when_folded)
{
  guint front_id, back_id;
  g_autoptr (SbState) on_front = make_card (FALSE, &front_id);
  g_autoptr (SbState) on_back = make_card (TRUE, &back_id);
  g_autoptr (SbState) front_view = sb_layout_to_state (on_front, front_id);
  g_autoptr (SbState) back_view = sb_layout_to_state (on_back, back_id);

  cairo_surface_t *flat = paint (back_view, 0, NULL, FALSE);
  cairo_surface_t *folded = fold_back_half (flat);
  cairo_surface_t *upright = paint (front_view, 0, front_view->view, FALSE);
  int n_dark = 0;
  int differences = count_differences (folded, upright, &n_dark);
  ck_assert_int_gt (n_dark, 500);
  ck_assert_msg (differences < n_dark / 50, "%d of %d pixels differ", differences, n_dark);

  /* The program's own picture of the folded back is the same. */
  cairo_surface_t *shown = paint (back_view, 0, back_view->view, TRUE);
  ck_assert_int_lt (count_differences (folded, shown, &n_dark), n_dark / 100);
  cairo_surface_destroy (flat);
  cairo_surface_destroy (folded);
  cairo_surface_destroy (upright);
  cairo_surface_destroy (shown);
}
END_TEST

/* A page of one card in the middle of A4. */
static SbState *
make_page (SbLayout *layout, SbIBox *box)
{
  SbState *state = sb_make_job (0);
  guint id;
  sb_take (&state, sb_edit_add_layout (state, layout, &id));
  sb_take (&state, sb_impose_layout (state, id));
  const SbPage *page = sb_state_get_page (state, 0);
  ck_assert_uint_eq (page->n_placements, 1);
  *box = sb_placement_get_box (sb_state_get_layout (state, id), &page->placements[0]);
  return state;
}

/* Whether anything is printed on a straight line, in mm. */
static gboolean
is_inked (cairo_surface_t *surface, double x0, double y0, double x1, double y1)
{
  for (int i = 0; i <= 40; i++) {
    int x = (int)((x0 + (x1 - x0) * i / 40) * PX_PER_MM);
    int y = (int)((y0 + (y1 - y0) * i / 40) * PX_PER_MM);
    if (get_tone (surface, x, y) < 250)
      return TRUE;
  }
  return FALSE;
}

START_TEST (test_ticks_stand_outside)
{
  SbIBox box;
  g_autoptr (SbState) state =
      make_page (sb_layout_new_header ("Rue", WIDTH_MM * 1000, FOLDED_MM * 1000), &box);
  cairo_surface_t *surface = paint (state, 0, NULL, FALSE);
  double x0 = sb_um_to_mm (box.x0), y0 = sb_um_to_mm (box.y0), x1 = sb_um_to_mm (box.x1);
  double fold = y0 + FOLDED_MM, middle = (x0 + x1) / 2;
  /* Across the tick at the top left corner, and nothing within the card there. */
  ck_assert (is_inked (surface, x0 - 2, y0 - 0.3, x0 - 2, y0 + 0.3));
  ck_assert (!is_inked (surface, x0 + 2, y0 - 0.3, x0 + 2, y0 + 0.3));
  /* The fold is marked on both sides, outside only. */
  ck_assert (is_inked (surface, x0 - 3, fold, x0 - 1, fold));
  ck_assert (is_inked (surface, x1 + 1, fold, x1 + 3, fold));
  ck_assert (!is_inked (surface, x0 + 1, fold, x1 - 1, fold));
  /* The holes pair over the fold, the back's 1 mm larger. */
  const SbLayout *card = state->layouts->pdata[0];
  double at = sb_um_to_mm (card->hole_at), radius = sb_um_to_mm (card->hole) / 2;
  ck_assert (
      is_inked (surface, middle + radius - 0.3, fold + at, middle + radius + 0.3, fold + at));
  ck_assert (
      is_inked (surface, middle + radius + 0.3, fold - at, middle + radius + 0.7, fold - at));
  ck_assert (
      !is_inked (surface, middle + radius - 0.3, fold - at, middle + radius + 0.2, fold - at));
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (test_a_background_reaches_past_the_cut)
{
  SbIBox box;
  SbLayout *card = sb_layout_new (SB_LAYOUT_BACKING, "Rue", 60000, 80000);
  card->background = 0xffc080;
  g_autoptr (SbState) state = make_page (card, &box);
  cairo_surface_t *surface = paint (state, 0, NULL, FALSE);
  int y = (int)(sb_um_to_mm (box.y0 + 30000) * PX_PER_MM);
  double x0 = sb_um_to_mm (box.x0);
  ck_assert_int_eq (get_tone (surface, (int)((x0 - 0.7) * PX_PER_MM), y), 0xc0);
  ck_assert_int_eq (get_tone (surface, (int)((x0 + 10) * PX_PER_MM), y), 0xc0);
  ck_assert_int_eq (get_tone (surface, (int)((x0 - 1.4) * PX_PER_MM), y), 0xff);
  cairo_surface_destroy (surface);
}
END_TEST

/* Copies of a sheet look alike: what is edited once is changed in all of them. */
START_TEST (test_copies_are_alike)
{
  g_autoptr (SbState) state = sb_make_job (1);
  SbPiece piece = {.design_id = ((SbDesign *)state->designs->pdata[0])->id, .at = {20000, 30000}};
  SbLayout *sheet = sb_layout_new (SB_LAYOUT_SHEET, "Garden", 60000, 80000);
  guint id;
  sheet->wanted = 4;
  sb_layout_set_pieces (sheet, &piece, 1);
  sb_take (&state, sb_edit_add_layout (state, sheet, &id));
  sb_take (&state, sb_impose_layout (state, id));
  const SbPage *page = sb_state_get_page (state, 0);
  ck_assert_uint_eq (page->n_placements, 4);
  cairo_surface_t *surface = paint (state, 0, NULL, FALSE);
  for (guint i = 0; i < page->n_placements; i++) {
    const SbLayout *laid = sb_state_get_layout (state, id);
    SbPoint at = sb_transform_point (sb_placement_get_transform (laid, &page->placements[i]),
                                     (SbPoint){20, 30});
    SbPoint beside = sb_transform_point (sb_placement_get_transform (laid, &page->placements[i]),
                                         (SbPoint){45, 60});
    ck_assert_int_lt (get_tone (surface, (int)(at.x * PX_PER_MM), (int)(at.y * PX_PER_MM)), 200);
    ck_assert_int_eq (get_tone (surface, (int)(beside.x * PX_PER_MM), (int)(beside.y * PX_PER_MM)),
                      255);
  }
  cairo_surface_destroy (surface);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("laid");
  TCase *tcase = tcase_create ("laid");
  tcase_add_test (tcase, test_the_back_is_upright_when_folded);
  tcase_add_test (tcase, test_ticks_stand_outside);
  tcase_add_test (tcase, test_a_background_reaches_past_the_cut);
  tcase_add_test (tcase, test_copies_are_alike);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
