/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Calibration: what a printer makes of a page, measured with a ruler on a sheet of rulers, and kept
 * per printer, paper and media. All measures are of the portrait sheet; x goes to the right and y
 * down, from the sheet's top left corner. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "output/export.h"

G_BEGIN_DECLS

typedef struct {
  double scale_x, scale_y;       /* what 1 becomes on paper: 1.015 is 1.5 % too large */
  double shift_x_mm, shift_y_mm; /* how far the drawing's corner lands from the sheet's */
  SbMargins margins;             /* what the printer really leaves white; 0: not measured */
} SbCalibration;

#define SB_CALIBRATION_NONE ((SbCalibration){1, 1, 0, 0, {0, 0, 0, 0}})
/* A scale outside is no fault of feed rollers: a setting is shrinking or enlarging the page
 * (handbook section 12). */
#define SB_CALIBRATION_SCALE_LEAST 0.97
#define SB_CALIBRATION_SCALE_MOST 1.03
/* A shift past this is a wrong paper size or tray. Our own figure; service tolerances are 1 mm
 * (handbook section 5.4). */
#define SB_CALIBRATION_SHIFT_MOST_MM 10.0
/* Kept free inside the true margins (handbook sections 5.4 and 12). */
#define SB_CALIBRATION_GUARD_UM 1000

/* --- The sheet of rulers --- */

/* The lengths of the two long rulers on a sheet: 150 and 200 mm where they fit, else the longest
 * whole centimetres that do. */
void sb_calibration_get_rulers (sb_um width, sb_um height, double *across_mm, double *along_mm);

/* The sheet as a PDF of exactly that size, to be printed like any page. */
GBytes *sb_calibration_sheet (sb_um width, sb_um height, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Where the edge scales' line lies that is measured from the paper's edge. */
#define SB_CALIBRATION_LINE_MM 20.0

/* What the maker reads off the printed sheet, in mm. */
typedef struct {
  double across_mm, along_mm; /* the two long rulers as a ruler measures them */
  double left_mm, top_mm;     /* from the paper's left and top edge to the scale's 20 mm line */
  /* The lowest mark that can be seen on each edge scale; below 0 where it was not read. */
  double first_top_mm, first_right_mm, first_bottom_mm, first_left_mm;
} SbRulerReadings;

/* SB_PRINT_ERROR_CALIBRATION when a reading is out of range; the message says what to look for. */
gboolean sb_calibration_from_readings (const SbRulerReadings *readings, sb_um width, sb_um height,
                                       SbCalibration *calibration, GError **error);

/* --- What follows from it --- */

/* What a page must go through so that it comes out right. */
SbAdjustment sb_calibration_get_adjustment (const SbCalibration *calibration);

/* The margins that hold on paper: the larger of the driver's (which the calibration moves) and the
 * measured ones, and the guard. The driver's alone when nothing was calibrated. */
SbMargins sb_calibration_get_margins (const SbCalibration *calibration, SbMargins driver,
                                      sb_um width, sb_um height);

gboolean sb_calibration_is_none (const SbCalibration *calibration);

/* "101.50 % across, 98.80 % along, 0.7 mm to the right, 0.4 mm up", translated, lengths in `unit`.
 * Free with g_free. */
char *sb_calibration_tell (const SbCalibration *calibration, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* --- Keeping it --- */

/* In printers.ini in the user's configuration folder (or $STICKLEBACK_CONFIG_DIR). `media` is the
 * stock's name. What is damaged or out of range counts as not calibrated. */
SbCalibration sb_calibration_load (const char *printer, sb_um width, sb_um height,
                                   const char *media);
/* That of the job's printer, paper and stock; none where it has no printer. */
SbCalibration sb_calibration_load_for (const SbState *state);
/* SB_CALIBRATION_NONE clears it. */
gboolean sb_calibration_save (const char *printer, sb_um width, sb_um height, const char *media,
                              const SbCalibration *calibration, GError **error);

G_END_DECLS
