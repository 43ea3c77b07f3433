/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Handing a PDF to a queue through libcups. */
#pragma once

#include <gio/gio.h>

#include "printing/printers.h"

G_BEGIN_DECLS

typedef struct {
  const char *title;   /* what the queue lists */
  sb_um width, height; /* of the sheet, portrait; the PDF's pages are exactly that */
  int copies;          /* 1..999 */
  gboolean borderless; /* on the paper without margins, where the printer offers both */
} SbTicket;

/* The IPP media keyword of a size: its PWG name, or a custom one. Free with g_free. */
char *sb_media_keyword (sb_um width, sb_um height) G_GNUC_WARN_UNUSED_RESULT;

/* Sends `pdf` with scaling forced to none, one page a side and one side a sheet, and follows the
 * job for a moment. TRUE means the queue has taken it, not that it is printed; `*job_id` gets its
 * number there and `*note` (free with g_free) what the queue says of it, in plain words, or NULL.
 * Errors: SB_PRINT_ERROR. */
gboolean sb_printer_send (const char *printer, GBytes *pdf, const SbTicket *ticket, int *job_id,
                          char **note, GError **error);

/* The highest number of our own jobs that a queue remembers, 0 for none; -1 when it cannot be asked.
 * A job that was handed over by other means has got there when this has grown. */
int sb_printer_get_last_job (const char *printer);

/* Follows such a job for a moment, as sb_printer_send does with its own. */
gboolean sb_printer_follow_job (const char *printer, int job_id, char **note, GError **error);

G_END_DECLS
