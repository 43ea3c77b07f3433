/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/download-dialog.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "output/cautions.h"
#include "output/download.h"
#include "window/parts/words.h"
#include "window/parts/work-card.h"

#define WIDTH 560
#define MOST_COPIES 100
#define MOST_MEGABYTES 4000
#define BYTES_PER_MEGABYTE 1e6
#define SECONDS 5 /* to lay each paper tightly */

typedef struct {
  SbDesk *desk;
  GtkWindow *window; /* NULL once it is closed */
  GtkWidget *letter, *a4, *pictures, *fill, *copies, *limit, *make;
  GtkWidget *texts[SB_N_ORDER_TEXTS]; /* NULL for those that do not matter here */
  GtkBox *area;                       /* progress, then what was made */
  GtkWidget *told;
  GCancellable *cancellable; /* while it is made */
  guint refs;                /* the window's and the thread's */
} Dialog;

static void
dialog_unref (Dialog *dialog)
{
  if (--dialog->refs > 0)
    return;
  g_clear_object (&dialog->cancellable);
  g_object_unref (dialog->desk);
  g_free (dialog);
}

/* --- Making, in a thread --- */

typedef struct {
  Dialog *dialog;
  SbState *state;
  SbDownloadParams params;
  SbWorkCard *card;
} Making;

static void
making_free (Making *making)
{
  sb_state_unref (making->state);
  g_free (making->params.folder);
  g_object_unref (making->card);
  dialog_unref (making->dialog);
  g_free (making);
}

typedef struct {
  SbWorkCard *card;
  char *what;
  double fraction;
} Told;

static void
told_free (Told *told)
{
  g_object_unref (told->card);
  g_free (told->what);
  g_free (told);
}

static gboolean
told_cb (gpointer data)
{
  Told *told = data;

  if (*told->what != '\0')
    sb_work_card_set_text (told->card, told->what);
  sb_work_card_set_fraction (told->card, told->fraction);
  return G_SOURCE_REMOVE;
}

static void
progress_in_thread (double fraction, const char *what, gpointer data)
{
  Making *making = data;
  Told *told = g_new0 (Told, 1);

  told->card = g_object_ref (making->card);
  told->what = g_strdup (what);
  told->fraction = fraction;
  g_main_context_invoke_full (NULL, G_PRIORITY_DEFAULT, told_cb, told, (GDestroyNotify)told_free);
}

static void
make_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Making *making = data;
  GError *error = NULL;
  SbDownload *download = sb_download_make (making->state, &making->params, progress_in_thread,
                                           making, cancellable, &error);

  if (download)
    g_task_return_pointer (task, download, (GDestroyNotify)sb_download_free);
  else
    g_task_return_error (task, error);
}

static char *
describe (const SbDownload *download, guint64 most_bytes)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < download->files->len; i++) {
    const SbDownloadFile *file = download->files->pdata[i];
    g_autofree char *size = g_format_size (file->bytes);
    g_string_append_printf (text, "%s, %s%s\n", file->name, size,
                            file->bytes > most_bytes ? _ (": over the limit, cannot be split")
                                                     : "");
  }
  g_autofree char *all = g_format_size (download->bytes);
  g_string_append_printf (
      text, ngettext ("%u file, %s in all.", "%u files, %s in all.", download->files->len),
      download->files->len, all);
  if (download->too_large > 0)
    g_string_append_printf (text,
                            ngettext (" %u design is too large for the paper and was left out.",
                                      " %u designs are too large for the paper and were left out.",
                                      download->too_large),
                            download->too_large);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
made_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Making *making = user_data;
  Dialog *dialog = making->dialog;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDownload) download = g_task_propagate_pointer (G_TASK (result), &error);

  g_clear_object (&dialog->cancellable);
  if (dialog->window) {
    g_autofree char *text =
        download ? describe (download, making->params.most_bytes) : g_strdup (error->message);
    sb_work_card_done (making->card);
    gtk_widget_set_sensitive (dialog->make, TRUE);
    if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
      gtk_label_set_label (GTK_LABEL (dialog->told), text);
  }
  making_free (making);
}

static gboolean
is_active (GtkWidget *check)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (check));
}

static double
value_of (GtkWidget *spin)
{
  return gtk_spin_button_get_value (GTK_SPIN_BUTTON (spin));
}

static void
start (Dialog *dialog, const char *folder)
{
  Making *making = g_new0 (Making, 1);

  dialog->cancellable = g_cancellable_new ();
  dialog->refs++;
  making->dialog = dialog;
  making->state = sb_state_ref (sb_desk_get_whole (dialog->desk));
  making->params = (SbDownloadParams){
      .folder = g_strdup (folder),
      .letter = is_active (dialog->letter),
      .a4 = is_active (dialog->a4),
      .pictures = is_active (dialog->pictures),
      .fill = is_active (dialog->fill),
      .copies = (int)value_of (dialog->copies),
      .most_bytes = (guint64)(value_of (dialog->limit) * BYTES_PER_MEGABYTE),
      .seconds = SECONDS,
  };
  making->card = g_object_ref (
      sb_work_card_new (dialog->area, _ ("Making the download"), dialog->cancellable));
  gtk_widget_set_sensitive (dialog->make, FALSE);
  gtk_label_set_label (GTK_LABEL (dialog->told), "");
  g_autoptr (GTask) task = g_task_new (NULL, dialog->cancellable, made_cb, making);
  g_task_set_task_data (task, making, NULL);
  g_task_run_in_thread (task, make_in_thread);
}

/* --- The dialog --- */

/* What was typed becomes part of the order. */
static void
take_texts (Dialog *dialog)
{
  SbState *state = sb_desk_get_whole (dialog->desk);
  SbOrder *order = sb_order_copy (state->order);

  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    if (dialog->texts[i])
      sb_order_set_text (order, (SbOrderText)i,
                         gtk_editable_get_text (GTK_EDITABLE (dialog->texts[i])));
  sb_job_edit (sb_desk_get_job (dialog->desk), sb_edit_set_order (state, order),
               _ ("Change the Download’s Words"), NULL);
}

static void
folder_response_cb (GtkNativeDialog *chooser, int response, Dialog *dialog)
{
  g_autoptr (GFile) folder = response == GTK_RESPONSE_ACCEPT
                                 ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser))
                                 : NULL;
  const char *path = folder ? g_file_peek_path (folder) : NULL;

  if (path && dialog->window && !dialog->cancellable) {
    take_texts (dialog);
    start (dialog, path);
  }
  g_object_unref (chooser);
  dialog_unref (dialog);
}

static void
make_cb (Dialog *dialog)
{
  GtkFileChooserNative *chooser = gtk_file_chooser_native_new (
      _ ("Folder for the Download"), dialog->window, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
      _ ("_Choose"), _ ("_Cancel"));

  dialog->refs++;
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  g_signal_connect (chooser, "response", G_CALLBACK (folder_response_cb), dialog);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
papers_cb (Dialog *dialog)
{
  gtk_widget_set_sensitive (dialog->make, (is_active (dialog->letter) || is_active (dialog->a4)) &&
                                              !dialog->cancellable);
}

static GtkWidget *
check_new (GtkGrid *grid, int row, const char *label, gboolean active)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (label);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), active);
  gtk_grid_attach (grid, check, 0, row, 2, 1);
  return check;
}

static void
add_row (GtkGrid *grid, int row, const char *words, GtkWidget *widget)
{
  GtkWidget *label = gtk_label_new (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  -1);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, widget, 1, row, 1, 1);
}

static GtkWidget *
spin_new (double most, double value)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (1, most, 1);

  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), value);
  return spin;
}

static GtkWidget *
grid_new (Dialog *dialog)
{
  static const SbOrderText texts[] = {SB_ORDER_TITLE, SB_ORDER_MAKER, SB_ORDER_CONTACT,
                                      SB_ORDER_YEAR, SB_ORDER_LICENCE};
  const SbOrder *order = sb_desk_get_whole (dialog->desk)->order;
  GtkWidget *grid = gtk_grid_new ();
  int row = 0;

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  dialog->letter = check_new (GTK_GRID (grid), row++, _ ("Pages for _Letter"), TRUE);
  dialog->a4 = check_new (GTK_GRID (grid), row++, _ ("Pages for _A4"), TRUE);
  dialog->pictures =
      check_new (GTK_GRID (grid), row++, _ ("_Pictures too: pages and single stickers"), TRUE);
  dialog->fill = check_new (GTK_GRID (grid), row++, _ ("_Freebies into the gaps"), FALSE);
  dialog->copies = spin_new (MOST_COPIES, 1);
  dialog->limit = spin_new (MOST_MEGABYTES, SB_DOWNLOAD_USUAL_BYTES / BYTES_PER_MEGABYTE);
  add_row (GTK_GRID (grid), row++, _ ("Copies of each design"), dialog->copies);
  add_row (GTK_GRID (grid), row++, _ ("Split files larger than, MB"), dialog->limit);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    GtkWidget *entry = gtk_entry_new ();
    gtk_editable_set_text (GTK_EDITABLE (entry), order->texts[texts[i]]);
    dialog->texts[texts[i]] = entry;
    add_row (GTK_GRID (grid), row++, _ (sb_order_text_get_info (texts[i])->label), entry);
  }
  gtk_entry_set_placeholder_text (GTK_ENTRY (dialog->texts[SB_ORDER_LICENCE]),
                                  _ ("Personal use only"));
  g_signal_connect_swapped (dialog->letter, "toggled", G_CALLBACK (papers_cb), dialog);
  g_signal_connect_swapped (dialog->a4, "toggled", G_CALLBACK (papers_cb), dialog);
  return grid;
}

static GtkWidget *
words_new (const char *text, const char *css_class)
{
  GtkWidget *label = sb_words_new (text, css_class);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  return label;
}

static GtkWidget *
body_new (Dialog *dialog)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_widget_set_margin_top (box, 18);
  gtk_widget_set_margin_bottom (box, 18);
  gtk_widget_set_margin_start (box, 18);
  gtk_widget_set_margin_end (box, 18);
  gtk_box_append (GTK_BOX (box),
                  words_new (_ ("Each paper is laid anew, never scaled, with wide margins, a check "
                                "bar on every page and a cover that says how to print and cut."),
                             NULL));
  gtk_box_append (GTK_BOX (box), grid_new (dialog));
  gtk_box_append (GTK_BOX (box),
                  words_new (_ ("Sell files only of artwork whose licence lets you pass files on."),
                             "dim-label"));
  gtk_box_append (GTK_BOX (box),
                  words_new (sb_caution_get_text (SB_CAUTION_LOCAL_RULES), "dim-label"));
  dialog->area = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  dialog->told = words_new (NULL, NULL);
  gtk_label_set_selectable (GTK_LABEL (dialog->told), TRUE);
  gtk_box_append (dialog->area, dialog->told);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (dialog->area));
  return box;
}

static GtkWidget *
header_new (Dialog *dialog)
{
  GtkWidget *header = gtk_header_bar_new ();

  dialog->make = gtk_button_new_with_mnemonic (_ ("_Make…"));
  gtk_widget_add_css_class (dialog->make, "suggested-action");
  g_signal_connect_swapped (dialog->make, "clicked", G_CALLBACK (make_cb), dialog);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), dialog->make);
  return header;
}

static void
destroyed_cb (GtkWidget *window, Dialog *dialog)
{
  dialog->window = NULL;
  if (dialog->cancellable)
    g_cancellable_cancel (dialog->cancellable);
  dialog_unref (dialog);
}

void
sb_download_dialog_show (GtkWindow *parent, SbDesk *desk)
{
  Dialog *dialog = g_new0 (Dialog, 1);
  GtkWidget *window = gtk_window_new ();
  GtkEventController *keys = gtk_shortcut_controller_new ();

  dialog->refs = 1;
  dialog->desk = g_object_ref (desk);
  dialog->window = GTK_WINDOW (window);
  gtk_window_set_title (dialog->window, _ ("Download to Print at Home"));
  gtk_window_set_transient_for (dialog->window, parent);
  gtk_window_set_modal (dialog->window, TRUE);
  gtk_window_set_destroy_with_parent (dialog->window, TRUE);
  gtk_window_set_default_size (dialog->window, WIDTH, -1);
  gtk_window_set_titlebar (dialog->window, header_new (dialog));
  gtk_window_set_child (dialog->window, body_new (dialog));
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_shortcut_trigger_parse_string ("Escape"),
                        gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, keys);
  g_signal_connect (window, "destroy", G_CALLBACK (destroyed_cb), dialog);
  gtk_window_present (dialog->window);
}
