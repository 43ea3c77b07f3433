/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The proof, in the place of Details: the page as the paper will show it, for which printer, what
 * the printer takes away (worst first), the figures, and *Print*. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_PROOF_PANE (sb_proof_pane_get_type ())
G_DECLARE_FINAL_TYPE (SbProofPane, sb_proof_pane, SB, PROOF_PANE, GtkWidget)

/* Follows the desk; a finding that is chosen is shown on `canvas`. */
GtkWidget *sb_proof_pane_new (SbDesk *desk, SbCanvas *canvas);

G_END_DECLS
