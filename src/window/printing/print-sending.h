/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Hands a finished PDF to a printer that the system dialog chose, and follows it until the queue
 * has taken it. */
#pragma once

#include <gtk/gtk.h>
#include <gtk/gtkunixprint.h>

G_BEGIN_DECLS

/* Called once. `error` when the pages did not get there; else `note` says what the printer lets
 * know in plain words, or is NULL. */
typedef void (*SbPrintSent) (const char *note, const GError *error, gpointer data);

/* `settings` and `setup` as the dialog gave them; scaling, pages a sheet and orientation are set
 * here, because the dialog drops or offers what would spoil the true size. `last_job` is what
 * sb_printer_get_last_job said before. */
void sb_print_sending_start (GtkPrinter *printer, GtkPrintSettings *settings, GtkPageSetup *setup,
                             const char *title, GBytes *pdf, int last_job, SbPrintSent sent,
                             gpointer data);

G_END_DECLS
