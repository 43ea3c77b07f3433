/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/recovery.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "job/file.h"
#include "job/job-json.h"
#include "job/safe-file.h"

struct _SbRecovery {
  char *folder; /* NULL until there is something in it */
  char *job_path;
  gboolean path_is_told;
  GHashTable *artwork; /* names of what was written */
};

static char *
get_root (void)
{
  const char *state_folder = g_getenv ("STICKLEBACK_STATE_DIR");
  if (state_folder == NULL)
    state_folder = g_get_user_state_dir ();
  return g_build_filename (state_folder, "stickleback", "recovery", NULL);
}

/* Whose folder it is */

/* Clock ticks from boot to the start of process `pid`: field 22 of /proc/PID/stat (proc(5)). The
 * second field is the program's name in brackets and may itself hold blanks and brackets. 0 when
 * there is no such process. */
static guint64
get_start_time (gint64 pid)
{
  g_autofree char *path = g_strdup_printf ("/proc/%" G_GINT64_FORMAT "/stat", pid);
  g_autofree char *stat = NULL;
  if (!g_file_get_contents (path, &stat, NULL, NULL))
    return 0;
  const char *after_name = strrchr (stat, ')');
  if (after_name == NULL)
    return 0;
  g_auto (GStrv) fields = g_strsplit (after_name + 1, " ", 22);
  const guint start_field = 22 - 2; /* counted from the blank before field 3 */
  if (g_strv_length (fields) <= start_field)
    return 0;
  return g_ascii_strtoull (fields[start_field], NULL, 10);
}

static char *
get_boot_id (void)
{
  g_autofree char *id = NULL;
  if (!g_file_get_contents ("/proc/sys/kernel/random/boot_id", &id, NULL, NULL))
    return g_strdup ("unknown");
  return g_strdup (g_strstrip (id));
}

static char *
make_folder_name (void)
{
  static gint n_made;
  g_autofree char *boot = get_boot_id ();
  gint64 pid = getpid ();
  return g_strdup_printf ("%s.%" G_GINT64_FORMAT ".%" G_GUINT64_FORMAT ".%d", boot, pid,
                          get_start_time (pid), g_atomic_int_add (&n_made, 1) + 1);
}

/* FALSE for what is not one of our folders. */
static gboolean
is_of_living_process (const char *name, gboolean *living)
{
  g_auto (GStrv) parts = g_strsplit (name, ".", -1);
  if (g_strv_length (parts) != 4)
    return FALSE;
  g_autofree char *boot = get_boot_id ();
  guint64 start = g_ascii_strtoull (parts[2], NULL, 10);
  *living = g_str_equal (parts[0], boot) && start != 0 &&
            get_start_time (g_ascii_strtoll (parts[1], NULL, 10)) == start;
  return TRUE;
}

/* Keeping */

SbRecovery *
sb_recovery_new (const char *job_path)
{
  SbRecovery *recovery = g_new0 (SbRecovery, 1);
  recovery->artwork = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  sb_recovery_set_path (recovery, job_path);
  return recovery;
}

void
sb_recovery_set_path (SbRecovery *recovery, const char *job_path)
{
  g_free (recovery->job_path);
  recovery->job_path = job_path != NULL ? g_canonicalize_filename (job_path, NULL) : NULL;
  recovery->path_is_told = FALSE;
}

static gboolean
write_file (const char *path, const void *data, gsize length, GError **error)
{
  SbSafeFile *file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  sb_safe_file_write (file, data, length);
  return sb_safe_file_commit (file, error);
}

static gboolean
make_folder (SbRecovery *recovery, GError **error)
{
  if (recovery->folder == NULL) {
    g_autofree char *root = get_root ();
    g_autofree char *name = make_folder_name ();
    recovery->folder = g_build_filename (root, name, NULL);
  }
  g_autofree char *artwork = g_build_filename (recovery->folder, "artwork", NULL);
  if (g_mkdir_with_parents (artwork, 0700) == 0)
    return TRUE;
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("%s: could not be made: %s"), artwork,
               g_strerror (errno));
  return FALSE;
}

static gboolean
tell_path (SbRecovery *recovery, GError **error)
{
  if (recovery->path_is_told)
    return TRUE;
  g_autofree char *origin = g_build_filename (recovery->folder, "origin", NULL);
  const char *job_path = recovery->job_path != NULL ? recovery->job_path : "";
  recovery->path_is_told = write_file (origin, job_path, strlen (job_path), error);
  return recovery->path_is_told;
}

static gboolean
keep_artwork (SbRecovery *recovery, const SbPicture *picture, GError **error)
{
  g_autofree char *name = sb_artwork_get_name (picture);
  if (g_hash_table_contains (recovery->artwork, name))
    return TRUE;
  g_autofree char *path = g_build_filename (recovery->folder, "artwork", name, NULL);
  gsize length;
  const void *data = g_bytes_get_data (sb_picture_get_bytes (picture), &length);
  if (!write_file (path, data, length, error))
    return FALSE;
  g_hash_table_add (recovery->artwork, g_steal_pointer (&name));
  return TRUE;
}

gboolean
sb_recovery_save (SbRecovery *recovery, const SbState *state, GError **error)
{
  if (!make_folder (recovery, error) || !tell_path (recovery, error))
    return FALSE;
  for (guint i = 0; i < state->designs->len; i++)
    if (!keep_artwork (recovery, ((SbDesign *)state->designs->pdata[i])->picture, error))
      return FALSE;
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  g_autofree char *path = g_build_filename (recovery->folder, "job.json", NULL);
  return write_file (path, json, length, error);
}

/* Deletes what is in `folder`, and the folder. */
static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_unlink (path);
  }
  g_rmdir (folder);
}

static void
remove_kept (const char *folder)
{
  /* The job first: what is left of a removal that was cut short is no job any more. */
  g_autofree char *json = g_build_filename (folder, "job.json", NULL);
  g_autofree char *artwork = g_build_filename (folder, "artwork", NULL);
  g_unlink (json);
  remove_folder (artwork);
  remove_folder (folder);
}

void
sb_recovery_clear (SbRecovery *recovery)
{
  if (recovery->folder == NULL)
    return;
  remove_kept (recovery->folder);
  g_hash_table_remove_all (recovery->artwork);
  recovery->path_is_told = FALSE;
}

void
sb_recovery_free (SbRecovery *recovery)
{
  g_hash_table_unref (recovery->artwork);
  g_free (recovery->folder);
  g_free (recovery->job_path);
  g_free (recovery);
}

/* Finding */

void
sb_recoverable_free (SbRecoverable *recoverable)
{
  g_free (recoverable->folder);
  g_free (recoverable->job_path);
  g_free (recoverable);
}

/* NULL, and the folder removed, when its process died before a job was in it. */
static SbRecoverable *
look_into (const char *folder)
{
  g_autofree char *json = g_build_filename (folder, "job.json", NULL);
  GStatBuf st;
  if (g_stat (json, &st) != 0) {
    remove_kept (folder);
    return NULL;
  }
  g_autofree char *origin = g_build_filename (folder, "origin", NULL);
  g_autofree char *job_path = NULL;
  gsize length;
  if (!g_file_get_contents (origin, &job_path, &length, NULL) || !g_path_is_absolute (job_path))
    g_clear_pointer (&job_path, g_free);
  SbRecoverable *recoverable = g_new0 (SbRecoverable, 1);
  recoverable->folder = g_strdup (folder);
  recoverable->job_path = g_steal_pointer (&job_path);
  recoverable->saved_at = st.st_mtime;
  return recoverable;
}

static int
compare_newest_first (gconstpointer a, gconstpointer b)
{
  const SbRecoverable *one = *(SbRecoverable *const *)a;
  const SbRecoverable *other = *(SbRecoverable *const *)b;
  if (one->saved_at != other->saved_at)
    return one->saved_at > other->saved_at ? -1 : 1;
  return strcmp (one->folder, other->folder);
}

GPtrArray *
sb_recovery_list (void)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_recoverable_free);
  g_autofree char *root = get_root ();
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    gboolean living;
    if (!is_of_living_process (name, &living) || living)
      continue;
    g_autofree char *folder = g_build_filename (root, name, NULL);
    SbRecoverable *recoverable = look_into (folder);
    if (recoverable != NULL)
      g_ptr_array_add (list, recoverable);
  }
  g_ptr_array_sort (list, compare_newest_first);
  return list;
}

typedef struct {
  const char *folder;
  GHashTable *pictures; /* name -> SbPicture */
} Shelf;

/* SbArtworkFind */
static SbPicture *
find_artwork (const char *name, gpointer data, GError **error)
{
  Shelf *shelf = data;
  SbPicture *picture = g_hash_table_lookup (shelf->pictures, name);
  if (picture != NULL)
    return sb_picture_ref (picture);
  g_autofree char *path = g_build_filename (shelf->folder, "artwork", name, NULL);
  char *contents;
  gsize length;
  if (!g_file_get_contents (path, &contents, &length, error))
    return NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_take (contents, length);
  picture = sb_picture_from_artwork (bytes, name, error);
  if (picture != NULL)
    g_hash_table_insert (shelf->pictures, g_strdup (name), sb_picture_ref (picture));
  return picture;
}

static SbState *
read_kept (const char *folder, GCancellable *cancellable, GError **error)
{
  g_autoptr (GHashTable) pictures =
      g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)sb_picture_unref);
  Shelf shelf = {folder, pictures};
  g_autofree char *path = g_build_filename (folder, "job.json", NULL);
  g_autofree char *json = NULL;
  gsize length;
  if (!g_file_get_contents (path, &json, &length, error))
    return NULL;
  g_autoptr (SbState) state = sb_job_json_read (json, length, find_artwork, &shelf, error);
  if (state == NULL || !sb_designs_prepare (state->designs, cancellable, error)) {
    g_prefix_error (error, "%s: ", path);
    return NULL;
  }
  return g_steal_pointer (&state);
}

SbState *
sb_recoverable_open (const SbRecoverable *recoverable, SbRecovery **recovery,
                     GCancellable *cancellable, GError **error)
{
  g_autofree char *root = get_root ();
  g_autofree char *name = make_folder_name ();
  g_autofree char *folder = g_build_filename (root, name, NULL);
  if (g_rename (recoverable->folder, folder) != 0) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_READ, _ ("%s: could not be taken over: %s"),
                 recoverable->folder, g_strerror (errno));
    return NULL;
  }
  SbState *state = read_kept (folder, cancellable, error);
  if (state == NULL) {
    /* Given back, for another try or for a person to look at. */
    g_rename (folder, recoverable->folder);
    return NULL;
  }
  *recovery = sb_recovery_new (recoverable->job_path);
  (*recovery)->folder = g_steal_pointer (&folder);
  return state;
}

void
sb_recoverable_discard (const SbRecoverable *recoverable)
{
  remove_kept (recoverable->folder);
}
