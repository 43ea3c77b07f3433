/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file that appears whole or not at all: written beside its place under a temporary name, checked
 * at every write, synced, then renamed. A full disk is an error and the old file stays. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _SbSafeFile SbSafeFile;

/* Opens the temporary file beside `path` (mode 0666 less umask, or that of the file in its place).
 * Errors are SB_FILE_ERROR_WRITE and name `path`. */
SbSafeFile *sb_safe_file_open (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Writes all of it or fails; after a failure further writes fail too. */
gboolean sb_safe_file_write (SbSafeFile *file, const void *data, gsize length);

/* For cairo_pdf_surface_create_for_stream and its kind; `closure` is the SbSafeFile. */
cairo_status_t sb_safe_file_cairo_write (void *closure, const unsigned char *data,
                                         unsigned int length);

/* Syncs, closes and renames into place; tells the first error of any write. Frees `file`. */
gboolean sb_safe_file_commit (SbSafeFile *file, GError **error);

/* Throws the temporary file away. */
void sb_safe_file_discard (SbSafeFile *file);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbSafeFile, sb_safe_file_discard)

G_END_DECLS
