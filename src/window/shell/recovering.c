/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/recovery.h"
#include "window/parts/error-dialog.h"
#include "window/parts/work-card.h"
#include "window/shell/recovering.h"

/* One job on its way back. */
typedef struct {
  SbAppWindow *window;
  SbRecoverable *recoverable;
  SbRecovery *recovery;
  SbWorkCard *card;
} Return;

static void
return_free (Return *back)
{
  sb_work_card_done (back->card);
  g_object_unref (back->card);
  g_clear_pointer (&back->recovery, sb_recovery_free);
  sb_recoverable_free (back->recoverable);
  g_object_unref (back->window);
  g_free (back);
}

static char *
dup_name (const SbRecoverable *recoverable)
{
  if (!recoverable->job_path)
    return g_strdup (_ ("Job that was never saved"));
  g_autofree char *base = g_path_get_basename (recoverable->job_path);
  return g_filename_display_name (base);
}

static void
open_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Return *back = data;
  GError *error = NULL;
  SbState *state = sb_recoverable_open (back->recoverable, &back->recovery, cancellable, &error);

  if (state)
    g_task_return_pointer (task, state, (GDestroyNotify)sb_state_unref);
  else
    g_task_return_error (task, error);
}

static SbAppWindow *
empty_window (SbAppWindow *window)
{
  if (sb_app_window_is_empty (window))
    return window;
  window = sb_app_window_new (SB_APPLICATION (gtk_window_get_application (GTK_WINDOW (window))));
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Return *back = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) state = g_task_propagate_pointer (G_TASK (result), &error);

  if (state) {
    SbAppWindow *window = empty_window (back->window);
    g_autoptr (GFile) file =
        back->recoverable->job_path ? g_file_new_for_path (back->recoverable->job_path) : NULL;
    g_autoptr (SbDocument) document = sb_document_new_recovered (state, file);
    sb_app_window_set_recovered (window, document, g_steal_pointer (&back->recovery));
    sb_app_window_say (window, _ ("Your work is back. Save it to keep it."));
  } else {
    g_autofree char *name = dup_name (back->recoverable);
    g_autofree char *heading = g_strdup_printf (_ ("%s could not be recovered"), name);
    sb_error_dialog_show (GTK_WINDOW (back->window), heading, error->message);
  }
  return_free (back);
}

static void
bring_back (SbAppWindow *window, SbRecoverable *recoverable)
{
  Return *back = g_new0 (Return, 1);

  back->window = g_object_ref (window);
  back->recoverable = recoverable;
  back->card = g_object_ref (
      sb_work_card_new (sb_app_window_get_work_area (window), _ ("Recovering"), NULL));

  g_autoptr (GTask) task = g_task_new (NULL, NULL, opened_cb, back);
  g_task_set_task_data (task, back, NULL);
  g_task_run_in_thread (task, open_in_thread);
}

static void
response_cb (GtkDialog *dialog, int response, SbAppWindow *window)
{
  GPtrArray *found = g_object_get_data (G_OBJECT (dialog), "found");

  for (guint i = 0; i < found->len; i++) {
    SbRecoverable *recoverable = found->pdata[i];
    if (response == GTK_RESPONSE_ACCEPT) {
      found->pdata[i] = NULL; /* taken over */
      bring_back (window, recoverable);
    } else if (response == GTK_RESPONSE_REJECT) {
      sb_recoverable_discard (recoverable);
    }
  }
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* "• herbs.stickleback, kept Tuesday 14:02" */
static char *
describe (GPtrArray *found)
{
  GString *text = g_string_new (_ ("Stickleback was closed unexpectedly. It kept:"));

  for (guint i = 0; i < found->len; i++) {
    const SbRecoverable *recoverable = found->pdata[i];
    g_autofree char *name = dup_name (recoverable);
    g_autoptr (GDateTime) time = g_date_time_new_from_unix_local (recoverable->saved_at);
    g_autofree char *when = time ? g_date_time_format (time, "%c") : g_strdup ("");
    g_string_append_printf (text, "\n• %s, %s", name, when);
  }
  return g_string_free (text, FALSE);
}

static void
recoverable_clear (gpointer recoverable)
{
  if (recoverable)
    sb_recoverable_free (recoverable);
}

void
sb_recovering_offer (SbAppWindow *window)
{
  GPtrArray *found = sb_recovery_list ();

  if (found->len == 0) {
    g_ptr_array_unref (found);
    return;
  }
  g_ptr_array_set_free_func (found, recoverable_clear);
  g_autofree char *text = describe (found);
  GtkWidget *dialog = gtk_message_dialog_new (
      GTK_WINDOW (window), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
      GTK_BUTTONS_NONE, "%s",
      ngettext ("Bring back your work?", "Bring back your work?", found->len));
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", text);
  gtk_dialog_add_buttons (GTK_DIALOG (dialog), _ ("_Throw Away"), GTK_RESPONSE_REJECT, _ ("_Later"),
                          GTK_RESPONSE_CANCEL, _ ("_Bring Back"), GTK_RESPONSE_ACCEPT, NULL);
  gtk_widget_add_css_class (
      gtk_dialog_get_widget_for_response (GTK_DIALOG (dialog), GTK_RESPONSE_REJECT),
      "destructive-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  g_object_set_data_full (G_OBJECT (dialog), "found", found, (GDestroyNotify)g_ptr_array_unref);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), window);
  gtk_window_present (GTK_WINDOW (dialog));
}
