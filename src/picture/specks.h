/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Small things in a mask: dust and hairs outside the artwork, pinholes in it. */
#pragma once

#include "picture/mask.h"

G_BEGIN_DECLS

typedef enum {
  SB_SPECK_DUST,    /* an island smaller than a size */
  SB_SPECK_HAIR,    /* a long thin island */
  SB_SPECK_PINHOLE, /* a patch of paper's colour in the artwork, smaller than a size */
} SbSpeckKind;

/* One of them, with its box in px; x1 and y1 lie just outside. */
typedef struct {
  SbSpeckKind kind;
  int x0, y0, x1, y1;
  int x, y;          /* one of its pixels */
  gboolean put_back; /* the maker wants it; it was left */
} SbSpeck;

typedef struct {
  double dust;        /* px: islands not longer than this go */
  double hair_width;  /* px: islands thinner than this go, ... */
  double hair_length; /* px: ... if they are not longer than this */
  double margin;      /* px by which the mask is wider than what it shows, on each side */
} SbSpeckSizes;

/* Removes dust and hairs from a flooded mask and appends them to `specks` (of SbSpeck), but leaves
 * those that touch one of the marked pixels of `kept` (a plane like the mask's, or NULL). The
 * largest island stays in any case. */
void sb_specks_remove (const SbMask *mask, const SbSpeckSizes *sizes, const guint8 *kept,
                       GArray *specks);

/* Opens what is still like paper, enclosed by artwork, except for pinholes up to `size` px across,
 * which become artwork and are appended to `specks`; those that touch a mark of `kept` stay open.
 */
void sb_pinholes_fill (const SbMask *mask, double size, const guint8 *kept, GArray *specks);

G_END_DECLS
