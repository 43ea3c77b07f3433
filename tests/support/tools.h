/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Programs of others that our files are held against, run in the test's own folder. */
#pragma once

#include <check.h>
#include <glib.h>

/* Whether `tool` is on the path; says so where it is not, as what needs it is left out then. */
static inline gboolean
sb_have_tool (const char *tool)
{
  g_autofree char *path = g_find_program_in_path (tool);
  if (path == NULL)
    g_print ("SKIP: %s is not installed\n", tool);
  return path != NULL;
}

static inline char *sb_run_tool (const char *inside, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Runs a command line of the shell `inside` a folder, which must succeed; returns what it printed.
 * Free with g_free. */
static inline char *
sb_run_tool (const char *inside, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *command = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_autofree char *whole = g_strdup_printf ("cd '%s' && %s", inside, command);
  const char *argv[] = {"/bin/sh", "-c", whole, NULL};
  char *out = NULL;
  int status = 0;
  g_autoptr (GError) error = NULL;
  g_spawn_sync (NULL, (char **)argv, NULL, 0, NULL, NULL, &out, NULL, &status, &error);
  ck_assert_msg (error == NULL && status == 0, "%s: status %d", command, status);
  return out;
}
