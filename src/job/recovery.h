/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What autosave keeps of a job while it is open, and what is found of it after a crash.
 *
 *   <state folder>/stickleback/recovery/<boot>.<pid>.<start>.<n>/
 *       origin                  the path of the job's file
 *       artwork/<sha256>.<ext>  each written once
 *       job.json                written anew at every save
 *
 * The folder's name says which process it belongs to (its start time and the boot tell a process
 * from a later one of the same number), so that no window takes the folder of another one that is
 * still running, and a folder is taken over in one step, by renaming it. STICKLEBACK_STATE_DIR in
 * the environment stands in for the user's state folder. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* One open job's place. */
typedef struct _SbRecovery SbRecovery;

/* `job_path` is the job's file, or NULL while it has none. Nothing is written before the first
 * save. */
SbRecovery *sb_recovery_new (const char *job_path) G_GNUC_WARN_UNUSED_RESULT;
/* The job has got another file. Told on disk by the next save. */
void sb_recovery_set_path (SbRecovery *recovery, const char *job_path);

/* Keeps `state`. Fast: artwork that was kept before is not written again. For any thread, one call
 * at a time. Errors: SB_FILE_ERROR_WRITE. */
gboolean sb_recovery_save (SbRecovery *recovery, const SbState *state, GError **error);

/* The job is safe in its file, or thrown away by its maker: nothing is left to recover. */
void sb_recovery_clear (SbRecovery *recovery);
/* Frees without clearing: what is kept stays for the next start. */
void sb_recovery_free (SbRecovery *recovery);

/* A job whose process is gone. */
typedef struct {
  char *folder;
  char *job_path;  /* absolute, or NULL when it never had a file */
  gint64 saved_at; /* Unix time, seconds */
} SbRecoverable;

void sb_recoverable_free (SbRecoverable *recoverable);

/* All of them, the newest first. Array of SbRecoverable, frees its items. Empty where there is
 * none. */
GPtrArray *sb_recovery_list (void) G_GNUC_WARN_UNUSED_RESULT;

/* Takes it over and reads it; `recovery` then keeps the job on. Fails when another process was
 * faster (SB_FILE_ERROR_READ), or when the contents cannot be read; they then stay where they are.
 * Slow: run in a thread for the window. */
SbState *sb_recoverable_open (const SbRecoverable *recoverable, SbRecovery **recovery,
                              GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Throws it away. */
void sb_recoverable_discard (const SbRecoverable *recoverable);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRecovery, sb_recovery_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbRecoverable, sb_recoverable_free)

G_END_DECLS
