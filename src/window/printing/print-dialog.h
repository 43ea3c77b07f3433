/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole way from the Print command to the queue: the question while a stop stands, the system's
 * print dialog with the job's paper, orientation and printer, the checks of the printer that was
 * chosen, our own PDF at true size, and what became of it. */
#pragma once

#include <gtk/gtk.h>

#include "job/state.h"

G_BEGIN_DECLS

/* Called with something to tell in passing ("Sent to the printer…"); may come after the window is
 * gone only if `data` outlives it. What needs an answer is asked here in dialogs of its own. */
typedef void (*SbPrintTold) (GtkWindow *parent, const char *message, gpointer data);

/* Begins and returns at once; everything is modal to `parent` and goes when it goes. `title` is the
 * job's name for queue and document, `unit` the maker's. Never says "printed": the queue knows no
 * more than that it has the pages. */
void sb_print_dialog_run (GtkWindow *parent, SbState *state, const char *title, SbUnit unit,
                          SbPrintTold told, gpointer data);

G_END_DECLS
