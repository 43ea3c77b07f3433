/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/file.h"

#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "job/job-json.h"
#include "job/safe-file.h"
#include "job/zip-writer.h"

#define MOST_ENTRIES 20000
#define MOST_TOTAL ((gint64)2 * 1024 * 1024 * 1024) /* bytes, unpacked */
/* Our own files are not packed at all; one packed anew by other means may grow this much. */
#define MOST_GROWTH 20
#define GROWTH_ALLOWANCE (64 * 1024 * 1024)

#define ARTWORK_FOLDER "artwork/"

G_DEFINE_QUARK (sb_file_error, sb_file_error)

/* Reading */

typedef struct {
  int fd;
  struct archive *archive;
  gint64 most;          /* bytes that may still be unpacked */
  GBytes *mimetype;     /* or NULL */
  GBytes *json;         /* or NULL */
  GHashTable *artwork;  /* name -> GBytes */
  GHashTable *pictures; /* name -> SbPicture, of those asked for */
} Container;

static void
container_clear (Container *container)
{
  g_clear_pointer (&container->archive, archive_read_free);
  if (container->fd >= 0)
    close (container->fd);
  g_clear_pointer (&container->mimetype, g_bytes_unref);
  g_clear_pointer (&container->json, g_bytes_unref);
  g_clear_pointer (&container->artwork, g_hash_table_unref);
  g_clear_pointer (&container->pictures, g_hash_table_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Container, container_clear)

static gboolean
fail_archive (Container *container, GError **error)
{
  const char *reason = archive_error_string (container->archive);
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, _ ("it is damaged, or not a job (%s)"),
               reason != NULL ? reason : "ZIP");
  return FALSE;
}

static gboolean
fail_limit (GError **error)
{
  g_set_error_literal (error, SB_FILE_ERROR, SB_FILE_ERROR_LIMIT,
                       _ ("it is larger than a job may be"));
  return FALSE;
}

static gboolean
fail_read (int code, GError **error)
{
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_READ, _ ("could not be read: %s"),
               g_strerror (code));
  return FALSE;
}

/* Opening a pipe or a device must not wait for it. */
static gboolean
container_open (Container *container, const char *path, GError **error)
{
  struct stat st;
  container->fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (container->fd < 0 || fstat (container->fd, &st) != 0)
    return fail_read (errno, error);
  if (!S_ISREG (st.st_mode))
    return fail_read (S_ISDIR (st.st_mode) ? EISDIR : EINVAL, error);
  container->most = MIN (MOST_TOTAL, st.st_size * MOST_GROWTH + GROWTH_ALLOWANCE);
  container->artwork =
      g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_bytes_unref);
  container->pictures =
      g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)sb_picture_unref);
  container->archive = archive_read_new ();
  archive_read_support_format_zip_seekable (container->archive);
  if (archive_read_open_fd (container->archive, container->fd, 64 * 1024) != ARCHIVE_OK)
    return fail_archive (container, error);
  return TRUE;
}

/* Unpacks the entry at hand, of `most` bytes at most. What the header says of its size is only
 * believed as far as memory goes that is there anyway. */
static GBytes *
read_entry (Container *container, struct archive_entry *entry, gint64 most, GError **error)
{
  const gint64 piece = 1024 * 1024;
  most = MIN (most, container->most);
  gint64 size = archive_entry_size_is_set (entry) ? archive_entry_size (entry) : 0;
  if (size < 0 || size > most) {
    fail_limit (error);
    return NULL;
  }
  g_autoptr (GByteArray) bytes = g_byte_array_sized_new ((guint)MIN (size, piece));
  for (;;) {
    const void *block;
    gsize n;
    la_int64_t offset;
    int result = archive_read_data_block (container->archive, &block, &n, &offset);
    if (result == ARCHIVE_EOF)
      break;
    if (result != ARCHIVE_OK || offset != bytes->len) {
      fail_archive (container, error);
      return NULL;
    }
    if ((gint64)(bytes->len + n) > most) {
      fail_limit (error);
      return NULL;
    }
    g_byte_array_append (bytes, block, (guint)n);
  }
  container->most -= bytes->len;
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

static gboolean
fail_twice (const char *name, GError **error)
{
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, _ ("it holds “%s” twice"), name);
  return FALSE;
}

static gboolean
read_single (Container *container, struct archive_entry *entry, GBytes **bytes, gint64 most,
             GError **error)
{
  if (*bytes != NULL)
    return fail_twice (archive_entry_pathname (entry), error);
  *bytes = read_entry (container, entry, most, error);
  return *bytes != NULL;
}

/* Takes what this version knows; a thumbnail and whatever else is there is passed over. */
static gboolean
take_entry (Container *container, struct archive_entry *entry, GError **error)
{
  const char *name = archive_entry_pathname (entry);
  if (name == NULL || archive_entry_filetype (entry) != AE_IFREG)
    return TRUE;
  if (g_str_equal (name, "mimetype"))
    return read_single (container, entry, &container->mimetype, 1024, error);
  if (g_str_equal (name, "job.json"))
    return read_single (container, entry, &container->json, SB_JOB_MOST_JSON, error);
  if (!g_str_has_prefix (name, ARTWORK_FOLDER))
    return TRUE;

  const char *artwork = name + strlen (ARTWORK_FOLDER);
  if (g_hash_table_contains (container->artwork, artwork))
    return fail_twice (name, error);
  g_autofree char *key = g_strdup (artwork);
  GBytes *bytes = read_entry (container, entry, SB_PICTURE_MOST_BYTES, error);
  if (bytes == NULL)
    return FALSE;
  g_hash_table_insert (container->artwork, g_steal_pointer (&key), bytes);
  return TRUE;
}

static gboolean
read_entries (Container *container, GCancellable *cancellable, GError **error)
{
  struct archive_entry *entry;
  int result = ARCHIVE_OK;
  for (int i = 0; i < MOST_ENTRIES; i++) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
    result = archive_read_next_header (container->archive, &entry);
    if (result == ARCHIVE_EOF)
      return TRUE;
    if (result != ARCHIVE_OK)
      return fail_archive (container, error);
    if (!take_entry (container, entry, error))
      return FALSE;
  }
  return fail_limit (error);
}

static gboolean
check_entries (const Container *container, GError **error)
{
  g_autoptr (GBytes) mime = g_bytes_new_static (SB_JOB_MIME, strlen (SB_JOB_MIME));
  if (container->mimetype != NULL && g_bytes_equal (container->mimetype, mime) &&
      container->json != NULL)
    return TRUE;
  g_set_error_literal (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, _ ("it is not a job"));
  return FALSE;
}

/* SbArtworkFind: the picture of an entry, whose bytes must be those that its name promises. */
static SbPicture *
find_artwork (const char *name, gpointer data, GError **error)
{
  Container *container = data;
  SbPicture *picture = g_hash_table_lookup (container->pictures, name);
  if (picture != NULL)
    return sb_picture_ref (picture);
  GBytes *bytes = g_hash_table_lookup (container->artwork, name);
  if (bytes == NULL) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_FORMAT, _ ("the artwork %s is missing"), name);
    return NULL;
  }
  picture = sb_picture_from_artwork (bytes, name, error);
  if (picture != NULL)
    g_hash_table_insert (container->pictures, g_strdup (name), sb_picture_ref (picture));
  return picture;
}

static SbState *
load (const char *path, GCancellable *cancellable, GError **error)
{
  g_auto (Container) container = {.fd = -1};
  if (!container_open (&container, path, error) || !read_entries (&container, cancellable, error) ||
      !check_entries (&container, error))
    return NULL;
  gsize length;
  const char *text = g_bytes_get_data (container.json, &length);
  g_autoptr (SbState) state = sb_job_json_read (text, length, find_artwork, &container, error);
  if (state == NULL || !sb_designs_prepare (state->designs, cancellable, error))
    return NULL;
  sb_designs_keep (state->designs);
  return g_steal_pointer (&state);
}

SbState *
sb_job_file_load (const char *path, GCancellable *cancellable, GError **error)
{
  SbState *state = load (path, cancellable, error);
  if (state == NULL) {
    g_autofree char *shown = g_filename_display_name (path);
    g_prefix_error (error, "%s: ", shown);
  }
  return state;
}

/* Writing */

/* Each artwork once, by name so that the order does not hang on that of the designs. */
static GPtrArray *
list_artwork (const SbState *state)
{
  GPtrArray *pictures = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < state->designs->len; i++) {
    SbPicture *picture = ((SbDesign *)state->designs->pdata[i])->picture;
    if (g_hash_table_add (seen, (gpointer)sb_picture_get_sha256 (picture)))
      g_ptr_array_add (pictures, picture);
  }
  return pictures;
}

typedef struct {
  guint64 pieces, placements, expanded;
} Counts;

static Counts
count (const SbState *state)
{
  Counts counts = {0};
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = sb_state_get_page (state, i);
    const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
    counts.pieces += page->n_pieces;
    counts.placements += page->n_placements;
    counts.expanded += layout != NULL ? (guint64)page->n_placements * layout->n_pieces : 0;
  }
  for (guint i = 0; i < state->layouts->len; i++)
    counts.pieces += ((const SbLayout *)state->layouts->pdata[i])->n_pieces;
  return counts;
}

/* Nothing is written that could not be read again. */
static gboolean
check_limits (const SbState *state, GPtrArray *pictures, gsize json_length, GError **error)
{
  gint64 total = (gint64)json_length;
  Counts counts = count (state);
  for (guint i = 0; i < pictures->len; i++)
    total += (gint64)g_bytes_get_size (sb_picture_get_bytes (pictures->pdata[i]));
  if (total > MOST_TOTAL || json_length > SB_JOB_MOST_JSON ||
      state->designs->len > SB_JOB_MOST_DESIGNS || state->pages->len > SB_JOB_MOST_PAGES ||
      state->layouts->len > SB_JOB_MOST_LAYOUTS || counts.pieces > SB_JOB_MOST_PIECES ||
      counts.placements > SB_JOB_MOST_PLACEMENTS || counts.expanded > SB_JOB_MOST_EXPANDED)
    return fail_limit (error);
  return TRUE;
}

static void
add_bytes (SbZipWriter *zip, const char *name, GBytes *bytes)
{
  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);
  sb_zip_writer_add (zip, name, data, length);
}

gboolean
sb_job_file_save (const SbState *state, const char *path, GBytes *thumbnail, GError **error)
{
  gsize json_length;
  g_autofree char *json = sb_job_json_write (state, &json_length);
  g_autoptr (GPtrArray) pictures = list_artwork (state);
  if (!check_limits (state, pictures, json_length, error)) {
    g_autofree char *shown = g_filename_display_name (path);
    g_prefix_error (error, "%s: ", shown);
    return FALSE;
  }
  SbSafeFile *file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  SbZipWriter *zip = sb_zip_writer_new (file);
  sb_zip_writer_add (zip, "mimetype", SB_JOB_MIME, strlen (SB_JOB_MIME));
  sb_zip_writer_add (zip, "job.json", json, json_length);
  for (guint i = 0; i < pictures->len; i++) {
    g_autofree char *name = sb_artwork_get_name (pictures->pdata[i]);
    g_autofree char *entry = g_strconcat (ARTWORK_FOLDER, name, NULL);
    add_bytes (zip, entry, sb_picture_get_bytes (pictures->pdata[i]));
  }
  if (thumbnail != NULL)
    add_bytes (zip, "thumbnail.png", thumbnail);
  sb_zip_writer_end (zip);
  return sb_safe_file_commit (file, error);
}
