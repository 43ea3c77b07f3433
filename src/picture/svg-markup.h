/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A look at an SVG's markup for what librsvg does not tell or guard. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
  double width_px, height_px; /* the root's size where it is given in Q (1/40 cm); else 0 */
  gboolean layered; /* something may have an opacity, filter, mask or blend mode of its own */
} SbSvgMarkup;

/* Reads what is asked above and checks every embedded picture (data: address) against the limits of
 * picture.h, because librsvg decodes them whatever their size. Markup that GLib cannot read is
 * searched as plain text. FALSE and an error (TOO_LARGE) when one is too large. */
gboolean sb_svg_scan_markup (const char *text, gsize size, const char *name, SbSvgMarkup *markup,
                             GError **error);

/* TRUE when the text is UTF-8 and says nothing else of itself. */
gboolean sb_svg_is_plain_utf8 (const char *text, gsize size);

G_END_DECLS
