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
#include <gtk/gtkunixprint.h>

#include "job/edit.h"
#include "printing/run.h"
#include "printing/send.h"
#include "proof/proof.h"
#include "window/printing/print-sending.h"
#include "window/printing/print-setup.h"

#define FINDINGS_SHOWN 4

typedef struct {
  GtkWindow *parent; /* weak */
  SbState *state;
  char *title;
  SbUnit unit;
  SbPrintTold told;
  gpointer data;
  guint stops_allowed; /* the maker said yes to that many stops */

  GtkCheckButton *plain_check, *bar_check, *used_check; /* in the dialog, while it is open */

  /* What the dialog gave. */
  GtkPrinter *printer;
  char *printer_name;
  gboolean to_file; /* not a real printer */
  GtkPrintSettings *settings;
  GtkPageSetup *setup;
  SbPrintRequest request;
  GArray *pages; /* guint */

  /* What the worker found. */
  GBytes *pdf;
  int last_job;   /* of the queue, before this one */
  char *question; /* what has to be said yes to, or NULL */
  guint stops;
  gboolean kind_missing; /* whether the printer is a laser decides, and it does not say */
} Handoff;

static void
handoff_free (Handoff *handoff)
{
  g_clear_weak_pointer (&handoff->parent);
  sb_state_unref (handoff->state);
  g_free (handoff->title);
  g_clear_object (&handoff->printer);
  g_free (handoff->printer_name);
  g_clear_object (&handoff->settings);
  g_clear_object (&handoff->setup);
  g_clear_pointer (&handoff->pages, g_array_unref);
  g_clear_pointer (&handoff->pdf, g_bytes_unref);
  g_free (handoff->question);
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
  if (!handoff->parent)
    return;
  GtkWidget *dialog =
      gtk_message_dialog_new (handoff->parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                              GTK_MESSAGE_ERROR, GTK_BUTTONS_CLOSE, "%s", heading);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", reason);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
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

/* --- Findings --- */

/* The stops, one a line; `*n` gets their number. NULL when there is none. */
static char *
list_stops (const SbState *state, SbUnit unit, guint *n)
{
  g_autoptr (GPtrArray) findings = sb_proof_run (state, unit);
  g_autoptr (GString) text = g_string_new (NULL);

  *n = 0;
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (finding->severity != SB_SEVERITY_STOP)
      break; /* worst first */
    if (++*n <= FINDINGS_SHOWN)
      g_string_append_printf (text, "• %s\n", finding->message);
  }
  if (*n > FINDINGS_SHOWN) {
    guint more = *n - FINDINGS_SHOWN;
    g_string_append_printf (text, ngettext ("… and %u more.\n", "… and %u more.\n", more), more);
  }
  return *n > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

/* --- Sending --- */

static void
sent_cb (const char *note, const GError *error, gpointer data)
{
  Handoff *handoff = data;

  if (error) {
    g_autofree char *heading =
        g_strdup_printf (_ ("The pages did not get to %s"), handoff->printer_name);
    show_error (handoff, heading, error->message);
  } else if (handoff->parent && handoff->told) {
    g_autofree char *sent = handoff->to_file
                                ? g_strdup (_ ("Written to the file"))
                                : g_strdup_printf (_ ("Sent to %s"), handoff->printer_name);
    handoff->told (handoff->parent, note ? note : sent, handoff->data);
  }
  handoff_free (handoff);
}

static void
send (Handoff *handoff)
{
  sb_print_sending_start (handoff->printer, handoff->settings, handoff->setup, handoff->title,
                          handoff->pdf, handoff->last_job, sent_cb, handoff);
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

/* The job as the chosen printer will print it. A printer that libcups does not know (a file) leaves
 * the job's own margins. */
static SbState *
suit (Handoff *handoff, SbPrinterKind *kind, GError **error)
{
  g_autoptr (SbPrinter) printer = NULL;

  *kind = SB_PRINTER_KIND_UNKNOWN;
  if (handoff->to_file)
    return sb_state_ref (handoff->state);
  printer = sb_printer_find (handoff->printer_name, error);
  if (!printer || !sb_print_check_printer (printer, error))
    return NULL;
  *kind = printer->kind;
  SbPaperAnswer paper;
  g_autoptr (SbState) suited = sb_print_suit (handoff->state, handoff->printer_name, &paper, error);
  if (!suited || !sb_print_check_paper (suited, handoff->printer_name, &paper, error))
    return NULL;
  return g_steal_pointer (&suited);
}

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Handoff *handoff = data;
  g_autofree char *caution = NULL;
  g_autofree char *stops = NULL;
  GError *error = NULL;
  SbPrinterKind kind;

  g_autoptr (SbState) suited = suit (handoff, &kind, &error);
  if (!suited ||
      (!handoff->to_file &&
       !sb_print_check_stock (suited, kind, &handoff->request, &caution, &error)) ||
      !(handoff->pdf = sb_print_make_pdf (suited, handoff->printer_name, &handoff->request,
                                          cancellable, &error))) {
    g_task_return_error (task, error);
    return;
  }
  handoff->last_job = handoff->to_file ? -1 : sb_printer_get_last_job (handoff->printer_name);
  handoff->kind_missing = kind == SB_PRINTER_KIND_UNKNOWN && caution && !handoff->to_file;
  stops = list_stops (suited, handoff->unit, &handoff->stops);
  if (handoff->stops <= handoff->stops_allowed)
    g_clear_pointer (&stops, g_free);
  if (stops && caution)
    handoff->question = g_strconcat (stops, "\n", caution, NULL);
  else
    handoff->question = stops ? g_steal_pointer (&stops) : g_steal_pointer (&caution);
  g_task_return_boolean (task, TRUE);
}

static void prepare (Handoff *handoff);

static void
kind_told_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  g_autoptr (GError) error = NULL;

  close_answered (dialog, handoff);
  if ((response != SB_PRINTER_LASER && response != SB_PRINTER_INKJET) || !handoff->parent) {
    handoff_free (handoff);
  } else if (!sb_printer_remember_kind (handoff->printer_name, (SbPrinterKind)response, &error)) {
    show_error (handoff, _ ("Nothing was printed"), error->message);
    handoff_free (handoff);
  } else {
    g_clear_pointer (&handoff->pdf, g_bytes_unref);
    g_clear_pointer (&handoff->question, g_free);
    prepare (handoff);
  }
}

/* Asked once for each printer: the answer is kept. */
static void
ask_kind (Handoff *handoff)
{
  GtkWidget *dialog = gtk_message_dialog_new (
      handoff->parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
      GTK_BUTTONS_NONE, _ ("What kind of printer is %s?"), handoff->printer_name);
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
  } else if (handoff->kind_missing) {
    ask_kind (handoff);
  } else if (handoff->question) {
    g_autofree char *heading =
        g_strdup_printf (_ ("Print on %s all the same?"), handoff->printer_name);
    ask (handoff, heading, handoff->question, _ ("_Print Anyway"), G_CALLBACK (send_anyway_cb));
  } else {
    send (handoff);
  }
}

static void
prepare (Handoff *handoff)
{
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

  if (sb_print_setup_is_borderless (handoff->setup))
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
  GtkPaperSize *paper = gtk_page_setup_get_paper_size (handoff->setup);
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
take_choices (Handoff *handoff, GtkPrintUnixDialog *dialog)
{
  handoff->printer = g_object_ref (gtk_print_unix_dialog_get_selected_printer (dialog));
  handoff->printer_name = g_strdup (gtk_printer_get_name (handoff->printer));
  handoff->to_file = gtk_printer_is_virtual (handoff->printer);
  handoff->settings = gtk_print_unix_dialog_get_settings (dialog);
  handoff->setup = g_object_ref (gtk_print_unix_dialog_get_page_setup (dialog));
  handoff->pages = sb_print_setup_choose_pages (handoff->settings, (int)handoff->state->pages->len);
  handoff->request = (SbPrintRequest){
      .title = handoff->title,
      .paint = {.mode = gtk_check_button_get_active (handoff->plain_check) ? SB_PAINT_PLAIN
                                                                           : SB_PAINT_FULL,
                .check_bar = gtk_check_button_get_active (handoff->bar_check),
                .unit = handoff->unit},
      .page = -1,
      .pages = (const guint *)(void *)handoff->pages->data,
      .n_pages = handoff->pages->len,
      .copies = 1, /* the queue makes them, by the dialog's own setting */
      .part_used = gtk_check_button_get_active (handoff->used_check),
  };
}

static void
chosen_cb (GtkDialog *dialog, int response, Handoff *handoff)
{
  if (response == GTK_RESPONSE_OK)
    take_choices (handoff, GTK_PRINT_UNIX_DIALOG (dialog));
  close_answered (dialog, handoff);

  if (!handoff->printer || !handoff->parent) {
    handoff_free (handoff);
  } else if (!sb_print_setup_fits (handoff->setup, handoff->state)) {
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

static GtkCheckButton *
add_check (GtkWidget *box, const char *label, const char *tip)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (label);
  gtk_widget_set_tooltip_text (check, tip);
  gtk_box_append (GTK_BOX (box), check);
  return GTK_CHECK_BUTTON (check);
}

/* A tab of our own in the system dialog. */
static void
add_tab (Handoff *handoff, GtkPrintUnixDialog *dialog)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  g_autofree char *advice = sb_media_advice (&handoff->state->stock, SB_PRINTER_KIND_UNKNOWN);
  g_autofree char *about =
      g_strdup_printf ("%s\n%s", sb_stock_get_label (&handoff->state->stock), advice);
  GtkWidget *label = gtk_label_new (about);

  gtk_widget_set_margin_top (box, 18);
  gtk_widget_set_margin_bottom (box, 18);
  gtk_widget_set_margin_start (box, 18);
  gtk_widget_set_margin_end (box, 18);
  handoff->plain_check =
      add_check (box, _ ("Test on p_lain paper"),
                 _ ("Outlines, guides, names and sizes with little ink, to hold against a sheet of "
                    "stickers"));
  handoff->bar_check = add_check (box, _ ("Check _bar of 100 mm and 4 in"),
                                  _ ("Where a page has room, to measure that nothing was scaled"));
  handoff->used_check = add_check (box, _ ("Stickers were already taken off the _sheet"),
                                   _ ("Such a sheet must never go through a laser printer"));
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (box), label);
  gtk_print_unix_dialog_add_custom_tab (dialog, box, gtk_label_new (_ ("Stickers")));
}

static void
open_dialog (Handoff *handoff)
{
  GtkWidget *widget = gtk_print_unix_dialog_new (_ ("Print"), handoff->parent);
  GtkPrintUnixDialog *dialog = GTK_PRINT_UNIX_DIALOG (widget);
  g_autoptr (GtkPrintSettings) settings = gtk_print_settings_new ();
  g_autoptr (GtkPageSetup) setup = sb_print_setup_new (handoff->state);

  if (handoff->state->printer)
    gtk_print_settings_set_printer (settings, handoff->state->printer);
  gtk_print_unix_dialog_set_settings (dialog, settings);
  gtk_print_unix_dialog_set_page_setup (dialog, setup);
  gtk_print_unix_dialog_set_embed_page_setup (dialog, TRUE);
  /* Only that we make PDF: without the scale capability its entry is out of reach. */
  gtk_print_unix_dialog_set_manual_capabilities (dialog, GTK_PRINT_CAPABILITY_GENERATE_PDF);
  add_tab (handoff, dialog);
  gtk_window_set_modal (GTK_WINDOW (widget), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (widget), TRUE);
  present (widget, G_CALLBACK (chosen_cb), handoff);
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
  handoff->stops_allowed = handoff->stops;
  open_dialog (handoff);
}

static void
proof_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Handoff *handoff = data;
  g_task_return_pointer (task, list_stops (handoff->state, handoff->unit, &handoff->stops), g_free);
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
