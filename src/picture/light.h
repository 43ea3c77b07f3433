/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The paper of a scan or photo, and the light across it. Paper reflects the same everywhere and
 * light changes slowly, so the paper's colour is a smooth surface that can be fitted to the paper
 * alone and divided out (handbook section 6.3). */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct {
  guint8 paper[3]; /* sRGB, where the light is brightest */
  double noise;    /* half the spread of the middle half of paper pixels, in 8-bit steps: grain */
  /* How much the light must be raised, at nodes `step` px apart, for red, green and blue light. */
  float *gains;
  int columns, rows, step;
} SbLight;

/* Finds the paper: cells of the picture that are of one colour, hang together with small steps
 * between them, and make up the most of the picture's edge. `picked` (sRGB, or NULL) chooses the
 * paper that comes nearest to a colour instead. With `even` the light is fitted by a polynomial of
 * the third degree, outliers left out. NULL when nothing looks like paper. */
SbLight *sb_light_estimate (cairo_surface_t *surface, const guint8 picked[3],
                            gboolean even) G_GNUC_WARN_UNUSED_RESULT;
void sb_light_free (SbLight *light);

/* Writes `from` as it would look in even light, over white where it is clear, to all of `into`, of
 * the same size. */
void sb_light_divide (const SbLight *light, cairo_surface_t *from, cairo_surface_t *into);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbLight, sb_light_free)

G_END_DECLS
