/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scan with several paintings becomes as many designs. */
#pragma once

#include "job/design.h"
#include "picture/split.h"

G_BEGIN_DECLS

/* The paintings of `scan`'s picture, cleaned by its recipe, to be corrected where they are falsely
 * joined or split; in px of that picture. NULL with an error: none is found, cancelled, no memory.
 * Slow: run it in a thread for the window. */
SbSplit *sb_design_find_paintings (const SbDesign *scan, GCancellable *cancellable,
                                   GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* How many they are, by a coarse look: for a scan whose paper is taken away; 1 for all else and
 * where it cannot tell. */
guint sb_design_count_paintings (const SbDesign *scan, GCancellable *cancellable);

/* Each painting of `split`, which was found in `scan`, as a design of its own (SbDesign, prepared,
 * id 0) at its true size, with the scan's recipe, border, guide and wishes, named after the scan
 * with a number in the order people read. They share the scan's picture: each shows a part of it.
 * With `straighten` paintings that lie turned are set upright. Slow. */
GPtrArray *sb_design_split (const SbDesign *scan, const SbSplit *split, gboolean straighten,
                            GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
