/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a printer is sent, made once the printer is chosen: the checks of its paper and of the
 * stock, the proof of the pages as it will print them, and the PDF. No GTK. */
#pragma once

#include "printing/run.h"

G_BEGIN_DECLS

typedef struct {
  /* What is asked; all borrowed, unchanged until sb_print_prepare is back. */
  SbState *state;
  const char *printer_name;
  gboolean to_file; /* no printer that libcups knows: no checks */
  SbPrintRequest request;
  SbUnit unit;         /* of what is told */
  guint stops_allowed; /* the maker said yes to that many already */

  /* What came of it; see sb_print_preparing_clear. */
  GBytes *pdf;
  int last_job;          /* of the queue, before this one; -1 to a file */
  char *question;        /* what has to be said yes to, or NULL */
  gboolean kind_missing; /* whether the printer is a laser decides, and it does not say */
} SbPrintPreparing;

/* Blocks: any thread but the main one. FALSE with an error when it cannot be printed. */
gboolean sb_print_prepare (SbPrintPreparing *preparing, GCancellable *cancellable, GError **error);

/* Forgets what came of it, so that it can be prepared anew. */
void sb_print_preparing_clear (SbPrintPreparing *preparing);

/* The stops of the proof, the first few, one a line; `n` gets their number. NULL when there is
 * none, else free with g_free. Any thread. */
char *sb_print_list_stops (const SbState *state, SbUnit unit, guint *n) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
