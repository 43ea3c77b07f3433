/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Works on rows first..end-1. Bands of one call run at the same time, so it may write only what
 * belongs to its own rows. */
typedef void (*SbBandFunc) (int first, int end, gpointer data);

/* Splits `height` rows into bands, one for each processor (8 at most), and returns when all are
 * done. */
void sb_bands_run (int height, SbBandFunc func, gpointer data);

G_END_DECLS
