/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The part of the proof that is about the printer: which one the job is proofed for, what it cannot
 * reach on this paper, borderless, its calibration, the check bar, and what to mind with this stock
 * in this kind of printer. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_PRINTER_BOX (sb_printer_box_get_type ())
G_DECLARE_FINAL_TYPE (SbPrinterBox, sb_printer_box, SB, PRINTER_BOX, GtkWidget)

/* Once. */
void sb_printer_box_set_desk (SbPrinterBox *self, SbDesk *desk);

G_END_DECLS
