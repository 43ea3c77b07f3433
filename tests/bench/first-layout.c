/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long Arrange takes to its first valid layout, for a job of 60 different designs and for the
 * jobs named, bare and as they lie; and how long their gaps take to fill. One thread does both;
 * least processor time of several runs:
 *
 *   bench-first-layout [JOB...]
 */
#include <stdio.h>

#include "clock.h"
#include "job/edit.h"
#include "job/file.h"
#include "packing/arrange.h"
#include "packing/random.h"

#define RUNS 10
#define N_DESIGNS 60

static SbDesign *
make_design (guint i, SbRandom *random)
{
  g_autofree char *text = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='30mm' viewBox='0 0 40 30'>"
      "<path d='M20 0 C45 %u 45 30 20 30 C%u 20 0 25 0 12 C0 2 8 0 20 0 Z'/></svg>",
      sb_random_below (random, 10), 5 + sb_random_below (random, 25));
  g_autofree char *name = g_strdup_printf ("seed %u", i + 1);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "seed.svg", &error);
  SbDesign *design = picture != NULL ? sb_design_new (picture, name) : NULL;
  if (design == NULL)
    g_error ("%s", error->message);
  double size = 14 + sb_random_below (random, 30);
  sb_design_set_size (design, size, size * 0.75);
  design->wanted = 1;
  design->turning = SB_TURNING_ANY;
  if (!sb_design_prepare (design, NULL, &error))
    g_error ("%s", error->message);
  return design;
}

static void
take (SbState **state, SbState *next)
{
  sb_state_unref (*state);
  *state = next;
}

static SbState *
make_mixed (void)
{
  SbRandom random = sb_random_stream (60, 0);
  SbState *state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  take (&state, sb_edit_set_gap (state, 2000));
  for (guint i = 0; i < N_DESIGNS; i++) {
    guint id;
    take (&state, sb_edit_add_design (state, make_design (i, &random), &id));
  }
  return state;
}

static SbState *
take_all_away (const SbState *state)
{
  SbState *bare = sb_state_ref ((SbState *)state);
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    for (guint i = 0; i < page->n_pieces; i++)
      take (&bare, sb_edit_remove_pieces (bare, &page->pieces[i].id, 1));
  }
  return bare;
}

/* "Enough" to the first layout there is. */
static gboolean
enough (SbState *better, double fraction, gpointer data)
{
  return FALSE;
}

static void
measure (const char *name, const char *how, const SbState *state, gboolean fill)
{
  double first = G_MAXDOUBLE, filled = G_MAXDOUBLE;
  SbArrangeParams params = sb_arrange_params_default ();
  for (guint run = 0; run < RUNS; run++) {
    double begun = read_cpu_ms ();
    g_autoptr (SbState) arranged = sb_arrange (state, &params, enough, NULL, NULL, NULL, NULL);
    first = MIN (first, read_cpu_ms () - begun);
    begun = read_cpu_ms ();
    g_autoptr (SbState) full = sb_fill_gaps (arranged, &params, NULL, NULL, NULL);
    filled = MIN (filled, read_cpu_ms () - begun);
  }
  printf ("first-layout-%s%s %.1f ms\n", name, how, first);
  if (fill)
    printf ("fill-gaps-%s%s %.1f ms\n", name, how, filled);
}

int
main (int argc, char **argv)
{
  g_autoptr (SbState) mixed = make_mixed ();
  measure ("mixed60", "", mixed, FALSE);
  for (int i = 1; i < argc; i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SbState) state = sb_job_file_load (argv[i], NULL, &error);
    if (state == NULL)
      g_error ("%s", error->message);
    g_autofree char *base = g_path_get_basename (argv[i]);
    g_autofree char *name = g_strndup (base, strcspn (base, "."));
    g_autoptr (SbState) bare = take_all_away (state);
    measure (name, "", state, TRUE);
    measure (name, "-bare", bare, TRUE);
  }
  return 0;
}
