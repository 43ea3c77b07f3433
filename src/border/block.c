/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/block.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#define LARGE_PAGE ((gsize)2 * 1024 * 1024) /* of the usual processors */

gpointer
sb_block_new (gsize size)
{
  if (size < LARGE_PAGE)
    return g_malloc0 (MAX (size, 1));
  gsize whole = (size + LARGE_PAGE - 1) / LARGE_PAGE * LARGE_PAGE;
  void *block = aligned_alloc (LARGE_PAGE, whole);
  if (block == NULL)
    g_error ("No memory for %" G_GSIZE_FORMAT " bytes", size);
#ifdef MADV_HUGEPAGE
  madvise (block, whole, MADV_HUGEPAGE); /* may be refused, which is no harm */
#endif
  return memset (block, 0, size);
}

void
sb_block_free (gpointer block)
{
  free (block);
}
