/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Measures the job's printer with a sheet of rulers: prints it, takes what the maker reads off it,
 * tells what follows, keeps or clears it. The job itself is not changed.
 *
 * Signal "calibrated" when a calibration was kept or cleared. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

#define SB_TYPE_CALIBRATION_WINDOW (sb_calibration_window_get_type ())
G_DECLARE_FINAL_TYPE (SbCalibrationWindow, sb_calibration_window, SB, CALIBRATION_WINDOW, GtkWindow)

/* For the job's printer (it must have one), paper and stock as they are now. */
GtkWidget *sb_calibration_window_new (GtkWindow *parent, SbDesk *desk);

G_END_DECLS
