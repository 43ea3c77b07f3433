/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A printer that is off maps a point p of the page to S p + d on the sheet, S a scale along each
 * axis and d a shift. To land at p, a point has to be sent to (p - d) / S. */
#include "config.h"

#include "printing/calibration.h"

#include <glib/gi18n.h>
#include <math.h>

#include "printing/printers.h"

static gboolean
scale_in_range (double scale)
{
  return scale >= SB_CALIBRATION_SCALE_LEAST && scale <= SB_CALIBRATION_SCALE_MOST;
}

static gboolean
shift_in_range (double shift_mm)
{
  return fabs (shift_mm) <= SB_CALIBRATION_SHIFT_MOST_MM;
}

/* Names the setting that usually makes such a scale (handbook section 5.3). */
static void
set_scale_error (GError **error, double scale, double nominal_mm, double read_mm)
{
  const char *why =
      scale < 1
          ? _ ("A setting is shrinking the page: look for “fit to page”, “shrink to printable "
               "area” "
               "or another paper size in the printer's own settings, and set 100 % or actual size.")
          : _ ("A setting is enlarging the page: look for “borderless”, “fill page” or another "
               "paper size in the printer's own settings, and set 100 % or actual size.");
  g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_CALIBRATION,
               _ ("The ruler of %.0f mm reads %.1f mm, that is %.1f %%. %s"), nominal_mm, read_mm,
               100 * scale, why);
}

/* A margin as it lies on paper, from the lowest mark seen. */
static sb_um
measured_margin (double first_mm, double side_mm, double scale, double shift_mm, gboolean far_edge)
{
  if (!(first_mm >= 0))
    return 0;
  double mm =
      far_edge ? side_mm - (scale * (side_mm - first_mm) + shift_mm) : scale * first_mm + shift_mm;
  return sb_um_from_mm (CLAMP (mm, 0, side_mm / 3));
}

gboolean
sb_calibration_from_readings (const SbRulerReadings *r, sb_um width, sb_um height,
                              SbCalibration *calibration, GError **error)
{
  double across, along, w = sb_um_to_mm (width), h = sb_um_to_mm (height);
  sb_calibration_get_rulers (width, height, &across, &along);
  double sx = r->across_mm / across, sy = r->along_mm / along;
  if (!scale_in_range (sx)) {
    set_scale_error (error, sx, across, r->across_mm);
    return FALSE;
  }
  if (!scale_in_range (sy)) {
    set_scale_error (error, sy, along, r->along_mm);
    return FALSE;
  }
  double dx = r->left_mm - sx * SB_CALIBRATION_LINE_MM,
         dy = r->top_mm - sy * SB_CALIBRATION_LINE_MM;
  if (!shift_in_range (dx) || !shift_in_range (dy)) {
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_CALIBRATION,
                 _ ("The page lies %.1f mm to the right and %.1f mm down. That much is a wrong "
                    "paper size or a guide in the tray that is not set; mend that first."),
                 dx, dy);
    return FALSE;
  }
  *calibration = (SbCalibration){
      sx,
      sy,
      dx,
      dy,
      {.top = measured_margin (r->first_top_mm, h, sy, dy, FALSE),
       .right = measured_margin (r->first_right_mm, w, sx, dx, TRUE),
       .bottom = measured_margin (r->first_bottom_mm, h, sy, dy, TRUE),
       .left = measured_margin (r->first_left_mm, w, sx, dx, FALSE)},
  };
  return TRUE;
}

SbAdjustment
sb_calibration_get_adjustment (const SbCalibration *c)
{
  return (SbAdjustment){1 / c->scale_x, 1 / c->scale_y, -c->shift_x_mm / c->scale_x,
                        -c->shift_y_mm / c->scale_y};
}

gboolean
sb_calibration_is_none (const SbCalibration *c)
{
  return c->scale_x == 1 && c->scale_y == 1 && c->shift_x_mm == 0 && c->shift_y_mm == 0 &&
         c->margins.top == 0 && c->margins.right == 0 && c->margins.bottom == 0 &&
         c->margins.left == 0;
}

char *
sb_calibration_tell (const SbCalibration *c, SbUnit unit)
{
  g_autofree char *x = sb_length_format_fine (fabs (c->shift_x_mm), unit);
  g_autofree char *y = sb_length_format_fine (fabs (c->shift_y_mm), unit);
  /* Translators: a length */
  g_autofree char *across =
      g_strdup_printf (c->shift_x_mm < 0 ? _ ("%s to the left") : _ ("%s to the right"), x);
  g_autofree char *along = g_strdup_printf (c->shift_y_mm < 0 ? _ ("%s up") : _ ("%s down"), y);
  /* Translators: two scales and two shifts ("0.7 mm to the right", "0.4 mm up") */
  return g_strdup_printf (_ ("%1$.2f %% across, %2$.2f %% along, %3$s, %4$s"), 100 * c->scale_x,
                          100 * c->scale_y, across, along);
}

/* The driver cuts where it thinks its margin is; the printer's error moves that cut. */
static sb_um
true_margin (sb_um driver, sb_um measured, sb_um side, double scale, double shift_mm,
             gboolean far_edge)
{
  double side_mm = sb_um_to_mm (side), d = sb_um_to_mm (driver);
  double moved = far_edge ? side_mm - (scale * (side_mm - d) + shift_mm) : scale * d + shift_mm;
  return MAX (sb_um_from_mm (fmax (moved, 0)), measured) + SB_CALIBRATION_GUARD_UM;
}

SbMargins
sb_calibration_get_margins (const SbCalibration *c, SbMargins driver, sb_um width, sb_um height)
{
  if (sb_calibration_is_none (c))
    return driver;
  return (SbMargins){
      .top = true_margin (driver.top, c->margins.top, height, c->scale_y, c->shift_y_mm, FALSE),
      .right = true_margin (driver.right, c->margins.right, width, c->scale_x, c->shift_x_mm, TRUE),
      .bottom =
          true_margin (driver.bottom, c->margins.bottom, height, c->scale_y, c->shift_y_mm, TRUE),
      .left = true_margin (driver.left, c->margins.left, width, c->scale_x, c->shift_x_mm, FALSE),
  };
}
