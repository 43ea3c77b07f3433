/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The colours of what is drawn on paper. Paper is white in every style, so these do not follow
 * light and dark; high contrast makes them full-strength. Lines and marks keep 3:1 against white
 * and text 4.5:1 against its plate (WCAG 2.2, success criteria 1.4.11 and 1.4.3). */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct {
  GdkRGBA accent;     /* selection, guides, border growth */
  GdkRGBA ring_tint;  /* fill of the border ring */
  GdkRGBA ring_hatch; /* its fine lines */
  GdkRGBA strip;      /* dots and text of the non-printable strip */
  GdkRGBA strip_wash; /* what veils the pieces there */
  GdkRGBA waste;      /* plus signs */
  GdkRGBA spot;       /* plate of the largest free spot */
  GdkRGBA plate;      /* dark plates: findings, measures */
  GdkRGBA plate_text; /* on plates */
  GdkRGBA stop, caution, note;
  GdkRGBA fit; /* where a piece fits */
} SbPalette;

/* The palette of a widget's style: full-strength in a high contrast theme. Static memory. */
const SbPalette *sb_palette_get (GtkWidget *widget);

const SbPalette *sb_palette_get_for (gboolean high_contrast);

/* TRUE when the theme is one of high contrast. */
gboolean sb_palette_is_high_contrast (GtkWidget *widget);

G_END_DECLS
