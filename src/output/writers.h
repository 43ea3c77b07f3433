/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The ways to write a page that sb_export chooses from. */
#pragma once

#include "job/safe-file.h"
#include "output/export.h"

G_BEGIN_DECLS

/* Each writes into `file`; a failed write shows when the file is committed. FALSE and `error` when
 * a page cannot be painted. */
gboolean sb_write_png (const SbState *state, SbSafeFile *file, const SbExportOptions *options,
                       GCancellable *cancellable, GError **error);
gboolean sb_write_svg (const SbState *state, SbSafeFile *file, const SbExportOptions *options,
                       GCancellable *cancellable, GError **error);

/* From the PDF that cairo wrote to the one that is handed out: no scaling wished for by the
 * document, no dates, pictures packed as tightly as PNG packs them. */
GBytes *sb_pdf_finish (GByteArray *pdf, GCancellable *cancellable,
                       GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
