/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/store.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "job/file.h"

static char *
get_folder (void)
{
  const char *own = g_getenv ("STICKLEBACK_CONFIG_DIR");
  return own != NULL && *own != '\0'
             ? g_strdup (own)
             : g_build_filename (g_get_user_config_dir (), "stickleback", NULL);
}

static char *
get_path (void)
{
  g_autofree char *folder = get_folder ();
  return g_build_filename (folder, "printers.ini", NULL);
}

GKeyFile *
sb_store_load (void)
{
  GKeyFile *store = g_key_file_new ();
  g_autofree char *path = get_path ();
  g_key_file_load_from_file (store, path, G_KEY_FILE_KEEP_COMMENTS, NULL);
  return store;
}

gboolean
sb_store_save (GKeyFile *store, GError **error)
{
  g_autofree char *folder = get_folder ();
  g_autofree char *path = get_path ();
  g_autoptr (GError) own = NULL;
  int code = g_mkdir_with_parents (folder, 0700) == 0 ? 0 : errno;
  if (code == 0 && g_key_file_save_to_file (store, path, &own))
    return TRUE;
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("%s: could not be written: %s"), path,
               own != NULL ? own->message : g_strerror (code));
  return FALSE;
}

char *
sb_store_make_group (const char *first, ...)
{
  GString *group = g_string_new (NULL);
  va_list texts;
  va_start (texts, first);
  for (const char *text = first; text != NULL; text = va_arg (texts, const char *)) {
    /* Names may hold anything; a group's name may hold neither brackets nor control signs. */
    g_autofree char *safe = g_uri_escape_string (text, " ", TRUE);
    g_string_append_printf (group, "%s%s", group->len > 0 ? " | " : "", safe);
  }
  va_end (texts);
  return g_string_free (group, FALSE);
}
