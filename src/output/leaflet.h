/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Plain pages of text for people: headings, paragraphs and lines with a box to tick, flowing from
 * page to page. Used for tick lists, packing slips and covers. One thread. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _SbLeaflet SbLeaflet;

/* Pages of this size with `margin_mm` all round. */
SbLeaflet *sb_leaflet_new (double width_mm, double height_mm,
                           double margin_mm) G_GNUC_WARN_UNUSED_RESULT;
void sb_leaflet_free (SbLeaflet *leaflet);

/* Each goes below what was added before. Plain text in the reader's language, copied. */
void sb_leaflet_add_title (SbLeaflet *leaflet, const char *text);
void sb_leaflet_add_heading (SbLeaflet *leaflet, const char *text);
void sb_leaflet_add_text (SbLeaflet *leaflet, const char *text);
/* A line with `words` at its start and, unless NULL, `value` at its end; with a box to tick before
 * them. */
void sb_leaflet_add_tick (SbLeaflet *leaflet, const char *words, const char *value);
/* The same without a box; an empty value is a rule to write on. */
void sb_leaflet_add_field (SbLeaflet *leaflet, const char *words, const char *value);

/* Only once all is added. */
guint sb_leaflet_get_n_pages (SbLeaflet *leaflet);
/* The unit of `cr` is a point. */
void sb_leaflet_draw (SbLeaflet *leaflet, cairo_t *cr, guint page);

/* The whole as a PDF. */
GBytes *sb_leaflet_to_pdf (SbLeaflet *leaflet, const char *title,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLeaflet, sb_leaflet_free)

G_END_DECLS
