/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What makers and their customers are told to take care of (handbook sections 8 and 9), in the same
 * words everywhere. Each leaves the last word to local rules and the makers of paper and printer.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  SB_CAUTION_NOT_FOOD,
  SB_CAUTION_SPRAYS,
  SB_CAUTION_FILM,
  SB_CAUTION_SMALL_PARTS,
  SB_CAUTION_STAPLES,
  SB_CAUTION_KNIFE,
  SB_CAUTION_BAGS,
  SB_CAUTION_LOCAL_RULES,
} SbCaution;

/* Translated; static memory. */
const char *sb_caution_get_text (SbCaution caution);

G_END_DECLS
