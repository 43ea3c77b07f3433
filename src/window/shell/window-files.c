/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The life of a window's file: opening, saving, and the question before work is lost. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/file.h"
#include "window/desk/recent.h"
#include "window/parts/error-dialog.h"
#include "window/parts/file-chooser.h"
#include "window/shell/import.h"
#include "window/shell/window-private.h"
#include "window/shell/window-work.h"

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbWindowWork *work = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDocument) document = sb_document_load_finish (result, &error);

  sb_app_window_set_opening (work->window, FALSE);
  if (document) {
    sb_recent_add (work->file);
    sb_app_window_set_document (work->window, document);
  } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    sb_error_dialog_show (GTK_WINDOW (work->window), _ ("The job could not be opened"),
                          error->message);
  }
  sb_window_work_free (work);
}

void
sb_app_window_open_job (SbAppWindow *self, GFile *file)
{
  g_autofree char *name = sb_window_work_dup_name (file);
  g_autofree char *title = g_strdup_printf (_ ("Opening %s"), name);
  SbWindowWork *work = sb_window_work_new (self, file, title, TRUE);

  sb_app_window_set_opening (self, TRUE);
  sb_document_load_async (file, work->cancellable, opened_cb, work);
}

static gboolean
is_job (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);
  return g_str_has_suffix (name, SB_JOB_EXTENSION);
}

void
sb_window_files_open_list (SbAppWindow *self, GPtrArray *files)
{
  SbApplication *application = SB_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)));
  g_autoptr (GListStore) pictures = g_list_store_new (G_TYPE_FILE);

  for (guint i = 0; i < files->len; i++)
    if (is_job (files->pdata[i]))
      sb_application_open_job (application, files->pdata[i], GTK_WINDOW (self));
    else
      g_list_store_append (pictures, files->pdata[i]);
  if (g_list_model_get_n_items (G_LIST_MODEL (pictures)) > 0)
    sb_app_window_open_pictures (self, G_LIST_MODEL (pictures));
}

static void
open_response_cb (GtkNativeDialog *dialog, int response, SbAppWindow *self)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog));
    g_autoptr (GPtrArray) array = g_ptr_array_new_with_free_func (g_object_unref);
    for (guint i = 0; i < g_list_model_get_n_items (files); i++)
      g_ptr_array_add (array, g_list_model_get_item (files, i));
    sb_window_files_open_list (self, array);
  }
  g_object_unref (dialog);
}

void
sb_window_files_open (SbAppWindow *self)
{
  GtkFileChooserNative *dialog = sb_file_chooser_new (GTK_WINDOW (self), _ ("Open"),
                                                      GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Open"));

  sb_file_chooser_add_jobs (dialog);
  sb_file_chooser_add_pictures (dialog);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (open_response_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbWindowWork *work = user_data;
  g_autoptr (GError) error = NULL;

  if (!sb_document_save_finish (SB_DOCUMENT (source), result, &error)) {
    sb_error_dialog_show (GTK_WINDOW (work->window), _ ("The job could not be saved"),
                          error->message);
  } else {
    g_autofree char *name = sb_window_work_dup_name (work->file);
    g_autofree char *text = g_strdup_printf (_ ("Saved as %s"), name);
    sb_recent_add (work->file);
    sb_app_window_say (work->window, text);
    if (work->then_close)
      sb_app_window_close_now (work->window);
  }
  sb_window_work_free (work);
}

static void
save_to (SbAppWindow *self, GFile *file, gboolean then_close)
{
  SbWindowWork *work = sb_window_work_new (self, file, _ ("Saving"), FALSE);

  work->then_close = then_close;
  sb_document_save_async (sb_desk_get_document (sb_app_window_get_desk (self)), file, saved_cb,
                          work);
}

static void
save_as_response_cb (GtkNativeDialog *dialog, int response, SbAppWindow *self)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GFile) chosen = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
    g_autofree char *name = g_file_get_basename (chosen);
    g_autoptr (GFile) file = NULL;

    if (g_str_has_suffix (name, SB_JOB_EXTENSION)) {
      file = g_object_ref (chosen);
    } else {
      g_autoptr (GFile) folder = g_file_get_parent (chosen);
      g_autofree char *full = g_strconcat (name, SB_JOB_EXTENSION, NULL);
      file = g_file_get_child (folder, full);
    }
    save_to (self, file, g_object_get_data (G_OBJECT (dialog), "then-close") != NULL);
  }
  g_object_unref (dialog);
}

static void
ask_where_to_save (SbAppWindow *self, gboolean then_close)
{
  GtkFileChooserNative *dialog = sb_file_chooser_new (GTK_WINDOW (self), _ ("Save Job"),
                                                      GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"));
  SbDocument *document = sb_desk_get_document (sb_app_window_get_desk (self));
  g_autofree char *name = sb_document_dup_name (document);
  g_autofree char *file_name = g_strconcat (name, SB_JOB_EXTENSION, NULL);

  sb_file_chooser_add_jobs (dialog);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), file_name);
  if (then_close)
    g_object_set_data (G_OBJECT (dialog), "then-close", self);
  g_signal_connect (dialog, "response", G_CALLBACK (save_as_response_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
overwrite_response_cb (GtkDialog *dialog, int response, SbAppWindow *self)
{
  gboolean then_close = g_object_get_data (G_OBJECT (dialog), "then-close") != NULL;

  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_ACCEPT)
    save_to (self, sb_app_window_get_file (self), then_close);
  else if (response == GTK_RESPONSE_APPLY)
    ask_where_to_save (self, then_close);
}

/* The file is another one than we read: whose work is to be lost? */
static void
ask_to_overwrite (SbAppWindow *self, gboolean then_close)
{
  GtkWidget *dialog = gtk_message_dialog_new (
      GTK_WINDOW (self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_WARNING,
      GTK_BUTTONS_NONE, "%s", _ ("Save over the changes of another program?"));

  gtk_message_dialog_format_secondary_text (
      GTK_MESSAGE_DIALOG (dialog), "%s",
      _ ("The file has been changed since you opened it here. Saving now loses those changes."));
  gtk_dialog_add_buttons (GTK_DIALOG (dialog), _ ("_Cancel"), GTK_RESPONSE_CANCEL, _ ("Save _As…"),
                          GTK_RESPONSE_APPLY, _ ("Save _Over It"), GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_APPLY);
  if (then_close)
    g_object_set_data (G_OBJECT (dialog), "then-close", self);
  g_signal_connect (dialog, "response", G_CALLBACK (overwrite_response_cb), self);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
save (SbAppWindow *self, gboolean then_close)
{
  GFile *file = sb_app_window_get_file (self);

  if (!file)
    ask_where_to_save (self, then_close);
  else if (sb_document_is_changed_outside (sb_desk_get_document (sb_app_window_get_desk (self))))
    ask_to_overwrite (self, then_close);
  else
    save_to (self, file, then_close);
}

/* What waits for a window's changes, in the order it was asked for. */
#define LATER_KEY "sb-later"

static void
settled_cb (SbDesignChanger *changer, SbAppWindow *self)
{
  g_autoptr (GPtrArray) later = g_object_steal_data (G_OBJECT (self), LATER_KEY);

  g_signal_handlers_disconnect_by_func (changer, settled_cb, self);
  for (guint i = 0; i < later->len; i++)
    ((void (*) (SbAppWindow *))later->pdata[i]) (self);
}

void
sb_window_files_when_settled (SbAppWindow *self, void (*then) (SbAppWindow *))
{
  SbDesignChanger *changer = sb_desk_get_changer (sb_app_window_get_desk (self));
  GPtrArray *later = g_object_get_data (G_OBJECT (self), LATER_KEY);
  g_autoptr (GtkWidget) focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus) {
    g_object_ref (focus);
    gtk_window_set_focus (GTK_WINDOW (self), NULL);
    gtk_window_set_focus (GTK_WINDOW (self), focus);
  }
  if (sb_design_changer_hurry (changer)) {
    then (self);
    return;
  }
  if (!later) {
    later = g_ptr_array_new ();
    g_object_set_data_full (G_OBJECT (self), LATER_KEY, later, (GDestroyNotify)g_ptr_array_unref);
    g_signal_connect_object (changer, "settled", G_CALLBACK (settled_cb), self, 0);
  }
  if (!g_ptr_array_find (later, (gconstpointer)then, NULL))
    g_ptr_array_add (later, (gpointer)then);
}

static void
save_settled (SbAppWindow *self)
{
  save (self, FALSE);
}

void
sb_window_files_save (SbAppWindow *self)
{
  sb_window_files_when_settled (self, save_settled);
}

static void
save_as_settled (SbAppWindow *self)
{
  ask_where_to_save (self, FALSE);
}

void
sb_window_files_save_as (SbAppWindow *self)
{
  sb_window_files_when_settled (self, save_as_settled);
}

static void
close_response_cb (GtkDialog *dialog, int response, SbAppWindow *self)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (response == GTK_RESPONSE_ACCEPT)
    save (self, TRUE);
  else if (response == GTK_RESPONSE_NO)
    sb_app_window_close_now (self);
}

static void
close_settled (SbAppWindow *self)
{
  SbDocument *document = sb_desk_get_document (sb_app_window_get_desk (self));
  g_autofree char *name = sb_document_dup_name (document);
  if (!sb_document_is_modified (document)) {
    sb_app_window_close_now (self);
    return;
  }
  GtkWidget *dialog = gtk_message_dialog_new (
      GTK_WINDOW (self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
      GTK_BUTTONS_NONE, _ ("Save “%s” before closing?"), name);

  gtk_message_dialog_format_secondary_text (
      GTK_MESSAGE_DIALOG (dialog), "%s",
      _ ("Without saving, the work since you last saved is lost."));
  gtk_dialog_add_buttons (GTK_DIALOG (dialog), _ ("_Discard"), GTK_RESPONSE_NO, _ ("_Cancel"),
                          GTK_RESPONSE_CANCEL, _ ("_Save"), GTK_RESPONSE_ACCEPT, NULL);
  gtk_widget_add_css_class (
      gtk_dialog_get_widget_for_response (GTK_DIALOG (dialog), GTK_RESPONSE_NO),
      "destructive-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  g_signal_connect (dialog, "response", G_CALLBACK (close_response_cb), self);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
sb_window_files_close (SbAppWindow *self)
{
  sb_window_files_when_settled (self, close_settled);
}

static void
reloaded_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbWindowWork *work = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDocument) document = sb_document_load_finish (result, &error);

  if (document) {
    SbDesk *desk = sb_app_window_get_desk (work->window);
    SbState *state = sb_job_get_state (sb_document_get_job (document));
    /* A step of history, so that the maker's own work can be had back. */
    sb_job_edit (sb_desk_get_job (desk), sb_state_ref (state), _ ("Read File Again"), NULL);
    sb_document_accept_outside (sb_desk_get_document (desk));
    sb_app_window_say_undo (work->window, _ ("The file was read again"));
  } else {
    sb_error_dialog_show (GTK_WINDOW (work->window), _ ("The job could not be read again"),
                          error->message);
  }
  sb_window_work_free (work);
}

void
sb_window_files_reload (SbAppWindow *self)
{
  GFile *file = sb_app_window_get_file (self);

  sb_document_load_async (file, NULL, reloaded_cb,
                          sb_window_work_new (self, file, _ ("Opening"), FALSE));
}

static void
add_response_cb (GtkNativeDialog *dialog, int response, SbAppWindow *self)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog));
    sb_app_window_open_pictures (self, files);
  }
  g_object_unref (dialog);
}

void
sb_window_files_add_artwork (SbAppWindow *self)
{
  GtkFileChooserNative *dialog = sb_file_chooser_new (GTK_WINDOW (self), _ ("Add Artwork"),
                                                      GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Add"));

  sb_file_chooser_add_pictures (dialog);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (add_response_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

void
sb_app_window_open_pictures (SbAppWindow *self, GListModel *files)
{
  if (!sb_app_window_get_desk (self))
    sb_app_window_new_job (self, NULL);
  sb_import_files (self, files, SB_IMPORT_TO_DRAWER);
}

/* The paper used last, else what the locale's measures go with. */
static const SbPaper *
usual_paper (SbAppWindow *self)
{
  g_autofree char *name = NULL;

  g_object_get (sb_app_window_get_preferences (self), "paper", &name, NULL);
  const SbPaper *paper = sb_paper_find (name);
  if (!paper)
    paper = sb_paper_find (sb_unit_from_locale () == SB_UNIT_INCH ? "letter" : "a4");
  return paper;
}

void
sb_app_window_new_job (SbAppWindow *self, const char *paper_name)
{
  const SbPaper *paper = paper_name ? sb_paper_find (paper_name) : usual_paper (self);

  g_return_if_fail (paper != NULL);
  g_object_set (sb_app_window_get_preferences (self), "paper", paper->name, NULL);
  g_autoptr (SbState) state = sb_state_new (paper->name, paper->width, paper->height);
  g_autoptr (SbDocument) document = sb_document_new (state);
  sb_app_window_set_document (self, document);
}

static void
replace_response_cb (GtkNativeDialog *dialog, int response, SbAppWindow *self)
{
  guint design_id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (dialog), "design-id"));

  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
    sb_import_replace (self, design_id, file);
  }
  g_object_unref (dialog);
}

void
sb_window_files_replace_artwork (SbAppWindow *self, guint design_id)
{
  GtkFileChooserNative *dialog = sb_file_chooser_new (GTK_WINDOW (self), _ ("Replace Artwork"),
                                                      GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Replace"));

  sb_file_chooser_add_pictures (dialog);
  g_object_set_data (G_OBJECT (dialog), "design-id", GUINT_TO_POINTER (design_id));
  g_signal_connect (dialog, "response", G_CALLBACK (replace_response_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
