/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <signal.h>
#include <stdio.h>

#include "batch/command.h"

static const SbCommand *const commands[] = {
    &sb_command_new,     &sb_command_add,      &sb_command_split,   &sb_command_place,
    &sb_command_arrange, &sb_command_proof,    &sb_command_figures, &sb_command_export,
    &sb_command_outline, &sb_command_printers, &sb_command_print,   &sb_command_calibrate,
    &sb_command_sheet,   &sb_command_card,     &sb_command_order,   &sb_command_download,
    &sb_command_what_if,
};

static const SbCommand *
find_command (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (commands[i]->name, name))
      return commands[i];
  return NULL;
}

static gboolean
is_help (const char *word)
{
  return g_str_equal (word, "help") || g_str_equal (word, "--help") || g_str_equal (word, "-h");
}

gboolean
sb_batch_is_command (int argc, char **argv)
{
  return argc > 1 && (find_command (argv[1]) != NULL || is_help (argv[1]) ||
                      g_str_equal (argv[1], "--version"));
}

static int
print_overview (void)
{
  g_print ("%s\n  stickleback [%s]\n  stickleback %s\n\n%s\n", _ ("Usage:"), _ ("JOB or PICTURE…"),
           _ ("COMMAND …"), _ ("Without a command the window opens."));
  g_print ("\n%s\n", _ ("Commands:"));
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    g_print ("  %-10s %s\n", commands[i]->name, _ (commands[i]->summary));
  g_print ("\n%s\n%s\n", _ ("“stickleback help COMMAND” tells more of one of them."),
           _ ("Exit status: 0 done, 1 the proof stops, 2 wrong use or unreadable input, "
              "3 could not write."));
  return SB_EXIT_DONE;
}

/* The command's own --help, which prints and exits. */
static int
print_help_of (const char *name)
{
  const SbCommand *command = find_command (name);
  if (command == NULL)
    return sb_command_misuse (name, _ ("there is no such command"));
  char *words[] = {(char *)name, (char *)"--help", NULL};
  return command->run (command, 2, words);
}

static int
run (int argc, char **argv)
{
  if (g_str_equal (argv[1], "--version")) {
    g_print ("Stickleback %s\n", SB_VERSION);
    return SB_EXIT_DONE;
  }
  if (is_help (argv[1]))
    return argc > 2 ? print_help_of (argv[2]) : print_overview ();
  const SbCommand *command = find_command (argv[1]);
  return command->run (command, argc - 1, argv + 1);
}

int
sb_batch_run (int argc, char **argv)
{
  /* A file that may not grow further is an error to tell, not a reason to die half way. */
  signal (SIGXFSZ, SIG_IGN);
  int status = run (argc, argv);
  if ((fflush (stdout) == 0 && !ferror (stdout)) || status != SB_EXIT_DONE)
    return status;
  g_printerr ("stickleback: %s: %s\n", _ ("standard output"), g_strerror (errno));
  return SB_EXIT_WRITE;
}
