/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The job as JSON: what `job.json` in a job file and in the recovery folder holds. Artwork is named
 * ("<sha256>.<ext>"), not contained. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* The format of this version; a later one is refused. */
#define SB_JOB_FORMAT 1

#define SB_JOB_MOST_DESIGNS 5000
#define SB_JOB_MOST_PAGES 5000
#define SB_JOB_MOST_LAYOUTS 500
#define SB_JOB_MOST_PIECES 100000           /* on pages and in layouts */
#define SB_JOB_MOST_PLACEMENTS 100000       /* of layouts on pages */
#define SB_JOB_MOST_EXPANDED 2000000        /* pieces when layouts are laid out */
#define SB_JOB_MOST_JSON (64 * 1024 * 1024) /* bytes */

/* "<sha256>.<ext>". Free with g_free. */
char *sb_artwork_get_name (const SbPicture *picture) G_GNUC_WARN_UNUSED_RESULT;

/* The picture that `bytes` hold, when they are what the artwork name promises. */
SbPicture *sb_picture_from_artwork (GBytes *bytes, const char *name,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* The text, the same for equal states. Free with g_free. */
char *sb_job_json_write (const SbState *state, gsize *length) G_GNUC_WARN_UNUSED_RESULT;

/* Gives the picture of an artwork name of the right form; NULL and `error` where there is none. */
typedef SbPicture *(*SbArtworkFind) (const char *name, gpointer data, GError **error);

/* Reads it. Every number, name and reference is checked; what this version does not know is kept
 * for the next write. The designs are not prepared. Errors (SB_FILE_ERROR or those of `find`) say
 * why and not which file. */
SbState *sb_job_json_read (const char *text, gsize length, SbArtworkFind find, gpointer data,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Prepares all designs, several at a time. The first error in the order of the designs is told. */
gboolean sb_designs_prepare (GPtrArray *designs, GCancellable *cancellable, GError **error);
/* Keeps the outlines of prepared designs, for the next sb_designs_prepare on this machine. */
void sb_designs_keep (GPtrArray *designs);

G_END_DECLS
