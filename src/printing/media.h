/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether a stock may go into a kind of printer. The makers of printer and paper have the last
 * word; the texts say so. Facts: handbook sections 1.2, 1.3 and 8. */
#pragma once

#include "job/state.h"
#include "printing/printers.h"

G_BEGIN_DECLS

typedef enum {
  SB_MEDIA_FINE,
  SB_MEDIA_CAUTION, /* may be printed; the message has to be read */
  SB_MEDIA_REFUSED, /* heat or loose adhesive could do harm */
} SbMediaVerdict;

/* `part_used`: some stickers were already taken off the sheet. `*message` gets one or two
 * translated sentences (NULL when fine); free it with g_free. */
SbMediaVerdict sb_media_check (const SbStock *stock, SbPrinterKind kind, gboolean part_used,
                               char **message);

/* What to mind before and after printing on this stock: side, feeding, drying. Translated lines,
 * never empty. Free with g_free. */
char *sb_media_advice (const SbStock *stock, SbPrinterKind kind) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
