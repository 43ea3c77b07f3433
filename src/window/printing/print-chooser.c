/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/printing/print-chooser.h"

#include <glib/gi18n.h>

#include "printing/media.h"
#include "window/parts/words.h"
#include "window/printing/print-setup.h"

/* Where the dialog keeps the check buttons of our tab. */
#define PLAIN_KEY "sb-plain"
#define BAR_KEY "sb-bar"
#define USED_KEY "sb-used"

static void
add_check (GtkPrintUnixDialog *dialog, GtkWidget *box, const char *key, const char *label,
           const char *tip)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (check, tip);
  gtk_box_append (GTK_BOX (box), check);
  g_object_set_data (G_OBJECT (dialog), key, check);
}

static gboolean
read_check (GtkWidget *chooser, const char *key)
{
  return gtk_check_button_get_active (g_object_get_data (G_OBJECT (chooser), key));
}

static GtkWidget *
about_new (const SbStock *stock)
{
  g_autofree char *advice = sb_media_advice (stock, SB_PRINTER_KIND_UNKNOWN);
  g_autofree char *about = g_strdup_printf ("%s\n%s", sb_stock_get_label (stock), advice);
  GtkWidget *label = sb_words_new (about, "dim-label");

  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  return label;
}

static void
add_tab (GtkPrintUnixDialog *dialog, const SbStock *stock)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_widget_set_margin_top (box, 18);
  gtk_widget_set_margin_bottom (box, 18);
  gtk_widget_set_margin_start (box, 18);
  gtk_widget_set_margin_end (box, 18);
  add_check (dialog, box, PLAIN_KEY, _ ("Test on p_lain paper"),
             _ ("Outlines, guides, names and sizes with little ink, to hold against a sheet of "
                "stickers"));
  add_check (dialog, box, BAR_KEY, _ ("Check _bar of 100 mm and 4 in"),
             _ ("Where a page has room, to measure that nothing was scaled"));
  add_check (dialog, box, USED_KEY, _ ("Stickers were already taken off the _sheet"),
             _ ("Such a sheet must never go through a laser printer"));
  gtk_box_append (GTK_BOX (box), about_new (stock));
  gtk_print_unix_dialog_add_custom_tab (dialog, box, gtk_label_new (_ ("Stickers")));
}

GtkWidget *
sb_print_chooser_new (GtkWindow *parent, const SbState *state)
{
  GtkWidget *widget = gtk_print_unix_dialog_new (_ ("Print"), parent);
  GtkPrintUnixDialog *dialog = GTK_PRINT_UNIX_DIALOG (widget);
  g_autoptr (GtkPrintSettings) settings = gtk_print_settings_new ();
  g_autoptr (GtkPageSetup) setup = sb_print_setup_new (state);

  if (state->printer)
    gtk_print_settings_set_printer (settings, state->printer);
  gtk_print_unix_dialog_set_settings (dialog, settings);
  gtk_print_unix_dialog_set_page_setup (dialog, setup);
  gtk_print_unix_dialog_set_embed_page_setup (dialog, TRUE);
  /* Only that we make PDF: without the scale capability its entry is out of reach. */
  gtk_print_unix_dialog_set_manual_capabilities (dialog, GTK_PRINT_CAPABILITY_GENERATE_PDF);
  add_tab (dialog, &state->stock);
  gtk_window_set_modal (GTK_WINDOW (widget), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (widget), TRUE);
  return widget;
}

void
sb_print_choice_read (SbPrintChoice *choice, GtkWidget *chooser)
{
  GtkPrintUnixDialog *dialog = GTK_PRINT_UNIX_DIALOG (chooser);

  choice->printer = g_object_ref (gtk_print_unix_dialog_get_selected_printer (dialog));
  choice->name = gtk_printer_get_name (choice->printer);
  choice->to_file = gtk_printer_is_virtual (choice->printer);
  choice->settings = gtk_print_unix_dialog_get_settings (dialog);
  choice->setup = g_object_ref (gtk_print_unix_dialog_get_page_setup (dialog));
  choice->plain = read_check (chooser, PLAIN_KEY);
  choice->check_bar = read_check (chooser, BAR_KEY);
  choice->part_used = read_check (chooser, USED_KEY);
}

void
sb_print_choice_clear (SbPrintChoice *choice)
{
  g_clear_object (&choice->printer);
  g_clear_object (&choice->settings);
  g_clear_object (&choice->setup);
}
