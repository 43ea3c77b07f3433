/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The system's print dialog as a job wants it: its paper, orientation and printer, and a tab of our
 * own. Main thread only. */
#pragma once

#include <gtk/gtk.h>
#include <gtk/gtkunixprint.h>

#include "job/state.h"

G_BEGIN_DECLS

/* A modal dialog of `parent`, not shown yet. It answers GTK_RESPONSE_OK when a printer is chosen.
 */
GtkWidget *sb_print_chooser_new (GtkWindow *parent, const SbState *state);

/* What was chosen. {0} at first. */
typedef struct {
  GtkPrinter *printer;
  const char *name; /* the printer's */
  gboolean to_file; /* not a real printer */
  GtkPrintSettings *settings;
  GtkPageSetup *setup;
  gboolean plain;     /* a test on plain paper */
  gboolean check_bar; /* with a bar to measure */
  gboolean part_used; /* stickers were taken off the sheet before */
} SbPrintChoice;

/* Reads `chooser` into an empty `choice`, which owns what it gets. */
void sb_print_choice_read (SbPrintChoice *choice, GtkWidget *chooser);
void sb_print_choice_clear (SbPrintChoice *choice);

G_END_DECLS
