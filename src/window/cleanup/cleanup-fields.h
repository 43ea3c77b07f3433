/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The numbers and the yes-or-noes of a clean-up's recipe that a maker sets: what they are called,
 * where they stand in SbCleanup and how far they go. */
#pragma once

#include "picture/recipe.h"

G_BEGIN_DECLS

/* A number. The strings are translated where they are shown. */
typedef struct {
  const char *label, *tip; /* the tip may be NULL */
  const char *step;        /* of history; takes the design's name */
  gsize offset;            /* of a double in SbCleanup */
  double lower, upper, increment;
  gboolean length; /* mm; else a plain number */
} SbCleanupField;

enum {
  SB_CLEANUP_FIELD_TOLERANCE,
  SB_CLEANUP_FIELD_SMOOTHNESS,
  SB_CLEANUP_FIELD_SPECKS,
  SB_CLEANUP_FIELD_HAIRS,
  SB_CLEANUP_FIELD_PINHOLES,
  SB_CLEANUP_FIELD_WHITE_POINT,
  SB_CLEANUP_FIELD_BLACK_POINT,
  SB_CLEANUP_FIELD_BRIGHTNESS,
  SB_CLEANUP_FIELD_CONTRAST,
  SB_CLEANUP_FIELD_WARMTH,
  SB_CLEANUP_FIELD_SATURATION,
  SB_CLEANUP_N_FIELDS,
};

extern const SbCleanupField sb_cleanup_fields[SB_CLEANUP_N_FIELDS];

/* A yes or no. */
typedef struct {
  const char *label, *tip, *step; /* as of a number */
  gsize offset;                   /* of a gboolean in SbCleanup */
} SbCleanupToggle;

enum {
  SB_CLEANUP_TOGGLE_REMOVE_PAPER,
  SB_CLEANUP_TOGGLE_EVEN_LIGHT,
  SB_CLEANUP_TOGGLE_OPEN_ENCLOSED,
  SB_CLEANUP_TOGGLE_WHITEN,
  SB_CLEANUP_TOGGLE_CRISP,
  SB_CLEANUP_N_TOGGLES,
};

extern const SbCleanupToggle sb_cleanup_toggles[SB_CLEANUP_N_TOGGLES];

/* Whether a number (its place in the table) changes anything by this recipe. */
gboolean sb_cleanup_field_counts (const SbCleanup *recipe, guint i);

G_END_DECLS
