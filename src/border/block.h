/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Blocks: large memory that is written once. Fresh memory costs the first touch of each of its
 * pages, for a scanned sheet as much as all the work on it; large blocks ask for large pages.
 * Private to the room. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* All zero. Never NULL. */
gpointer sb_block_new (gsize size) G_GNUC_WARN_UNUSED_RESULT;
/* `size` as it was asked for; NULL is no block. */
void sb_block_free (gpointer block, gsize size);

G_END_DECLS
