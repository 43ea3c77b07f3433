/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Physical sizes against what the formats' standards say. */
#include "suite.h"

#include "make-photo.h"
#include "make-picture.h"
#include "picture/picture.h"

static gboolean
size_of (GBytes *bytes, double *w, double *h)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "fennel", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  return sb_picture_get_size_mm (picture, w, h);
}

/* PNG (W3C Recommendation, third edition) section 11.3.4.3: pixels per unit, X then Y axis; unit 0
 * is unknown and gives only the aspect, unit 1 is the metre; 1 inch is 0.0254 m. Handbook section
 * 2: 300 dpi is written 11811, 600 is 23622. */
START_TEST (test_png_phys)
{
  static const struct {
    guint32 per_metre;
    double dpi;
  } known[] = {{2835, 72}, {3780, 96}, {5906, 150}, {11811, 300}, {23622, 600}, {47244, 1200}};

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++) {
    SbMakePng make = {.width = 600,
                      .height = 2,
                      .depth = 1,
                      .colour = PNG_COLOR_TYPE_GRAY,
                      .x_per_metre = known[i].per_metre,
                      .y_per_metre = known[i].per_metre,
                      .physical_unit = PNG_RESOLUTION_METER};
    g_autoptr (GBytes) bytes = sb_make_png (&make);
    double w, h;
    ck_assert (size_of (bytes, &w, &h));
    ck_assert_double_eq_tol (w, 600 / known[i].dpi * 25.4, 1e-9);
    /* Never farther from what the chunk says than its own rounding, half a pixel per metre. */
    ck_assert_double_le (fabs (600 / (w / 1000) - known[i].per_metre), 0.5);
  }
}
END_TEST

static gboolean
svg_size (const char *attributes, double *w, double *h)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' %s><rect width='3' height='2'/></svg>", attributes);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  return size_of (bytes, w, h);
}

/* CSS Values and Units Level 4, section 6.2: 1cm = 96px/2.54, 1mm = 1/10 cm, 1Q = 1/40 cm, 1in =
 * 2.54cm = 96px, 1pc = 1/6 in, 1pt = 1/72 in, 1px = 1/96 in; units ignore case (section 5). Plain
 * numbers are px (SVG 2, section 8.9). */
START_TEST (test_css_units)
{
  static const struct {
    const char *length;
    double mm;
  } units[] = {
      {"10cm", 100},  {"50.8mm", 50.8}, {"101Q", 25.25},   {"2in", 50.8}, {"6pc", 25.4},
      {"36pt", 12.7}, {"96px", 25.4},   {"48", 12.7},      {"1e1mm", 10}, {"+0.5in", 12.7},
      {".5in", 12.7}, {"40q", 10},      {"192.0px", 50.8},
  };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    g_autofree char *both =
        g_strdup_printf ("width='%s' height='%s'", units[i].length, units[i].length);
    double w = 0, h = 0;
    ck_assert_msg (svg_size (both, &w, &h), "%s states a size", units[i].length);
    ck_assert_msg (fabs (w - units[i].mm) < 1e-6 && fabs (h - units[i].mm) < 1e-6,
                   "%s is %g x %g mm", units[i].length, w, h);
  }
}
END_TEST

/* SVG 2 section 8.2 with CSS 2.2 sections 10.3.2 and 10.6.2: a missing side follows from the other
 * one and the viewBox's aspect; percentages and auto have no size of their own. */
START_TEST (test_svg_aspect)
{
  double w = 0, h = 0;
  ck_assert (svg_size ("width='40mm' viewBox='0 0 20 10'", &w, &h));
  ck_assert_double_eq_tol (w, 40, 1e-6);
  ck_assert_double_eq_tol (h, 20, 1e-6);
  ck_assert (svg_size ("height='40mm' viewBox='5 5 20 10'", &w, &h));
  ck_assert_double_eq_tol (w, 80, 1e-6);
  ck_assert (svg_size ("width='80Q' viewBox='0 0 20 10'", &w, &h));
  ck_assert_double_eq_tol (h, 10, 1e-6);
  /* Both stated: the viewBox has no say. */
  ck_assert (svg_size ("width='1in' height='1in' viewBox='0 0 20 10'", &w, &h));
  ck_assert_double_eq_tol (h, 25.4, 1e-6);

  static const char *const unsized[] = {
      "",
      "viewBox='0 0 20 10'",
      "width='100%' height='100%'",
      "width='100%' height='50%' viewBox='0 0 20 10'",
      "width='auto' height='auto' viewBox='0 0 20 10'",
      "width='40mm'",
      "width='3em' height='2em'",
      "width='-5mm' height='5mm' viewBox='0 0 20 10'",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (unsized) - 1; i++)
    ck_assert_msg (!svg_size (unsized[i], &w, &h), "'%s' states no size", unsized[i]);
}
END_TEST

/* The aspect of a drawing without a size is that of its viewBox, to the pixel. */
START_TEST (test_unsized_aspect)
{
  static const double boxes[][2] = {{20, 10}, {1, 1}, {0.001, 0.002}, {1e6, 5e5}, {3, 1000}};

  for (gsize i = 0; i < G_N_ELEMENTS (boxes); i++) {
    g_autofree char *text = g_strdup_printf (
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 %g %g'/>", boxes[i][0], boxes[i][1]);
    g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
    g_autoptr (GError) error = NULL;
    g_autoptr (SbPicture) picture = sb_picture_new (bytes, "fennel", &error);
    ck_assert_msg (picture != NULL, "%s: %s", text, error ? error->message : "");
    int w = sb_picture_get_width (picture), h = sb_picture_get_height (picture);
    ck_assert_int_ge (MAX (w, h), 1024);
    ck_assert_int_le (MAX (w, h), SB_PICTURE_MOST_SIDE);
    ck_assert_double_le (fabs (w - h * boxes[i][0] / boxes[i][1]),
                         0.5 + 0.5 * boxes[i][0] / boxes[i][1] + 1e-6);
  }
}
END_TEST

/* ITU-T T.871 section 10.1: units 0 = aspect only, 1 = dots per inch, 2 = dots per cm. */
START_TEST (test_jfif)
{
  static const struct {
    guint8 unit, x, y;
    double x_dpi, y_dpi; /* 0 = none */
  } known[] = {{0, 1, 1, 0, 0},        {1, 72, 72, 72, 72},     {1, 250, 125, 250, 125},
               {2, 100, 50, 254, 127}, {2, 118, 118, 300, 300}, {1, 0, 0, 0, 0}};
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (64, 32);
  g_autoptr (GBytes) plain = sb_make_with_pixbuf (pixbuf, "jpeg", NULL, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++) {
    gsize size;
    guint8 *data = g_bytes_unref_to_data (g_bytes_ref (plain), &size);
    g_autofree guint8 *changed = g_memdup2 (data, size);
    g_free (data);
    changed[13] = known[i].unit;
    changed[14] = changed[16] = 0;
    changed[15] = known[i].x;
    changed[17] = known[i].y;
    g_autoptr (GBytes) bytes = g_bytes_new (changed, size);
    double w = 0, h = 0;
    ck_assert_int_eq (size_of (bytes, &w, &h), known[i].x_dpi > 0);
    if (known[i].x_dpi > 0) {
      ck_assert_double_eq_tol (w, 64 / known[i].x_dpi * 25.4, 1e-9);
      ck_assert_double_eq_tol (h, 32 / known[i].y_dpi * 25.4, 1e-9);
    }
  }
}
END_TEST

/* TIFF 6.0 section 8: ResolutionUnit 1 = none, 2 = inch (the default), 3 = centimetre. */
START_TEST (test_tiff_resolution)
{
  static const struct {
    int unit;
    guint32 above, below;
    double dpi; /* 0 = none */
  } known[] = {{2, 600, 1, 600},         {0, 300, 1, 300}, {3, 1181102, 10000, 300}, {1, 300, 1, 0},
               {2, 2999999, 10000, 300}, {2, 0, 1, 0},     {3, 100, 1, 254}};

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++) {
    SbMakeTiff make = {.x_above = known[i].above,
                       .y_above = known[i].above,
                       .below = known[i].below,
                       .unit = known[i].unit,
                       .width = 60,
                       .height = 20};
    g_autoptr (GBytes) bytes = sb_make_tiff (&make);
    double w = 0, h = 0;
    ck_assert_int_eq (size_of (bytes, &w, &h), known[i].dpi > 0);
    if (known[i].dpi > 0)
      ck_assert_double_eq_tol (w, 60 / known[i].dpi * 25.4, 1e-6);
  }
}
END_TEST

/* Handbook section 2: 1200 px over 4 in are 300 dpi; per axis, and the worse one counts. */
START_TEST (test_effective_resolution)
{
  SbMakePng make = {.width = 1200, .height = 600, .depth = 1, .colour = PNG_COLOR_TYPE_GRAY};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "fennel", NULL);

  ck_assert_int_eq (sb_picture_get_dpi_at (picture, 101.6, 50.8), 300);
  ck_assert_int_eq (sb_picture_get_dpi_at (picture, 101.6, 101.6), 150);
  ck_assert_int_eq (sb_picture_get_dpi_at (picture, 50.8, 50.8), 300);
  ck_assert_int_eq (sb_picture_get_dpi_at (picture, 0, 0), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("picture-sizes");
  TCase *tcase = tcase_create ("picture-sizes");

  tcase_add_test (tcase, test_png_phys);
  tcase_add_test (tcase, test_css_units);
  tcase_add_test (tcase, test_svg_aspect);
  tcase_add_test (tcase, test_unsized_aspect);
  tcase_add_test (tcase, test_jfif);
  tcase_add_test (tcase, test_tiff_resolution);
  tcase_add_test (tcase, test_effective_resolution);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
