/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A group for each printer, paper and media. */
#include "config.h"

#include "printing/calibration.h"

#include "printing/send.h"
#include "printing/store.h"

#define MARGIN_MOST 100000 /* um */

static char *
get_group (const char *printer, sb_um width, sb_um height, const char *media)
{
  g_autofree char *paper = sb_media_keyword (width, height);
  return sb_store_make_group (printer, paper, media, NULL);
}

static gboolean
read_number (GKeyFile *file, const char *group, const char *key, double least, double most,
             double *value)
{
  g_autoptr (GError) error = NULL;
  *value = g_key_file_get_double (file, group, key, &error);
  return error == NULL && *value >= least && *value <= most;
}

static gboolean
read_margin (GKeyFile *file, const char *group, const char *key, sb_um *value)
{
  g_autoptr (GError) error = NULL;
  *value = g_key_file_get_integer (file, group, key, &error);
  return error == NULL && *value >= 0 && *value <= MARGIN_MOST;
}

SbCalibration
sb_calibration_load (const char *printer, sb_um width, sb_um height, const char *media)
{
  g_autoptr (GKeyFile) file = sb_store_load ();
  g_autofree char *group = get_group (printer, width, height, media);
  const double shift = SB_CALIBRATION_SHIFT_MOST_MM;
  const double least = SB_CALIBRATION_SCALE_LEAST, most = SB_CALIBRATION_SCALE_MOST;
  SbCalibration c;
  if (read_number (file, group, "scale-x", least, most, &c.scale_x) &&
      read_number (file, group, "scale-y", least, most, &c.scale_y) &&
      read_number (file, group, "shift-x-mm", -shift, shift, &c.shift_x_mm) &&
      read_number (file, group, "shift-y-mm", -shift, shift, &c.shift_y_mm) &&
      read_margin (file, group, "margin-top-um", &c.margins.top) &&
      read_margin (file, group, "margin-right-um", &c.margins.right) &&
      read_margin (file, group, "margin-bottom-um", &c.margins.bottom) &&
      read_margin (file, group, "margin-left-um", &c.margins.left))
    return c;
  return SB_CALIBRATION_NONE;
}

SbCalibration
sb_calibration_load_for (const SbState *state)
{
  if (state->printer == NULL)
    return SB_CALIBRATION_NONE;
  return sb_calibration_load (state->printer, MIN (state->page_width, state->page_height),
                              MAX (state->page_width, state->page_height), state->stock.name);
}

static void
put (GKeyFile *file, const char *group, const SbCalibration *c)
{
  g_key_file_set_double (file, group, "scale-x", c->scale_x);
  g_key_file_set_double (file, group, "scale-y", c->scale_y);
  g_key_file_set_double (file, group, "shift-x-mm", c->shift_x_mm);
  g_key_file_set_double (file, group, "shift-y-mm", c->shift_y_mm);
  g_key_file_set_integer (file, group, "margin-top-um", c->margins.top);
  g_key_file_set_integer (file, group, "margin-right-um", c->margins.right);
  g_key_file_set_integer (file, group, "margin-bottom-um", c->margins.bottom);
  g_key_file_set_integer (file, group, "margin-left-um", c->margins.left);
}

gboolean
sb_calibration_save (const char *printer, sb_um width, sb_um height, const char *media,
                     const SbCalibration *calibration, GError **error)
{
  g_autoptr (GKeyFile) file = sb_store_load ();
  g_autofree char *group = get_group (printer, width, height, media);
  g_key_file_remove_group (file, group, NULL);
  if (!sb_calibration_is_none (calibration))
    put (file, group, calibration);
  return sb_store_save (file, error);
}
