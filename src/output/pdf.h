/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A PDF of equal pages, drawn with cairo and finished as every PDF of ours: no print scaling, no
 * dates, pixels packed tightly. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/* Draws page `index`; the unit of `cr` is a point. */
typedef gboolean (*SbPdfDraw) (cairo_t *cr, guint index, gpointer data, GCancellable *cancellable,
                               GError **error);

/* `title` may be NULL. Errors: SB_FILE_ERROR_WRITE, or those of `draw`. */
GBytes *sb_pdf_build (double width_pt, double height_pt, const char *title, guint n_pages,
                      SbPdfDraw draw, gpointer data, GCancellable *cancellable,
                      GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
