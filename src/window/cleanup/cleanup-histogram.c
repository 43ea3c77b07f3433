/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "window/cleanup/cleanup-histogram.h"

#define HEIGHT_PX 72
#define END_PART 0.005 /* of the pixels lie past each end that is told; stray ones do not count */

struct _SbCleanupHistogram {
  GtkWidget parent_instance;

  guint32 counts[4][256];
};

G_DEFINE_FINAL_TYPE (SbCleanupHistogram, sb_cleanup_histogram, GTK_TYPE_WIDGET)

/* Neighbours together, so that a picture of few colours is no comb. */
static double
height_at (const guint32 *counts, int i)
{
  double sum = 0;

  for (int k = MAX (i - 2, 0); k <= MIN (i + 2, 255); k++)
    sum += counts[k];
  return sqrt (sum);
}

static double
highest (SbCleanupHistogram *self)
{
  double most = 1;

  for (int c = 0; c < 4; c++)
    for (int i = 0; i < 256; i++)
      most = MAX (most, height_at (self->counts[c], i));
  return most;
}

static void
trace (SbCleanupHistogram *self, cairo_t *cr, int channel, double width, double height, double most)
{
  for (int i = 0; i < 256; i++)
    cairo_line_to (cr, width * i / 255,
                   height - 1 - (height - 2) * height_at (self->counts[channel], i) / most);
}

static void
sb_cleanup_histogram_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  static const double colours[3][3] = {{0.8, 0.2, 0.15}, {0.1, 0.55, 0.2}, {0.2, 0.35, 0.85}};
  SbCleanupHistogram *self = SB_CLEANUP_HISTOGRAM (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  graphene_rect_t rect = GRAPHENE_RECT_INIT (0, 0, (float)width, (float)height);
  double most = highest (self);
  GdkRGBA text;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &text);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &rect);
  cairo_move_to (cr, 0, height);
  trace (self, cr, 0, width, height, most);
  cairo_line_to (cr, width, height);
  cairo_close_path (cr);
  cairo_set_source_rgba (cr, text.red, text.green, text.blue, 0.25);
  cairo_fill (cr);
  cairo_set_line_width (cr, 1.25);
  for (int c = 0; c < 3; c++) {
    cairo_new_path (cr);
    trace (self, cr, c + 1, width, height, most);
    cairo_set_source_rgb (cr, colours[c][0], colours[c][1], colours[c][2]);
    cairo_stroke (cr);
  }
  cairo_destroy (cr);
}

static void
sb_cleanup_histogram_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                              int *minimum, int *natural, int *minimum_baseline,
                              int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 64 : HEIGHT_PX;
  *minimum_baseline = *natural_baseline = -1;
}

static void
sb_cleanup_histogram_class_init (SbCleanupHistogramClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = sb_cleanup_histogram_snapshot;
  widget_class->measure = sb_cleanup_histogram_measure;
  gtk_widget_class_set_css_name (widget_class, "histogram");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_cleanup_histogram_init (SbCleanupHistogram *self)
{
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
sb_cleanup_histogram_new (void)
{
  return g_object_new (SB_TYPE_CLEANUP_HISTOGRAM, NULL);
}

/* The lightness in percent below which `part` of the pixels are. */
static int
percentile (const guint32 *counts, double part)
{
  double all = 0, sum = 0;
  int i = 0;

  for (int k = 0; k < 256; k++)
    all += counts[k];
  for (; i < 255; i++) {
    sum += counts[i];
    if (sum > part * all)
      break;
  }
  return i * 100 / 255;
}

void
sb_cleanup_histogram_show (SbCleanupHistogram *self, const SbCleanResult *result)
{
  g_return_if_fail (SB_IS_CLEANUP_HISTOGRAM (self));

  if (result)
    memcpy (self->counts, result->histogram, sizeof self->counts);
  else
    memset (self->counts, 0, sizeof self->counts);
  g_autofree char *told = g_strdup_printf (
      _ ("Lightness of the artwork: from %d %% to %d %%, half of it below %d %%"),
      percentile (self->counts[0], END_PART), percentile (self->counts[0], 1 - END_PART),
      percentile (self->counts[0], 0.5));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, told, -1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), told);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
