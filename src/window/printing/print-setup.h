/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Between a job's sheet and GTK's page setup: what the print dialog begins with, and what was
 * chosen in it. */
#pragma once

#include <gtk/gtk.h>
#include <gtk/gtkunixprint.h>

#include "job/state.h"

G_BEGIN_DECLS

/* The job's paper and how it lies; the borderless choice of that paper when the job is so. */
GtkPageSetup *sb_print_setup_new (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

/* Whether the paper chosen is the job's, but for roundings. */
gboolean sb_print_setup_fits (GtkPageSetup *setup, const SbState *state);

/* Whether a paper without margins was chosen: CUPS lists it apart, under a name of its own. */
gboolean sb_print_setup_is_borderless (GtkPageSetup *setup);

/* The pages chosen (0-based guint): ranges, then every second of them. May be empty. */
GArray *sb_print_setup_choose_pages (GtkPrintSettings *settings,
                                     int n_pages) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
