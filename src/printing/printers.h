/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Printers and what they say of their papers, through libcups: works without a display. Slow
 * (network): run in a thread for the window. */
#pragma once

#include "measure/paper.h"

G_BEGIN_DECLS

#define SB_PRINT_ERROR (sb_print_error_quark ())
GQuark sb_print_error_quark (void);
typedef enum {
  SB_PRINT_ERROR_NO_SERVICE, /* no print service answers */
  SB_PRINT_ERROR_NO_PRINTER, /* no such printer */
  SB_PRINT_ERROR_REFUSED,    /* rejecting jobs, stopped, or the queue said no */
  SB_PRINT_ERROR_PAPER,      /* does not offer the paper */
  SB_PRINT_ERROR_MEDIA,      /* stock that must not go into this kind of printer */
  SB_PRINT_ERROR_SEND,       /* the document did not get there */
} SbPrintError;

typedef enum {
  SB_PRINTER_IDLE,
  SB_PRINTER_BUSY,
  SB_PRINTER_STOPPED,
  SB_PRINTER_REJECTING,
} SbPrinterStatus;

typedef enum {
  SB_MARGINS_UNKNOWN, /* the printer does not say, or does not offer the paper */
  SB_MARGINS_KNOWN,
  SB_MARGINS_BORDERLESS, /* offered with no margins: enlarged on paper, not true size */
} SbMarginsAnswer;

typedef struct {
  char *name;  /* queue name */
  char *label; /* description for people */
  char *model;
  SbPrinterStatus status;
  char *reason; /* why it is stopped or rejecting, or "" */
  gboolean is_default;
} SbPrinter;

void sb_printer_free (SbPrinter *printer);

/* Every printer, by name. Array of SbPrinter, frees its items. SB_PRINT_ERROR_NO_SERVICE when CUPS
 * does not answer. */
GPtrArray *sb_printers_list (GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* What `printer` says about paper `pwg_name` (portrait, width x height). */
SbMarginsAnswer sb_printer_get_margins (const char *printer, const char *pwg_name, sb_um width,
                                        sb_um height, SbMargins *margins, GError **error);

/* Sends the PDF at `pdf_path` (portrait, exactly the media size) with scaling forced to none and
 * one page a side.
 * `*job_id` gets the queue's number. TRUE means the queue has taken it, not that it is printed. */
gboolean sb_printer_send (const char *printer, const char *pdf_path, const char *title,
                          const char *pwg_name, int copies, int *job_id, GError **error);

G_END_DECLS
