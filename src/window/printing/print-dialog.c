/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 *   proof -> (stop? ask) -> system dialog -> paper and stock checks, proof for the chosen printer
 *         -> (kind of printer not known, stop or caution? ask) -> PDF -> GtkPrintJob -> told
 *
 * GtkPrintOperation is not used: in GTK 4.8 its PRINT action frees a printer list that is still in
 * use, and its dialog drops the print-scaling setting. */
#include "config.h"

#include "window/printing/print-dialog.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "printing/send.h"
#include "window/parts/error-dialog.h"
#include "window/printing/print-chooser.h"
#include "window/printing/print-preparing.h"
#include "window/printing/print-sending.h"
#include "window/printing/print-setup.h"

typedef struct {
  GtkWindow *parent; /* weak */
  SbState *state;
  char *title;
  SbUnit unit;
  SbPrintTold told;
  gpointer data;
  SbPrintChoice choice;       /* what the dialog gave */
  SbPrintPreparing preparing; /* what is made of it */
  GArray *pages;              /* guint: the chosen ones */
  guint stops;                /* of the job, before a printer was chosen */
} Handoff;

static void
handoff_free (Handoff *handoff)
{
  g_clear_weak_pointer (&handoff->parent);
  sb_state_unref (handoff->state);
  g_free (handoff->title);
  sb_print_choice_clear (&handoff->choice);
  sb_print_preparing_clear (&handoff->preparing);
  g_clear_pointer (&handoff->pages, g_array_unref);
  g_free (handoff);
}

/* --- Dialogs --- */

/* A dialog that goes away with its window, without an answer. */
static void
gone_cb (GtkWidget *dialog, Handoff *handoff)
{
  handoff_free (handoff);
}

static void
present (GtkWidget *dialog, GCallback answered, Handoff *handoff)
{
  g_signal_connect (dialog, "response", answered, handoff);
  g_signal_connect (dialog, "destroy", G_CALLBACK (gone_cb), handoff);
  gtk_window_present (GTK_WINDOW (dialog));
}

static gboolean
destroy_cb (gpointer dialog)
{
  gtk_window_destroy (dialog);
  return G_SOURCE_REMOVE;
}

/* Destroyed a little later: GTK 4.8's print dialog looks at its list of printers again on its way
 * out of the answer. */
static void
close_answered (GtkDialog *dialog, Handoff *handoff)
{
  g_signal_handlers_disconnect_by_data (dialog, handoff);
  gtk_widget_set_visible (GTK_WIDGET (dialog), FALSE);
  g_idle_add_full (G_PRIORITY_LOW, destroy_cb, g_object_ref (dialog), g_object_unref);
}

static void
show_error (Handoff *handoff, const char *heading, const char *reason)
{
  if (handoff->parent)
    sb_error_dialog_show (handoff->parent, heading, reason);
}

/* Asks for a second, deliberate yes: the safe answer has the focus and Escape. */
static void
ask (Handoff *handoff, const char *heading, const char *text, const char *yes, GCallback answered)
{
  GtkWidget *dialog =
      gtk_message_dialog_new (handoff->parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                              GTK_MESSAGE_WARNING, GTK_BUTTONS_NONE, "%s", heading);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", text);
  gtk_dialog_add_button (GTK_DIALOG (dialog), _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (dialog), yes, GTK_RESPONSE_ACCEPT);
  gtk_widget_add_css_class (button, "destructive-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CANCEL);
  present (dialog, answered, handoff);
}

/* --- Sending --- */

static void
sent_cb (const char *note, const GError *error, gpointer data)
{
  Handoff *handoff = data;

  if (error) {
    g_autofree char *heading =
        g_strdup_printf (_ ("The pages did not get to %s"), handoff->choice.name);
    show_error (handoff, heading, error->message);
  } else if (handoff->parent && handoff->told) {
    g_autofree char *sent = handoff->choice.to_file
                                ? g_strdup (_ ("Written to the file"))
                                : g_strdup_printf (_ ("Sent to %s"), handoff->choice.name);
    handoff->told (handoff->parent, note ? note : sent, handoff->data);
  }
  handoff_free (handoff);
}

static void
send (Handoff *handoff)
{
  const SbPrintChoice *choice = &handoff->choice;

  sb_print_sending_start (choice->printer, choice->settings, choice->setup, handoff->title,
                          handoff->preparing.pdf, handoff->preparing.last_job, sent_cb, handoff);
}

static void
send_anyway_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  close_answered (dialog, handoff);
  if (response == GTK_RESPONSE_ACCEPT && handoff->parent)
    send (handoff);
  else
    handoff_free (handoff);
}

/* --- Preparing, in a thread --- */

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Handoff *handoff = data;
  GError *error = NULL;

  if (sb_print_prepare (&handoff->preparing, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void prepare (Handoff *handoff);

static void
kind_told_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  g_autoptr (GError) error = NULL;

  close_answered (dialog, handoff);
  if ((response != SB_PRINTER_LASER && response != SB_PRINTER_INKJET) || !handoff->parent) {
    handoff_free (handoff);
  } else if (!sb_printer_remember_kind (handoff->choice.name, (SbPrinterKind)response, &error)) {
    show_error (handoff, _ ("Nothing was printed"), error->message);
    handoff_free (handoff);
  } else {
    sb_print_preparing_clear (&handoff->preparing);
    prepare (handoff);
  }
}

/* Asked once for each printer: the answer is kept. */
static void
ask_kind (Handoff *handoff)
{
  GtkWidget *dialog = gtk_message_dialog_new (
      handoff->parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
      GTK_BUTTONS_NONE, _ ("What kind of printer is %s?"), handoff->choice.name);
  gtk_message_dialog_format_secondary_text (
      GTK_MESSAGE_DIALOG (dialog),
      _ ("It does not say so itself. Stock that is not rated for laser printers must not go into "
         "one: heat can melt it or loosen its adhesive. Your answer is kept."));
  gtk_dialog_add_button (GTK_DIALOG (dialog), _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  gtk_dialog_add_button (GTK_DIALOG (dialog), _ ("_Laser"), SB_PRINTER_LASER);
  gtk_dialog_add_button (GTK_DIALOG (dialog), _ ("_Inkjet"), SB_PRINTER_INKJET);
  present (dialog, G_CALLBACK (kind_told_cb), handoff);
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Handoff *handoff = user_data;
  g_autoptr (GError) error = NULL;

  if (!g_task_propagate_boolean (G_TASK (result), &error)) {
    show_error (handoff, _ ("Nothing was printed"), error->message);
    handoff_free (handoff);
  } else if (!handoff->parent) {
    handoff_free (handoff);
  } else if (handoff->preparing.kind_missing) {
    ask_kind (handoff);
  } else if (handoff->preparing.question) {
    g_autofree char *heading =
        g_strdup_printf (_ ("Print on %s all the same?"), handoff->choice.name);
    ask (handoff, heading, handoff->preparing.question, _ ("_Print Anyway"),
         G_CALLBACK (send_anyway_cb));
  } else {
    send (handoff);
  }
}

static void
prepare (Handoff *handoff)
{
  SbPrintPreparing *preparing = &handoff->preparing;

  preparing->state = handoff->state;
  preparing->printer_name = handoff->choice.name;
  preparing->to_file = handoff->choice.to_file;
  preparing->unit = handoff->unit;
  g_autoptr (GTask) task = g_task_new (NULL, NULL, prepared_cb, handoff);
  g_task_set_task_data (task, handoff, NULL);
  g_task_run_in_thread (task, prepare_in_thread);
}

static void
borderless_anyway_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  close_answered (dialog, handoff);
  if (response == GTK_RESPONSE_ACCEPT && handoff->parent)
    prepare (handoff);
  else
    handoff_free (handoff);
}

/* --- The system dialog --- */

static void
ask_borderless (Handoff *handoff)
{
  const SbState *state = handoff->state;
  SbOvershoot effect = sb_overshoot (state->page_width, state->page_height, state->overshoot);
  double nominal = 2 * SB_MM_PER_INCH;
  g_autofree char *ends = sb_length_format (sb_um_to_mm (effect.lost.top), handoff->unit);
  g_autofree char *sides = sb_length_format (sb_um_to_mm (effect.lost.left), handoff->unit);
  g_autofree char *size = sb_length_format (nominal, handoff->unit);
  g_autofree char *becomes = sb_length_format (nominal * effect.most_scale, handoff->unit);
  g_autofree char *overshoot = sb_length_format (sb_um_to_mm (state->overshoot), handoff->unit);
  g_autofree char *text = g_strdup_printf (
      _ ("Borderless printing is not true size: the printer enlarges the page until it passes the "
         "paper's edges. With an overshoot of %1$s up to %2$s are lost at the top and the foot and "
         "%3$s at the sides, and a sticker of %4$s becomes up to %5$s. Choose the same paper with "
         "margins to keep the size."),
      overshoot, ends, sides, size, becomes);
  ask (handoff, _ ("Print borderless?"), text, _ ("_Print Borderless"),
       G_CALLBACK (borderless_anyway_cb));
}

/* The job's own state follows what the dialog's paper says. */
static void
take_borderless (Handoff *handoff)
{
  SbState *state = handoff->state;

  if (sb_print_setup_is_borderless (handoff->choice.setup))
    handoff->state =
        sb_edit_set_borderless (state, state->overshoot > 0 ? state->overshoot : SB_OVERSHOOT_UM);
  else if (state->overshoot > 0)
    handoff->state = sb_edit_set_margins (state, state->margins, SB_MARGINS_PRINTER);
  else
    return;
  sb_state_unref (state);
}

static void
refuse_paper (Handoff *handoff)
{
  const SbState *state = handoff->state;
  GtkPaperSize *paper = gtk_page_setup_get_paper_size (handoff->choice.setup);
  g_autofree char *wanted = sb_length_format_size (
      sb_um_to_mm (MIN (state->page_width, state->page_height)),
      sb_um_to_mm (MAX (state->page_width, state->page_height)), handoff->unit);
  g_autofree char *text = g_strdup_printf (
      _ ("The job is laid on paper of %s, but %s was chosen for printing. Nothing is ever scaled "
         "to fit: choose the job's paper in the print dialog, or change the paper in Details and "
         "arrange anew."),
      wanted, gtk_paper_size_get_display_name (paper));
  show_error (handoff, _ ("That is another paper"), text);
}

static void
take_choices (Handoff *handoff, GtkWidget *chooser)
{
  SbPrintChoice *choice = &handoff->choice;

  sb_print_choice_read (choice, chooser);
  handoff->pages = sb_print_setup_choose_pages (choice->settings, (int)handoff->state->pages->len);
  handoff->preparing.request = (SbPrintRequest){
      .title = handoff->title,
      .paint = {.mode = choice->plain ? SB_PAINT_PLAIN : SB_PAINT_FULL,
                .check_bar = choice->check_bar,
                .unit = handoff->unit},
      .page = -1,
      .pages = (const guint *)(void *)handoff->pages->data,
      .n_pages = handoff->pages->len,
      .copies = 1, /* the queue makes them, by the dialog's own setting */
      .part_used = choice->part_used,
  };
}

static void
chosen_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  if (response == GTK_RESPONSE_OK)
    take_choices (handoff, GTK_WIDGET (dialog));
  close_answered (dialog, handoff);

  if (!handoff->choice.printer || !handoff->parent) {
    handoff_free (handoff);
  } else if (!sb_print_setup_fits (handoff->choice.setup, handoff->state)) {
    refuse_paper (handoff);
    handoff_free (handoff);
  } else if (handoff->pages->len == 0) {
    show_error (handoff, _ ("Nothing was printed"), _ ("The job has none of the pages chosen."));
    handoff_free (handoff);
  } else {
    take_borderless (handoff);
    if (handoff->state->overshoot > 0)
      ask_borderless (handoff);
    else
      prepare (handoff);
  }
}

static void
open_dialog (Handoff *handoff)
{
  present (sb_print_chooser_new (handoff->parent, handoff->state), G_CALLBACK (chosen_cb), handoff);
}

/* --- The first question --- */

static void
open_anyway_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  close_answered (dialog, handoff);
  if (response != GTK_RESPONSE_ACCEPT || !handoff->parent) {
    handoff_free (handoff);
    return;
  }
  handoff->preparing.stops_allowed = handoff->stops;
  open_dialog (handoff);
}

static void
proof_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Handoff *handoff = data;
  g_task_return_pointer (task, sb_print_list_stops (handoff->state, handoff->unit, &handoff->stops),
                         g_free);
}

static void
proofed_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Handoff *handoff = user_data;
  g_autofree char *stops = g_task_propagate_pointer (G_TASK (result), NULL);

  if (!handoff->parent)
    handoff_free (handoff);
  else if (stops)
    ask (handoff, _ ("The proof says stop. Print all the same?"), stops, _ ("_Print Anyway"),
         G_CALLBACK (open_anyway_cb));
  else
    open_dialog (handoff);
}

void
sb_print_dialog_run (GtkWindow *parent, SbState *state, const char *title, SbUnit unit,
                     SbPrintTold told, gpointer data)
{
  Handoff *handoff = g_new0 (Handoff, 1);

  g_set_weak_pointer (&handoff->parent, parent);
  handoff->state = sb_state_ref (state);
  handoff->title = g_strdup (title);
  handoff->unit = unit;
  handoff->told = told;
  handoff->data = data;
  g_autoptr (GTask) task = g_task_new (NULL, NULL, proofed_cb, handoff);
  g_task_set_task_data (task, handoff, NULL);
  g_task_run_in_thread (task, proof_in_thread);
}
