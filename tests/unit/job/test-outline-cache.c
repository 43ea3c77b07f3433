/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "job/file.h"
#include "job/known-growth.h"
#include "job/outline-cache.h"
#include "make-job.h"
#include "trouble.h"

static char *home;   /* the user's cache */
static char *folder; /* of the entries */

static void
teardown (void)
{
  g_autofree char *ours = g_build_filename (home, "stickleback", NULL);
  sb_remove_tree (ours);
}

static SbDesign *
make_bare (const char *inside)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='20mm' height='15mm' viewBox='0 0 20 15'>"
      "%s</svg>",
      inside);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "bare.svg", NULL);
  ck_assert (picture != NULL);
  return sb_design_new (picture, "bare");
}

/* Two islands and a hole, so that there is something to tell. */
static SbDesign *
make_dumbbell (void)
{
  SbDesign *design =
      make_bare ("<path d='M1 1h6v6h-6z M2 2v2h2v-2z'/><circle cx='15' cy='8' r='4'/>");
  SbBorderParams border = design->border;

  border.width_mm = 1;
  border.keep_holes = TRUE;
  border.nook_mm = 0.5;
  sb_design_set_border (design, &border);
  return design;
}

static void
prepare (SbDesign *design)
{
  g_autoptr (GError) error = NULL;
  ck_assert_msg (sb_design_prepare (design, NULL, &error), "%s", error ? error->message : "");
}

static gboolean
outlines_equal (const SbOutline *a, const SbOutline *b)
{
  if (sb_outline_get_n_rings (a) != sb_outline_get_n_rings (b))
    return FALSE;
  for (guint i = 0; i < sb_outline_get_n_rings (a); i++) {
    const SbRing *p = sb_outline_get_ring (a, i), *q = sb_outline_get_ring (b, i);
    if (p->n_curves != q->n_curves || memcmp (&p->start, &q->start, sizeof p->start) != 0)
      return FALSE;
    for (guint k = 0; k < p->n_curves; k++)
      if (!p->curves[k].straight != !q->curves[k].straight ||
          memcmp (&p->curves[k].c1, &q->curves[k].c1, 3 * sizeof (SbPoint)) != 0)
        return FALSE;
  }
  return TRUE;
}

static gboolean
growths_equal (const SbDesign *a, const SbDesign *b)
{
  return outlines_equal (sb_design_get_outline (a), sb_design_get_outline (b)) &&
         outlines_equal (sb_design_get_artwork (a), sb_design_get_artwork (b)) &&
         outlines_equal (sb_growth_get_grown (a->growth), sb_growth_get_grown (b->growth)) &&
         sb_growth_get_n_islands (a->growth) == sb_growth_get_n_islands (b->growth) &&
         sb_growth_get_bridge_mm (a->growth) == sb_growth_get_bridge_mm (b->growth) &&
         sb_silhouette_get_softness (a->silhouette) == sb_silhouette_get_softness (b->silhouette);
}

/* The path of the one entry there is. */
static char *
find_entry (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  ck_assert (dir != NULL);
  char *path = g_build_filename (folder, g_dir_read_name (dir), NULL);
  ck_assert (g_dir_read_name (dir) == NULL);
  return path;
}

START_TEST (a_hit_is_the_same_to_the_bit)
{
  g_autoptr (SbDesign) slow = make_dumbbell (), fast = make_dumbbell ();

  prepare (slow);
  ck_assert (!sb_outline_cache_take (fast));
  sb_outline_cache_keep (slow);
  ck_assert (sb_outline_cache_take (fast));
  ck_assert (growths_equal (slow, fast));
  ck_assert_uint_eq (sb_growth_get_n_islands (fast->growth), 2);
}
END_TEST

START_TEST (changes_by_hand_are_made_on_a_hit)
{
  g_autoptr (SbDesign) slow = make_dumbbell (), fast = make_dumbbell ();

  prepare (slow);
  SbOutline *grown = sb_growth_get_grown (slow->growth);
  g_autoptr (GArray) points = sb_hand_get_points (NULL, grown);
  SbPoint p = g_array_index (points, SbHandPoint, 0).p;
  g_autoptr (SbHand) hand = NULL;
  ck_assert (sb_hand_move (NULL, grown, 0, (SbPoint){p.x + 0.1, p.y + 0.1}, &hand));
  sb_design_set_hand (slow, hand);
  sb_design_set_hand (fast, hand);
  sb_outline_cache_keep (slow);
  ck_assert (sb_outline_cache_take (fast));
  ck_assert (growths_equal (slow, fast));
  ck_assert (!outlines_equal (sb_design_get_outline (fast), sb_growth_get_grown (fast->growth)));
}
END_TEST

/* The picture is measured then, once for all copies of the design. */
START_TEST (another_border_grows_on_a_hit)
{
  g_autoptr (SbDesign) slow = make_dumbbell (), fast = make_dumbbell ();

  prepare (slow);
  sb_outline_cache_keep (slow);
  ck_assert (sb_outline_cache_take (fast));
  SbBorderParams border = slow->border;
  border.width_mm = 2.2;
  g_autoptr (SbDesign) other = sb_design_copy (fast);
  sb_design_set_border (slow, &border);
  sb_design_set_border (other, &border);
  prepare (slow);
  prepare (other);
  ck_assert (growths_equal (slow, other));
  ck_assert (other->silhouette == fast->silhouette);
}
END_TEST

/* Each setting that takes part in an outline, one at a time, by as little as a number can. */
START_TEST (whatever_else_is_a_miss)
{
  const gsize border_numbers[] = {
      G_STRUCT_OFFSET (SbBorderParams, width_mm), G_STRUCT_OFFSET (SbBorderParams, nook_mm),
      G_STRUCT_OFFSET (SbBorderParams, spike_mm), G_STRUCT_OFFSET (SbBorderParams, corner_mm),
      G_STRUCT_OFFSET (SbBorderParams, tolerance_um)};
  const gsize silhouette_numbers[] = {G_STRUCT_OFFSET (SbSilhouetteParams, threshold),
                                      G_STRUCT_OFFSET (SbSilhouetteParams, speck_mm),
                                      G_STRUCT_OFFSET (SbSilhouetteParams, paper_tolerance)};
  g_autoptr (SbDesign) slow = make_dumbbell ();

  prepare (slow);
  sb_outline_cache_keep (slow);
  for (guint i = 0; i < 14; i++) {
    g_autoptr (SbDesign) other =
        i == 13 ? make_bare ("<circle cx='15' cy='8' r='4'/>") : make_dumbbell ();
    SbBorderParams border = slow->border;
    SbSilhouetteParams silhouette = slow->silhouette_params;
    double *number = i < 5   ? G_STRUCT_MEMBER_P (&border, border_numbers[i])
                     : i < 8 ? G_STRUCT_MEMBER_P (&silhouette, silhouette_numbers[i - 5])
                             : NULL;
    if (number)
      *number = nextafter (*number, 1000);
    border.keep_holes = i != 8;
    border.bridge = i == 9;
    border.shape = i == 10 ? SB_BORDER_HULL : SB_BORDER_GROWN;
    sb_design_set_border (other, &border);
    other->silhouette_params = silhouette; /* its tolerance else follows the clean-up */
    if (i == 11 || i == 12)
      sb_design_set_size (other, i == 11 ? 40 : slow->width_mm, i == 12 ? 40 : slow->height_mm);
    ck_assert_msg (!sb_outline_cache_take (other), "%u", i);
  }
}
END_TEST

/* Fonts change without a trace in the drawing. */
START_TEST (text_is_not_kept)
{
  g_autoptr (SbDesign) design =
      make_bare ("<circle cx='15' cy='8' r='4'/><text x='1' y='9' font-size='6'>a</text>");

  prepare (design);
  sb_outline_cache_keep (design);
  ck_assert_uint_eq (sb_count_files (folder), 0);
}
END_TEST

static void
expect_no_use (const char *path, const char *bytes, gsize length)
{
  g_autoptr (SbDesign) design = make_dumbbell ();

  ck_assert (g_file_set_contents (path, bytes, (gssize)length, NULL));
  ck_assert (!sb_outline_cache_take (design));
  ck_assert (design->silhouette == NULL && design->growth == NULL);
  ck_assert (!g_file_test (path, G_FILE_TEST_EXISTS));
}

START_TEST (a_damaged_entry_is_dropped)
{
  g_autoptr (SbDesign) slow = make_dumbbell ();
  gsize length;
  g_autofree char *bytes = NULL;

  prepare (slow);
  sb_outline_cache_keep (slow);
  g_autofree char *path = find_entry ();
  ck_assert (g_file_get_contents (path, &bytes, &length, NULL));
  for (gsize i = 0; i < length; i += 1 + length / 100) {
    bytes[i] = (char)(bytes[i] ^ 0x10);
    expect_no_use (path, bytes, length);
    bytes[i] = (char)(bytes[i] ^ 0x10);
    expect_no_use (path, bytes, i);
  }
  g_autofree char *longer = g_malloc0 (length + 1);
  memcpy (longer, bytes, length);
  expect_no_use (path, longer, length + 1);
}
END_TEST

/* As another program's, or another version's, would be that came to this name. */
START_TEST (an_entry_of_another_key_is_dropped)
{
  g_autoptr (SbDesign) slow = make_dumbbell ();
  g_auto (SbKnownGrowth) again = {0};
  guint8 key[SB_GROWTH_KEY_BYTES] = {1}, other[SB_GROWTH_KEY_BYTES] = {2};
  gsize length;

  prepare (slow);
  sb_outline_cache_keep (slow);
  g_autofree char *path = find_entry ();
  g_auto (SbKnownGrowth) known = sb_known_growth_of (slow);
  g_autoptr (GBytes) bytes = sb_known_growth_write (&known, key);
  const guint8 *data = g_bytes_get_data (bytes, &length);
  ck_assert (!sb_known_growth_read (&again, data, length, other));
  ck_assert (again.grown == NULL);
  ck_assert (sb_known_growth_read (&again, data, length, key));
  expect_no_use (path, (const char *)data, length);
}
END_TEST

/* With the right checksum, but what no outline is. */
START_TEST (a_forged_entry_is_not_believed)
{
  const guint8 key[SB_GROWTH_KEY_BYTES] = {0};
  const gsize softness = 8 + SB_GROWTH_KEY_BYTES, islands = softness + 16, rings = islands + 4;
  const struct {
    gsize at;
    guint8 value, before; /* `before`, in the byte before it, makes a number infinite */
  } forged[] = {{softness + 7, 0x7f, 0xf0}, {softness + 7, 0xbf, 0}, {islands, 0, 0},
                {islands, 77, 0},           {rings + 3, 0xff, 0},    {rings, 1, 0},
                {rings + 7, 1, 0},          {rings + 15, 0x7f, 0xf0}};
  g_autoptr (SbDesign) slow = make_dumbbell ();

  prepare (slow);
  g_auto (SbKnownGrowth) known = sb_known_growth_of (slow);
  g_autoptr (GBytes) bytes = sb_known_growth_write (&known, key);
  for (guint i = 0; i < G_N_ELEMENTS (forged); i++) {
    gsize length, n = 32;
    g_auto (SbKnownGrowth) again = {0};
    g_autofree guint8 *copy =
        g_memdup2 (g_bytes_get_data (bytes, &length), g_bytes_get_size (bytes));
    g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
    copy[forged[i].at] = forged[i].value;
    if (forged[i].before)
      copy[forged[i].at - 1] = forged[i].before;
    g_checksum_update (sum, copy, (gssize)(length - n));
    g_checksum_get_digest (sum, copy + length - n, &n);
    ck_assert_msg (!sb_known_growth_read (&again, copy, length, key), "%u", i);
    ck_assert (again.grown == NULL && again.artwork == NULL);
  }
}
END_TEST

START_TEST (no_folder_is_no_harm)
{
  g_autoptr (SbDesign) slow = make_dumbbell (), fast = make_dumbbell ();
  g_autofree char *ours = g_build_filename (home, "stickleback", NULL);

  ck_assert (g_file_set_contents (ours, "in the way", -1, NULL));
  prepare (slow);
  sb_outline_cache_keep (slow);
  ck_assert (!sb_outline_cache_take (fast));
  sb_outline_cache_tidy (0);
  ck_assert (g_file_test (ours, G_FILE_TEST_IS_REGULAR));
}
END_TEST

static int
use_read_only (const char *mounted)
{
  g_autoptr (SbDesign) slow = make_dumbbell (), fast = make_dumbbell ();
  g_autoptr (SbDesign) other = make_bare ("<circle cx='15' cy='8' r='4'/>");

  if (!sb_mount_own (mounted, "size=1m"))
    return SB_NOT_PERMITTED;
  if (!sb_design_prepare (slow, NULL, NULL) || !sb_design_prepare (other, NULL, NULL))
    return 1;
  sb_outline_cache_keep (slow);
  if (!sb_remount_read_only (mounted))
    return 2;
  sb_outline_cache_keep (other);
  sb_outline_cache_tidy (0);
  if (sb_count_files (folder) != 1)
    return 3;
  return sb_outline_cache_take (fast) && growths_equal (slow, fast) ? 0 : 4;
}

START_TEST (a_folder_that_cannot_be_written_is_read)
{
  sb_run_in_child ("a read-only cache", use_read_only, home);
}
END_TEST

static void
age (const char *path, int days)
{
  struct timespec times[2] = {{.tv_nsec = UTIME_OMIT}, {.tv_sec = 1700000000 - days * 86400}};
  ck_assert_int_eq (utimensat (AT_FDCWD, path, times, 0), 0);
}

START_TEST (the_longest_unused_go)
{
  g_autoptr (SbDesign) old = make_dumbbell (), again = make_dumbbell ();
  g_autoptr (SbDesign) newer = make_bare ("<circle cx='15' cy='8' r='4'/>");
  GStatBuf st;

  prepare (old);
  prepare (newer);
  sb_outline_cache_keep (old);
  g_autofree char *path = find_entry ();
  ck_assert_int_eq (g_stat (path, &st), 0);
  sb_outline_cache_keep (newer);
  sb_outline_cache_tidy (SB_OUTLINE_CACHE_MOST_BYTES);
  ck_assert_uint_eq (sb_count_files (folder), 2);
  age (path, 30);
  ck_assert (sb_outline_cache_take (again)); /* which makes it the last used */
  sb_outline_cache_tidy (st.st_size + 10);
  ck_assert_uint_eq (sb_count_files (folder), 1);
  ck_assert (g_file_test (path, G_FILE_TEST_EXISTS));
  sb_outline_cache_tidy (0);
  ck_assert_uint_eq (sb_count_files (folder), 0);
}
END_TEST

/* What another program does to the folder meanwhile; its status tells. */
static int
use_much (const SbDesign *slow)
{
  for (int i = 0; i < 300; i++) {
    g_autoptr (SbDesign) fast = make_dumbbell ();
    sb_outline_cache_keep (slow);
    if (sb_outline_cache_take (fast) && !growths_equal (slow, fast))
      return 1;
    if (i % 3 == 0)
      sb_outline_cache_tidy (0);
  }
  return 0;
}

START_TEST (programs_do_not_disturb_each_other)
{
  g_autoptr (SbDesign) slow = make_dumbbell ();
  pid_t pids[3];

  prepare (slow);
  for (guint i = 0; i < G_N_ELEMENTS (pids); i++) {
    fflush (NULL);
    pids[i] = fork ();
    ck_assert_int_ge (pids[i], 0);
    if (pids[i] == 0)
      _exit (use_much (slow));
  }
  for (guint i = 0; i < G_N_ELEMENTS (pids); i++) {
    int status = 0;
    ck_assert_int_eq (waitpid (pids[i], &status, 0), pids[i]);
    ck_assert (WIFEXITED (status) && WEXITSTATUS (status) == 0);
  }
}
END_TEST

START_TEST (a_job_opens_the_same_again)
{
  SbState *state = sb_make_job (3);
  g_autofree char *path = g_build_filename (home, "job.stickleback", NULL);

  ck_assert (sb_job_file_save (state, path, NULL, NULL));
  g_autoptr (SbState) first = sb_job_file_load (path, NULL, NULL);
  ck_assert_uint_eq (sb_count_files (folder), 3);
  g_autoptr (SbState) second = sb_job_file_load (path, NULL, NULL);
  for (guint i = 0; i < 3; i++) {
    ck_assert (growths_equal (state->designs->pdata[i], first->designs->pdata[i]));
    ck_assert (growths_equal (state->designs->pdata[i], second->designs->pdata[i]));
  }
  sb_state_unref (state);
}
END_TEST

int
main (void)
{
  home = g_dir_make_tmp ("stickleback-test-XXXXXX", NULL);
  g_setenv ("XDG_CACHE_HOME", home, TRUE);
  folder = g_build_filename (home, "stickleback", "outlines", NULL);

  Suite *suite = suite_create ("outline-cache");
  TCase *tests = tcase_create ("cache");
  tcase_set_timeout (tests, 60);
  tcase_add_checked_fixture (tests, NULL, teardown);
  tcase_add_test (tests, a_hit_is_the_same_to_the_bit);
  tcase_add_test (tests, changes_by_hand_are_made_on_a_hit);
  tcase_add_test (tests, another_border_grows_on_a_hit);
  tcase_add_test (tests, whatever_else_is_a_miss);
  tcase_add_test (tests, text_is_not_kept);
  tcase_add_test (tests, a_damaged_entry_is_dropped);
  tcase_add_test (tests, an_entry_of_another_key_is_dropped);
  tcase_add_test (tests, a_forged_entry_is_not_believed);
  tcase_add_test (tests, no_folder_is_no_harm);
  tcase_add_test (tests, a_folder_that_cannot_be_written_is_read);
  tcase_add_test (tests, the_longest_unused_go);
  tcase_add_test (tests, programs_do_not_disturb_each_other);
  tcase_add_test (tests, a_job_opens_the_same_again);
  suite_add_tcase (suite, tests);
  int status = sb_run_suite (suite);
  g_free (folder);
  sb_remove_folder (home);
  return status;
}
