/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How much of the artwork is how light: a hill for the lightness, lines for red, green and blue,
 * and the ends and the middle in words. CSS node: histogram. */
#pragma once

#include <gtk/gtk.h>

#include "picture/cleanup.h"

G_BEGIN_DECLS

#define SB_TYPE_CLEANUP_HISTOGRAM (sb_cleanup_histogram_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupHistogram, sb_cleanup_histogram, SB, CLEANUP_HISTOGRAM, GtkWidget)

GtkWidget *sb_cleanup_histogram_new (void);

/* NULL shows nothing. */
void sb_cleanup_histogram_show (SbCleanupHistogram *self, const SbCleanResult *result);

G_END_DECLS
