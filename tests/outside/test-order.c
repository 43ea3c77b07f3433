/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The figures and files of an order, measured by what is not ours: GEOS (lengths), poppler's
 * pdfinfo and pdftoppm, and the chunks of the PNG specification. 1 in = 25.4 mm. */
#include "suite.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <math.h>

#include "box-job.h"
#include "geos-polygon.h"
#include "make-photo.h"
#include "order/cutting.h"
#include "output/coverage.h"
#include "output/download.h"
#include "output/order-papers.h"
#include "output/sticker-png.h"
#include "own-folder.h"
#include "tools.h"

static void
write_bytes (const char *name, GBytes *bytes)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, g_bytes_get_data (bytes, NULL),
                                  (gssize)g_bytes_get_size (bytes), NULL));
}

/* Perimeter */

static double
geos_length_mm (const SbOutline *outline)
{
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 2);
  GEOSContextHandle_t geos = GEOS_init_r ();
  double sum = 0;
  for (guint i = 0; i < sb_polygon_get_n_loops (polygon); i++) {
    GEOSGeometry *ring = geos_ring (geos, sb_polygon_get_loop (polygon, i));
    double length = 0;
    GEOSLength_r (geos, ring, &length);
    sum += length;
    GEOSGeom_destroy_r (geos, ring);
  }
  GEOS_finish_r (geos);
  return sum / 1000;
}

/* The drawings of the demo, as crooked as drawings are. GEOS measures the chords of an outline
 * flattened to 2 um, which are shorter than the curves by 8/3 (2 um / chord)^2: three parts in
 * 10,000 where a chord is 0.2 mm. */
START_TEST (test_perimeter_against_geos)
{
  static const char *const names[] = {"beetroot", "carrot", "rue", "swallowtail", "pea-pod"};
  g_autoptr (SbOrder) order = sb_order_new ();
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *path =
        g_strdup_printf ("%s/data/demo/art/%s.svg", g_getenv ("SB_TEST_SOURCE_DIR"), names[i]);
    g_autoptr (GError) error = NULL;
    g_autoptr (SbPicture) picture = sb_picture_load (path, &error);
    ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
    g_autoptr (SbDesign) design = sb_design_new (picture, names[i]);
    ck_assert (sb_design_prepare (design, NULL, &error));
    SbCutting cutting = sb_cutting_of (design, order);
    double geos = geos_length_mm (sb_design_get_outline (design));
    ck_assert_double_ge (cutting.perimeter_mm, geos);
    ck_assert_double_le (cutting.perimeter_mm, geos * (1 + 3e-4));
    ck_assert_double_eq_tol (cutting.seconds, 10 + geos / 10 + 4 * cutting.notches, 0.02);
  }
}
END_TEST

/* Coverage */

static SbDesign *
make_tint (guint rgb, double width_mm, double height_mm)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='%.3fmm' height='%.3fmm' viewBox='0 0 1 1' "
      "preserveAspectRatio='none'><rect width='1' height='1' fill='#%06x'/></svg>",
      width_mm, height_mm, rgb);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "tint.svg", NULL);
  SbDesign *design = sb_design_new (picture, "tint");
  design->guide.style = SB_GUIDE_OFF;
  ck_assert (sb_design_prepare (design, NULL, NULL));
  return design;
}

/* The share of C, M, Y and K of each tint by hand; 100 x 200 mm of it on A4 are 20,000 of 62,370
 * mm2. */
START_TEST (test_coverage_of_tints)
{
  static const struct {
    guint rgb;
    double cmyk; /* percent */
  } tints[] = {
      {0x000000, 100},                            /* K alone */
      {0x808080, 100 * 127 / 255.0},              /* K */
      {0xe6e6e6, 100 * 25 / 255.0},               /* a pale one */
      {0x00ffff, 100},                            /* C */
      {0xff0000, 200},                            /* M + Y */
      {0x8080ff, 100 * (127 + 127) / 255.0},      /* C 127, M 127 */
      {0x7f3f00, 100 * (64 + 127 + 128) / 255.0}, /* K 128, M 192 - 128, Y 255 - 128 */
      {0xffffff, 0},
  };
  for (guint i = 0; i < G_N_ELEMENTS (tints); i++) {
    g_autoptr (SbState) state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
    guint id;
    sb_take (&state, sb_edit_add_design (state, make_tint (tints[i].rgb, 100, 200), &id));
    sb_make_piece (&state, id, 105, 148.5);
    g_autofree double *coverage = sb_coverage_measure (state, NULL, NULL);
    ck_assert_ptr_nonnull (coverage);
    double expected = tints[i].cmyk * 20000 / 62370;
    ck_assert_msg (fabs (coverage[0] - expected) <= 0.01 * expected + 1e-9,
                   "#%06x covers %g %%, not %g", tints[i].rgb, coverage[0], expected);
  }
}
END_TEST

/* The download */

static SbState *
make_job (void)
{
  SbState *state = sb_make_letter (6350, 3000);
  sb_add_box (&state,
              "R\xc3\xbc"
              "be & Co",
              60, 50, 3);
  sb_add_box (&state,
              "R\xc3\xbc"
              "be / Co",
              50, 50, 3);
  sb_add_box (&state, "\xe5\xa4\xa7\xe6\xa0\xb9", 80, 70, 3);
  SbOrder *order = sb_order_copy (state->order);
  sb_order_set_text (order, SB_ORDER_TITLE, "Gem\xc3\xbcse: \"S\xc3\xa4tze\" 1/2");
  sb_order_set_text (order, SB_ORDER_MAKER, "Radish & Rue");
  sb_take (&state, sb_edit_set_order (state, order));
  return state;
}

static SbDownload *
make_download (const SbState *state, int copies, guint64 most_bytes)
{
  SbDownloadParams params = {.folder = folder,
                             .letter = TRUE,
                             .a4 = TRUE,
                             .pictures = TRUE,
                             .copies = copies,
                             .most_bytes = most_bytes,
                             .seconds = 0.2};
  g_autoptr (GError) error = NULL;
  SbDownload *download = sb_download_make (state, &params, NULL, NULL, NULL, &error);
  ck_assert_msg (download != NULL, "%s", error ? error->message : "");
  return download;
}

static gboolean
is_dark (const cairo_surface_t *image, int x, int y)
{
  cairo_surface_t *surface = (cairo_surface_t *)image;
  const guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  const guint32 *row = (const guint32 *)(const void *)(data + (gsize)y * (gsize)stride);
  return (row[x] & 0xff) < 128;
}

/* From the first to the last dark pixel of a row between x0 and x1. */
static int
measure_row (const cairo_surface_t *image, int y, int x0, int x1)
{
  int first = -1, last = -1;
  for (int x = x0; x < x1; x++)
    if (is_dark (image, x, y)) {
      first = first < 0 ? x : first;
      last = x;
    }
  return last - first;
}

#define DPI 300
#define FOOT_MM 35 /* of each page, which is enough to look at */

/* The longest dark line of the page is the line between both rulers; just above it stand the ticks
 * of 100 mm, just below those of 4 in. */
static void
check_bars (const char *png)
{
  g_autofree char *path = g_build_filename (folder, png, NULL);
  cairo_surface_t *image = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_surface_status (image), CAIRO_STATUS_SUCCESS);
  cairo_surface_t *rgb =
      cairo_image_surface_create (CAIRO_FORMAT_RGB24, cairo_image_surface_get_width (image),
                                  cairo_image_surface_get_height (image));
  cairo_t *cr = cairo_create (rgb);
  cairo_set_source_surface (cr, image, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (image);
  int width = cairo_image_surface_get_width (rgb), height = cairo_image_surface_get_height (rgb);
  int longest = 0, at_x = 0, at_y = 0;
  for (int y = 0; y < height; y++)
    for (int x = 0, length = 0; x < width; x++) {
      length = is_dark (rgb, x, y) ? length + 1 : 0;
      if (length > longest) {
        longest = length;
        at_x = x - length + 1;
        at_y = y;
      }
    }
  double mm = DPI / 25.4, least = 12.7 * mm;
  ck_assert_double_eq_tol (longest, 101.6 * mm, 3); /* and the width of its last tick */
  int reach = (int)(103 * mm), off = (int)(0.8 * mm);
  ck_assert_double_eq_tol (measure_row (rgb, at_y - off, at_x - 2, at_x + reach), 100 * mm, 1.5);
  ck_assert_double_eq_tol (measure_row (rgb, at_y + off, at_x - 2, at_x + reach), 4 * DPI, 1.5);
  /* Within the margins of printers nobody knows. */
  ck_assert (at_x >= least && at_y <= height - least && at_x + longest <= width - least);
  cairo_surface_destroy (rgb);
}

static int
count_pages (const char *pdf)
{
  g_autofree char *pages = sb_run_tool (folder, "pdfinfo '%s' | sed -n 's/^Pages: *//p'", pdf);
  return atoi (pages);
}

static void
check_book (const char *pdf, double width_pt, double height_pt)
{
  int n = count_pages (pdf);
  ck_assert_int_ge (n, 2); /* a cover and a page */
  g_autofree char *boxes = sb_run_tool (folder, "pdfinfo -box -f 1 -l %d '%s'", n, pdf);
  g_auto (GStrv) lines = g_strsplit (boxes, "\n", -1);
  int seen = 0;
  for (char **line = lines; *line != NULL; line++) {
    double x0, y0, x1, y1;
    const char *box = strstr (*line, "MediaBox:");
    if (box == NULL || sscanf (box, "MediaBox: %lf %lf %lf %lf", &x0, &y0, &x1, &y1) != 4)
      continue;
    seen++;
    /* 0.01 mm = 0.028 pt; poppler prints hundredths of a point */
    ck_assert_double_eq_tol (x1 - x0, width_pt, 0.028);
    ck_assert_double_eq_tol (y1 - y0, height_pt, 0.028);
  }
  ck_assert_int_eq (seen, n);
  int width = (int)ceil (width_pt / 72 * DPI), foot = (int)(FOOT_MM / 25.4 * DPI);
  g_autofree char *unused =
      sb_run_tool (folder, "pdftoppm -r %d -x 0 -y %d -W %d -H %d -gray -png '%s' page", DPI,
                   (int)round (height_pt / 72 * DPI) - foot, width, foot, pdf);
  g_autofree char *list = sb_run_tool (folder, "ls page-*.png");
  g_auto (GStrv) pages = g_strsplit (g_strstrip (list), "\n", -1);
  ck_assert_uint_eq (g_strv_length (pages), (guint)n);
  for (char **page = pages; *page != NULL; page++)
    check_bars (*page);
  g_autofree char *text =
      sb_run_tool (folder, "pdftotext '%s' - | tr '\\n' ' '; rm page-*.png", pdf);
  ck_assert_ptr_nonnull (strstr (text, "Print at 100 %"));
  ck_assert_ptr_nonnull (strstr (text, "Not for food, skin or mouth"));
  ck_assert_ptr_nonnull (strstr (text, "Radish & Rue"));
}

START_TEST (test_books)
{
  if (!sb_have_tool ("pdfinfo") || !sb_have_tool ("pdftoppm") || !sb_have_tool ("pdftotext"))
    return;
  g_autoptr (SbState) state = make_job ();
  g_autoptr (SbDownload) download = make_download (state, 2, SB_DOWNLOAD_USUAL_BYTES);
  check_book ("Gemuse_Satze_1_2_Letter.pdf", 612, 792);
  check_book ("Gemuse_Satze_1_2_A4.pdf", 210 / 25.4 * 72, 297 / 25.4 * 72);
}
END_TEST

/* The chunks of a PNG, by their names; none of text or time (PNG specification, 11.3.3, 11.3.6). */
static void
check_chunks (const guint8 *data, gsize length)
{
  static const char *const known[] = {"IHDR", "pHYs", "sRGB", "IDAT", "IEND"};
  ck_assert (length > 8 && memcmp (data, "\x89PNG\r\n\x1a\n", 8) == 0);
  for (gsize at = 8; at + 12 <= length;) {
    gsize size =
        (gsize)data[at] << 24 | (gsize)data[at + 1] << 16 | (gsize)data[at + 2] << 8 | data[at + 3];
    gboolean found = FALSE;
    for (guint i = 0; i < G_N_ELEMENTS (known); i++)
      found |= memcmp (data + at + 4, known[i], 4) == 0;
    ck_assert_msg (found, "chunk %.4s", (const char *)data + at + 4);
    at += size + 12;
  }
}

static gboolean
is_plain_name (const char *name)
{
  for (const char *c = name; *c != '\0'; c++)
    if (!g_ascii_isalnum (*c) && *c != '_' && *c != '.')
      return FALSE;
  return TRUE;
}

/* A photo whose comment tells a secret must not pass it on. */
static SbDesign *
make_secret (void)
{
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (600, 400);
  g_autoptr (GBytes) jpeg = sb_make_with_pixbuf (pixbuf, "jpeg", NULL, NULL);
  gsize length;
  const guint8 *data = g_bytes_get_data (jpeg, &length);
  static const char comment[] = "\xff\xfe\x00\x0eSECRETPLACE";
  GByteArray *with = g_byte_array_new ();
  g_byte_array_append (with, data, 2);
  g_byte_array_append (with, (const guint8 *)comment, 16);
  g_byte_array_append (with, data + 2, (guint)(length - 2));
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (with);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "secret.jpg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  SbDesign *design = sb_design_new (picture, "photo");
  SbCleanup none = sb_cleanup_none ();
  sb_design_set_cleanup (design, &none);
  sb_design_set_size (design, 60, 40);
  ck_assert (sb_design_prepare (design, NULL, &error));
  return design;
}

START_TEST (test_names_sizes_and_secrets)
{
  if (!sb_have_tool ("unzip") || !sb_have_tool ("pdfinfo"))
    return;
  g_autoptr (SbState) state = make_job ();
  sb_take (&state, sb_edit_add_design (state, make_secret (), NULL));
  g_autoptr (SbDownload) download = make_download (state, 1, SB_DOWNLOAD_USUAL_BYTES);
  ck_assert_uint_eq (download->files->len, 4); /* two books, a ZIP, the shop's picture */
  guint64 sum = 0;
  for (guint i = 0; i < download->files->len; i++) {
    const SbDownloadFile *file = download->files->pdata[i];
    g_autofree char *path = g_build_filename (folder, file->name, NULL);
    GStatBuf info;
    ck_assert (is_plain_name (file->name));
    ck_assert_int_eq (g_stat (path, &info), 0);
    ck_assert_uint_eq (file->bytes, (guint64)info.st_size);
    sum += file->bytes;
  }
  ck_assert_uint_eq (download->bytes, sum);
  g_autofree char *unused =
      sb_run_tool (folder, "unzip -q Gemuse_Satze_1_2_pictures.zip -d pictures");
  g_autofree char *found = sb_run_tool (folder, "grep -rla SECRETPLACE . || true");
  ck_assert_str_eq (found, "");
  g_autofree char *info = sb_run_tool (folder, "for f in *.pdf; do pdfinfo $f; done");
  ck_assert_ptr_null (strstr (info, "Author"));
  ck_assert_ptr_null (strstr (info, "Date"));
  g_autofree char *list = sb_run_tool (folder, "ls pictures/*.png *.png");
  g_auto (GStrv) names = g_strsplit (g_strstrip (list), "\n", -1);
  ck_assert_uint_ge (g_strv_length (names), 4 + 2 + 1);
  for (char **name = names; *name != NULL; name++) {
    g_autofree char *path = g_build_filename (folder, *name, NULL);
    g_autofree char *base = g_path_get_basename (*name);
    g_autofree char *data = NULL;
    gsize length;
    ck_assert (is_plain_name (base));
    ck_assert (g_file_get_contents (path, &data, &length, NULL));
    check_chunks ((const guint8 *)data, length);
  }
  g_autofree char *clean = sb_run_tool (folder, "rm -r pictures");
}
END_TEST

/* With a limit that a book of all pages passes, each part is below it and no page is lost. */
START_TEST (test_books_are_split_at_the_limit)
{
  if (!sb_have_tool ("pdfinfo"))
    return;
  g_autoptr (SbState) state = make_job ();
  g_autoptr (SbDownload) whole = make_download (state, 12, SB_DOWNLOAD_USUAL_BYTES);
  int pages = count_pages ("Gemuse_Satze_1_2_A4.pdf");
  guint64 size = ((SbDownloadFile *)whole->files->pdata[1])->bytes;
  g_autofree char *unused = sb_run_tool (folder, "rm *");
  g_autoptr (SbDownload) split = make_download (state, 12, size - size / 20);
  int parts = 0, sum = 0;
  for (guint i = 0; i < split->files->len; i++) {
    const SbDownloadFile *file = split->files->pdata[i];
    if (strstr (file->name, "_A4_") == NULL)
      continue;
    ck_assert_uint_le (file->bytes, size - size / 20);
    ck_assert_ptr_nonnull (strstr (file->name, "of"));
    parts++;
    sum += count_pages (file->name);
  }
  ck_assert_int_ge (parts, 2);
  ck_assert_int_eq (sum, pages);
}
END_TEST

/* A sticker of 66 x 56 mm at 300 dpi is 780 x 661 px; clear outside its rounded corners, white in
 * its border, black within. */
START_TEST (test_a_single_sticker)
{
  g_autoptr (SbDesign) design = sb_make_box ("box", 60, 50, 3);
  SbBorderParams border = design->border;
  border.corner_mm = 3;
  sb_design_set_border (design, &border);
  ck_assert (sb_design_prepare (design, NULL, NULL));
  g_autoptr (GBytes) png = sb_sticker_png (design, 300, NULL, NULL);
  ck_assert_ptr_nonnull (png);
  write_bytes ("one.png", png);
  g_autofree char *path = g_build_filename (folder, "one.png", NULL);
  cairo_surface_t *image = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_image_surface_get_width (image), 780);
  ck_assert_int_eq (cairo_image_surface_get_height (image), 661);
  const guint8 *data = cairo_image_surface_get_data (image);
  gsize stride = (gsize)cairo_image_surface_get_stride (image);
#define PIXEL(x, y) (((const guint32 *)(const void *)(data + (gsize)(y)*stride))[x])
  ck_assert_uint_eq (PIXEL (1, 1), 0);
  ck_assert_uint_eq (PIXEL (390, 12), 0xffffffff);
  ck_assert_uint_eq (PIXEL (390, 330), 0xff000000);
#undef PIXEL
  cairo_surface_destroy (image);
}
END_TEST

/* Tick list and slip: their boxes, and what a packer must read in them. */
START_TEST (test_papers)
{
  if (!sb_have_tool ("pdfinfo") || !sb_have_tool ("pdftotext"))
    return;
  g_autoptr (SbState) state = make_job ();
  SbOrder *order = sb_order_copy (state->order);
  SbPack *pack = sb_order_add_pack (order, "Root pack");
  pack->wanted = 12;
  const SbDesign *design = state->designs->pdata[0];
  sb_pack_set_line (pack, design->id, 3);
  sb_order_set_text (order, SB_ORDER_BUYER, "Ana\xc3\xafs");
  sb_order_set_text (order, SB_ORDER_BATCH, "B-7");
  sb_take (&state, sb_edit_set_order (state, order));
  sb_make_piece (&state, design->id, 60, 60);
  g_autoptr (GBytes) list = sb_order_make_tick_list (state, NULL);
  g_autoptr (GBytes) slip = sb_order_make_packing_slip (state, NULL);
  write_bytes ("list.pdf", list);
  write_bytes ("slip.pdf", slip);
  g_autofree char *info = sb_run_tool (folder, "pdfinfo list.pdf; pdfinfo slip.pdf");
  ck_assert_ptr_null (strstr (info, "Date"));
  g_autofree char *told = sb_run_tool (folder, "pdftotext -layout list.pdf - | tr -s ' \\n' ' '");
  ck_assert_ptr_nonnull (strstr (told, "Page 1: 1 pieces"));
  ck_assert_ptr_nonnull (strstr (told, "3 in each, 36 in all"));
  ck_assert_ptr_nonnull (strstr (told, "Root pack, 12 to make"));
  g_autofree char *sold = sb_run_tool (folder, "pdftotext -layout slip.pdf - | tr -s ' \\n' ' '");
  ck_assert_ptr_nonnull (strstr (sold, "Ana\xc3\xafs"));
  ck_assert_ptr_nonnull (strstr (sold, "B-7"));
  ck_assert_ptr_nonnull (strstr (sold, "12 packs"));
  ck_assert_ptr_nonnull (strstr (sold, "Not for food, skin or mouth"));
  ck_assert_ptr_nonnull (strstr (sold, "Radish & Rue"));
  g_autoptr (GBytes) again = sb_order_make_packing_slip (state, NULL);
  ck_assert (g_bytes_equal (slip, again));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("order");
  TCase *tcase = tcase_create ("order");
  tcase_set_timeout (tcase, 200);
  tcase_add_checked_fixture (tcase, make_own_folder, remove_own_folder);
  tcase_add_test (tcase, test_perimeter_against_geos);
  tcase_add_test (tcase, test_coverage_of_tints);
  tcase_add_test (tcase, test_books);
  tcase_add_test (tcase, test_names_sizes_and_secrets);
  tcase_add_test (tcase, test_books_are_split_at_the_limit);
  tcase_add_test (tcase, test_a_single_sticker);
  tcase_add_test (tcase, test_papers);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
