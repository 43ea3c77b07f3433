/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "packing/what-if.h"

#define LEAST_FACTOR 0.7 /* smaller than that is another sticker */
#define MOST_SECONDS 600.0

static void
print_answer (const SbWhatIf *answer, guint lying)
{
  SbUnit unit = sb_unit_from_locale ();
  g_autofree char *size = sb_length_format_size (answer->width_mm, answer->height_mm, unit);
  if (answer->smaller_mm == 0) {
    g_print (ngettext ("as it is (%s): %u piece lies there", "as it is (%s): %u pieces lie there",
                       lying),
             size, lying);
    if (answer->more > 0)
      g_print (ngettext (", and %u more fits", ", and %u more fit", answer->more), answer->more);
    g_print ("\n");
    return;
  }
  g_autofree char *smaller = sb_length_format (answer->smaller_mm, unit);
  g_print (
      ngettext ("%s smaller (%s): %u more fits\n", "%s smaller (%s): %u more fit\n", answer->more),
      smaller, size, answer->more);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  double seconds = 20;
  const GOptionEntry entries[] = {
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &seconds, N_ ("How long to look"), N_ ("S")},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  if (!(seconds > 0 && seconds <= MOST_SECONDS))
    return sb_command_misuse ("--seconds", _ ("%g is not between 0 and %g"), seconds, MOST_SECONDS);
  g_autoptr (SbState) state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  g_autofree char *name = sb_name_clean (argv[1]);
  const SbDesign *design = sb_state_find_design (state, name);
  if (design == NULL)
    return sb_command_misuse (argv[0], _ ("it has no design called “%s”"), name);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) answers = sb_what_if (state, design->id, LEAST_FACTOR, seconds, NULL, &error);
  if (answers == NULL)
    return sb_command_fail (argv[0], error);
  if (answers->len == 0)
    return sb_command_misuse (argv[0], _ ("no piece of “%s” lies on a page that may be moved"),
                              design->name);
  for (guint i = 0; i < answers->len; i++)
    print_answer (&g_array_index (answers, SbWhatIf, i),
                  (guint)sb_state_count_placed (state, design->id));
  if (answers->len == 1)
    g_print (_ ("no more fit down to %.0f %% of the artwork's size\n"), 100 * LEAST_FACTOR);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_what_if = {
    .name = "what-if",
    .arguments = N_ ("JOB DESIGN"),
    .summary = N_ ("Tell how much smaller a design must be for more to fit"),
    .description =
        N_ ("Freebies make room and fill the gaps again; every other piece stays where it is. "
            "The job is not changed."),
    .run = run,
};
