/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GtkPrintJob tells that it has finished as soon as the bytes are gone, even where the queue has
 * refused them; and a printer that is switched off shows only in the queue's own words. So the
 * print service itself is asked and the job followed (printing/send.h). */
#include "config.h"

#include "window/printing/print-sending.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <sys/mman.h>
#include <unistd.h>

#include "printing/send.h"

typedef struct {
  GtkPrintJob *job;
  int fd; /* of the PDF; GTK reads it but does not own it */
  char *printer;
  gboolean virtual; /* a file: nobody to ask */
  int last_job;     /* before this one; -1: not known */
  SbPrintSent sent;
  gpointer data;
} Sending;

static void
sending_free (Sending *sending)
{
  g_clear_object (&sending->job);
  if (sending->fd >= 0)
    close (sending->fd);
  g_free (sending->printer);
  g_free (sending);
}

static void
finish (Sending *sending, const char *note, const GError *error)
{
  sending->sent (note, error, sending->data);
  sending_free (sending);
}

static void
look_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Sending *sending = data;
  int job = sending->last_job >= 0 ? sb_printer_get_last_job (sending->printer) : -1;
  char *note = NULL;
  GError *error = NULL;

  if (job >= 0 && job <= sending->last_job)
    g_task_return_new_error (task, SB_PRINT_ERROR, SB_PRINT_ERROR_SEND,
                             _ ("Its queue shows no new job. The disk that jobs are kept on may "
                                "be full, the job larger than it takes, or jobs refused."));
  else if (job < 0 || sb_printer_follow_job (sending->printer, job, &note, &error))
    g_task_return_pointer (task, note, g_free);
  else
    g_task_return_error (task, error);
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *note = g_task_propagate_pointer (G_TASK (result), &error);

  finish (user_data, note, error);
}

static void
complete_cb (GtkPrintJob *job, gpointer user_data, const GError *error)
{
  Sending *sending = user_data;

  if (error || sending->virtual) {
    finish (sending, NULL, error);
    return;
  }
  g_autoptr (GTask) task = g_task_new (NULL, NULL, looked_cb, sending);
  g_task_set_task_data (task, sending, NULL);
  g_task_run_in_thread (task, look_in_thread);
}

static gboolean
write_all (int fd, GBytes *bytes)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);

  for (gsize at = 0; at < length;) {
    gssize n = write (fd, data + at, length - at);
    if (n < 0 && errno != EINTR)
      return FALSE;
    at += (gsize)MAX (n, 0);
  }
  return lseek (fd, 0, SEEK_SET) == 0;
}

/* The PDF as a file that needs no room on any disk; -1 and `error` when there is no memory. */
static int
open_pdf (GBytes *pdf, GError **error)
{
  int fd = memfd_create ("stickleback", MFD_CLOEXEC);

  if (fd >= 0 && write_all (fd, pdf))
    return fd;
  int code = errno;
  if (fd >= 0)
    close (fd);
  g_set_error (error, G_IO_ERROR, g_io_error_from_errno (code),
               _ ("There is no memory for the pages: %s"), g_strerror (code));
  return -1;
}

static GtkPrintSettings *
true_size_settings (GtkPrintSettings *settings)
{
  GtkPrintSettings *own = gtk_print_settings_copy (settings);

  /* GTK hands on only keys that begin with "cups-". */
  gtk_print_settings_set (own, "cups-print-scaling", "none");
  gtk_print_settings_set_scale (own, 100);
  gtk_print_settings_set_number_up (own, 1);
  gtk_print_settings_set (own, "cups-number-up", "1");
  /* The PDF is portrait and holds the chosen pages only. */
  gtk_print_settings_set_orientation (own, GTK_PAGE_ORIENTATION_PORTRAIT);
  gtk_print_settings_set_print_pages (own, GTK_PRINT_PAGES_ALL);
  gtk_print_settings_set_page_set (own, GTK_PAGE_SET_ALL);
  return own;
}

void
sb_print_sending_start (GtkPrinter *printer, GtkPrintSettings *settings, GtkPageSetup *setup,
                        const char *title, GBytes *pdf, int last_job, SbPrintSent sent,
                        gpointer data)
{
  Sending *sending = g_new0 (Sending, 1);
  g_autoptr (GtkPrintSettings) own_settings = true_size_settings (settings);
  g_autoptr (GtkPageSetup) own_setup = gtk_page_setup_copy (setup);
  g_autoptr (GError) error = NULL;

  gtk_page_setup_set_orientation (own_setup, GTK_PAGE_ORIENTATION_PORTRAIT);
  sending->printer = g_strdup (gtk_printer_get_name (printer));
  sending->virtual = gtk_printer_is_virtual (printer);
  sending->last_job = last_job;
  sending->sent = sent;
  sending->data = data;
  sending->job = gtk_print_job_new (title, printer, own_settings, own_setup);

  sending->fd = open_pdf (pdf, &error);
  if (sending->fd < 0 || !gtk_print_job_set_source_fd (sending->job, sending->fd, &error))
    finish (sending, NULL, error);
  else
    gtk_print_job_send (sending->job, complete_cb, sending, NULL);
}
