/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "output/export.h"
#include "window/parts/error-dialog.h"
#include "window/parts/file-chooser.h"
#include "window/shell/window-private.h"
#include "window/shell/window-work.h"

/* What an export was asked for. */
typedef struct {
  SbState *state;
  char *path;
  SbExportOptions options;
} Export;

static void
export_free (Export *export)
{
  sb_state_unref (export->state);
  g_free (export->path);
  g_free (export);
}

static void
export_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Export *export = data;
  GError *error = NULL;

  if (sb_export (export->state, export->path, &export->options, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
exported_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbWindowWork *work = user_data;
  g_autoptr (GError) error = NULL;

  if (g_task_propagate_boolean (G_TASK (result), &error)) {
    g_autofree char *name = sb_window_work_dup_name (work->file);
    g_autofree char *text = g_strdup_printf (_ ("Exported %s"), name);
    sb_app_window_say (work->window, text);
  } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    sb_error_dialog_show (GTK_WINDOW (work->window), _ ("The export failed"), error->message);
  }
  sb_window_work_free (work);
}

static void
export_to (SbAppWindow *self, GFile *file)
{
  Export *export = g_new0 (Export, 1);
  SbWindowWork *work = sb_window_work_new (self, file, _ ("Exporting"), TRUE);
  guint page = 0;

  export->state = sb_state_ref (sb_desk_get_whole (sb_app_window_get_desk (self)));
  export->path = g_file_get_path (file);
  export->options = sb_export_options_default ();
  if (export->path && !g_str_has_suffix (export->path, ".pdf")) {
    g_object_get (sb_app_window_get_canvas (self), "page", &page, NULL);
    export->options.page = (int)page;
  }

  g_autoptr (GTask) task = g_task_new (NULL, work->cancellable, exported_cb, work);
  g_task_set_task_data (task, export, (GDestroyNotify)export_free);
  g_task_run_in_thread (task, export_in_thread);
}

static void
export_response_cb (GtkNativeDialog *dialog, int response, SbAppWindow *self)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
    export_to (self, file);
  }
  g_object_unref (dialog);
}

static void
export_settled (SbAppWindow *self)
{
  GtkFileChooserNative *dialog = sb_file_chooser_new (GTK_WINDOW (self), _ ("Export"),
                                                      GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Export"));
  g_autofree char *name =
      sb_document_dup_name (sb_desk_get_document (sb_app_window_get_desk (self)));
  g_autofree char *file_name = g_strconcat (name, ".pdf", NULL);

  sb_file_chooser_add_pattern (dialog, _ ("PDF, all pages at true size"), "*.pdf");
  sb_file_chooser_add_pattern (dialog, _ ("PNG, this page at 300 dpi"), "*.png");
  sb_file_chooser_add_pattern (dialog, _ ("SVG, this page in millimetres"), "*.svg");
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), file_name);
  g_signal_connect (dialog, "response", G_CALLBACK (export_response_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

void
sb_window_export (SbAppWindow *self)
{
  sb_window_files_when_settled (self, export_settled);
}
