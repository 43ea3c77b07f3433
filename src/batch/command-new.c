/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "job/edit.h"

/* The same on every machine, so that a script does what its writer saw. */
#define PAPER_DEFAULT "letter"

static SbState *
make_state (const char *paper)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  sb_um width, height;
  if (sb_paper_parse (paper, &name, &width, &height, &error))
    return sb_state_new (name, width, height);
  sb_command_fail ("--paper", error);
  return NULL;
}

static gboolean
set_margins (SbState **state, const char *text)
{
  if (text == NULL)
    return TRUE;
  g_autoptr (GError) error = NULL;
  SbMargins margins;
  if (!sb_margins_parse (text, SB_UNIT_MM, &margins, &error)) {
    sb_command_fail ("--margins", error);
    return FALSE;
  }
  SbState *next = sb_edit_set_margins (*state, margins, SB_MARGINS_TYPED);
  sb_state_unref (*state);
  *state = next;
  return TRUE;
}

static gboolean
set_gap (SbState **state, const char *text)
{
  double gap_mm = sb_um_to_mm ((*state)->gap);
  if (!sb_command_read_length ("--gap", text, 0, sb_um_to_mm (SB_GAP_MOST), &gap_mm))
    return FALSE;
  SbState *next = sb_edit_set_gap (*state, sb_um_from_mm (gap_mm));
  sb_state_unref (*state);
  *state = next;
  return TRUE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_autofree char *paper = NULL;
  g_autofree char *margins = NULL;
  g_autofree char *gap = NULL;
  gboolean replace = FALSE;
  const GOptionEntry entries[] = {
      {"paper", 0, 0, G_OPTION_ARG_STRING, &paper,
       N_ ("Paper: letter, a4 or another name, or its width and height (letter)"), N_ ("PAPER")},
      {"margins", 0, 0, G_OPTION_ARG_STRING, &margins,
       N_ ("What the printer cannot reach at each edge (6.35mm)"), N_ ("TOP,RIGHT,BOTTOM,LEFT")},
      {"gap", 0, 0, G_OPTION_ARG_STRING, &gap, N_ ("Least distance between stickers (4mm)"),
       N_ ("LENGTH")},
      {"replace", 0, 0, G_OPTION_ARG_NONE, &replace, N_ ("Write over a file that is already there"),
       NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;

  g_autoptr (SbState) state = make_state (paper != NULL ? paper : PAPER_DEFAULT);
  if (state == NULL || !set_margins (&state, margins) || !set_gap (&state, gap))
    return SB_EXIT_USE;
  if (!replace && g_file_test (argv[0], G_FILE_TEST_EXISTS)) {
    sb_command_misuse (argv[0], _ ("it is already there; give --replace to write over it"));
    return SB_EXIT_WRITE;
  }
  return sb_command_save (state, argv[0]);
}

const SbCommand sb_command_new = {
    .name = "new",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Make an empty job"),
    .description = N_ ("Lengths take a unit (mm, cm, in, pt) and are millimetres without one."),
    .run = run,
};
