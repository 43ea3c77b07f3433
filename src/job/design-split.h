/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scan with several paintings becomes as many designs. */
#pragma once

#include "job/design.h"

G_BEGIN_DECLS

/* The paintings of `scan`'s picture, cleaned by its recipe, each a design of its own (SbDesign,
 * prepared, id 0) at its true size, with the scan's border, guide and wishes, named after the scan
 * with a number in the order people read. Each holds its pixels as a PNG. NULL with an error: none
 * is found, cancelled, no memory. Slow: run it in a thread for the window. */
GPtrArray *sb_design_split (const SbDesign *scan, GCancellable *cancellable,
                            GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
