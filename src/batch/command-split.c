/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "job/design-split.h"
#include "job/edit.h"

/* The scan as a design, its paper removed; NULL once the reason is printed. */
static SbDesign *
make_scan (const char *path, const char *size, const SbCommandCleanup *wishes)
{
  double width_mm, height_mm;
  g_autoptr (SbPicture) picture = sb_command_read_picture (path, size, &width_mm, &height_mm);
  if (picture == NULL)
    return NULL;
  g_autofree char *name = sb_command_get_name (path);
  g_autoptr (SbDesign) scan = sb_design_new (picture, name);
  SbCleanup recipe = scan->cleanup;
  if (!sb_command_read_cleanup (wishes, picture, &recipe))
    return NULL;
  sb_design_set_size (scan, width_mm, height_mm);
  sb_design_set_cleanup (scan, &recipe);
  return g_steal_pointer (&scan);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_autofree char *size = NULL;
  g_auto (SbCommandCleanup) wishes = {0};
  gboolean straighten = FALSE;
  const GOptionEntry entries[] = {
      {"size", 0, 0, G_OPTION_ARG_STRING, &size,
       N_ ("Longest side of the whole scan (what the file says)"), N_ ("LENGTH")},
      {"upright", 0, 0, G_OPTION_ARG_NONE, &straighten,
       N_ ("Turn paintings upright that lie askew"), NULL},
      SB_COMMAND_CLEANUP_ENTRIES (wishes),
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  g_autoptr (SbDesign) scan = make_scan (argv[0], size, &wishes);
  if (scan == NULL)
    return SB_EXIT_USE;
  g_autoptr (SbState) state = sb_command_load (argv[1]);
  if (state == NULL)
    return SB_EXIT_USE;

  g_autoptr (GError) error = NULL;
  g_autoptr (SbSplit) split = sb_design_find_paintings (scan, NULL, &error);
  g_autoptr (GPtrArray) designs =
      split != NULL ? sb_design_split (scan, split, straighten, NULL, &error) : NULL;
  if (designs == NULL)
    return sb_command_fail (argv[0], error);
  for (guint i = 0; i < designs->len; i++) {
    SbState *next = sb_edit_add_design (state, sb_design_ref (designs->pdata[i]), NULL);
    sb_state_unref (state);
    state = next;
  }
  int status = sb_command_save (state, argv[1]);
  for (guint i = state->designs->len - designs->len;
       status == SB_EXIT_DONE && i < state->designs->len; i++)
    sb_command_print_design (state->designs->pdata[i]);
  return status;
}

const SbCommand sb_command_split = {
    .name = "split",
    .arguments = N_ ("PICTURE JOB"),
    .summary = N_ ("Add each painting of a scan to a job as a design"),
    .description = N_ ("The designs are named after the scan's file with a number, row by row, and "
                       "keep the size they have on the paper."),
    .run = run,
};
