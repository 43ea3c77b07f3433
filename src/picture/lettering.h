/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Short lines of text as a picture: titles, prices, a maker's name. The letters become outlines
 * once, when the text is written, so that they print the same everywhere. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

typedef enum {
  SB_TEXT_START, /* left, or right where the text reads from right to left */
  SB_TEXT_CENTRE,
  SB_TEXT_END,
} SbTextAlign;

#define SB_LETTERING_MOST_CHARS 500
#define SB_LETTERING_MOST_FONT 120 /* bytes */
#define SB_LETTERING_LEAST_PT 2.0
#define SB_LETTERING_MOST_PT 400.0

/* The smallest letters that can be read in print are about 6 pt (handbook section 2). */
#define SB_LETTERING_READABLE_PT 6.0

typedef struct {
  char *string;   /* lines parted by \n */
  char *font;     /* a Pango font description without a size: "Serif Bold" */
  char *language; /* BCP 47, "" = as the text's letters and the locale suggest */
  double size_pt;
  SbTextAlign align;
  guint32 rgb; /* 0xRRGGBB */
} SbLettering;

/* Sans-serif, 14 pt, black, in the middle. */
SbLettering *sb_lettering_new (const char *string) G_GNUC_WARN_UNUSED_RESULT;
SbLettering *sb_lettering_copy (const SbLettering *lettering) G_GNUC_WARN_UNUSED_RESULT;
void sb_lettering_free (SbLettering *lettering);
gboolean sb_lettering_equal (const SbLettering *a, const SbLettering *b); /* either may be NULL */

/* Takes every field to its range: valid UTF-8 of at most SB_LETTERING_MOST_CHARS without control
 * characters, a font description without a size. */
void sb_lettering_tidy (SbLettering *lettering);

/* An SVG of the text's outlines, as large as its ink. SB_PICTURE_ERROR_EMPTY when it has none, as
 * with blanks alone. The fonts are those of this machine; one that is missing is replaced as
 * Fontconfig sees fit. Usable from any thread. */
SbPicture *sb_lettering_to_picture (const SbLettering *lettering,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLettering, sb_lettering_free)

G_END_DECLS
