/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The .stickleback file: a ZIP container whose first entry `mimetype` is stored, then job.json,
 * artwork/<sha256>.<ext> and thumbnail.png. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

#define SB_JOB_MIME "application/vnd.stickleback+zip"
#define SB_JOB_EXTENSION ".stickleback"

#define SB_FILE_ERROR (sb_file_error_quark ())
GQuark sb_file_error_quark (void);
typedef enum {
  SB_FILE_ERROR_READ,   /* not there, not readable */
  SB_FILE_ERROR_FORMAT, /* not a job, damaged, or its contents contradict each other */
  SB_FILE_ERROR_LIMIT,  /* larger than a job may be */
  SB_FILE_ERROR_NEWER,  /* written by a version whose jobs this one cannot read */
  SB_FILE_ERROR_WRITE,  /* could not be written; the old file stays */
} SbFileError;

/* Reads a job. Every byte is hostile: sizes, counts, names, hashes and numbers are checked. Slow
 * (grows every border): run in a thread for the window. Messages name the file. */
SbState *sb_job_file_load (const char *path, GCancellable *cancellable,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Writes beside `path`, syncs, renames over it: on any failure the old file is untouched. The
 * thumbnail (a PNG, or NULL) goes in as it is. The same state gives the same bytes. */
gboolean sb_job_file_save (const SbState *state, const char *path, GBytes *thumbnail,
                           GError **error);

G_END_DECLS
