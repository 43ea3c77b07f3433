/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/download.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#include "job/safe-file.h"
#include "job/zip-writer.h"
#include "order/print-at-home.h"
#include "output/check-bar.h"
#include "output/download-cover.h"
#include "output/export.h"
#include "output/pdf.h"
#include "output/sticker-png.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
#define NAME_MOST 40
/* What a ZIP adds to an entry: its two headers and its name twice. */
#define ZIP_ENTRY_BYTES 256

typedef struct {
  const SbState *state;
  const SbDownloadParams *params;
  char *name; /* of the set, ASCII */
  SbDownload *download;
  GPtrArray *entries; /* Entry: what goes into ZIPs */
  GBytes *shop;
  SbDownloadProgress progress;
  gpointer data;
  GCancellable *cancellable;
} Making;

typedef struct {
  char *name;
  GBytes *bytes;
} Entry;

static void
entry_free (Entry *entry)
{
  g_free (entry->name);
  g_bytes_unref (entry->bytes);
  g_free (entry);
}

static void
file_free (SbDownloadFile *file)
{
  g_free (file->name);
  g_free (file);
}

void
sb_download_free (SbDownload *download)
{
  g_ptr_array_unref (download->files);
  g_free (download);
}

char *
sb_ascii_name (const char *text)
{
  g_autofree char *ascii = g_str_to_ascii (text, "C");
  GString *name = g_string_new (NULL);
  for (const char *c = ascii; *c != '\0' && name->len < NAME_MOST; c++)
    if (g_ascii_isalnum (*c))
      g_string_append_c (name, *c);
    else if (name->len > 0 && name->str[name->len - 1] != '_')
      g_string_append_c (name, '_');
  while (name->len > 0 && name->str[name->len - 1] == '_')
    g_string_truncate (name, name->len - 1);
  if (name->len == 0)
    g_string_assign (name, "stickers");
  return g_string_free (name, FALSE);
}

static void
tell (Making *making, double fraction, const char *what)
{
  if (making->progress != NULL)
    making->progress (fraction, what, making->data);
}

static void
note_file (Making *making, const char *name, guint64 bytes)
{
  SbDownloadFile *file = g_new0 (SbDownloadFile, 1);
  file->name = g_strdup (name);
  file->bytes = bytes;
  making->download->bytes += bytes;
  g_ptr_array_add (making->download->files, file);
}

/* "garden_A4.pdf", or "garden_A4_1of3.pdf" */
static char *
part_name (const char *stem, guint part, guint n_parts, const char *ending)
{
  if (n_parts == 1)
    return g_strdup_printf ("%s.%s", stem, ending);
  return g_strdup_printf ("%s_%uof%u.%s", stem, part + 1, n_parts, ending);
}

static gboolean
write_file (Making *making, const char *name, GBytes *bytes, GError **error)
{
  g_autofree char *path = g_build_filename (making->params->folder, name, NULL);
  g_autoptr (SbSafeFile) file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);
  sb_safe_file_write (file, data, length);
  if (!sb_safe_file_commit (g_steal_pointer (&file), error))
    return FALSE;
  note_file (making, name, length);
  return TRUE;
}

/* PDF */

typedef struct {
  SbLeaflet *cover;
  SbPainter *painter;
  const SbState *home;
  guint first; /* page of the whole that is this document's first */
} Book;

static void
draw_bar_on_cover (cairo_t *cr, const SbState *home)
{
  sb_um foot = home->page_height - SB_AT_HOME_MARGIN_UM;
  SbIBox room = {SB_AT_HOME_MARGIN_UM, foot - sb_um_from_mm (SB_CHECK_BAR_HEIGHT_MM),
                 home->page_width - SB_AT_HOME_MARGIN_UM, foot};
  cairo_save (cr);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  sb_check_bar_draw (cr, &room, FALSE);
  cairo_restore (cr);
}

static gboolean
draw_page (cairo_t *cr, guint index, gpointer data, GCancellable *cancellable, GError **error)
{
  Book *book = data;
  guint page = book->first + index, n_covers = sb_leaflet_get_n_pages (book->cover);
  if (page < n_covers) {
    sb_leaflet_draw (book->cover, cr, page);
    draw_bar_on_cover (cr, book->home);
    return TRUE;
  }
  SbPaintOptions options = {.check_bar = TRUE};
  return sb_painter_paint (book->painter, cr, page - n_covers, &options, cancellable, error);
}

/* Pages from..to of the book as a document of their own. */
static GBytes *
build_part (Making *making, Book *book, guint from, guint to, GError **error)
{
  book->first = from;
  return sb_pdf_build (sb_um_to_pt (book->home->page_width), sb_um_to_pt (book->home->page_height),
                       sb_download_get_title (book->home), to - from, draw_page, book,
                       making->cancellable, error);
}

/* All parts of so many, or NULL; `*fits` tells whether each is small enough. */
static GPtrArray *
build_parts (Making *making, Book *book, guint n_pages, guint n_parts, gboolean *fits,
             GError **error)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func ((GDestroyNotify)g_bytes_unref);
  *fits = TRUE;
  for (guint i = 0; i < n_parts; i++) {
    GBytes *part =
        build_part (making, book, n_pages * i / n_parts, n_pages * (i + 1) / n_parts, error);
    if (part == NULL)
      return NULL;
    g_ptr_array_add (parts, part);
    *fits &= g_bytes_get_size (part) <= making->params->most_bytes;
  }
  return g_steal_pointer (&parts);
}

/* In as few parts as are small enough, at the most one for each page. */
static gboolean
write_book (Making *making, const SbState *home, const char *stem, GError **error)
{
  g_autoptr (SbLeaflet) cover = sb_download_make_cover (home);
  g_autoptr (SbPainter) painter = sb_painter_new (home, SB_DOWNLOAD_DPI);
  Book book = {.cover = cover, .painter = painter, .home = home};
  guint n_pages = sb_leaflet_get_n_pages (cover) + home->pages->len;
  for (guint n_parts = 1;; n_parts++) {
    gboolean fits;
    g_autoptr (GPtrArray) parts = build_parts (making, &book, n_pages, n_parts, &fits, error);
    if (parts == NULL)
      return FALSE;
    if (!fits && n_parts < n_pages)
      continue;
    for (guint i = 0; i < n_parts; i++) {
      g_autofree char *name = part_name (stem, i, n_parts, "pdf");
      if (!write_file (making, name, parts->pdata[i], error))
        return FALSE;
    }
    return TRUE;
  }
}

/* Pictures */

static void
add_entry (Making *making, char *name, GBytes *bytes)
{
  Entry *entry = g_new0 (Entry, 1);
  entry->name = name;
  entry->bytes = bytes;
  g_ptr_array_add (making->entries, entry);
}

/* The page as sb_export writes it, through a file of the system's own. */
static GBytes *
export_page (Making *making, const SbState *home, guint index, GError **error)
{
  g_autofree char *folder = g_dir_make_tmp ("stickleback-XXXXXX", error);
  if (folder == NULL)
    return NULL;
  g_autofree char *path = g_build_filename (folder, "page.png", NULL);
  SbExportOptions options = sb_export_options_default ();
  options.paint.check_bar = TRUE;
  options.page = (int)index;
  options.dpi = SB_DOWNLOAD_DPI;
  char *data = NULL;
  gsize length = 0;
  gboolean ok = sb_export (home, path, &options, making->cancellable, error) &&
                g_file_get_contents (path, &data, &length, error);
  g_unlink (path);
  g_rmdir (folder);
  return ok ? g_bytes_new_take (data, length) : NULL;
}

static gboolean
add_pages (Making *making, const SbState *home, const char *stem, GError **error)
{
  for (guint k = 0; k < home->pages->len; k++) {
    GBytes *bytes = export_page (making, home, k, error);
    if (bytes == NULL)
      return FALSE;
    add_entry (making, part_name (stem, k, home->pages->len, "png"), bytes);
  }
  return TRUE;
}

static gboolean
has_entry (const Making *making, const char *name)
{
  for (guint i = 0; i < making->entries->len; i++)
    if (g_str_equal (((Entry *)making->entries->pdata[i])->name, name))
      return TRUE;
  return FALSE;
}

static gboolean
add_singles (Making *making, GError **error)
{
  for (guint i = 0; i < making->state->designs->len; i++) {
    const SbDesign *design = making->state->designs->pdata[i];
    if (design->lettering != NULL || (design->freebie && !making->params->fill))
      continue;
    GBytes *bytes = sb_sticker_png (design, SB_DOWNLOAD_DPI, making->cancellable, error);
    if (bytes == NULL)
      return FALSE;
    g_autofree char *stem = sb_ascii_name (design->name);
    char *name = g_strdup_printf ("single_%s.png", stem);
    for (guint n = 2; has_entry (making, name); n++) {
      g_free (name);
      name = g_strdup_printf ("single_%s_%u.png", stem, n);
    }
    add_entry (making, name, bytes);
  }
  return TRUE;
}

/* Which ZIP each entry goes into, in order; returns how many there are. */
static guint
share_out (const Making *making, guint *zip_of)
{
  guint n = 1;
  guint64 bytes = 0;
  for (guint i = 0; i < making->entries->len; i++) {
    const Entry *entry = making->entries->pdata[i];
    guint64 more = g_bytes_get_size (entry->bytes) + ZIP_ENTRY_BYTES;
    if (bytes > 0 && bytes + more > making->params->most_bytes) {
      n++;
      bytes = 0;
    }
    bytes += more;
    zip_of[i] = n - 1;
  }
  return n;
}

static gboolean
write_zip (Making *making, const guint *zip_of, guint part, guint n_parts, GError **error)
{
  g_autofree char *stem = g_strconcat (making->name, "_pictures", NULL);
  g_autofree char *name = part_name (stem, part, n_parts, "zip");
  g_autofree char *path = g_build_filename (making->params->folder, name, NULL);
  g_autoptr (SbSafeFile) file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  SbZipWriter *zip = sb_zip_writer_new (file);
  for (guint i = 0; i < making->entries->len; i++) {
    const Entry *entry = making->entries->pdata[i];
    gsize length;
    const void *data = g_bytes_get_data (entry->bytes, &length);
    if (zip_of[i] == part)
      sb_zip_writer_add (zip, entry->name, data, length);
  }
  sb_zip_writer_end (zip);
  if (!sb_safe_file_commit (g_steal_pointer (&file), error))
    return FALSE;
  GStatBuf info;
  note_file (making, name, g_stat (path, &info) == 0 ? (guint64)info.st_size : 0);
  return TRUE;
}

static gboolean
write_pictures (Making *making, GError **error)
{
  g_autofree guint *zip_of = g_new0 (guint, making->entries->len);
  guint n = share_out (making, zip_of);
  for (guint i = 0; i < n; i++)
    if (!write_zip (making, zip_of, i, n, error))
      return FALSE;
  return TRUE;
}

/* One paper: its pages laid, the book written, the pictures kept for the ZIPs. */
static gboolean
make_paper (Making *making, const char *alias, const char *label, GError **error)
{
  SbAtHomeParams home_params = {.paper = sb_paper_find (alias)->name,
                                .copies = making->params->copies,
                                .fill = making->params->fill,
                                .seconds = making->params->seconds};
  g_autofree char *stem = g_strdup_printf ("%s_%s", making->name, label);
  guint too_large;
  g_autoptr (SbState) home =
      sb_state_print_at_home (making->state, &home_params, &too_large, making->cancellable, error);
  if (home == NULL || !write_book (making, home, stem, error))
    return FALSE;
  making->download->too_large = MAX (making->download->too_large, too_large);
  if (making->shop == NULL) {
    making->shop = sb_shop_picture_png (home, 0, _ ("preview"), making->cancellable, error);
    if (making->shop == NULL)
      return FALSE;
  }
  return !making->params->pictures || add_pages (making, home, stem, error);
}

static gboolean
make_all (Making *making, GError **error)
{
  const SbDownloadParams *params = making->params;
  tell (making, 0, _ ("Laying Letter pages"));
  if (params->letter && !make_paper (making, "letter", "Letter", error))
    return FALSE;
  tell (making, 0.4, _ ("Laying A4 pages"));
  if (params->a4 && !make_paper (making, "a4", "A4", error))
    return FALSE;
  tell (making, 0.8, _ ("Writing pictures"));
  if (params->pictures && (!add_singles (making, error) || !write_pictures (making, error)))
    return FALSE;
  g_autofree char *shop = g_strconcat (making->name, "_shop.png", NULL);
  if (making->shop != NULL && !write_file (making, shop, making->shop, error))
    return FALSE;
  tell (making, 1, "");
  return TRUE;
}

SbDownload *
sb_download_make (const SbState *state, const SbDownloadParams *params, SbDownloadProgress progress,
                  gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbDownload) download = g_new0 (SbDownload, 1);
  download->files = g_ptr_array_new_with_free_func ((GDestroyNotify)file_free);
  g_autofree char *name = sb_ascii_name (sb_download_get_title (state));
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify)entry_free);
  Making making = {.state = state,
                   .params = params,
                   .name = name,
                   .download = download,
                   .entries = entries,
                   .progress = progress,
                   .data = data,
                   .cancellable = cancellable};
  gboolean ok = make_all (&making, error);
  g_clear_pointer (&making.shop, g_bytes_unref);
  return ok ? g_steal_pointer (&download) : NULL;
}
