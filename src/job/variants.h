/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A strip for a test print: the same artwork lighter and darker, since no screen shows what a
 * printer makes of it. */
#pragma once

#include "job/edit.h"

G_BEGIN_DECLS

/* Copies of `design` at -10, +10 and +20 per cent lightness (SbDesign, prepared, id 0, one wanted),
 * each named after it with its change. NULL with an error: a drawing made of lines, which has no
 * levels, cancelled, no memory. Slow: run it in a thread for the window. */
GPtrArray *sb_design_make_variants (const SbDesign *design, GCancellable *cancellable,
                                    GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Adds the variants to the job, and a page at its end with one piece of each, from dark to light,
 * the design itself among them. */
SbState *sb_edit_add_variants (const SbState *state, guint design_id, GPtrArray *variants);

G_END_DECLS
