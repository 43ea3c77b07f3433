/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Live free space on Letter with 60 pieces: the map when a drag begins, and a frame of it; and
 * which of 20 freebies in 8 turns still have room. One thread does it all: prints the least
 * processor time of several runs. */
#include <stdio.h>
#include <string.h>

#include "clock.h"
#include "job/edit.h"
#include "packing/free-room.h"
#include "packing/free-space.h"
#include "packing/random.h"

#define N_PIECES 60
#define N_FREEBIES 20
#define RUNS 40
#define FRAMES 20

static SbDesign *
make_design (const char *name, double width_mm, double height_mm)
{
  static const char *seed = "<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='30mm' "
                            "viewBox='0 0 40 30'><path d='M20 0 C45 0 45 30 20 30 C30 20 0 25 0 12 "
                            "C0 2 8 0 20 0 Z'/></svg>";
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static (seed, strlen (seed));
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "seed.svg", &error);
  SbDesign *design = picture != NULL ? sb_design_new (picture, name) : NULL;
  if (design != NULL)
    sb_design_set_size (design, width_mm, height_mm);
  if (design == NULL || !sb_design_prepare (design, NULL, &error))
    g_error ("%s", error->message);
  return design;
}

static void
take (SbState **state, SbState *next)
{
  sb_state_unref (*state);
  *state = next;
}

/* Twenty freebies in eight turns while the piece is moved about. */
static void
measure_freebies (const SbState *before, guint dragged, SbDesign *design)
{
  SbState *state = sb_state_ref ((SbState *)before);
  for (guint i = 0; i < N_FREEBIES; i++) {
    guint id;
    g_autofree char *name = g_strdup_printf ("freebie %u", i + 1);
    SbDesign *freebie = make_design (name, 8 + i * 0.5, 6 + i * 0.4);
    freebie->freebie = TRUE;
    freebie->turning = SB_TURNING_ANY;
    take (&state, sb_edit_add_design (state, freebie, &id));
  }
  double begin = G_MAXDOUBLE, frame = G_MAXDOUBLE;
  for (guint run = 0; run < RUNS / 4; run++) {
    double begun = read_cpu_ms ();
    g_autoptr (SbFreeRoom) room = sb_free_room_new (state, 0, design, 0, &dragged, 1);
    begin = MIN (begin, read_cpu_ms () - begun);
    SbRandom random = sb_random_stream (run, 0);
    begun = read_cpu_ms ();
    for (guint k = 0; k < FRAMES; k++)
      sb_free_room_count (room, (SbIPoint){sb_random_between (&random, 0, 215900),
                                           sb_random_between (&random, 0, 279400)});
    frame = MIN (frame, (read_cpu_ms () - begun) / FRAMES);
  }
  printf ("free-space-20-freebies-begin %.2f ms\nfree-space-20-freebies-frame %.3f ms\n", begin,
          frame);
  sb_state_unref (state);
}

int
main (void)
{
  SbState *state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  take (&state, sb_edit_set_gap (state, 2000));
  for (guint i = 0; i < 6; i++) {
    guint id;
    g_autofree char *name = g_strdup_printf ("seed %u", i + 1);
    SbDesign *design = make_design (name, 28 + i, 17 + i);
    take (&state, sb_edit_add_design (state, design, &id));
    for (guint k = 0; k < N_PIECES / 6; k++) {
      SbPiece piece = {
          .design_id = id,
          .at = {20000 + (sb_um)(k % 5) * 42000, 20000 + (sb_um)(i * 2 + k / 5) * 21000},
          .turn = (gint32)(k * 33000)};
      take (&state, sb_edit_add_piece (state, 0, piece, NULL));
    }
  }
  guint dragged = sb_state_get_page (state, 0)->pieces[0].id;
  SbDesign *design = state->designs->pdata[0];
  double map = G_MAXDOUBLE, turn = G_MAXDOUBLE, frame = G_MAXDOUBLE;
  for (guint run = 0; run < RUNS; run++) {
    double begun = read_cpu_ms ();
    g_autoptr (SbFreeSpace) space = sb_free_space_new (state, 0, design, 0, &dragged, 1);
    map = MIN (map, read_cpu_ms () - begun);
    begun = read_cpu_ms ();
    sb_free_space_set_turn (space, 30000);
    turn = MIN (turn, read_cpu_ms () - begun);
    SbRandom random = sb_random_stream (run, 0);
    begun = read_cpu_ms ();
    for (guint k = 0; k < FRAMES; k++) {
      SbIPoint at = {sb_random_between (&random, 0, 215900),
                     sb_random_between (&random, 0, 279400)},
               nearest;
      if (!sb_free_space_is_free (space, at) && sb_free_space_get_nearest (space, at, &nearest))
        at = nearest;
      sb_free_space_get_largest_scale (space, at, 10);
    }
    frame = MIN (frame, (read_cpu_ms () - begun) / FRAMES);
  }
  measure_freebies (state, dragged, design);
  printf ("free-space-map %.2f ms\nfree-space-turn %.2f ms\nfree-space-frame %.3f ms\n", map, turn,
          frame);
  sb_state_unref (state);
  return 0;
}
