/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a design's preparation found out, as bytes: enough to show, arrange and proof it without
 * measuring its picture anew. Private to the room. */
#pragma once

#include "job/design.h"

G_BEGIN_DECLS

#define SB_GROWTH_KEY_BYTES 32
#define SB_GROWTH_MOST_BYTES (4 * 1024 * 1024)

typedef struct {
  SbOutline *grown, *artwork; /* owned by whoever holds the struct */
  guint n_islands;
  double bridge_mm, softness;
} SbKnownGrowth;

void sb_known_growth_clear (SbKnownGrowth *known);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbKnownGrowth, sb_known_growth_clear)

/* Of a prepared design: its border before changes by hand. */
SbKnownGrowth sb_known_growth_of (const SbDesign *design) G_GNUC_WARN_UNUSED_RESULT;

/* Prepares a design of which nothing is measured yet. */
void sb_design_prepare_known (SbDesign *design, const SbKnownGrowth *known);

/* The bytes hold `key` and a checksum over everything. */
GBytes *sb_known_growth_write (const SbKnownGrowth *known,
                               const guint8 key[SB_GROWTH_KEY_BYTES]) G_GNUC_WARN_UNUSED_RESULT;

/* Every byte is hostile. FALSE, with nothing in `known`, unless the bytes are whole, undamaged and
 * those of `key`; then the outlines are those that were written, to the bit. */
gboolean sb_known_growth_read (SbKnownGrowth *known, const guint8 *bytes, gsize length,
                               const guint8 key[SB_GROWTH_KEY_BYTES]);

G_END_DECLS
