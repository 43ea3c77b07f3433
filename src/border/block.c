/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/block.h"

#include <sys/mman.h>

#define LARGE_PAGE ((gsize)2 * 1024 * 1024) /* of the usual processors */

/* The size in whole large pages; 0 for small blocks, which come from the heap. */
static gsize
mapped_size (gsize size)
{
  return size < LARGE_PAGE ? 0 : (size + LARGE_PAGE - 1) / LARGE_PAGE * LARGE_PAGE;
}

gpointer
sb_block_new (gsize size)
{
  gsize mapped = mapped_size (size);
  if (mapped == 0)
    return g_malloc0 (MAX (size, 1));
  guint8 *from =
      mmap (NULL, mapped + LARGE_PAGE, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (from == MAP_FAILED)
    g_error ("No memory for %" G_GSIZE_FORMAT " bytes", size);
  gsize before = (LARGE_PAGE - (gsize)from % LARGE_PAGE) % LARGE_PAGE;
  if (before > 0)
    munmap (from, before);
  if (before < LARGE_PAGE)
    munmap (from + before + mapped, LARGE_PAGE - before);
#ifdef MADV_HUGEPAGE
  madvise (from + before, mapped, MADV_HUGEPAGE); /* may be refused, which is no harm */
#endif
  return from + before;
}

void
sb_block_free (gpointer block, gsize size)
{
  gsize mapped = mapped_size (size);
  if (block != NULL && mapped > 0)
    munmap (block, mapped);
  else
    g_free (block);
}
