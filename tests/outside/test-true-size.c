/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is written, measured by readers that are not ours: poppler's pdfinfo, pdftoppm and
 * pdfimages, qpdf, rsvg-convert and libpng (through cairo). A 2.000 in square must be 1200 px at
 * 600 dpi: 1 in = 72 pt (ISO 32000-1, 8.3.2.3), = 25.4 mm (exact since 1959), = 96 CSS px (CSS
 * Values and Units 3, section 6.2). Letter is 8.5 x 11 in (ANSI/ASME Y14.1), A4 210 x 297 mm
 * (ISO 216). */
#include "suite.h"

#include <glib/gstdio.h>
#include <string.h>

#include "make-sheet.h"
#include "output/export.h"
#include "own-folder.h"
#include "tools.h"

static void
export_as (const SbState *state, const char *name, const SbExportOptions *options)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  SbExportOptions usual = sb_export_options_default ();
  ck_assert_msg (sb_export (state, path, options ? options : &usual, NULL, &error), "%s",
                 error ? error->message : "");
}

static SbDarkBox
measure (const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  cairo_surface_t *image = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_surface_status (image), CAIRO_STATUS_SUCCESS);
  SbDarkBox box = sb_measure_dark (image);
  cairo_surface_destroy (image);
  return box;
}

static void
check_square (SbDarkBox box, double x_in, double y_in)
{
  ck_assert_msg (abs (box.x1 - box.x0 - 1200) <= 1 && abs (box.y1 - box.y0 - 1200) <= 1,
                 "square is %d x %d px", box.x1 - box.x0, box.y1 - box.y0);
  ck_assert_msg (fabs (box.x0 - 600 * x_in) <= 1 && fabs (box.y0 - 600 * y_in) <= 1,
                 "corner at %d, %d px", box.x0, box.y0);
}

static gsize
size_of (const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  GStatBuf st;
  ck_assert_int_eq (g_stat (path, &st), 0);
  return (gsize)st.st_size;
}

START_TEST (pdf_page_and_square)
{
  if (!sb_have_tool ("pdfinfo") || !sb_have_tool ("pdftoppm"))
    return;
  /* A place that is no whole number of pixels nor points. */
  g_autoptr (SbState) state = sb_make_two_inch_sheet (215900, 279400, 38.1, 50.8);
  export_as (state, "letter.pdf", NULL);
  g_autofree char *info = sb_run_tool (folder, "pdfinfo -box letter.pdf");
  ck_assert_msg (strstr (info, "612 x 792 pts (letter)") != NULL, "%s", info);
  g_autofree char *unused =
      sb_run_tool (folder, "pdftoppm -r 600 -png -singlefile letter.pdf page");
  SbDarkBox box = measure ("page.png");
  ck_assert_int_eq (box.width, 5100);
  ck_assert_int_eq (box.height, 6600);
  check_square (box, 1.5, 2.0);
}
END_TEST

START_TEST (pdf_a4_off_grid)
{
  if (!sb_have_tool ("pdfinfo") || !sb_have_tool ("pdftoppm"))
    return;
  g_autoptr (SbState) state = sb_make_two_inch_sheet (210000, 297000, 33.333, 77.777);
  export_as (state, "a4.pdf", NULL);
  g_autofree char *info = sb_run_tool (folder, "pdfinfo a4.pdf");
  ck_assert_msg (strstr (info, "(A4)") != NULL, "%s", info);
  g_autofree char *unused = sb_run_tool (folder, "pdftoppm -r 600 -png -singlefile a4.pdf page");
  check_square (measure ("page.png"), 33.333 / 25.4, 77.777 / 25.4);
}
END_TEST

START_TEST (pdf_landscape_turned_to_the_sheet)
{
  if (!sb_have_tool ("pdfinfo") || !sb_have_tool ("pdftoppm"))
    return;
  g_autoptr (SbState) state = sb_make_two_inch_sheet (279400, 215900, 50.8, 25.4);
  SbExportOptions options = sb_export_options_default ();
  options.portrait = TRUE;
  export_as (state, "turned.pdf", &options);
  g_autofree char *info = sb_run_tool (folder, "pdfinfo turned.pdf");
  ck_assert_msg (strstr (info, "612 x 792 pts") != NULL, "%s", info);
  g_autofree char *unused =
      sb_run_tool (folder, "pdftoppm -r 600 -png -singlefile turned.pdf page");
  /* 2 in from the page's left and 1 in from its top: 2 in from the sheet's top, 1 in from its
   * right. */
  check_square (measure ("page.png"), 8.5 - 1 - 2, 2);
}
END_TEST

START_TEST (pdf_asks_for_no_scaling)
{
  if (!sb_have_tool ("qpdf"))
    return;
  g_autoptr (SbState) state = sb_make_two_inch_sheet (215900, 279400, 20, 20);
  export_as (state, "Seed swap.pdf", NULL);
  g_autofree char *check = sb_run_tool (folder, "qpdf --check 'Seed swap.pdf'");
  ck_assert_msg (strstr (check, "No syntax or stream encoding errors") != NULL, "%s", check);
  /* ISO 32000-1, table 150: PrintScaling None. */
  g_autofree char *qdf =
      sb_run_tool (folder, "qpdf --qdf --object-streams=disable 'Seed swap.pdf' -");
  ck_assert_msg (strstr (qdf, "/PrintScaling /None") != NULL, "no /PrintScaling");
  ck_assert_msg (strstr (qdf, "/Title (Seed swap)") != NULL, "no title");
  ck_assert_msg (strstr (qdf, "Date") == NULL, "a date tells when it was made");
}
END_TEST

START_TEST (png_square)
{
  g_autoptr (SbState) state = sb_make_two_inch_sheet (215900, 279400, 38.13, 50.86);
  SbExportOptions options = sb_export_options_default ();
  options.dpi = 600;
  export_as (state, "page.png", &options);
  SbDarkBox box = measure ("page.png");
  ck_assert_int_eq (box.width, 5100);
  ck_assert_int_eq (box.height, 6600);
  check_square (box, 38.13 / 25.4, 50.86 / 25.4);

  /* The pHYs chunk (PNG specification, 11.3.5.3) with 600 / 0.0254 = 23622 pixels a metre. */
  g_autofree char *path = g_build_filename (folder, "page.png", NULL);
  g_autofree char *data = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &data, &length, NULL));
  static const guint8 chunk[] = {0, 0,    0,    9, 'p', 'H',  'Y',  's', 0,
                                 0, 0x5c, 0x46, 0, 0,   0x5c, 0x46, 1};
  ck_assert (memmem (data, length, chunk, sizeof chunk) != NULL);
}
END_TEST

START_TEST (svg_square)
{
  if (!sb_have_tool ("rsvg-convert"))
    return;
  g_autoptr (SbState) state = sb_make_two_inch_sheet (215900, 279400, 38.1, 50.8);
  export_as (state, "page.svg", NULL);
  g_autofree char *path = g_build_filename (folder, "page.svg", NULL);
  g_autofree char *svg = NULL;
  ck_assert (g_file_get_contents (path, &svg, NULL, NULL));
  ck_assert_msg (strstr (svg, "width=\"215.9mm\" height=\"279.4mm\"") != NULL, "%.300s", svg);
  ck_assert_msg (strstr (svg, "viewBox=\"0 0 215.9 279.4\"") != NULL, "%.300s", svg);
  g_autofree char *unused =
      sb_run_tool (folder, "rsvg-convert -d 600 -p 600 -b white -o page.png page.svg");
  check_square (measure ("page.png"), 1.5, 2.0);
}
END_TEST

/* 40 copies of 12 paintings of 1200 x 1200 px in PDF and SVG: each embedded once, and the PDF no
 * more than 1.1 times the PNGs that libpng makes of the same pictures. */
START_TEST (copies_share_one_picture)
{
  g_autoptr (SbState) state = sb_make_letter ();
  gsize png_bytes = 0;
  guint ids[12];
  for (guint i = 0; i < 12; i++) {
    cairo_surface_t *painting = sb_make_painting (1200, i + 1);
    g_autoptr (GBytes) png = sb_make_png_of (painting);
    cairo_surface_destroy (painting);
    png_bytes += g_bytes_get_size (png);
    g_autofree char *name = g_strdup_printf ("radish %u", i);
    ids[i] = sb_make_add (&state, sb_make_design (png, name, 30, 30, 2, SB_GUIDE_SCISSORS));
  }
  for (guint i = 0; i < 40; i++)
    sb_make_place (&state, 0, ids[i % 12], 25 + 40 * (i % 5), 25 + 32 * (i / 5), 7 * i);

  gint64 start = g_get_monotonic_time ();
  export_as (state, "forty.pdf", NULL);
  g_print ("pdf_40_copies %.2f s, %zu bytes, png sum %zu bytes, ratio %.3f\n",
           (double)(g_get_monotonic_time () - start) / 1e6, size_of ("forty.pdf"), png_bytes,
           (double)size_of ("forty.pdf") / (double)png_bytes);
  ck_assert_msg ((double)size_of ("forty.pdf") <= 1.1 * (double)png_bytes, "%zu against %zu",
                 size_of ("forty.pdf"), png_bytes);

  if (sb_have_tool ("pdfimages")) {
    g_autofree char *list = sb_run_tool (
        folder, "pdfimages -list forty.pdf | awk '$3==\"image\"{print $11}' | sort -u | wc -l");
    ck_assert_int_eq (atoi (list), 12);
    g_autofree char *pixels = sb_run_tool (
        folder,
        "pdfimages -list forty.pdf | awk '$3==\"image\" && ($4!=1200 || $5!=1200)' | wc -l");
    ck_assert_int_eq (atoi (pixels), 0);
  }
  export_as (state, "forty.svg", NULL);
  g_autofree char *images = sb_run_tool (folder, "grep -c 'data:image/png' forty.svg");
  ck_assert_int_eq (atoi (images), 12);
}
END_TEST

/* The pixels that come back out of the PDF are the picture's. */
START_TEST (pdf_keeps_the_pixels)
{
  if (!sb_have_tool ("pdfimages"))
    return;
  g_autoptr (SbState) state = sb_make_letter ();
  cairo_surface_t *painting = sb_make_painting (300, 5);
  g_autoptr (GBytes) png = sb_make_png_of (painting);
  guint id = sb_make_add (&state, sb_make_design (png, "leek", 60, 60, 3, SB_GUIDE_SCISSORS));
  sb_make_place (&state, 0, id, 100, 100, 33);
  export_as (state, "leek.pdf", NULL);
  g_autofree char *unused = sb_run_tool (folder, "pdfimages -png leek.pdf out");
  g_autofree char *path = g_build_filename (folder, "out-000.png", NULL);
  cairo_surface_t *out = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_surface_status (out), CAIRO_STATUS_SUCCESS);
  for (int y = 0; y < 300; y++)
    for (int x = 0; x < 300; x++) {
      guint32 a = ((guint32 *)(void *)(cairo_image_surface_get_data (painting) +
                                       y * cairo_image_surface_get_stride (painting)))[x];
      guint32 b = ((guint32 *)(void *)(cairo_image_surface_get_data (out) +
                                       y * cairo_image_surface_get_stride (out)))[x];
      if (a >> 24 == 255)
        ck_assert_msg ((a & 0xffffff) == (b & 0xffffff), "%d,%d: %08x became %08x", x, y, a, b);
    }
  cairo_surface_destroy (out);
  cairo_surface_destroy (painting);
}
END_TEST

/* A page with everything on it. */
static SbState *
make_full_sheet (void)
{
  static const char drawing[] =
      "<svg xmlns='http://www.w3.org/2000/svg' width='30mm' height='20mm' viewBox='0 0 30 20'>"
      "<defs><linearGradient id='a'><stop offset='0' stop-color='#c03'/><stop offset='1' "
      "stop-color='#fd5' stop-opacity='.4'/></linearGradient></defs>"
      "<ellipse cx='15' cy='10' rx='14' ry='9' fill='url(#a)'/>"
      "<path d='M5 10 L15 2 L25 10' stroke='#063' fill='none' stroke-width='1.5'/></svg>";
  SbState *state = sb_make_letter ();
  /* Flat, because readers resample grain and washes each in their own way. */
  g_autoptr (GBytes) png = sb_make_square (531, 0.2, 0.5, 0.3);
  g_autoptr (GBytes) red = sb_make_square (100, 1, 0, 0);
  g_autoptr (GBytes) svg = g_bytes_new_static (drawing, strlen (drawing));
  guint ids[] = {
      sb_make_add (&state, sb_make_design (png, "leek", 45, 45, 3, SB_GUIDE_SCISSORS)),
      sb_make_add (&state, sb_make_design (red, "tomato", 30, 20, 3, SB_GUIDE_TICKS)),
      sb_make_add (&state, sb_make_design (svg, "marigold", 30, 20, 3, SB_GUIDE_KNIFE)),
  };
  for (int i = 0; i < 9; i++)
    sb_make_place (&state, 0, ids[i % 3], 45 + 60 * (i % 3), 50 + 70 * (i / 3), 25 * i);
  return state;
}

#define BLOCK 60

static int
block_difference (cairo_surface_t *a, cairo_surface_t *b, int x0, int y0, int c)
{
  int difference = 0;
  for (int y = y0; y < y0 + BLOCK; y++) {
    const guint8 *a_row =
        cairo_image_surface_get_data (a) + (gsize)y * (gsize)cairo_image_surface_get_stride (a);
    const guint8 *b_row =
        cairo_image_surface_get_data (b) + (gsize)y * (gsize)cairo_image_surface_get_stride (b);
    for (int x = x0; x < x0 + BLOCK; x++)
      difference += a_row[4 * x + c] - b_row[4 * x + c];
  }
  return abs (difference);
}

/* The worst difference of the mean colour of a block of 60 x 60 px, of 255. A pale guide that is
 * missing from a block makes about 3; where renderers soften edges their own way, less than 1. */
static double
compare (const char *a_name, const char *b_name)
{
  g_autofree char *a_path = g_build_filename (folder, a_name, NULL);
  g_autofree char *b_path = g_build_filename (folder, b_name, NULL);
  cairo_surface_t *a = cairo_image_surface_create_from_png (a_path);
  cairo_surface_t *b = cairo_image_surface_create_from_png (b_path);
  int width = cairo_image_surface_get_width (a), height = cairo_image_surface_get_height (a);
  ck_assert_int_eq (cairo_image_surface_get_width (b), width);
  ck_assert_int_eq (cairo_image_surface_get_height (b), height);
  int worst = 0;
  for (int y = 0; y + BLOCK <= height; y += BLOCK)
    for (int x = 0; x + BLOCK <= width; x += BLOCK)
      for (int c = 0; c < 3; c++)
        worst = MAX (worst, block_difference (a, b, x, y, c));
  cairo_surface_destroy (a);
  cairo_surface_destroy (b);
  return (double)worst / BLOCK / BLOCK;
}

/* PDF by poppler, SVG by librsvg and PNG by us show the same page. */
START_TEST (three_formats_show_one_page)
{
  if (!sb_have_tool ("pdftoppm") || !sb_have_tool ("rsvg-convert"))
    return;
  g_autoptr (SbState) state = make_full_sheet ();
  SbExportOptions options = sb_export_options_default ();
  options.paint.check_bar = TRUE;
  export_as (state, "page.pdf", &options);
  export_as (state, "page.svg", &options);
  options.dpi = 300;
  export_as (state, "page.png", &options);
  g_autofree char *a = sb_run_tool (folder, "pdftoppm -r 300 -png -singlefile page.pdf pdf");
  g_autofree char *b =
      sb_run_tool (folder, "rsvg-convert -d 300 -p 300 -b white -o svg.png page.svg");
  double pdf = compare ("page.png", "pdf.png"), svg = compare ("page.png", "svg.png");
  g_print ("worst block: PDF %.2f, SVG %.2f of 255\n", pdf, svg);
  ck_assert_double_lt (pdf, 4); /* poppler moves thin lines to whole pixels */
  ck_assert_double_lt (svg, 2);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("true-size");
  TCase *tc = tcase_create ("outside");
  tcase_add_checked_fixture (tc, make_own_folder, remove_own_folder);
  tcase_set_timeout (tc, 250);
  tcase_add_test (tc, pdf_page_and_square);
  tcase_add_test (tc, pdf_a4_off_grid);
  tcase_add_test (tc, pdf_landscape_turned_to_the_sheet);
  tcase_add_test (tc, pdf_asks_for_no_scaling);
  tcase_add_test (tc, png_square);
  tcase_add_test (tc, svg_square);
  tcase_add_test (tc, copies_share_one_picture);
  tcase_add_test (tc, pdf_keeps_the_pixels);
  tcase_add_test (tc, three_formats_show_one_page);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
