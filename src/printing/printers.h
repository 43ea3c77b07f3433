/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Printers and what they say of their papers, through libcups: works without a display. Slow
 * (network, bounded by a few seconds each): run in a thread for the window. Nothing is kept between
 * calls, so any thread may call. */
#pragma once

#include "measure/paper.h"

G_BEGIN_DECLS

#define SB_PRINT_ERROR (sb_print_error_quark ())
GQuark sb_print_error_quark (void);
typedef enum {
  SB_PRINT_ERROR_NO_SERVICE,  /* no print service answers */
  SB_PRINT_ERROR_NO_PRINTER,  /* no such printer */
  SB_PRINT_ERROR_REFUSED,     /* rejecting jobs, stopped, or the queue said no */
  SB_PRINT_ERROR_PAPER,       /* does not offer the paper */
  SB_PRINT_ERROR_MEDIA,       /* stock that must not go into this kind of printer */
  SB_PRINT_ERROR_SEND,        /* the document did not get there */
  SB_PRINT_ERROR_CALIBRATION, /* ruler readings that cannot be used */
} SbPrintError;

typedef enum {
  SB_PRINTER_IDLE,
  SB_PRINTER_BUSY,
  SB_PRINTER_STOPPED,
  SB_PRINTER_REJECTING,
} SbPrinterStatus;

/* How it puts colour on paper, as far as it tells: decides which stock may go in. */
typedef enum {
  SB_PRINTER_KIND_UNKNOWN,
  SB_PRINTER_INKJET,
  SB_PRINTER_LASER, /* anything with a fuser */
} SbPrinterKind;

typedef enum {
  SB_MARGINS_UNKNOWN, /* the printer does not say, or does not offer the paper */
  SB_MARGINS_KNOWN,
  SB_MARGINS_BORDERLESS, /* offered with no margins only: enlarged on paper, not true size */
} SbMarginsAnswer;

typedef struct {
  char *name;  /* queue name */
  char *label; /* description for people */
  char *model;
  SbPrinterStatus status;
  SbPrinterKind kind;
  char *reason; /* why it is stopped or rejecting, in plain words, or "" */
  gboolean is_default;
} SbPrinter;

void sb_printer_free (SbPrinter *printer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPrinter, sb_printer_free)

/* Untranslated key words for JSON: "idle", "busy", "stopped", "rejecting"; "unknown", "inkjet",
 * "laser". */
const char *sb_printer_status_get_key (SbPrinterStatus status);
const char *sb_printer_kind_get_key (SbPrinterKind kind);

/* Keeps what the maker says of a printer that does not tell its kind; SB_PRINTER_KIND_UNKNOWN
 * forgets it. */
gboolean sb_printer_remember_kind (const char *name, SbPrinterKind kind, GError **error);

/* Every printer, queues of the print service and those announced on the network, by name. Array of
 * SbPrinter, frees its items. SB_PRINT_ERROR_NO_SERVICE when CUPS does not answer. */
GPtrArray *sb_printers_list (GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* One printer by its queue name. NULL name: the default one. SB_PRINT_ERROR_NO_PRINTER when there
 * is none. */
SbPrinter *sb_printer_find (const char *name, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* A paper as a printer offers it. One size may be offered twice: with margins and borderless. */
typedef struct {
  char *name; /* PWG name */
  sb_um width, height;
  SbMargins margins; /* of the portrait sheet; where the printer names several for one size
                        (by tray, by media type) the widest at each edge */
  gboolean borderless;
} SbPrinterPaper;

/* All papers of a printer, smallest first. Array of SbPrinterPaper, frees its items; empty when the
 * printer does not say (a raw queue). */
GPtrArray *sb_printer_get_papers (const char *printer, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* What a printer says about one paper. */
typedef struct {
  SbMarginsAnswer answer;
  SbMargins margins;       /* of the portrait sheet: its own when SB_MARGINS_KNOWN, zeros when
                              SB_MARGINS_BORDERLESS, sb_margins_fallback when SB_MARGINS_UNKNOWN */
  gboolean offered;        /* the size is offered at all */
  gboolean borderless_too; /* it is offered with margins and without */
  gboolean names_papers;   /* FALSE: a queue that tells of no papers */
} SbPaperAnswer;

/* Asks `printer` about a paper of width x height (portrait), matched by size within 0.2 mm. FALSE
 * with `error` set when it could not be asked; `paper` is then that of a queue that tells nothing.
 */
gboolean sb_printer_ask_paper (const char *printer, sb_um width, sb_um height, SbPaperAnswer *paper,
                               GError **error);

G_END_DECLS
