/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The paper of a scan or photo, and the light across it. Paper reflects the same everywhere and
 * light changes slowly, so the paper's colour is a smooth surface that can be fitted to the paper
 * alone and divided out (handbook section 6.3). */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "picture/quad.h"

G_BEGIN_DECLS

#define SB_LIGHT_TERMS 10 /* of a polynomial of the third degree in x and y */

typedef struct {
  guint8 paper[3]; /* sRGB, where the light is brightest */
  double noise;    /* half the spread of the middle half of paper pixels, in 8-bit steps: grain */
  gboolean flat;   /* the light is the same everywhere */
  /* The logarithm of red, green and blue light over the surface that it was found on, and where it
   * is brightest; -1..1 lie between the middles of its outermost cells. */
  double shape[3][SB_LIGHT_TERMS], top[3];
  int cell, columns, rows; /* px; how many */
} SbLight;

/* Finds the paper: cells of the picture that are of one colour, hang together with small steps
 * between them, and make up the most of the picture's edge. `picked` (sRGB, or NULL) chooses the
 * paper that comes nearest to a colour instead. With `even` the light is fitted by a polynomial of
 * the third degree, outliers left out. NULL when nothing looks like paper:
 * what is dark or strongly coloured is not, unless it was picked. */
SbLight *sb_light_estimate (cairo_surface_t *surface, const guint8 picked[3],
                            gboolean even) G_GNUC_WARN_UNUSED_RESULT;
void sb_light_free (SbLight *light);

/* The ten products of powers of x and y up to the third degree. */
void sb_light_fill_terms (double x, double y, double terms[SB_LIGHT_TERMS]);

/* Writes `from` as it would look in even light, over white where it is clear, to all of `into`, of
 * the same size (or the same surface). `map` leads from px of these to px of the surface that the
 * light was found on; NULL where they are the same. */
void sb_light_divide (const SbLight *light, const SbMap *map, cairo_surface_t *from,
                      cairo_surface_t *into);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLight, sb_light_free)

G_END_DECLS
