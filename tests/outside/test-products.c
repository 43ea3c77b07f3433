/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The finished sizes of sheets and cards in the PDF, measured by poppler (pdfinfo, pdftocairo): to
 * 0.01 mm. A point is 1/72 in (ISO 32000-1, 8.3.2.3), an inch 25.4 mm. Sizes: quarter letter 4.25 x
 * 5.5 in, index 4 x 6 in, A6 105 x 148 mm (ISO 216), a bag header of 3.25 in folded to 1.5 in
 * (common practice). */
#include "suite.h"

#include <math.h>

#include "job/layout-view.h"
#include "make-job.h"
#include "output/export.h"
#include "own-folder.h"
#include "packing/impose.h"
#include "tools.h"

#define TOLERANCE_MM 0.01

static const struct {
  SbLayoutKind kind;
  double width_mm, height_mm;
} products[] = {
    {SB_LAYOUT_SHEET, 107.95, 139.7},
    {SB_LAYOUT_SHEET, 101.6, 152.4},
    {SB_LAYOUT_SHEET, 105, 148},
    {SB_LAYOUT_SHEET, 100, 150},
    {SB_LAYOUT_HEADER, 3.25 * 25.4, 2 * 1.5 * 25.4},
    {SB_LAYOUT_HEADER, 101.6, 101.6},
    {SB_LAYOUT_BACKING, 69.85, 91.44},
    {SB_LAYOUT_BACKING, 45.72, 66.04},
};

static void
export_pdf (const SbState *state, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  SbExportOptions options = sb_export_options_default ();
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_export (state, path, &options, NULL, &error), "%s",
                 error ? error->message : "");
}

/* One red card or sheet, laid on A4. */
static SbState *
make_product (int i, guint *id)
{
  SbState *state = sb_make_job (0);
  SbLayout *layout =
      sb_layout_new (products[i].kind, "Product", sb_um_from_mm (products[i].width_mm),
                     sb_um_from_mm (products[i].height_mm));
  layout->background = 0xff0000;
  sb_take (&state, sb_edit_add_layout (state, layout, id));
  sb_take (&state, sb_impose_layout (state, *id));
  ck_assert_int_eq (sb_state_count_laid (state, *id), 1);
  return state;
}

/* The product alone: its page is the finished size. */
START_TEST (the_page_is_the_finished_size)
{
  if (!sb_have_tool ("pdfinfo"))
    return;
  guint id;
  g_autoptr (SbState) state = make_product (_i, &id);
  g_autoptr (SbState) view = sb_layout_to_state (state, id);
  export_pdf (view, "alone.pdf");
  g_autofree char *info = sb_run_tool (folder, "LC_ALL=C pdfinfo alone.pdf");
  const char *size = strstr (info, "Page size:");
  double width_pt = 0, height_pt = 0;
  ck_assert_ptr_nonnull (size);
  ck_assert_int_eq (sscanf (size, "Page size: %lf x %lf pts", &width_pt, &height_pt), 2);
  ck_assert_double_eq_tol (width_pt * 25.4 / 72, products[_i].width_mm, TOLERANCE_MM);
  ck_assert_double_eq_tol (height_pt * 25.4 / 72, products[_i].height_mm, TOLERANCE_MM);
}
END_TEST

/* The extents of the red shape in an SVG that poppler makes of the PDF, mm. Its paths are in the
 * coordinates of their `transform`, if they have one. */
static void
measure_red (const char *svg, double *x0, double *y0, double *x1, double *y1)
{
  const char *red = strstr (svg, "rgb(100%, 0%, 0%)"); /* as poppler's versions write it */
  if (red == NULL)
    red = strstr (svg, "rgb(100%,0%,0%)");
  ck_assert_msg (red != NULL, "nothing red in %.2000s", svg);
  const char *tag = red;
  while (*tag != '<')
    tag--;
  g_autofree char *element = g_strndup (tag, strcspn (tag, ">"));
  double m[6] = {1, 0, 0, 1, 0, 0};
  const char *matrix = strstr (element, "matrix(");
  if (matrix != NULL)
    sscanf (matrix, "matrix(%lf , %lf , %lf , %lf , %lf , %lf", &m[0], &m[1], &m[2], &m[3], &m[4],
            &m[5]);
  const char *at = strstr (element, " d=\"");
  ck_assert_ptr_nonnull (at);
  *x0 = *y0 = INFINITY;
  *x1 = *y1 = -INFINITY;
  for (at += 4; *at != '"' && *at != '\0';) {
    char *end;
    double x = g_ascii_strtod (at, &end);
    if (end == at) {
      at++; /* a letter or a blank */
      continue;
    }
    double y = g_ascii_strtod (end, &end);
    at = end;
    double px = (m[0] * x + m[2] * y + m[4]) * 25.4 / 72;
    double py = (m[1] * x + m[3] * y + m[5]) * 25.4 / 72;
    *x0 = fmin (*x0, px);
    *y0 = fmin (*y0, py);
    *x1 = fmax (*x1, px);
    *y1 = fmax (*y1, py);
  }
}

/* On the paper: the background is printed 1 mm past the cut on all sides. */
START_TEST (the_finished_box_on_the_paper)
{
  const double bleed_mm = 1;
  if (!sb_have_tool ("pdftocairo"))
    return;
  guint id;
  g_autoptr (SbState) state = make_product (_i, &id);
  const SbPage *page = sb_state_get_page (state, 0);
  SbIBox box = sb_placement_get_box (sb_state_get_layout (state, id), &page->placements[0]);
  export_pdf (state, "paper.pdf");
  g_autofree char *svg =
      sb_run_tool (folder, "pdftocairo -svg -noshrink -nocenter paper.pdf - 2>/dev/null");
  double x0, y0, x1, y1;
  measure_red (svg, &x0, &y0, &x1, &y1);
  ck_assert_double_eq_tol (x0 + bleed_mm, sb_um_to_mm (box.x0), TOLERANCE_MM);
  ck_assert_double_eq_tol (y0 + bleed_mm, sb_um_to_mm (box.y0), TOLERANCE_MM);
  double across = x1 - x0 - 2 * bleed_mm, down = y1 - y0 - 2 * bleed_mm;
  gboolean turned = page->placements[0].turned;
  ck_assert_double_eq_tol (turned ? down : across, products[_i].width_mm, TOLERANCE_MM);
  ck_assert_double_eq_tol (turned ? across : down, products[_i].height_mm, TOLERANCE_MM);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("products");
  TCase *tcase = tcase_create ("products");
  tcase_set_timeout (tcase, 60);
  tcase_add_checked_fixture (tcase, make_own_folder, remove_own_folder);
  tcase_add_loop_test (tcase, the_page_is_the_finished_size, 0, G_N_ELEMENTS (products));
  tcase_add_loop_test (tcase, the_finished_box_on_the_paper, 0, G_N_ELEMENTS (products));
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
