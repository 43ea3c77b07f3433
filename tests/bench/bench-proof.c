/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long the proof, the figures and Move all inside take: least of several runs. */
#include "job/edit.h"
#include "proof/proof.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define RUNS 10

/* A wavy blob of 24 x 20 mm, so that outlines have the corners of real stickers. */
static SbDesign *
make_design (void)
{
  const char *svg =
      "<svg xmlns='http://www.w3.org/2000/svg' width='24mm' height='20mm' viewBox='0 0 24 20'>"
      "<path d='M3 10C0 4 6 0 9 3C11 0 15 0 16 4C21 1 25 6 21 10C25 15 19 20 15 17C13 21 8 20 8 "
      "16C3 19 0 14 3 10Z'/></svg>";
  g_autoptr (GBytes) bytes = g_bytes_new_static (svg, strlen (svg));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "blob.svg", &error);
  if (picture == NULL)
    g_error ("%s", error->message);
  SbDesign *design = sb_design_new (picture, "Blob");
  if (!sb_design_prepare (design, NULL, &error))
    g_error ("%s", error->message);
  return design;
}

/* `n` pieces in columns with `step_mm` between centres, turned as the seed says. */
static SbState *
make_job (guint n, double step_mm, sb_um page_mm)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  SbState *state = sb_state_new ("custom", page_mm * 1000, page_mm * 1000);
  guint id;
  SbState *next = sb_edit_add_design (state, make_design (), &id);
  sb_state_unref (state);
  guint columns = (guint)((page_mm - 40) / step_mm);
  g_autofree SbPiece *pieces = g_new0 (SbPiece, n);
  for (guint i = 0; i < n; i++)
    pieces[i] = (SbPiece){.design_id = id,
                          .at = sb_point_round ((SbPoint){25 + step_mm * (i % columns),
                                                          25 + step_mm * (i / columns)}),
                          .turn = g_rand_int_range (rand, 0, 24) * 15000};
  g_autoptr (SbPage) page = sb_page_new (0, pieces, n);
  state = sb_edit_set_pages (next, &page, 1);
  sb_state_unref (next);
  return state;
}

static double
milliseconds_since (gint64 start)
{
  return (double)(g_get_monotonic_time () - start) / 1000;
}

static void
bench_job (const char *name, guint n, double step_mm, sb_um page_mm)
{
  g_autoptr (SbState) state = make_job (n, step_mm, page_mm);
  double proof = INFINITY, figures = INFINITY, spots = INFINITY, move = INFINITY;
  guint found = 0, left = 0;
  for (int i = 0; i < RUNS; i++) {
    SbIBox some[5];
    gint64 start = g_get_monotonic_time ();
    g_autoptr (GPtrArray) findings = sb_proof_run (state, SB_UNIT_MM);
    proof = MIN (proof, milliseconds_since (start));
    found = findings->len;
    start = g_get_monotonic_time ();
    sb_figures_page (state, 0);
    figures = MIN (figures, milliseconds_since (start));
    start = g_get_monotonic_time ();
    sb_figures_free_spots (state, 0, some, G_N_ELEMENTS (some));
    spots = MIN (spots, milliseconds_since (start));
    if (i > 2)
      continue;
    start = g_get_monotonic_time ();
    g_autoptr (SbState) moved = sb_proof_move_all_inside (state);
    move = MIN (move, milliseconds_since (start));
    g_autoptr (GPtrArray) rest = sb_proof_run (moved, SB_UNIT_MM);
    left = rest->len;
  }
  printf ("%s_findings %u count\n", name, found);
  printf ("%s_proof %.2f ms\n", name, proof);
  printf ("%s_figures_with_free_spot %.2f ms\n", name, figures);
  printf ("%s_five_free_spots %.2f ms\n", name, spots);
  printf ("%s_move_all_inside %.2f ms\n", name, move);
  printf ("%s_findings_left %u count\n", name, left);
}

int
main (void)
{
  bench_job ("pieces_60", 60, 32, 330);
  bench_job ("pieces_60_crowded", 60, 26, 330);
  bench_job ("pieces_500", 500, 34, 900);
  bench_job ("pieces_500_crowded", 500, 26, 900);
  return 0;
}
