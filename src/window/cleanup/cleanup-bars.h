/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the clean-up page has around the picture. The buttons trigger the page's cleanup.* actions;
 * the page fills in the rest. */
#pragma once

#include "window/parts/measure-entry.h"

G_BEGIN_DECLS

#define SB_CLEANUP_BRUSH_LEAST_MM 0.1 /* diameters */
#define SB_CLEANUP_BRUSH_MOST_MM 50.0

/* All borrowed from the bars. */
typedef struct {
  GtkWidget *title, *badge; /* labels */
  SbMeasureEntry *brush;    /* diameter */
  GtkWidget *ground;        /* drop-down of SbCleanupGround */
  GtkWidget *stock;         /* colour button */
  GtkWidget *spinner, *status;
} SbCleanupBars;

/* Each sets its part of `bars`. */
GtkWidget *sb_cleanup_bars_new_top (SbCleanupBars *bars);
GtkWidget *sb_cleanup_bars_new_foot (SbCleanupBars *bars);
/* The settings, and the commands below them. */
GtkWidget *sb_cleanup_bars_new_side (GtkWidget *settings);

/* The page's keys, for the same actions. */
void sb_cleanup_bars_add_keys (GtkWidget *page);

G_END_DECLS
