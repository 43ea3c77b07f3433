/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <archive.h>
#include <archive_entry.h>
#include <glib/gstdio.h>
#include <sys/stat.h>

#include "job/file.h"
#include "job/job-json.h"
#include "job/zip-writer.h"
#include "random-edit.h"
#include "trouble.h"

static char *folder, *path;

static void
setup (void)
{
  folder = sb_make_folder ();
  path = g_build_filename (folder, "fair.stickleback", NULL);
}

static void
teardown (void)
{
  sb_remove_folder (folder);
  g_free (path);
}

static SbState *
make_rich_job (void)
{
  SbState *state = sb_make_job (3);
  const SbDesign *first = state->designs->pdata[0];
  sb_make_piece (&state, first->id, 50, 50);
  sb_make_piece (&state, first->id, 100, 80.123);
  sb_take (&state, sb_edit_add_page (state, 1));
  sb_take (&state, sb_edit_set_printer (state, "shed \"A\"\n"));
  SbPiece piece = {.design_id = first->id, .at = {-5000, 7}, .turn = 359999, .pinned = TRUE};
  sb_take (&state, sb_edit_add_piece (state, 1, piece, NULL));
  SbDesign *changed = sb_design_copy (first);
  sb_design_set_name (changed, "c\xc3\xa9leri \xf0\x9f\x8c\xbf");
  sb_design_set_size (changed, 12.345678901234567, 9.1);
  changed->freebie = TRUE;
  SbBorderParams border = changed->border;
  border.spike_mm = 1e-5;
  border.corner_mm = 1 / 3.0;
  sb_design_set_border (changed, &border);
  changed->guide = sb_guide_for_style (SB_GUIDE_KNIFE);
  changed->bleed_mm = 2.7;
  SbHandChange by_hand[] = {{SB_HAND_MOVED, {0, 4.5}, {-1 / 3.0, 0.25}, 2, 1.5},
                            {SB_HAND_ADDED, {6, -3}, {0, -0.5}, 1, 1},
                            {SB_HAND_REMOVED, {15, 5}, {0, 0}, 0.75, 1}};
  g_autoptr (SbHand) hand = sb_hand_new (by_hand, G_N_ELEMENTS (by_hand));
  sb_design_set_hand (changed, hand);
  ck_assert (sb_design_prepare (changed, NULL, NULL));
  sb_take (&state, sb_edit_replace_design (state, changed));
  return state;
}

static void
save (const SbState *state)
{
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_job_file_save (state, path, NULL, &error), "%s", error ? error->message : "");
}

static SbState *
load (void)
{
  g_autoptr (GError) error = NULL;
  SbState *state = sb_job_file_load (path, NULL, &error);
  ck_assert_msg (state != NULL, "%s", error ? error->message : "");
  return state;
}

static GBytes *
read_file (void)
{
  char *contents;
  gsize length;
  ck_assert (g_file_get_contents (path, &contents, &length, NULL));
  return g_bytes_new_take (contents, length);
}

static void
expect_error (SbFileError code, const char *reason)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) state = sb_job_file_load (path, NULL, &error);
  ck_assert_msg (state == NULL, "read although: %s", reason);
  ck_assert_msg (g_error_matches (error, SB_FILE_ERROR, (int)code), "%s (%s)", error->message,
                 reason);
  ck_assert_msg (g_str_has_prefix (error->message, path), "“%s” does not name the file",
                 error->message);
  ck_assert_msg (strstr (error->message, reason) != NULL, "“%s” does not say “%s”", error->message,
                 reason);
  ck_assert_msg (strchr (error->message, '\n') == NULL, "more than one line");
}

START_TEST (test_round_trip)
{
  g_autoptr (SbState) state = make_rich_job ();
  save (state);
  g_autoptr (GBytes) once = read_file ();
  g_autoptr (SbState) read = load ();
  ck_assert (sb_state_equal (state, read));
  ck_assert_ptr_nonnull (((SbDesign *)read->designs->pdata[0])->growth);
  save (read);
  g_autoptr (GBytes) twice = read_file ();
  ck_assert_msg (g_bytes_equal (once, twice), "write, read, write: not the same bytes");
}
END_TEST

/* A red square on white. */
static SbDesign *
make_scan (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 60, 40);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0.8, 0.1, 0.1);
  cairo_rectangle (cr, 15, 10, 30, 20);
  cairo_fill (cr);
  cairo_destroy (cr);
  g_autofree char *png = g_build_filename (folder, "scan.png", NULL);
  ck_assert_int_eq (cairo_surface_write_to_png (surface, png), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  g_autoptr (SbPicture) picture = sb_picture_load (png, NULL);
  ck_assert_ptr_nonnull (picture);
  SbDesign *design = sb_design_new (picture, "scan");
  ck_assert (sb_design_prepare (design, NULL, NULL));
  return design;
}

START_TEST (test_the_cleanup_is_kept)
{
  g_autoptr (SbState) state = sb_make_job (1);
  SbDesign *scan = make_scan ();
  ck_assert_msg (scan->cleanup.remove_paper, "the default of an opaque picture");
  SbCleanup recipe = scan->cleanup;
  recipe.tolerance = 100 / 9.0;
  recipe.paper_picked = TRUE;
  recipe.paper[0] = 250;
  recipe.paper[2] = 7;
  recipe.adjust.warmth = -12.5;
  SbDesign *changed = sb_design_copy (scan);
  sb_design_set_cleanup (changed, &recipe);
  ck_assert_ptr_null (changed->silhouette);
  ck_assert (!sb_design_equal (scan, changed));
  ck_assert (sb_design_prepare (changed, NULL, NULL));
  sb_take (&state, sb_edit_add_design (state, scan, NULL));
  sb_take (&state, sb_edit_add_design (state, changed, NULL));
  save (state);

  g_autoptr (SbState) read = load ();
  ck_assert (sb_state_equal (state, read));
  const SbDesign *of_seed = read->designs->pdata[0], *plain = read->designs->pdata[1],
                 *of_recipe = read->designs->pdata[2];
  ck_assert (!sb_picture_is_cleaned (of_seed->picture));
  ck_assert (sb_cleanup_equal (&of_recipe->cleanup, &recipe));
  ck_assert_str_eq (sb_picture_get_sha256 (plain->picture),
                    sb_picture_get_sha256 (of_recipe->picture));
  ck_assert_str_ne (sb_picture_get_key (plain->picture), sb_picture_get_key (of_recipe->picture));
}
END_TEST

START_TEST (test_random_jobs_round_trip)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  g_autoptr (SbState) state = sb_make_job (2);
  for (int i = 0; i < 40; i++) {
    for (int k = 0; k < 20; k++)
      sb_take (&state, sb_random_edit (state, rand));
    save (state);
    g_autoptr (SbState) read = load ();
    ck_assert_msg (sb_state_equal (state, read), "after %d edits", 20 * (i + 1));
  }
}
END_TEST

/* The type can be told from the first bytes: OpenDocument 1.3 part 2, section 3.3. */
START_TEST (test_the_type_stands_at_the_start)
{
  g_autoptr (SbState) state = make_rich_job ();
  save (state);
  g_autoptr (GBytes) bytes = read_file ();
  const char *data = g_bytes_get_data (bytes, NULL);
  ck_assert_mem_eq (data, "PK\003\004", 4);
  ck_assert_mem_eq (data + 30, "mimetype" SB_JOB_MIME, strlen ("mimetype" SB_JOB_MIME));
}
END_TEST

/* libarchive's streaming reader, which goes by the local headers that loading does not look at. */
START_TEST (test_another_reader_reads_the_container)
{
  g_autoptr (SbState) state = make_rich_job ();
  g_autoptr (GBytes) thumbnail = g_bytes_new_static ("not really a PNG", 16);
  ck_assert (sb_job_file_save (state, path, thumbnail, NULL));
  struct archive *archive = archive_read_new ();
  archive_read_support_format_zip_streamable (archive);
  ck_assert_int_eq (archive_read_open_filename (archive, path, 4096), ARCHIVE_OK);
  struct archive_entry *entry;
  g_autoptr (GString) names = g_string_new (NULL);
  guint n_artwork = 0;
  while (archive_read_next_header (archive, &entry) == ARCHIVE_OK) {
    const char *name = archive_entry_pathname (entry);
    if (g_str_has_prefix (name, "artwork/"))
      n_artwork++;
    else
      g_string_append_printf (names, "%s ", name);
    ck_assert_int_eq (archive_read_data_skip (archive), ARCHIVE_OK);
  }
  ck_assert_msg (archive_errno (archive) == 0, "%s", archive_error_string (archive));
  ck_assert_str_eq (names->str, "mimetype job.json thumbnail.png ");
  ck_assert_uint_eq (n_artwork, 3);
  archive_read_free (archive);
}
END_TEST

START_TEST (test_artwork_is_kept_once)
{
  g_autoptr (SbState) state = sb_make_job (0);
  for (int i = 0; i < 5; i++)
    sb_take (&state, sb_edit_add_design (state, sb_make_design ("bean", 9, 20, 15), NULL));
  save (state);
  g_autoptr (SbState) read = load ();
  const SbDesign *first = read->designs->pdata[0];
  for (guint i = 1; i < read->designs->len; i++)
    ck_assert_ptr_eq (((SbDesign *)read->designs->pdata[i])->picture, first->picture);
  GStatBuf st;
  g_stat (path, &st);
  gsize artwork = g_bytes_get_size (sb_picture_get_bytes (first->picture));
  ck_assert_msg ((gsize)st.st_size < 5 * artwork + 3500, "%ld bytes", (long)st.st_size);
}
END_TEST

/* Writing a container by hand: `json` with the artwork of `state`. */
static void
write_container (const SbState *state, const char *json, gsize length)
{
  SbSafeFile *file = sb_safe_file_open (path, NULL);
  SbZipWriter *zip = sb_zip_writer_new (file);
  sb_zip_writer_add (zip, "mimetype", SB_JOB_MIME, strlen (SB_JOB_MIME));
  sb_zip_writer_add (zip, "job.json", json, length);
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    g_autofree char *artwork = sb_artwork_get_name (design->picture);
    g_autofree char *name = g_strconcat ("artwork/", artwork, NULL);
    GBytes *bytes = sb_picture_get_bytes (design->picture);
    sb_zip_writer_add (zip, name, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  }
  sb_zip_writer_end (zip);
  ck_assert (sb_safe_file_commit (file, NULL));
}

/* Replaces the first `from` in the job's text. */
static void
write_changed (const SbState *state, const char *from, const char *to)
{
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  char *at = strstr (json, from);
  ck_assert_msg (at != NULL, "no %s in %s", from, json);
  g_autofree char *before = g_strndup (json, (gsize)(at - json));
  g_autofree char *changed = g_strconcat (before, to, at + strlen (from), NULL);
  write_container (state, changed, strlen (changed));
}

/* White stock is written as jobs were before stock had a colour. */
START_TEST (test_the_stocks_colour_is_kept)
{
  g_autoptr (SbState) white = sb_make_job (1);
  SbStock kraft = white->stock;
  kraft.rgb = 0xc2996b;
  g_autoptr (SbState) state = sb_edit_set_stock (white, &kraft);
  g_autofree char *json = sb_job_json_write (white, NULL);
  ck_assert_ptr_null (strstr (json, "\"rgb\""));
  ck_assert (sb_job_file_save (state, path, NULL, NULL));
  g_autoptr (SbState) loaded = sb_job_file_load (path, NULL, NULL);
  ck_assert_uint_eq (loaded->stock.rgb, 0xc2996b);
  write_changed (state, ",\"rgb\":12753259", "");
  g_autoptr (SbState) older = sb_job_file_load (path, NULL, NULL);
  ck_assert_ptr_nonnull (older);
  ck_assert_uint_eq (older->stock.rgb, 0xffffff);
  write_changed (state, "\"rgb\":12753259", "\"rgb\":16777216");
  expect_error (SB_FILE_ERROR_FORMAT, "rgb");
}
END_TEST

START_TEST (test_hostile_values)
{
  static const struct {
    const char *from, *to, *reason;
  } cases[] = {
      {"\"gap_um\":4000", "\"gap_um\":-1", "gap_um"},
      {"\"gap_um\":4000", "\"gap_um\":1e300", "gap_um"},
      {"\"gap_um\":4000", "\"gap_um\":1e999", "gap_um"},
      {"\"gap_um\":4000", "\"gap_um\":NaN", ""},
      {"\"gap_um\":4000", "\"gap_um\":4000.5", "whole number"},
      {"\"gap_um\":4000", "\"gap_um\":\"4000\"", "not a number"},
      {"\"gap_um\":4000", "\"gap_um\":null", "gap_um"},
      {"\"gap_um\":4000", "\"gap_um\":99999999999999999999999999", "gap_um"},
      {"\"gap_um\":4000,", "", "missing"},
      {"\"width_um\":210000", "\"width_um\":0", "width_um"},
      {"\"width_um\":210000", "\"width_um\":2147483647", "width_um"},
      {"\"next_id\":", "\"next_id\":4294967295,\"x\":", "next_id"},
      {"\"paper\":{", "\"paper\":[],\"x\":{", "not an object"},
      {"\"designs\":[", "\"designs\":3,\"x\":[", "not a list"},
      {"\"designs\":[", "\"designs\":[7,", "not an object"},
      {"\"pages\":[", "\"pages\":[],\"x\":[", "no page"},
      {"\"shape\":\"grown\"", "\"shape\":\"star\"", "star"},
      {"\"turning\":\"any\"", "\"turning\":0", "not a text"},
      {"\"freebie\":false", "\"freebie\":0", "neither true nor false"},
      {"\"bleed_mm\":0.0", "\"bleed_mm\":5.1", "bleed_mm"},
      {"\"bleed_mm\":0.0", "\"bleed_mm\":-0.1", "bleed_mm"},
      {"\"wanted\":1", "\"wanted\":10000", "wanted"},
      {"\"width_mm\":20.0", "\"width_mm\":-20", "width_mm"},
      {"\"width_mm\":20.0", "\"width_mm\":1e-300", "width_mm"},
      {"\"id\":2", "\"id\":0", "\"id\""},
      {"\"id\":2", "\"id\":3", "twice"},
      {"\"name\":\"seed 1\"", "\"name\":\"seed 2\"", "seed 2"},
      {"\"design\":2", "\"design\":4000", "not there"},
      {"\"design\":2", "\"design\":1", "not there"},
      {"\"x_um\":50000", "\"x_um\":5000001", "x_um"},
      {"\"turn_millidegrees\":0", "\"turn_millidegrees\":360000", "turn"},
      {"\"artwork\":\"", "\"artwork\":\"../../", "not the name of artwork"},
      {"\"artwork\":\"", "\"artwork\":\"\",\"x\":\"", "not the name of artwork"},
      {"\"artwork\":\"",
       "\"artwork\":\"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"
       "aa.svg\",\"x\":\"",
       "missing"},
      {"{\"format\":1", "{\"format\":0", "format"},
      {"{\"format\":1,", "{", "format"},
      {"{\"format\":1", "[{\"format\":1", ""},
      {"{\"format\":1", "{\"x\":\"\xff\",\"format\":1", "UTF-8"},
  };
  g_autoptr (SbState) state = sb_make_job (3);
  sb_make_piece (&state, ((SbDesign *)state->designs->pdata[0])->id, 50, 50);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *reason = g_strdup (cases[i].reason);
    g_strdelimit (reason, "\"", ' ');
    write_changed (state, cases[i].from, cases[i].to);
    expect_error (SB_FILE_ERROR_FORMAT, g_strstrip (reason));
  }
}
END_TEST

START_TEST (test_hostile_changes_by_hand)
{
  static const struct {
    const char *from, *to, *reason;
  } cases[] = {
      {"\"by_hand\":[", "\"by_hand\":7,\"x\":[", "not a list"},
      {"\"by_hand\":[", "\"by_hand\":[8,", "not an object"},
      {"\"kind\":\"moved\"", "\"kind\":\"eaten\"", "eaten"},
      {"\"before_mm\":2.0", "\"before_mm\":-1", "before_mm"},
      {"\"before_mm\":2.0,", "", "missing"},
      {"\"by_y_mm\":0.25", "\"by_y_mm\":1e300", "by_y_mm"},
  };
  g_autoptr (SbState) state = make_rich_job ();
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    write_changed (state, cases[i].from, cases[i].to);
    expect_error (SB_FILE_ERROR_FORMAT, cases[i].reason);
  }
}
END_TEST

START_TEST (test_a_newer_format_is_told_apart)
{
  g_autoptr (SbState) state = sb_make_job (1);
  write_changed (state, "{\"format\":1", "{\"format\":2");
  expect_error (SB_FILE_ERROR_NEWER, "newer version");
}
END_TEST

START_TEST (test_deep_nesting_is_refused)
{
  g_autoptr (SbState) state = sb_make_job (0);
  g_autofree char *deep = g_strnfill (4000000, '[');
  g_autofree char *to = g_strdup_printf ("{\"x\":%s,\"format\":1", deep);
  write_changed (state, "{\"format\":1", to);
  expect_error (SB_FILE_ERROR_FORMAT, "deep");
}
END_TEST

static const char *
member_text (JsonObject *object, const char *member)
{
  return object != NULL ? json_object_get_string_member_with_default (object, member, "") : "";
}

START_TEST (test_fields_of_a_newer_version_survive)
{
  g_autoptr (SbState) state = sb_make_job (2);
  guint first = ((SbDesign *)state->designs->pdata[0])->id;
  sb_make_piece (&state, first, 50, 50);
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  g_autoptr (GString) text = g_string_new (json);
  g_string_replace (text, "{\"format\":1", "{\"new\":\"job\",\"format\":1", 1);
  g_string_replace (text, "\"paper\":{", "\"paper\":{\"new\":\"paper\",", 1);
  g_string_replace (text, "\"border\":{", "\"border\":{\"new\":{\"deep\":[1,{\"a\":null}]},", 1);
  g_string_replace (text, "\"wanted\":1", "\"wanted\":1,\"new\":\"design\"", 1);
  g_string_replace (text, "\"pinned\":", "\"new\":\"piece\",\"pinned\":", 1);
  g_string_replace (text, "\"pieces\":[", "\"new\":\"page\",\"pieces\":[", 1);
  write_container (state, text->str, text->len);

  g_autoptr (SbState) read = load ();
  ck_assert_str_eq (member_text (read->extra, "new"), "job");
  ck_assert_str_eq (member_text (((SbDesign *)read->designs->pdata[0])->extra, "new"), "design");
  ck_assert_ptr_null (((SbDesign *)read->designs->pdata[1])->extra);
  ck_assert_str_eq (member_text (sb_state_get_page (read, 0)->extra, "new"), "page");
  ck_assert (!sb_state_equal (read, state));

  /* Through edits of everything that holds them, and two more round trips. */
  SbDesign *design = sb_design_copy (read->designs->pdata[0]);
  design->wanted = 12;
  sb_take (&read, sb_edit_replace_design (read, design));
  SbPiece piece = sb_state_get_page (read, 0)->pieces[0];
  piece.turn = 45000;
  sb_take (&read, sb_edit_set_pieces (read, &piece, 1));
  sb_take (&read, sb_edit_set_gap (read, 3000));
  save (read);
  g_autoptr (SbState) again = load ();
  ck_assert (sb_state_equal (read, again));
  g_autofree char *written = sb_job_json_write (again, &length);
  static const char *const kept[] = {"\"new\":\"job\"",    "\"new\":\"paper\"",
                                     "\"new\":\"design\"", "\"new\":{\"deep\":[1,{\"a\":null}]}",
                                     "\"new\":\"piece\"",  "\"new\":\"page\""};
  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    ck_assert_msg (strstr (written, kept[i]) != NULL, "%s is lost: %s", kept[i], written);
  ck_assert_ptr_nonnull (strstr (written, "\"wanted\":12"));
}
END_TEST

START_TEST (test_damaged_artwork_is_told)
{
  g_autoptr (SbState) state = sb_make_job (1);
  save (state);
  g_autoptr (GBytes) bytes = read_file ();
  gsize length;
  const guint8 *data = g_bytes_get_data (bytes, &length);
  g_autofree guint8 *changed = g_memdup2 (data, length);
  guint8 *fill = memmem (changed, length, "fill='#", 7);
  ck_assert_ptr_nonnull (fill);
  fill[8] ^= 1;
  ck_assert (g_file_set_contents (path, (char *)changed, (gssize)length, NULL));
  expect_error (SB_FILE_ERROR_FORMAT, "damaged");

  /* The same with the container's own sum made right: now only the name tells. */
  g_autofree char *name = sb_artwork_get_name (((SbDesign *)state->designs->pdata[0])->picture);
  g_autofree char *entry = g_strconcat ("artwork/", name, NULL);
  gsize json_length;
  g_autofree char *json = sb_job_json_write (state, &json_length);
  g_autoptr (SbPicture) other = sb_make_seed (0xabcdef, 20, 15);
  GBytes *wrong = sb_picture_get_bytes (other);
  SbSafeFile *file = sb_safe_file_open (path, NULL);
  SbZipWriter *zip = sb_zip_writer_new (file);
  sb_zip_writer_add (zip, "mimetype", SB_JOB_MIME, strlen (SB_JOB_MIME));
  sb_zip_writer_add (zip, "job.json", json, json_length);
  sb_zip_writer_add (zip, entry, g_bytes_get_data (wrong, NULL), g_bytes_get_size (wrong));
  sb_zip_writer_end (zip);
  ck_assert (sb_safe_file_commit (file, NULL));
  expect_error (SB_FILE_ERROR_FORMAT, "damaged");
}
END_TEST

START_TEST (test_cut_short_anywhere)
{
  g_autoptr (SbState) state = make_rich_job ();
  save (state);
  g_autoptr (GBytes) bytes = read_file ();
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  for (gsize n = 0; n < length; n += 1 + n / 40) {
    ck_assert (g_file_set_contents (path, data, (gssize)n, NULL));
    expect_error (SB_FILE_ERROR_FORMAT, "");
  }
}
END_TEST

START_TEST (test_what_is_no_job)
{
  ck_assert (g_file_set_contents (path, "Radish & Rue", -1, NULL));
  expect_error (SB_FILE_ERROR_FORMAT, "not a job");
  g_remove (path);
  expect_error (SB_FILE_ERROR_READ, "No such file");
  ck_assert_int_eq (mkfifo (path, 0600), 0);
  expect_error (SB_FILE_ERROR_READ, "");
  g_remove (path);
  ck_assert_int_eq (g_mkdir (path, 0755), 0);
  expect_error (SB_FILE_ERROR_READ, "directory");
}
END_TEST

static void
add_zip_entry (struct archive *archive, const char *name, const void *data, gsize length)
{
  struct archive_entry *entry = archive_entry_new ();
  archive_entry_set_pathname (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_size (entry, (la_int64_t)length);
  archive_write_header (archive, entry);
  archive_write_data (archive, data, length);
  archive_entry_free (entry);
}

/* A container packed by libarchive. */
static struct archive *
open_packed (void)
{
  struct archive *archive = archive_write_new ();
  archive_write_set_format_zip (archive);
  ck_assert_int_eq (archive_write_open_filename (archive, path), ARCHIVE_OK);
  add_zip_entry (archive, "mimetype", SB_JOB_MIME, strlen (SB_JOB_MIME));
  return archive;
}

START_TEST (test_a_container_packed_anew_is_read)
{
  g_autoptr (SbState) state = sb_make_job (2);
  struct archive *archive = open_packed ();
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    g_autofree char *artwork = sb_artwork_get_name (design->picture);
    g_autofree char *name = g_strconcat ("artwork/", artwork, NULL);
    GBytes *bytes = sb_picture_get_bytes (design->picture);
    add_zip_entry (archive, name, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  }
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  add_zip_entry (archive, "job.json", json, length);
  add_zip_entry (archive, "notes/for-later.txt", "x", 1);
  archive_write_free (archive);
  g_autoptr (SbState) read = load ();
  ck_assert (sb_state_equal (state, read));
}
END_TEST

START_TEST (test_a_bomb_is_refused)
{
  const gsize size = 100 * 1024 * 1024;
  g_autofree char *nothing = g_malloc0 (size);
  struct archive *archive = open_packed ();
  add_zip_entry (archive, "artwork/bomb.svg", nothing, size);
  archive_write_free (archive);
  GStatBuf st;
  g_stat (path, &st);
  ck_assert_int_lt (st.st_size, 200000);
  expect_error (SB_FILE_ERROR_LIMIT, "larger");

  archive = open_packed ();
  add_zip_entry (archive, "job.json", nothing, SB_JOB_MOST_JSON + 1);
  archive_write_free (archive);
  expect_error (SB_FILE_ERROR_LIMIT, "larger");
}
END_TEST

START_TEST (test_many_entries_are_refused)
{
  struct archive *archive = open_packed ();
  for (int i = 0; i < 20000; i++) {
    char name[32];
    g_snprintf (name, sizeof name, "x/%d", i);
    add_zip_entry (archive, name, "", 0);
  }
  archive_write_free (archive);
  expect_error (SB_FILE_ERROR_LIMIT, "larger");
}
END_TEST

START_TEST (test_an_entry_twice_is_refused)
{
  struct archive *archive = open_packed ();
  add_zip_entry (archive, "job.json", "{}", 2);
  add_zip_entry (archive, "job.json", "{}", 2);
  archive_write_free (archive);
  expect_error (SB_FILE_ERROR_FORMAT, "twice");
}
END_TEST

START_TEST (test_nothing_is_written_that_could_not_be_read)
{
  g_autoptr (SbState) state = make_rich_job ();
  save (state);
  g_autofree SbPiece *pieces = g_new0 (SbPiece, SB_JOB_MOST_PIECES + 1);
  for (guint i = 0; i <= SB_JOB_MOST_PIECES; i++)
    pieces[i].design_id = ((SbDesign *)state->designs->pdata[0])->id;
  g_autoptr (SbPage) page = sb_page_new (0, pieces, SB_JOB_MOST_PIECES + 1);
  g_autoptr (SbState) crowded = sb_edit_set_pages (state, &page, 1);
  g_autoptr (GError) error = NULL;
  ck_assert (!sb_job_file_save (crowded, path, NULL, &error));
  ck_assert (g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_LIMIT));
  g_autoptr (SbState) still = load ();
  ck_assert (sb_state_equal (still, state));
}
END_TEST

START_TEST (test_loading_can_be_cancelled)
{
  g_autoptr (SbState) state = make_rich_job ();
  save (state);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_cancellable_cancel (cancellable);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sb_job_file_load (path, cancellable, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

static int
save_on_a_full_disk (const char *where)
{
  if (!sb_mount_own (where, "size=64k"))
    return SB_NOT_PERMITTED;
  g_autoptr (SbState) state = sb_make_job (1);
  if (!sb_job_file_save (state, path, NULL, NULL))
    return 1;
  g_autoptr (GBytes) old = read_file ();
  g_autofree char *filler_path = g_build_filename (where, "filler", NULL);
  g_autofree char *filler = g_strnfill (4096 * 12, 'x');
  if (!g_file_set_contents (filler_path, filler, 4096 * 12, NULL))
    return 2;
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  g_autoptr (SbState) larger = sb_state_ref (state);
  for (int i = 0; i < 400; i++)
    sb_take (&larger, sb_edit_add_piece (larger, 0, sb_random_piece (larger, rand), NULL));
  g_autoptr (GError) error = NULL;
  if (sb_job_file_save (larger, path, NULL, &error))
    return 3;
  if (!g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE))
    return 4;
  g_autoptr (GBytes) still = read_file ();
  return g_bytes_equal (old, still) && sb_count_files (where) == 2 ? 0 : 5;
}

START_TEST (test_a_full_disk_keeps_the_job_that_was_there)
{
  sb_run_in_child ("full disk", save_on_a_full_disk, folder);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("file");
  TCase *tcase = tcase_create ("file");
  tcase_set_timeout (tcase, 60);
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, test_round_trip);
  tcase_add_test (tcase, test_the_cleanup_is_kept);
  tcase_add_test (tcase, test_random_jobs_round_trip);
  tcase_add_test (tcase, test_the_type_stands_at_the_start);
  tcase_add_test (tcase, test_another_reader_reads_the_container);
  tcase_add_test (tcase, test_artwork_is_kept_once);
  tcase_add_test (tcase, test_the_stocks_colour_is_kept);
  tcase_add_test (tcase, test_hostile_values);
  tcase_add_test (tcase, test_hostile_changes_by_hand);
  tcase_add_test (tcase, test_a_newer_format_is_told_apart);
  tcase_add_test (tcase, test_deep_nesting_is_refused);
  tcase_add_test (tcase, test_fields_of_a_newer_version_survive);
  tcase_add_test (tcase, test_damaged_artwork_is_told);
  tcase_add_test (tcase, test_cut_short_anywhere);
  tcase_add_test (tcase, test_what_is_no_job);
  tcase_add_test (tcase, test_a_container_packed_anew_is_read);
  tcase_add_test (tcase, test_a_bomb_is_refused);
  tcase_add_test (tcase, test_many_entries_are_refused);
  tcase_add_test (tcase, test_an_entry_twice_is_refused);
  tcase_add_test (tcase, test_nothing_is_written_that_could_not_be_read);
  tcase_add_test (tcase, test_loading_can_be_cancelled);
  tcase_add_test (tcase, test_a_full_disk_keeps_the_job_that_was_there);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
