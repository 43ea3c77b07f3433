/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/length.h"
#include "window/canvas/monitor-scale.h"

#define FALLBACK_DPI 96.0
/* Logical px an inch that a real screen may have; others report nonsense. */
#define LEAST_DPI 55.0
#define MOST_DPI 260.0

double
sb_monitor_scale_of (GdkSurface *surface)
{
  GdkMonitor *monitor =
      surface ? gdk_display_get_monitor_at_surface (gdk_surface_get_display (surface), surface)
              : NULL;
  double dpi = 0;

  if (monitor && gdk_monitor_get_width_mm (monitor) > 0) {
    GdkRectangle geometry;
    gdk_monitor_get_geometry (monitor, &geometry);
    dpi = geometry.width * SB_MM_PER_INCH / gdk_monitor_get_width_mm (monitor);
  }
  if (dpi < LEAST_DPI || dpi > MOST_DPI)
    dpi = FALLBACK_DPI;
  return dpi / SB_MM_PER_INCH;
}
