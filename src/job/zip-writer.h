/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A ZIP container of stored entries, written in one go. libarchive reads our files but cannot write
 * them: it gives every entry extra fields and a data descriptor, and a container that tells its
 * type by a first entry `mimetype` must have neither there (OpenDocument 1.3 part 2, section 3.3;
 * EPUB 3.3, section 4.3.2.1), or the type would not be found at offset 38. Artwork is packed
 * already, so stored costs next to nothing. */
#pragma once

#include "job/safe-file.h"

G_BEGIN_DECLS

typedef struct _SbZipWriter SbZipWriter;

/* Writes into `file`, which stays the caller's and outlives the writer. */
SbZipWriter *sb_zip_writer_new (SbSafeFile *file) G_GNUC_WARN_UNUSED_RESULT;

/* Adds an entry dated 1980-01-01, so that the same contents give the same bytes. The container
 * stays under 4 GiB: a larger one is the caller's mistake. Failures are kept by the file. */
void sb_zip_writer_add (SbZipWriter *zip, const char *name, const void *data, gsize length);

/* Writes the directory of entries and frees the writer. */
void sb_zip_writer_end (SbZipWriter *zip);

G_END_DECLS
