/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The open job together with its file: reading and writing in threads, and noticing when another
 * program changes the file. Main thread only.
 *
 * Signals: "title-changed" when the name or whether it is saved changes; "changed-outside" when
 * another program has written the file. */
#pragma once

#include <gio/gio.h>

#include "job/job.h"

G_BEGIN_DECLS

#define SB_TYPE_DOCUMENT (sb_document_get_type ())
G_DECLARE_FINAL_TYPE (SbDocument, sb_document, SB, DOCUMENT, GObject)

/* A job that has no file yet. */
SbDocument *sb_document_new (SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* Work that a crash interrupted: not saved, whatever `file` (or NULL) holds. */
SbDocument *sb_document_new_recovered (SbState *state, GFile *file) G_GNUC_WARN_UNUSED_RESULT;

/* Reads a job in a thread. Only files with a path of this computer. */
void sb_document_load_async (GFile *file, GCancellable *cancellable, GAsyncReadyCallback callback,
                             gpointer data);
SbDocument *sb_document_load_finish (GAsyncResult *result,
                                     GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Writes what the job is now into `file`, which becomes the document's own. */
void sb_document_save_async (SbDocument *self, GFile *file, GAsyncReadyCallback callback,
                             gpointer data);
gboolean sb_document_save_finish (SbDocument *self, GAsyncResult *result, GError **error);

SbJob *sb_document_get_job (SbDocument *self);  /* borrowed */
GFile *sb_document_get_file (SbDocument *self); /* borrowed, or NULL */

/* The file's name for people, or "New job". */
char *sb_document_dup_name (SbDocument *self) G_GNUC_WARN_UNUSED_RESULT;

/* Whether closing would lose work. */
gboolean sb_document_is_modified (SbDocument *self);

/* Whether the file is no longer the one that was read or written last. */
gboolean sb_document_is_changed_outside (SbDocument *self);
/* The job is now what the file holds: the change by another program was read. */
void sb_document_accept_outside (SbDocument *self);

G_END_DECLS
