/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Paper sizes by their PWG 5101.1 media names ("na_letter_8.5x11in"), plus sizes of the maker's
 * own. */
#pragma once

#include "measure/length.h"

G_BEGIN_DECLS

typedef struct {
  const char *name;  /* PWG 5101.1 self-describing name */
  const char *alias; /* what is typed on the command line: "letter", "a4", "4x6" */
  const char *label; /* for people, untranslated (pass through _()): "Letter" */
  sb_um width;       /* portrait: width <= height */
  sb_um height;
} SbPaper;

/* Margins of a page, clockwise from the top as in CSS; each 0 or more. */
typedef struct {
  sb_um top, right, bottom, left;
} SbMargins;

/* The known sizes in the order a menu shows them; `*n` gets their number. Static memory. */
const SbPaper *sb_papers (gsize *n);

/* Finds a known size by PWG name or alias, or NULL. Case does not matter. */
const SbPaper *sb_paper_find (const char *name);

/* Finds the known size of these measures (either way round, within 0.2 mm), or NULL. */
const SbPaper *sb_paper_find_size (sb_um width, sb_um height);

/* Reads a paper from a PWG name, an alias or "WxH" with units ("8.5x11in", "100x150mm", "4in x
 * 6in"; in millimetres when no unit is given). A PWG name of a size that is not in the list is read
 * for the measures at its end. Sizes from 20 mm to 1500 mm a side are taken, the way round they are
 * typed ("297x210mm" is A4 lying). `*name` gets a new text: the PWG name of a known size (whose
 * measures are then exact), the PWG name as typed, or a custom one
 * ("custom_180x250mm_180x250mm", upright); free it with g_free. */
gboolean sb_paper_parse (const char *text, char **name, sb_um *width, sb_um *height,
                         GError **error);

/* Reads "TOP,RIGHT,BOTTOM,LEFT" or one length for all four. A unit at the end goes for all that
 * have none. Semicolons part the four where commas are decimal marks ("6,35; 6,35; 12,7; 6,35"). */
gboolean sb_margins_parse (const char *text, SbUnit fallback, SbMargins *margins, GError **error);

/* 6.35 mm (1/4 in) all round: what nearly any printer can do (handbook section 5.1), used while no
 * printer is known. */
SbMargins sb_margins_fallback (void);

G_END_DECLS
