/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How much ink a page asks for: the mean of C+M+Y+K over the sheet as it is painted, by the plain
 * conversion of RGB with black in the place of equal parts of the three (ISO 32000-1, 10.3.4, with
 * full black generation and undercolour removal: section number from memory). A printer's own
 * colours differ: good to 50 % either way (handbook 7.2). */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

/* Percent of each page, 100 being a sheet covered with one colour; guides count. An array of as
 * many as there are pages, free with g_free; NULL and `error` when one cannot be painted. Slow: run
 * in a thread. */
double *sb_coverage_measure (const SbState *state, GCancellable *cancellable,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
