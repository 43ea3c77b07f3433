/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Blocks: large memory. The first touch of fresh memory costs a scanned sheet as much as all the
 * work on it; so large blocks ask for large pages. Private to the room. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* All zero. Never NULL. */
gpointer sb_block_new (gsize size) G_GNUC_WARN_UNUSED_RESULT;
/* NULL is no block. */
void sb_block_free (gpointer block);

G_END_DECLS
