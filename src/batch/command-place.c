/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "packing/free-space.h"

/* The free place nearest to the top left corner of the first of pages `from` to `to` that has one,
 * else the middle of page `to`. */
static guint
find_place (const SbState *state, SbPiece *piece, guint from, guint to)
{
  const SbDesign *design = sb_state_get_design (state, piece->design_id);
  for (guint i = from; i <= to; i++) {
    g_autoptr (SbFreeSpace) space = sb_free_space_new (state, i, design, piece->turn, NULL, 0);
    if (sb_free_space_get_nearest (space, (SbIPoint){0, 0}, &piece->at))
      return i;
  }
  piece->at = (SbIPoint){state->page_width / 2, state->page_height / 2};
  return to;
}

static gboolean
read_at (const char *text, SbIPoint *at)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  if (g_strv_length (parts) != 2) {
    sb_command_misuse ("--at", _ ("“%s” is not X,Y, such as 4.25in,5.5in"), text);
    return FALSE;
  }
  double x_mm, y_mm;
  const double most_mm = sb_um_to_mm (SB_PIECE_FARTHEST);
  if (!sb_command_read_length ("--at", parts[0], -most_mm, most_mm, &x_mm) ||
      !sb_command_read_length ("--at", parts[1], -most_mm, most_mm, &y_mm))
    return FALSE;
  *at = sb_point_round ((SbPoint){x_mm, y_mm});
  return TRUE;
}

static gboolean
read_turn (double degrees, gint32 *turn)
{
  if (!isfinite (degrees)) {
    sb_command_misuse ("--turn", _ ("it is not a number of degrees"));
    return FALSE;
  }
  long thousandths = lround (fmod (degrees, 360) * 1000);
  *turn = (gint32)((thousandths % 360000 + 360000) % 360000);
  return TRUE;
}

static void
add_pages (SbState **state, guint n)
{
  while ((*state)->pages->len < n) {
    SbState *next = sb_edit_add_page (*state, (*state)->pages->len);
    sb_state_unref (*state);
    *state = next;
  }
}

static void
print_piece (const SbState *state, guint piece_id)
{
  guint page_index;
  const SbPiece *piece = sb_state_get_piece (state, piece_id, &page_index);
  g_autofree char *label = sb_piece_get_label (state, piece_id);
  /* Translators: "radish, piece 2: page 1, 50.8,76.2 mm" */
  g_print (_ ("%s: page %u, %g,%g mm\n"), label, page_index + 1, sb_um_to_mm (piece->at.x),
           sb_um_to_mm (piece->at.y));
}

static int
place (const char *path, SbState *job, const char *name, const char *at, int page, SbPiece piece)
{
  g_autoptr (SbState) state = job;
  g_autofree char *clean = sb_name_clean (name);
  const SbDesign *design = sb_state_find_design (state, clean);
  if (design == NULL)
    return sb_command_misuse (path, _ ("it has no design called “%s”"), clean);
  piece.design_id = design->id;

  add_pages (&state, (guint)page);
  guint page_index = page > 0 ? (guint)page - 1 : 0;
  if (at == NULL)
    page_index =
        find_place (state, &piece, page_index, page > 0 ? page_index : state->pages->len - 1);
  guint piece_id;
  g_autoptr (SbState) next = sb_edit_add_piece (state, page_index, piece, &piece_id);
  int status = sb_command_save (next, path);
  if (status == SB_EXIT_DONE)
    print_piece (next, piece_id);
  return status;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_autofree char *at = NULL;
  double degrees = 0;
  int page = 0;
  gboolean pin = FALSE;
  const int most_pages = 1000;
  const GOptionEntry entries[] = {
      {"at", 0, 0, G_OPTION_ARG_STRING, &at,
       N_ ("Centre of the outline's box before turning, from the paper's top left corner (the "
           "first free place)"),
       N_ ("X,Y")},
      {"turn", 0, 0, G_OPTION_ARG_DOUBLE, &degrees, N_ ("Turn it clockwise (0)"), N_ ("DEGREES")},
      {"page", 0, 0, G_OPTION_ARG_INT, &page, N_ ("Page, counted from 1; added when missing"),
       N_ ("N")},
      {"pin", 0, 0, G_OPTION_ARG_NONE, &pin, N_ ("Arranging leaves it where it is"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  if (page < 0 || page > most_pages)
    return sb_command_misuse ("--page", _ ("%d is not between 1 and %d"), page, most_pages);
  SbPiece piece = {.pinned = pin};
  if (!read_turn (degrees, &piece.turn) || (at != NULL && !read_at (at, &piece.at)))
    return SB_EXIT_USE;
  SbState *state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  return place (argv[0], state, argv[1], at, page, piece);
}

const SbCommand sb_command_place = {
    .name = "place",
    .arguments = N_ ("JOB DESIGN"),
    .summary = N_ ("Lay a piece of a design on a page"),
    .run = run,
};
