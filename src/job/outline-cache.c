/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/outline-cache.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <link.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "job/known-growth.h"

/* Their builds decide what a picture's coverage is, beside the program's own. */
static const char *const drawing_libraries[] = {
    "librsvg-2.", "libgdk_pixbuf-2.", "libcairo.", "libpixman-1.", "libpng16.",
    "libz.",      "liblcms2.",        "libm."};

/* The GNU build ID of one loaded object, a hash that the linker makes of all that is in it. */
static gboolean
add_build_id (const struct dl_phdr_info *info, GString *text)
{
  for (int i = 0; i < info->dlpi_phnum; i++) {
    const ElfW (Phdr) *header = &info->dlpi_phdr[i];
    const char *at = (const char *)info->dlpi_addr + header->p_vaddr, *end = at + header->p_memsz;
    while (header->p_type == PT_NOTE && end - at > (gssize)sizeof (ElfW (Nhdr))) {
      const ElfW (Nhdr) *note = (const void *)at;
      const char *name = at + sizeof *note, *id = name + (note->n_namesz + 3) / 4 * 4;
      if (note->n_type == NT_GNU_BUILD_ID && note->n_namesz == 4 && memcmp (name, "GNU", 4) == 0) {
        for (guint k = 0; k < note->n_descsz; k++)
          g_string_append_printf (text, "%02x", (guint8)id[k]);
        g_string_append_c (text, '\n');
        return TRUE;
      }
      at = id + (note->n_descsz + 3) / 4 * 4;
    }
  }
  return FALSE;
}

typedef struct {
  GString *text;
  gboolean unknown; /* something has no build ID */
} Builds;

static int
add_object_cb (struct dl_phdr_info *info, size_t size, void *data)
{
  Builds *builds = data;
  const char *slash = strrchr (info->dlpi_name, '/');
  gboolean counts = *info->dlpi_name == '\0' && builds->text->len == 0; /* the program is first */

  for (guint i = 0; slash != NULL && i < G_N_ELEMENTS (drawing_libraries); i++)
    counts |= g_str_has_prefix (slash + 1, drawing_libraries[i]);
  if (counts)
    builds->unknown |= !add_build_id (info, builds->text);
  return 0;
}

/* What was built of all that takes part in an outline; NULL where that cannot be told. */
static const char *
get_engine (void)
{
  static gsize known = 0;
  static char *engine = NULL;

  if (g_once_init_enter (&known)) {
    Builds builds = {g_string_new (NULL), FALSE};
    dl_iterate_phdr (add_object_cb, &builds);
    engine = g_string_free (builds.text, builds.unknown);
    g_once_init_leave (&known, 1);
  }
  return engine;
}

static void
add_double (GString *text, double number)
{
  guint64 bits;
  memcpy (&bits, &number, sizeof bits);
  g_string_append_printf (text, "%" G_GINT64_MODIFIER "x ", bits);
}

/* Text in a drawing looks as the fonts of the day do; and whoever cleans up a picture wants to know
 * what a clean-up at full size found, not only its outline. */
static gboolean
may_be_kept (const SbDesign *design)
{
  gsize size;
  const char *data = g_bytes_get_data (sb_picture_get_bytes (design->picture), &size);

  if (sb_picture_is_cleaned (design->picture))
    return FALSE;
  if (g_str_equal (sb_picture_get_extension (design->picture), "svg"))
    return memmem (data, size, "text", 4) == NULL;
  return g_str_equal (sb_picture_get_extension (design->picture), "png");
}

/* FALSE where the design's outlines are not for keeping. */
static gboolean
find_key (const SbDesign *design, guint8 key[SB_GROWTH_KEY_BYTES])
{
  const SbSilhouetteParams *silhouette = &design->silhouette_params;
  const SbBorderParams *border = &design->border;
  const char *engine = get_engine ();
  const double numbers[] = {design->width_mm,           design->height_mm, silhouette->threshold,
                            silhouette->speck_mm,       border->width_mm,  border->nook_mm,
                            border->spike_mm,           border->corner_mm, border->tolerance_um,
                            silhouette->paper_tolerance};
  if (engine == NULL || !may_be_kept (design))
    return FALSE;

  g_autoptr (GString) text = g_string_new (engine);
  g_string_append_printf (text, "%s %d %d %d ", sb_picture_get_key (design->picture),
                          (int)border->shape, !border->keep_holes, !border->bridge);
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    add_double (text, numbers[i]);
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize n = SB_GROWTH_KEY_BYTES;
  g_checksum_update (checksum, (const guint8 *)text->str, (gssize)text->len);
  g_checksum_get_digest (checksum, key, &n);
  return TRUE;
}

static char *
get_folder (void)
{
  return g_build_filename (g_get_user_cache_dir (), "stickleback", "outlines", NULL);
}

static char *
get_path (const guint8 key[SB_GROWTH_KEY_BYTES])
{
  g_autofree char *folder = get_folder ();
  char name[2 * SB_GROWTH_KEY_BYTES + 1];

  for (guint i = 0; i < SB_GROWTH_KEY_BYTES; i++)
    g_snprintf (name + 2 * i, 3, "%02x", key[i]);
  return g_build_filename (folder, name, NULL);
}

/* A regular file's bytes, of which there are not too many; NULL for anything else. Its time is that
 * of its last use. */
static guint8 *
read_entry (const char *path, gsize *length)
{
  struct stat st;
  g_autofree guint8 *bytes = NULL;
  gboolean whole = FALSE;
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOFOLLOW);

  if (fd < 0)
    return NULL;
  if (fstat (fd, &st) == 0 && S_ISREG (st.st_mode) && st.st_size <= SB_GROWTH_MOST_BYTES) {
    *length = (gsize)st.st_size;
    bytes = g_malloc (*length + 1);
    whole = read (fd, bytes, *length) == (gssize)*length;
    futimens (fd, NULL);
  }
  close (fd);
  return whole ? g_steal_pointer (&bytes) : NULL;
}

gboolean
sb_outline_cache_take (SbDesign *design)
{
  guint8 key[SB_GROWTH_KEY_BYTES];
  g_auto (SbKnownGrowth) known = {0};
  gsize length;

  if (design->silhouette != NULL || !find_key (design, key))
    return FALSE;
  g_autofree char *path = get_path (key);
  g_autofree guint8 *bytes = read_entry (path, &length);
  if (bytes == NULL)
    return FALSE;
  if (!sb_known_growth_read (&known, bytes, length, key)) {
    g_unlink (path);
    return FALSE;
  }
  sb_design_prepare_known (design, &known);
  return TRUE;
}

gboolean
sb_outline_cache_keep (const SbDesign *design)
{
  guint8 key[SB_GROWTH_KEY_BYTES];

  if (!find_key (design, key))
    return FALSE;
  g_autofree char *path = get_path (key);
  g_autofree char *folder = get_folder ();
  if (g_access (path, F_OK) == 0 || g_mkdir_with_parents (folder, 0700) != 0)
    return FALSE;
  g_auto (SbKnownGrowth) known = sb_known_growth_of (design);
  g_autoptr (GBytes) bytes = sb_known_growth_write (&known, key);
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  /* Renamed into place, but not synced: a checksum tells what a crash has left. */
  return length <= SB_GROWTH_MOST_BYTES &&
         g_file_set_contents_full (
             path, data, (gssize)length,
             G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_ONLY_EXISTING, 0600, NULL);
}

typedef struct {
  char *path;
  gint64 bytes, used;
} Entry;

static void
entry_clear (gpointer data)
{
  g_free (((Entry *)data)->path);
}

static int
by_use (gconstpointer a, gconstpointer b)
{
  gint64 p = ((const Entry *)a)->used, q = ((const Entry *)b)->used;
  return (p < q) - (p > q);
}

/* The last used first. */
static GArray *
list_entries (void)
{
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  g_autofree char *folder = get_folder ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  struct stat st;

  g_array_set_clear_func (entries, entry_clear);
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
    Entry entry = {.path = g_build_filename (folder, name, NULL)};
    if (lstat (entry.path, &st) == 0 && S_ISREG (st.st_mode)) {
      entry.bytes = st.st_size;
      entry.used = (gint64)st.st_mtim.tv_sec * G_USEC_PER_SEC + st.st_mtim.tv_nsec / 1000;
      g_array_append_val (entries, entry);
    } else {
      g_free (entry.path);
    }
  }
  g_array_sort (entries, by_use);
  return entries;
}

void
sb_outline_cache_tidy (gint64 most_bytes)
{
  g_autoptr (GArray) entries = list_entries ();
  gint64 total = 0;

  for (guint i = 0; i < entries->len; i++) {
    const Entry *entry = &g_array_index (entries, Entry, i);
    total += entry->bytes;
    if (total > most_bytes)
      g_unlink (entry->path);
  }
}
