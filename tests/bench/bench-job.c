/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long a job of 1,000 pieces takes to write, to keep for recovery, to edit and to read: least
 * of several runs. */
#include "job/edit.h"
#include "job/file.h"
#include "job/job-json.h"
#include "job/recovery.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#define RUNS 10
#define N_DESIGNS 12
#define N_PIECES 1000

static SbDesign *
make_design (guint i)
{
  g_autofree char *svg = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='24mm' height='20mm' viewBox='0 0 24 20'>"
      "<path fill='#%06x' d='M3 10C0 4 6 0 9 3C11 0 15 0 16 4C21 1 25 6 21 10C25 15 19 20 15 17C13 "
      "21 8 20 8 16C3 19 0 14 3 10Z'/></svg>",
      i);
  g_autoptr (GBytes) bytes = g_bytes_new (svg, strlen (svg));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "blob.svg", NULL);
  SbDesign *design = sb_design_new (picture, "Blob");
  g_autoptr (GError) error = NULL;
  if (!sb_design_prepare (design, NULL, &error))
    g_error ("%s", error->message);
  return design;
}

static SbState *
make_job (void)
{
  g_autoptr (SbState) state = sb_state_new ("iso_a4_210x297mm", 210000, 297000);
  guint ids[N_DESIGNS];
  for (guint i = 0; i < N_DESIGNS; i++) {
    SbState *next = sb_edit_add_design (state, make_design (i), &ids[i]);
    sb_state_unref (state);
    state = next;
  }
  static SbPiece pieces[N_PIECES];
  for (int i = 0; i < N_PIECES; i++)
    pieces[i] =
        (SbPiece){.design_id = ids[i % N_DESIGNS], .at = {i * 200, i * 290}, .turn = i * 360};
  g_autoptr (SbPage) page = sb_page_new (0, pieces, N_PIECES);
  return sb_edit_set_pages (state, &page, 1);
}

typedef struct {
  SbState *state;
  char *path;
  SbRecovery *recovery;
} Scene;

static void
save (Scene *scene)
{
  if (!sb_job_file_save (scene->state, scene->path, NULL, NULL))
    g_error ("not saved");
}

static void
load (Scene *scene)
{
  sb_state_unref (sb_job_file_load (scene->path, NULL, NULL));
}

static void
keep (Scene *scene)
{
  if (!sb_recovery_save (scene->recovery, scene->state, NULL))
    g_error ("not kept");
}

static void
write_text (Scene *scene)
{
  gsize length;
  g_free (sb_job_json_write (scene->state, &length));
}

static void
move_all (Scene *scene)
{
  const SbPage *page = sb_state_get_page (scene->state, 0);
  g_autofree SbPiece *pieces = g_memdup2 (page->pieces, page->n_pieces * sizeof (SbPiece));
  for (guint i = 0; i < page->n_pieces; i++)
    pieces[i].at.x++;
  sb_state_unref (sb_edit_set_pieces (scene->state, pieces, page->n_pieces));
}

static void
measure (const char *name, void (*part) (Scene *), Scene *scene)
{
  double least = G_MAXDOUBLE;
  for (int i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time ();
    part (scene);
    least = MIN (least, (double)(g_get_monotonic_time () - start) / 1000);
  }
  printf ("%s %.3f ms\n", name, least);
}

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("stickleback-bench-XXXXXX", NULL);
  g_setenv ("STICKLEBACK_STATE_DIR", folder, TRUE);
  g_autofree char *path = g_build_filename (folder, "bench.stickleback", NULL);
  g_autoptr (SbState) state = make_job ();
  g_autoptr (SbRecovery) recovery = sb_recovery_new (path);
  Scene scene = {state, path, recovery};
  measure ("job-json", write_text, &scene);
  measure ("job-save", save, &scene);
  measure ("job-load", load, &scene);
  measure ("job-keep", keep, &scene);
  measure ("job-move-all", move_all, &scene);
  sb_recovery_clear (recovery);
  g_unlink (path);
  g_autofree char *kept = g_build_filename (folder, "stickleback", "recovery", NULL);
  g_autofree char *outer = g_build_filename (folder, "stickleback", NULL);
  g_rmdir (kept);
  g_rmdir (outer);
  g_rmdir (folder);
  return 0;
}
