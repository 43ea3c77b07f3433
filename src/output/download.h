/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The set of files that customers download to print at home (handbook section 11): for Letter and
 * A4 a PDF of a cover and pages laid anew, their PNGs at 300 dpi and single stickers in a ZIP, and
 * a marked picture for the shop. Names are ASCII; no file tells who made it, when or where, but for
 * what the maker typed. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_DOWNLOAD_DPI 300
#define SB_DOWNLOAD_USUAL_BYTES 20000000 /* a marketplace's limit (handbook 11: from memory) */

typedef struct {
  char *folder; /* exists; files of the same names are replaced */
  gboolean letter, a4;
  gboolean pictures;  /* the PNGs, in ZIPs */
  gboolean fill;      /* freebies into the gaps */
  int copies;         /* of each design, 1..100 */
  guint64 most_bytes; /* a file; larger sets are split */
  double seconds;     /* to lay each paper tightly */
} SbDownloadParams;

typedef struct {
  char *name;
  guint64 bytes;
} SbDownloadFile;

/* What is being made, translated, and how far it is (0..1); from the thread that makes it. */
typedef void (*SbDownloadProgress) (double fraction, const char *what, gpointer data);

typedef struct {
  GPtrArray *files; /* SbDownloadFile, in the order they were written */
  guint64 bytes;    /* in all */
  guint too_large;  /* designs that a paper has no room for */
} SbDownload;

/* Slow: run in a thread. Texts come from the order: title, maker, contact, year, licence. Each file
 * appears whole or not at all; what was written before an error stays. */
SbDownload *sb_download_make (const SbState *state, const SbDownloadParams *params,
                              SbDownloadProgress progress, gpointer data, GCancellable *cancellable,
                              GError **error) G_GNUC_WARN_UNUSED_RESULT;
void sb_download_free (SbDownload *download);

/* `text` in letters, digits and _ of ASCII, for a file's name. Never empty. Free with g_free. */
char *sb_ascii_name (const char *text) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbDownload, sb_download_free)

G_END_DECLS
