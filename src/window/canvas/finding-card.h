/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One finding as a card: shape, word and colour say how bad it is; *Show* selects its piece, *Move
 * inside* mends what can be mended so. CSS node: box.finding(.stop|.caution|.note). */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_FINDING_CARD (sb_finding_card_get_type ())
G_DECLARE_FINAL_TYPE (SbFindingCard, sb_finding_card, SB, FINDING_CARD, GtkBox)

/* Signals: "show-piece" (guint piece_id). `with_show`: offers *Show*, for a list away from the
 * piece. */
GtkWidget *sb_finding_card_new (SbDesk *desk, const SbFinding *finding, gboolean with_show);

/* "Stop", "Caution" or "Note". */
const char *sb_severity_get_word (SbSeverity severity);
const char *sb_severity_get_icon (SbSeverity severity);

/* Moves one piece inside the shortest way, as one step. FALSE when it is too large for it. */
gboolean sb_findings_move_inside (SbDesk *desk, guint piece_id);

G_END_DECLS
