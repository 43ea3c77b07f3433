/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/safe-file.h"

#include "job/file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#define BUFFER_SIZE (64 * 1024) /* cairo writes a few bytes at a time */

struct _SbSafeFile {
  char *path;      /* as the caller named it, for messages */
  char *target;    /* with links followed: what is replaced */
  char *temporary; /* beside it; NULL once renamed */
  int fd;
  int error; /* errno of the first failure; 0 while all is well */
  gsize filled;
  guint8 buffer[BUFFER_SIZE];
};

static void
set_error (GError **error, const char *path, int code)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("%s: could not be written: %s"), shown,
               g_strerror (code));
}

/* Where `path` leads: a link is followed even when nothing is at its end yet. NULL and errno when
 * links go round in circles. */
static char *
follow_links (const char *path)
{
  g_autofree char *here = g_strdup (path);
  for (int hops = 0; hops < 40; hops++) {
    g_autofree char *link = g_file_read_link (here, NULL);
    if (link == NULL)
      return g_steal_pointer (&here);
    g_autofree char *folder = g_path_get_dirname (here);
    g_free (here);
    here =
        g_path_is_absolute (link) ? g_steal_pointer (&link) : g_build_filename (folder, link, NULL);
  }
  errno = ELOOP;
  return NULL;
}

/* The mode of the file that is replaced, or -1 when there is none. Fails (errno) where it is not a
 * plain file, or one that the maker protected. */
static gboolean
look_at_target (const char *target, int *mode)
{
  struct stat st;
  *mode = -1;
  if (stat (target, &st) != 0)
    return errno == ENOENT;
  if (S_ISDIR (st.st_mode))
    errno = EISDIR;
  else if (!S_ISREG (st.st_mode))
    errno = EINVAL;
  else if (access (target, W_OK) == 0) {
    *mode = (int)(st.st_mode & 07777);
    return TRUE;
  }
  return FALSE;
}

/* Opens a new file with a name nobody has, in the folder of `target`; returns -1 and errno. */
static int
open_beside (const char *target, char **temporary)
{
  g_autofree char *folder = g_path_get_dirname (target);
  for (int attempt = 0; attempt < 100; attempt++) {
    g_autofree char *name = g_strdup_printf (".stickleback-%08x.tmp", g_random_int ());
    g_autofree char *path = g_build_filename (folder, name, NULL);
    int fd = open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0666);
    if (fd >= 0)
      *temporary = g_steal_pointer (&path);
    if (fd >= 0 || errno != EEXIST)
      return fd;
  }
  return -1;
}

SbSafeFile *
sb_safe_file_open (const char *path, GError **error)
{
  g_autofree char *target = follow_links (path);
  int mode = -1;
  if (target == NULL || !look_at_target (target, &mode)) {
    set_error (error, path, errno);
    return NULL;
  }
  g_autofree char *temporary = NULL;
  int fd = open_beside (target, &temporary);
  if (fd < 0) {
    set_error (error, path, errno);
    return NULL;
  }
  SbSafeFile *file = g_new0 (SbSafeFile, 1);
  file->path = g_strdup (path);
  file->target = g_steal_pointer (&target);
  file->temporary = g_steal_pointer (&temporary);
  file->fd = fd;
  if (mode >= 0 && fchmod (fd, (mode_t)mode) != 0)
    file->error = errno;
  return file;
}

static void
write_out (SbSafeFile *file, const guint8 *data, gsize length)
{
  while (length > 0 && file->error == 0) {
    gssize n = write (file->fd, data, length);
    if (n < 0 && errno != EINTR)
      file->error = errno;
    if (n > 0) {
      data += n;
      length -= (gsize)n;
    }
  }
}

static void
flush (SbSafeFile *file)
{
  write_out (file, file->buffer, file->filled);
  file->filled = 0;
}

gboolean
sb_safe_file_write (SbSafeFile *file, const void *data, gsize length)
{
  if (length > BUFFER_SIZE - file->filled)
    flush (file);
  if (length > BUFFER_SIZE) {
    write_out (file, data, length);
  } else if (length > 0) {
    memcpy (file->buffer + file->filled, data, length);
    file->filled += length;
  }
  return file->error == 0;
}

cairo_status_t
sb_safe_file_cairo_write (void *closure, const unsigned char *data, unsigned int length)
{
  return sb_safe_file_write (closure, data, length) ? CAIRO_STATUS_SUCCESS
                                                    : CAIRO_STATUS_WRITE_ERROR;
}

static void
keep_error (SbSafeFile *file, int result)
{
  if (result != 0 && file->error == 0)
    file->error = errno;
}

/* Makes the new name last through a power cut. Some file systems cannot sync a folder; the file
 * itself is safe by then, so that is no error. */
static void
sync_folder (const char *target)
{
  g_autofree char *folder = g_path_get_dirname (target);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

static gboolean
put_in_place (SbSafeFile *file, GError **error)
{
  flush (file);
  if (file->error == 0)
    keep_error (file, fsync (file->fd));
  keep_error (file, close (file->fd));
  file->fd = -1;
  if (file->error == 0)
    keep_error (file, rename (file->temporary, file->target));
  if (file->error != 0) {
    set_error (error, file->path, file->error);
    return FALSE;
  }
  g_clear_pointer (&file->temporary, g_free);
  sync_folder (file->target);
  return TRUE;
}

gboolean
sb_safe_file_commit (SbSafeFile *file, GError **error)
{
  gboolean done = put_in_place (file, error);
  sb_safe_file_discard (file);
  return done;
}

void
sb_safe_file_discard (SbSafeFile *file)
{
  if (file->fd >= 0)
    close (file->fd);
  if (file->temporary != NULL)
    unlink (file->temporary);
  g_free (file->temporary);
  g_free (file->target);
  g_free (file->path);
  g_free (file);
}
