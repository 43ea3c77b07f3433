/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Outlines that were grown before, in the folder stickleback/outlines of the user's cache, so that
 * opening a job need not measure its pictures anew. A design prepared from there is the same to the
 * bit as one that is measured: an entry is of one picture, size, set of parameters, build of this
 * program and of the libraries that draw. What is damaged, of another build or cannot be read is
 * as good as not there; where nothing can be written, nothing is kept. From any thread, and from
 * several programs at once. Private to the room. */
#pragma once

#include "job/design.h"

G_BEGIN_DECLS

/* All entries together; past it the longest unused go. */
#define SB_OUTLINE_CACHE_MOST_BYTES (32 * 1024 * 1024)

/* Prepares a design, of which nothing is measured yet, when its outlines are known. */
gboolean sb_outline_cache_take (SbDesign *design);

/* Keeps the outlines of a prepared design. FALSE where they are kept already or cannot be. */
gboolean sb_outline_cache_keep (const SbDesign *design);

/* Removes what is too much. */
void sb_outline_cache_tidy (gint64 most_bytes);

G_END_DECLS
