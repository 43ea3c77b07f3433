/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A plate: a few words on a rounded ground, drawn over the pages. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct {
  const char *text; /* first line bold when there are more; lines apart by \n */
  const GdkRGBA *fill;
  const GdkRGBA *colour;
  gboolean small;
} SbPlate;

typedef struct {
  int width, height;
} SbPlateSize;

/* The size of the plate in the widget's font, logical px. */
SbPlateSize sb_plate_measure (GtkWidget *widget, const SbPlate *plate);

void sb_plate_append (GtkWidget *widget, GtkSnapshot *snapshot, const SbPlate *plate, double x,
                      double y);

/* The same, moved as little as needed to lie within a view of width x height. */
void sb_plate_append_within (GtkWidget *widget, GtkSnapshot *snapshot, const SbPlate *plate,
                             double x, double y, int width, int height);

G_END_DECLS
