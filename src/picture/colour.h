/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Colour of pixels on their way to sRGB, through lcms2. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A change of colour for rows of straight RGBA. Threads may share one. */
typedef struct _SbColour SbColour;

/* From an embedded ICC profile of an RGB or grey device (grey is read from the red channel).
 * Relative colorimetric with black point compensation. NULL when there is nothing to do: the
 * profile is unreadable, of another kind, or sRGB itself. `bits` is 8 or 16. */
SbColour *sb_colour_new_icc (const void *data, gsize size, int bits) G_GNUC_WARN_UNUSED_RESULT;

/* From a PNG's gAMA (file gamma, 0 when not given) and cHRM (white, red, green, blue as x,y pairs,
 * or NULL for those of sRGB). NULL when there is nothing to do. A file gamma of 1/2.2 with sRGB's
 * chromaticities stands for sRGB, as the PNG specification has encoders write it beside sRGB. */
SbColour *sb_colour_new_gamma (double file_gamma, const double chromaticities[8],
                               int bits) G_GNUC_WARN_UNUSED_RESULT;

/* Takes an lcms2 transform between rows of straight RGBA; NULL for NULL. */
SbColour *sb_colour_take (void *transform) G_GNUC_WARN_UNUSED_RESULT;

void sb_colour_free (SbColour *colour);

/* Converts `n` pixels in place; alpha is left alone. Channels are guint8 or guint16. */
void sb_colour_apply (SbColour *colour, void *rgba, gsize n);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbColour, sb_colour_free)

/* Packs straight RGBA into premultiplied ARGB32, rounded. */
guint32 sb_argb_from_rgba8 (const guint8 rgba[4]);
guint32 sb_argb_from_rgba16 (const guint16 rgba[4]);

G_END_DECLS
