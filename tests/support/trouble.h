/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Disks that are full and folders that cannot be written, made for real: in a child process with
 * mounts of its own where that is permitted, so that nothing is left behind and root meets the same
 * troubles as anyone. */
#pragma once

#include <check.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <sched.h>
#include <stdio.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#define SB_NOT_PERMITTED 77

/* Mounts a file system of `options` ("size=64k") on `folder`, seen by this process only. */
static inline gboolean
sb_mount_own (const char *folder, const char *options)
{
  if (unshare (CLONE_NEWNS) != 0 && unshare (CLONE_NEWUSER | CLONE_NEWNS) != 0)
    return FALSE;
  return mount ("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) == 0 &&
         mount ("tmpfs", folder, "tmpfs", 0, options) == 0;
}

static inline gboolean
sb_remount_read_only (const char *folder)
{
  return mount (NULL, folder, NULL, MS_REMOUNT | MS_RDONLY, NULL) == 0;
}

/* Runs `part` in a child; a status of SB_NOT_PERMITTED skips with a clear line, any other than 0
 * fails. Checks in the child are plain ifs that return a number of their own. */
static inline void
sb_run_in_child (const char *what, int (*part) (const char *folder), const char *folder)
{
  fflush (NULL);
  pid_t pid = fork ();
  ck_assert_int_ge (pid, 0);
  if (pid == 0)
    _exit (part (folder));
  int status = 0;
  ck_assert_int_eq (waitpid (pid, &status, 0), pid);
  ck_assert_msg (WIFEXITED (status), "%s: the child died", what);
  if (WEXITSTATUS (status) == SB_NOT_PERMITTED)
    g_printerr ("skipped: %s: mounting is not permitted here\n", what);
  else
    ck_assert_msg (WEXITSTATUS (status) == 0, "%s: check %d failed", what, WEXITSTATUS (status));
}

/* A new folder below the temporary one. Free with sb_remove_folder. */
static inline char *
sb_make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("stickleback-test-XXXXXX", &error);
  ck_assert_msg (folder != NULL, "%s", error ? error->message : "");
  return folder;
}

static inline void
sb_remove_tree (const char *path)
{
  if (!g_file_test (path, G_FILE_TEST_IS_SYMLINK) && g_file_test (path, G_FILE_TEST_IS_DIR)) {
    g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
    const char *name;
    while (dir != NULL && (name = g_dir_read_name (dir)) != NULL) {
      g_autofree char *inner = g_build_filename (path, name, NULL);
      sb_remove_tree (inner);
    }
  }
  g_remove (path);
}

static inline void
sb_remove_folder (char *folder)
{
  sb_remove_tree (folder);
  g_free (folder);
}

static inline guint
sb_count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;
  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}
