/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of this room share of libcups: one destination, the connection to whoever serves
 * it, and one question to it. */
#pragma once

#include <cups/cups.h>

#include "printing/printers.h"

G_BEGIN_DECLS

typedef struct {
  cups_dest_t *dest;
  http_t *http;
  char *resource; /* path of the queue on that server */
  char *uri;
} SbCupsLink;

/* Finds the destination (NULL: the default one) and connects to it. */
SbCupsLink *sb_cups_link_new (const char *printer, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void sb_cups_link_free (SbCupsLink *link);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCupsLink, sb_cups_link_free)

/* Asks for printer attributes; NULL when there was no answer. Free with ippDelete. */
ipp_t *sb_cups_link_ask (SbCupsLink *link, const char *const *attributes, int n);

/* Calls `found` for every destination until it returns FALSE. FALSE and SB_PRINT_ERROR_NO_SERVICE
 * when the print service does not answer. */
typedef gboolean (*SbCupsFound) (cups_dest_t *dest, gpointer data);
gboolean sb_cups_enumerate (SbCupsFound found, gpointer data, GError **error);

/* A state reason keyword ("media-jam-error") in plain words, or NULL for one that needs none
 * ("none"). Free with g_free. */
char *sb_cups_reason_in_words (const char *keyword);

G_END_DECLS
