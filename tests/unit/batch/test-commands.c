/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include "job/file.h"
#include "program.h"

static SbState *
load (const char *name)
{
  g_autofree char *path = in_folder (name);
  g_autoptr (GError) error = NULL;
  SbState *state = sb_job_file_load (path, NULL, &error);
  ck_assert_msg (state != NULL, "%s", error ? error->message : "");
  return state;
}

static const SbDesign *
get_design (const SbState *state, const char *name)
{
  const SbDesign *design = sb_state_find_design (state, name);
  ck_assert_msg (design != NULL, "no design %s", name);
  return design;
}

/* A letter job with a 20 mm disk, no border, in it. */
static void
make_job (void)
{
  draw_disk ("seed.svg", 20);
  expect_done ("new fair.stickleback --paper=letter --margins=3.05mm");
  expect_done ("add fair.stickleback seed.svg --border=0 --nook=0");
}

START_TEST (test_new)
{
  expect_done ("new plain.stickleback");
  g_autoptr (SbState) plain = load ("plain.stickleback");
  ck_assert_str_eq (plain->paper_name, "na_letter_8.5x11in");
  ck_assert_int_eq (plain->margins.left, 6350);
  ck_assert_int_eq (plain->margins_source, SB_MARGINS_FALLBACK);

  expect_done ("new own.stickleback --paper=A5 --margins=1mm,0.1in,3,4mm --gap=0.125in");
  g_autoptr (SbState) own = load ("own.stickleback");
  ck_assert_str_eq (own->paper_name, "iso_a5_148x210mm");
  ck_assert_int_eq (own->page_width, 148000);
  ck_assert_int_eq (own->margins.top, 1000);
  ck_assert_int_eq (own->margins.right, 2540);
  ck_assert_int_eq (own->margins.bottom, 3000);
  ck_assert_int_eq (own->margins.left, 4000);
  ck_assert_int_eq (own->margins_source, SB_MARGINS_TYPED);
  ck_assert_int_eq (own->gap, 3175);

  expect_done ("new custom.stickleback --paper=180x250mm");
  g_autoptr (SbState) custom = load ("custom.stickleback");
  ck_assert_int_eq (custom->page_width, 180000);
  ck_assert_int_eq (custom->page_height, 250000);
}
END_TEST

START_TEST (test_new_does_not_write_over_a_job)
{
  make_job ();
  expect_failure (3, "fair.stickleback", "already there", "new fair.stickleback");
  g_autoptr (SbState) still = load ("fair.stickleback");
  ck_assert_uint_eq (still->designs->len, 1);
  expect_done ("new fair.stickleback --replace");
  g_autoptr (SbState) empty = load ("fair.stickleback");
  ck_assert_uint_eq (empty->designs->len, 0);
}
END_TEST

START_TEST (test_add)
{
  draw_disk ("bean.svg", 30);
  draw_sizeless ("Pea pod.v2.png", 400, 200);
  expect_done ("new fair.stickleback");
  expect_done ("add fair.stickleback bean.svg --border=2mm --nook=0.1in --guide=knife --count=7");
  expect_done ("add fair.stickleback bean.svg %s --size=2in --freebie", "Pea pod.v2.png");
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_uint_eq (state->designs->len, 3);

  const SbDesign *bean = get_design (state, "bean");
  ck_assert_double_eq_tol (bean->width_mm, 30, 0.01);
  ck_assert_double_eq_tol (bean->border.width_mm, 2, 1e-9);
  ck_assert_double_eq_tol (bean->border.nook_mm, 2.54, 1e-9);
  ck_assert_int_eq (bean->guide.style, SB_GUIDE_KNIFE);
  ck_assert_int_eq (bean->wanted, 7);
  ck_assert (!bean->freebie);

  const SbDesign *second = get_design (state, "bean 2");
  ck_assert_double_eq_tol (second->width_mm, 50.8, 1e-6);
  ck_assert (second->freebie);
  ck_assert_ptr_eq (second->picture, bean->picture);

  const SbDesign *pea = get_design (state, "Pea pod.v2");
  ck_assert_msg (fabs (pea->width_mm - 50.8) < 1e-9, "the longest side is %g mm", pea->width_mm);
  ck_assert_double_eq_tol (pea->height_mm, 25.4, 1e-9);
  ck_assert_msg (pea->wanted == 0, "as many freebies as fit");
}
END_TEST

START_TEST (test_add_sets_the_outline)
{
  draw_disk ("bean.svg", 30);
  expect_done ("new fair.stickleback");
  expect_done ("add fair.stickleback bean.svg --bleed=2.5mm");
  expect_done ("add fair.stickleback bean.svg --shape=box --border=2mm --coverage=12.5");
  expect_done ("add fair.stickleback bean.svg --bleed=0.1in --border=1mm");
  g_autoptr (SbState) state = load ("fair.stickleback");
  const SbDesign *bare = get_design (state, "bean"), *box = get_design (state, "bean 2"),
                 *both = get_design (state, "bean 3");
  ck_assert_double_eq (bare->bleed_mm, 2.5);
  ck_assert_double_eq (bare->border.width_mm, 0);
  ck_assert_int_eq (box->border.shape, SB_BORDER_BOX);
  ck_assert_double_eq (box->silhouette_params.threshold, 0.125);
  ck_assert_double_eq (box->bleed_mm, 0);
  ck_assert_double_eq_tol (both->bleed_mm, 2.54, 1e-9);
  ck_assert_double_eq (both->border.width_mm, 1);
  expect_failure (2, "--bleed", "5", "add fair.stickleback bean.svg --bleed=6mm");
  expect_failure (2, "--shape", "star", "add fair.stickleback bean.svg --shape=star");
  expect_failure (2, "--coverage", "between 1 and 100",
                  "add fair.stickleback bean.svg --coverage=0");
}
END_TEST

/* 200 x 100 px at 20 mm would be 1.18 dots of a 300 dpi printer each. */
START_TEST (test_add_snaps_pixel_art)
{
  draw_sizeless ("pea.png", 200, 100);
  expect_done ("new fair.stickleback");
  expect_done ("add fair.stickleback pea.png --size=20mm --hard-edges");
  g_autoptr (SbState) state = load ("fair.stickleback");
  const SbDesign *pea = get_design (state, "pea");
  ck_assert (pea->cleanup.crisp);
  ck_assert_double_eq_tol (pea->width_mm, 200 * 25.4 / 300, 1e-9);
  ck_assert_double_eq_tol (pea->height_mm, 100 * 25.4 / 300, 1e-9);
}
END_TEST

/* Three disks of 12, 20 and 9 mm on cream paper: 120 x 60 mm at 10 px/mm. */
static void
draw_scan (const char *name, gboolean empty)
{
  static const double disks[][3] = {{25, 25, 6}, {60, 28, 10}, {30, 48, 4.5}};
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1200, 600);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 0.96, 0.94, 0.86);
  cairo_paint (cr);
  cairo_scale (cr, 10, 10);
  cairo_set_source_rgb (cr, 0.5, 0.1, 0.3);
  for (gsize i = 0; i < G_N_ELEMENTS (disks) && !empty; i++) {
    cairo_arc (cr, disks[i][0], disks[i][1], disks[i][2], 0, 2 * G_PI);
    cairo_fill (cr);
  }
  cairo_destroy (cr);
  g_autofree char *path = in_folder (name);
  ck_assert_int_eq (cairo_surface_write_to_png (surface, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
}

START_TEST (test_add_sets_the_cleanup)
{
  draw_scan ("pea.png", FALSE);
  draw_sizeless ("clear.png", 200, 100);
  expect_done ("new fair.stickleback");
  expect_done ("add fair.stickleback pea.png --size=20mm --paper=remove --tolerance=12.5 "
               "--specks=1mm");
  expect_done ("add fair.stickleback pea.png --size=20mm --paper=keep");
  expect_done ("add fair.stickleback pea.png --size=20mm --paper=leave");
  expect_done ("add fair.stickleback pea.png --size=20mm --white-point=3 --black-point=12.5");
  expect_done ("add fair.stickleback clear.png --size=20mm --paper=keep");
  g_autoptr (SbState) state = load ("fair.stickleback");
  const SbDesign *removed = get_design (state, "pea"), *kept = get_design (state, "pea 2");
  ck_assert (removed->cleanup.remove_paper);
  ck_assert_double_eq (removed->cleanup.tolerance, 12.5);
  ck_assert_double_eq (removed->cleanup.speck_mm, 1);
  ck_assert (!kept->cleanup.remove_paper && kept->cleanup.even_light && kept->cleanup.whiten);
  const SbDesign *left = get_design (state, "pea 3"), *black = get_design (state, "pea 4");
  ck_assert (!sb_picture_is_cleaned (left->picture));
  ck_assert (!sb_picture_is_cleaned (get_design (state, "clear")->picture)); /* has no paper */
  ck_assert (black->cleanup.remove_paper && black->cleanup.whiten);
  ck_assert_double_eq (black->cleanup.white_point, 3);
  ck_assert_double_eq (black->cleanup.black_point, 12.5);
  expect_failure (2, "--paper", "tear", "add fair.stickleback pea.png --size=20mm --paper=tear");
  expect_failure (2, "--tolerance", "between 1 and 60",
                  "add fair.stickleback pea.png --size=20mm --tolerance=0");
  expect_failure (2, "--white-point", "between 0 and 40",
                  "add fair.stickleback pea.png --size=20mm --white-point=41");
}
END_TEST

START_TEST (test_split)
{
  static const double across[] = {12, 20, 9};
  draw_scan ("fair scan.png", FALSE);
  draw_scan ("blank.png", TRUE);
  expect_done ("new fair.stickleback");
  expect_done ("split %s fair.stickleback --size=120mm", "fair scan.png");
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_uint_eq (state->designs->len, 3);
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strdup_printf ("fair scan %u", i + 1);
    const SbDesign *design = state->designs->pdata[i];
    ck_assert_str_eq (design->name, name);
    SbBox box = sb_outline_get_box (sb_design_get_artwork (design));
    ck_assert_double_eq_tol (box.x1 - box.x0, across[i], 0.1);
    ck_assert_double_eq_tol (box.y1 - box.y0, across[i], 0.1);
  }
  expect_failure (2, "fair scan.png", "--size", "split %s fair.stickleback", "fair scan.png");
  expect_failure (2, "blank.png", "5 mm or larger",
                  "split blank.png fair.stickleback --size=120mm");
}
END_TEST

START_TEST (test_a_picture_without_size_is_asked_about)
{
  draw_sizeless ("pea.png", 40, 20);
  expect_done ("new fair.stickleback");
  expect_failure (2, "pea.png", "--size", "add fair.stickleback pea.png");
  expect_failure (2, "pea.png", "--size", "outline pea.png out.svg");
}
END_TEST

START_TEST (test_all_pictures_or_none)
{
  make_job ();
  draw_disk ("bean.svg", 30);
  expect_failure (2, "lost.svg", "No such file", "add fair.stickleback bean.svg lost.svg");
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_uint_eq (state->designs->len, 1);
}
END_TEST

START_TEST (test_place)
{
  make_job ();
  expect_done ("place fair.stickleback seed --at=2in,50mm --turn=-90.0005 --page=3 --pin");
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_uint_eq (state->pages->len, 3);
  const SbPage *page = sb_state_get_page (state, 2);
  ck_assert_uint_eq (page->n_pieces, 1);
  ck_assert_int_eq (page->pieces[0].at.x, 50800);
  ck_assert_int_eq (page->pieces[0].at.y, 50000);
  ck_assert_int_eq (page->pieces[0].turn, 269999);
  ck_assert (page->pieces[0].pinned);
}
END_TEST

/* As many as fit keep the gap and give no finding; the next one lies in the middle and does. */
START_TEST (test_place_finds_free_places)
{
  draw_sizeless ("seed.png", 480, 480);
  expect_done ("new fair.stickleback --paper=100x100mm --margins=3mm --gap=4mm");
  expect_done ("add fair.stickleback seed.png --size=40mm --border=0 --nook=0");
  for (int i = 0; i < 4; i++)
    expect_done ("place fair.stickleback seed");
  g_auto (Result) proof = run ("proof fair.stickleback");
  ck_assert_int_eq (proof.status, 0);
  ck_assert_str_eq (proof.out, "nothing found\n");

  expect_done ("place fair.stickleback seed");
  g_auto (Result) full = run ("proof fair.stickleback");
  ck_assert_int_eq (full.status, 1);
  g_autoptr (SbState) state = load ("fair.stickleback");
  const SbPage *page = sb_state_get_page (state, 0);
  ck_assert_uint_eq (page->n_pieces, 5);
  ck_assert_int_eq (page->pieces[4].at.x, 50000);
}
END_TEST

START_TEST (test_proof_says_which_edge_takes_how_much)
{
  make_job ();
  expect_done ("place fair.stickleback seed --at=12mm,100mm");
  g_auto (Result) result = run ("proof fair.stickleback --json");
  ck_assert_int_eq (result.status, 1);
  g_autoptr (JsonNode) root = read_json (&result);
  JsonArray *findings = json_object_get_array_member (json_node_get_object (root), "findings");
  ck_assert_uint_eq (json_array_get_length (findings), 1);
  JsonObject *finding = json_array_get_object_element (findings, 0);
  ck_assert_str_eq (json_object_get_string_member (finding, "severity"), "stop");
  ck_assert_str_eq (json_object_get_string_member (finding, "rule"), "edge");
  ck_assert_str_eq (json_object_get_string_member (finding, "edge"), "left");
  ck_assert_str_eq (json_object_get_string_member (finding, "piece"), "seed, piece 1");
  ck_assert_int_eq (json_object_get_int_member (finding, "page"), 1);
  ck_assert_double_eq_tol (json_object_get_double_member (finding, "lost_mm"), 1.05, 0.05);
  ck_assert_ptr_nonnull (strstr (json_object_get_string_member (finding, "message"), "seed"));
}
END_TEST

START_TEST (test_proof_exits_with_nothing_for_a_note)
{
  make_job ();
  expect_done ("place fair.stickleback seed --at=13.1mm,100mm");
  g_auto (Result) result = run ("proof fair.stickleback");
  ck_assert_int_eq (result.status, 0);
  ck_assert (g_str_has_prefix (result.out, "note: page 1: "));
}
END_TEST

START_TEST (test_figures)
{
  make_job ();
  expect_done ("place fair.stickleback seed --at=100mm,100mm");
  g_auto (Result) result = run ("figures fair.stickleback --json");
  ck_assert_int_eq (result.status, 0);
  g_autoptr (JsonNode) root = read_json (&result);
  JsonObject *job = json_node_get_object (root);
  JsonObject *page = json_array_get_object_element (json_object_get_array_member (job, "pages"), 0);
  double disk = G_PI * 10 * 10, printable = (215.9 - 6.1) * (279.4 - 6.1);
  ck_assert_double_eq_tol (json_object_get_double_member (page, "paper_mm2"), 215.9 * 279.4, 1e-6);
  ck_assert_double_eq_tol (json_object_get_double_member (page, "printable_mm2"), printable, 1e-6);
  ck_assert_double_eq_tol (json_object_get_double_member (page, "outline_mm2"), disk, 0.01 * disk);
  ck_assert_double_eq_tol (json_object_get_double_member (page, "artwork_mm2"), disk, 0.01 * disk);
  double waste = json_object_get_double_member (page, "waste_mm2");
  ck_assert_double_eq_tol (waste + json_object_get_double_member (page, "outline_mm2"), printable,
                           1e-6);
  ck_assert_double_eq_tol (json_object_get_double_member (page, "waste_percent"),
                           100 * waste / printable, 1e-6);
  ck_assert_int_eq (json_object_get_int_member (page, "pieces"), 1);
  JsonArray *spots = json_object_get_array_member (page, "free_spots");
  ck_assert_int_gt (json_array_get_length (spots), 1);
  double last = G_MAXDOUBLE;
  for (guint i = 0; i < json_array_get_length (spots); i++) {
    JsonObject *spot = json_array_get_object_element (spots, i);
    double area = json_object_get_double_member (spot, "width_mm") *
                  json_object_get_double_member (spot, "height_mm");
    ck_assert_double_le (area, last);
    last = area;
  }
  JsonObject *design =
      json_array_get_object_element (json_object_get_array_member (job, "designs"), 0);
  ck_assert_str_eq (json_object_get_string_member (design, "name"), "seed");
  ck_assert_int_eq (json_object_get_int_member (design, "wanted"), 1);
  ck_assert_int_eq (json_object_get_int_member (design, "placed"), 1);
}
END_TEST

START_TEST (test_arrange)
{
  draw_disk ("seed.svg", 20);
  draw_disk ("dot.svg", 8);
  expect_done ("new fair.stickleback --paper=a6 --margins=3mm");
  expect_done ("add fair.stickleback seed.svg --count=9");
  expect_done ("add fair.stickleback dot.svg --freebie");
  g_auto (Result) result = run ("arrange fair.stickleback --effort=5000 --seed=3 --fill");
  ck_assert_msg (result.status == 0, "%s", result.err);
  ck_assert (g_str_has_prefix (result.out, "pieces placed: 9\n"));
  g_autoptr (SbState) state = load ("fair.stickleback");
  ck_assert_int_eq (sb_state_count_placed (state, get_design (state, "seed")->id), 9);
  ck_assert_int_gt (sb_state_count_placed (state, get_design (state, "dot")->id), 0);
  g_auto (Result) proof = run ("proof fair.stickleback");
  ck_assert_msg (proof.status == 0, "%s", proof.out);
}
END_TEST

START_TEST (test_arrange_by_effort)
{
  draw_disk ("seed.svg", 20);
  static const char *const jobs[] = {"one.stickleback", "two.stickleback"};
  for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++) {
    expect_done ("new %s --paper=a6 --margins=3mm", jobs[i]);
    expect_done ("add %s seed.svg --count=9", jobs[i]);
    g_auto (Result) result = run ("arrange %s --effort=20000 --seed=3", jobs[i]);
    ck_assert_msg (result.status == 0, "%s", result.err);
    ck_assert_ptr_nonnull (strstr (result.out, "waste before: nothing lay there\n"));
  }
  g_autoptr (SbState) one = load (jobs[0]);
  g_autoptr (SbState) two = load (jobs[1]);
  ck_assert (sb_state_equal (one, two));
  g_auto (Result) again = run ("arrange %s --effort=1", jobs[0]);
  ck_assert_ptr_null (strstr (again.out, "nothing lay there"));
  g_auto (Result) rows = run ("arrange %s --rows", jobs[1]);
  ck_assert_msg (rows.status == 0, "%s", rows.err);
  g_auto (Result) wrong = run ("arrange %s --effort=-1", jobs[0]);
  expect_one_line (&wrong, 2, "--effort", "-1");
}
END_TEST

START_TEST (test_what_if)
{
  /* Discs of 30 mm and 3 mm of border, 4 mm apart, on a page 40 mm wide: 36 + 4 + 36 + 4 + 36 is
   * 116 of the 110 mm there are, so that a third fits once they are 2 mm smaller. */
  draw_disk ("seed.svg", 30);
  expect_done ("new fair.stickleback --paper=40mmx110mm --margins=0mm");
  expect_done ("add fair.stickleback seed.svg --count=2 --border=3mm");
  expect_done ("arrange fair.stickleback --effort=1");
  g_autoptr (SbState) before = load ("fair.stickleback");
  g_auto (Result) result = run ("what-if fair.stickleback seed");
  ck_assert_msg (result.status == 0, "%s", result.err);
  ck_assert_ptr_nonnull (strstr (result.out, "as it is"));
  const char *smaller = strstr (result.out, " smaller (");
  ck_assert_msg (smaller != NULL && strstr (smaller, "1 more fits") != NULL, "%s", result.out);
  g_autoptr (SbState) after = load ("fair.stickleback");
  ck_assert (sb_state_equal (before, after));
  g_auto (Result) none = run ("what-if fair.stickleback pip");
  expect_one_line (&none, 2, "fair.stickleback", "pip");
}
END_TEST

START_TEST (test_arrange_tells_what_does_not_fit)
{
  draw_disk ("melon.svg", 300);
  expect_done ("new fair.stickleback --paper=a6");
  expect_done ("add fair.stickleback melon.svg");
  g_auto (Result) result = run ("arrange fair.stickleback --seconds=0.1");
  expect_one_line (&result, 0, "fair.stickleback", "larger than the printable area");
}
END_TEST

static void
expect_start (const char *name, const char *bytes)
{
  g_autofree char *path = in_folder (name);
  g_autofree char *contents = NULL;
  ck_assert (g_file_get_contents (path, &contents, NULL, NULL));
  ck_assert_msg (strncmp (contents, bytes, strlen (bytes)) == 0, "%s does not start with %s", name,
                 bytes);
}

START_TEST (test_export)
{
  make_job ();
  expect_done ("place fair.stickleback seed --at=100mm,100mm");
  expect_done ("export fair.stickleback out.pdf");
  expect_start ("out.pdf", "%PDF-");
  expect_done ("export fair.stickleback out.png --dpi=72 --page=1");
  expect_start ("out.png", "\x89PNG");
  g_autofree char *path = in_folder ("out.png");
  cairo_surface_t *png = cairo_image_surface_create_from_png (path);
  ck_assert_int_eq (cairo_image_surface_get_width (png), 612);
  ck_assert_int_eq (cairo_image_surface_get_height (png), 792);
  cairo_surface_destroy (png);
  expect_done ("export fair.stickleback out.svg --plain");
  expect_start ("out.svg", "<");
}
END_TEST

START_TEST (test_outline)
{
  draw_disk ("seed.svg", 20);
  expect_done ("outline seed.svg out.svg --border=3mm --nook=3mm");
  g_autofree char *path = in_folder ("out.svg");
  g_autofree char *svg = NULL;
  ck_assert (g_file_get_contents (path, &svg, NULL, NULL));
  const char *start = strstr (svg, "<path ");
  ck_assert_ptr_nonnull (start);
  ck_assert_ptr_null (strstr (start + 1, "<path "));

  g_autoptr (GRegex) regex = g_regex_new ("<path [^>]* d=\"([MLCZ0-9., -]*)\"/>", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  ck_assert (g_regex_match (regex, svg, 0, &match));
  g_autofree char *data = g_match_info_fetch (match, 1);
  g_autoptr (SbOutline) outline = sb_outline_from_svg (data, NULL);
  ck_assert_ptr_nonnull (outline);
  /* A disk grown by w has the area pi (R + w)^2 (Steiner); its box says that it is in place. */
  double area = G_PI * 13 * 13;
  ck_assert_double_eq_tol (sb_outline_get_area_mm2 (outline), area, 0.002 * area);
  SbBox box = sb_outline_get_box (outline);
  ck_assert_double_eq_tol (box.x0, -3, 0.05);
  ck_assert_double_eq_tol (box.y1, 23, 0.05);

  /* The user unit is a millimetre: the view is as many units as the size says millimetres. */
  g_autoptr (GRegex) sizes = g_regex_new (
      "width=\"([0-9.]+)mm\" height=\"([0-9.]+)mm\" viewBox=\"\\S+ \\S+ (\\S+) (\\S+)\"", 0, 0,
      NULL);
  g_autoptr (GMatchInfo) size = NULL;
  ck_assert (g_regex_match (sizes, svg, 0, &size));
  g_auto (GStrv) found = g_match_info_fetch_all (size);
  ck_assert_str_eq (found[1], found[3]);
  ck_assert_str_eq (found[2], found[4]);
}
END_TEST

START_TEST (test_help_and_version)
{
  g_auto (Result) overview = run ("--help");
  ck_assert_int_eq (overview.status, 0);
  static const char *const names[] = {"new",      "add",     "place",  "arrange",
                                      "proof",    "figures", "export", "outline",
                                      "printers", "print",   "split"};
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++) {
    ck_assert_ptr_nonnull (strstr (overview.out, names[i]));
    g_auto (Result) help = run ("help %s", names[i]);
    g_auto (Result) option = run ("%s --help", names[i]);
    ck_assert_int_eq (help.status, 0);
    ck_assert_str_eq (help.out, option.out);
    g_autofree char *called = g_strconcat ("stickleback ", names[i], NULL);
    ck_assert_ptr_nonnull (strstr (help.out, called));
  }
  g_auto (Result) version = run ("--version");
  ck_assert_int_eq (version.status, 0);
  ck_assert (g_str_has_prefix (version.out, "Stickleback "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("commands");
  TCase *tcase = tcase_create ("commands");
  tcase_set_timeout (tcase, 120);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_new);
  tcase_add_test (tcase, test_new_does_not_write_over_a_job);
  tcase_add_test (tcase, test_add);
  tcase_add_test (tcase, test_add_sets_the_outline);
  tcase_add_test (tcase, test_add_sets_the_cleanup);
  tcase_add_test (tcase, test_add_snaps_pixel_art);
  tcase_add_test (tcase, test_split);
  tcase_add_test (tcase, test_a_picture_without_size_is_asked_about);
  tcase_add_test (tcase, test_all_pictures_or_none);
  tcase_add_test (tcase, test_place);
  tcase_add_test (tcase, test_place_finds_free_places);
  tcase_add_test (tcase, test_proof_says_which_edge_takes_how_much);
  tcase_add_test (tcase, test_proof_exits_with_nothing_for_a_note);
  tcase_add_test (tcase, test_figures);
  tcase_add_test (tcase, test_arrange);
  tcase_add_test (tcase, test_arrange_by_effort);
  tcase_add_test (tcase, test_what_if);
  tcase_add_test (tcase, test_arrange_tells_what_does_not_fit);
  tcase_add_test (tcase, test_export);
  tcase_add_test (tcase, test_outline);
  tcase_add_test (tcase, test_help_and_version);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
