/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "batch/batch.h"
#include "window/shell/application.h"

/* Translations beside the program in the build folder, so that it speaks the maker's language as
 * built; else the installed ones. */
static char *
find_locale_dir (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = program ? g_path_get_dirname (program) : NULL;
  g_autofree char *built = folder ? g_build_filename (folder, "..", "po", NULL) : NULL;

  if (built && g_file_test (built, G_FILE_TEST_IS_DIR))
    return g_steal_pointer (&built);
  return g_strdup (SB_LOCALE_DIR);
}

int
main (int argc, char **argv)
{
  g_autofree char *locale_dir = find_locale_dir ();

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, locale_dir);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  if (sb_batch_is_command (argc, argv))
    return sb_batch_run (argc, argv);
  return sb_application_run (argc, argv);
}
