/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the proof found, as the commands tell it. Arrays are those of sb_proof_run. */
#pragma once

#include "batch/command.h"
#include "proof/proof.h"

G_BEGIN_DECLS

/* One line a finding. */
void sb_findings_print (GPtrArray *findings);

/* SB_EXIT_STOPS when one of them is a stop, else SB_EXIT_DONE. */
int sb_findings_get_status (GPtrArray *findings);

G_END_DECLS
