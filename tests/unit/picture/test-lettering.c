/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <cairo.h>
#include <string.h>

#include "picture/lettering.h"

static SbPicture *
write_text (const char *string, double size_pt, SbTextAlign align)
{
  g_autoptr (SbLettering) lettering = sb_lettering_new (string);
  lettering->size_pt = size_pt;
  lettering->align = align;
  sb_lettering_tidy (lettering);
  g_autoptr (GError) error = NULL;
  SbPicture *picture = sb_lettering_to_picture (lettering, &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  return picture;
}

static char *
get_svg (const SbPicture *picture)
{
  gsize size;
  const char *data = g_bytes_get_data (sb_picture_get_bytes (picture), &size);
  return g_strndup (data, size);
}

START_TEST (test_letters_are_outlines)
{
  g_autoptr (SbPicture) picture = write_text ("Radish & Rue", 14, SB_TEXT_CENTRE);
  g_autofree char *svg = get_svg (picture);
  ck_assert_ptr_nonnull (strstr (svg, "<path"));
  ck_assert_ptr_null (strstr (svg, "<text"));
  ck_assert_ptr_null (strstr (svg, "Radish"));
  ck_assert_int_eq (sb_picture_get_kind (picture), SB_PICTURE_VECTOR);

  g_autoptr (SbPicture) again = write_text ("Radish & Rue", 14, SB_TEXT_CENTRE);
  ck_assert_str_eq (sb_picture_get_sha256 (picture), sb_picture_get_sha256 (again));
}
END_TEST

/* The size against cairo's own measure of the same letter; 1 pt is 1/72 in. */
START_TEST (test_letters_have_their_size)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options (cr, options);
  cairo_font_options_destroy (options);
  cairo_select_font_face (cr, "Sans", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size (cr, 200);
  cairo_text_extents_t extents;
  cairo_text_extents (cr, "H", &extents);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);

  double width_mm, height_mm;
  g_autoptr (SbPicture) picture = write_text ("H", 200, SB_TEXT_START);
  ck_assert (sb_picture_get_size_mm (picture, &width_mm, &height_mm));
  ck_assert_double_eq_tol (height_mm, extents.height * 25.4 / 72, 0.01 * height_mm);
  ck_assert_double_eq_tol (width_mm, extents.width * 25.4 / 72, 0.01 * width_mm);
}
END_TEST

START_TEST (test_nothing_to_print_is_told)
{
  static const char *const empty[] = {"", "  \n ", "\t"};
  for (gsize i = 0; i < G_N_ELEMENTS (empty); i++) {
    g_autoptr (SbLettering) lettering = sb_lettering_new (empty[i]);
    g_autoptr (GError) error = NULL;
    ck_assert_ptr_null (sb_lettering_to_picture (lettering, &error));
    ck_assert (g_error_matches (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY));
  }
}
END_TEST

/* How far from the picture's left and right the ink of its lower half lies, px. */
static void
measure_second_line (const SbPicture *picture, int *left, int *right)
{
  const int width = 400, height = 200;
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = sb_picture_render (picture, width, height, NULL, &error);
  ck_assert_msg (surface != NULL, "%s", error ? error->message : "");
  cairo_surface_flush (surface);
  const guchar *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  *left = width;
  *right = width;
  for (int y = height * 2 / 3; y < height; y++) {
    for (int x = 0; x < width; x++) {
      if (data[y * stride + 4 * x + 3] < 128)
        continue;
      *left = MIN (*left, x);
      *right = MIN (*right, width - 1 - x);
    }
  }
  cairo_surface_destroy (surface);
}

START_TEST (test_lines_are_aligned)
{
  int left, right;
  g_autoptr (SbPicture) start = write_text ("HHHHHH\nHH", 20, SB_TEXT_START);
  measure_second_line (start, &left, &right);
  ck_assert_int_le (left, 4);
  ck_assert_int_gt (right, 100);
  g_autoptr (SbPicture) end = write_text ("HHHHHH\nHH", 20, SB_TEXT_END);
  measure_second_line (end, &left, &right);
  ck_assert_int_le (right, 4);
  ck_assert_int_gt (left, 100);
  g_autoptr (SbPicture) middle = write_text ("HHHHHH\nHH", 20, SB_TEXT_CENTRE);
  measure_second_line (middle, &left, &right);
  ck_assert_int_le (ABS (left - right), 4);
}
END_TEST

/* Hebrew reads from right to left (Unicode Standard Annex 9, rules P2 and P3): its lines start at
 * the right. */
START_TEST (test_right_to_left_starts_at_the_right)
{
  int left, right;
  g_autoptr (SbPicture) hebrew =
      write_text ("\u05d4\u05d4\u05d4\u05d4\u05d4\u05d4\n\u05d4\u05d4", 20, SB_TEXT_START);
  measure_second_line (hebrew, &left, &right);
  ck_assert_int_le (right, 8);
  ck_assert_int_gt (left, 100);
}
END_TEST

START_TEST (test_fields_are_taken_to_their_range)
{
  g_autofree char *much = g_strnfill (3 * SB_LETTERING_MOST_CHARS, 'a');
  g_autoptr (SbLettering) lettering = sb_lettering_new (much);
  ck_assert_uint_eq (strlen (lettering->string), SB_LETTERING_MOST_CHARS);
  g_free (lettering->font);
  lettering->font = g_strdup ("Serif Bold 45");
  g_free (lettering->language);
  lettering->language = g_strdup ("no such \xff");
  lettering->size_pt = -1;
  sb_lettering_tidy (lettering);
  ck_assert_str_eq (lettering->font, "Serif Bold");
  ck_assert_str_eq (lettering->language, "");
  ck_assert_double_eq (lettering->size_pt, SB_LETTERING_LEAST_PT);
  g_autoptr (SbLettering) copy = sb_lettering_copy (lettering);
  ck_assert (sb_lettering_equal (lettering, copy));
  copy->rgb = 5;
  ck_assert (!sb_lettering_equal (lettering, copy));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("lettering");
  TCase *tcase = tcase_create ("lettering");
  tcase_add_test (tcase, test_letters_are_outlines);
  tcase_add_test (tcase, test_letters_have_their_size);
  tcase_add_test (tcase, test_nothing_to_print_is_told);
  tcase_add_test (tcase, test_lines_are_aligned);
  tcase_add_test (tcase, test_right_to_left_starts_at_the_right);
  tcase_add_test (tcase, test_fields_are_taken_to_their_range);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
