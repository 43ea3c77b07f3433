/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/shell/preferences-window.h"

/* ISO/IEC 7810, ID-1: the size of bank cards. */
#define CARD_WIDTH_MM 85.60
#define CARD_HEIGHT_MM 53.98
#define CARD_CORNER_MM 3.18

struct _SbPreferencesWindow {
  GtkWindow parent_instance;

  /* template children */
  GtkDropDown *unit_drop;
  GtkDropDown *style_drop;
  GtkWidget *card;
  GtkAdjustment *adjustment;

  /* owned */
  SbPreferences *preferences;

  double px_per_mm;
};

G_DEFINE_FINAL_TYPE (SbPreferencesWindow, sb_preferences_window, GTK_TYPE_WINDOW)

static const char *const units[] = {"auto", "mm", "cm", "in", "pt"};
static const char *const styles[] = {"system", "light", "dark"};

static void
unit_changed_cb (SbPreferencesWindow *self)
{
  if (self->preferences)
    g_object_set (self->preferences, "unit", units[gtk_drop_down_get_selected (self->unit_drop)],
                  NULL);
}

static void
style_changed_cb (SbPreferencesWindow *self)
{
  if (self->preferences)
    g_object_set (self->preferences, "style", styles[gtk_drop_down_get_selected (self->style_drop)],
                  NULL);
}

static void
reset_cb (SbPreferencesWindow *self)
{
  gtk_adjustment_set_value (self->adjustment, 1);
}

static void
draw_card (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  SbPreferencesWindow *self = user_data;
  double scale = self->px_per_mm * gtk_adjustment_get_value (self->adjustment);
  double w = CARD_WIDTH_MM * scale, h = CARD_HEIGHT_MM * scale, r = CARD_CORNER_MM * scale;
  double x = (width - w) / 2, y = (height - h) / 2;
  GdkRGBA color;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (area)), &color);
  cairo_new_sub_path (cr);
  cairo_arc (cr, x + w - r, y + r, r, -G_PI_2, 0);
  cairo_arc (cr, x + w - r, y + h - r, r, 0, G_PI_2);
  cairo_arc (cr, x + r, y + h - r, r, G_PI_2, G_PI);
  cairo_arc (cr, x + r, y + r, r, G_PI, 3 * G_PI_2);
  cairo_close_path (cr);
  color.alpha = 0.08f;
  gdk_cairo_set_source_rgba (cr, &color);
  cairo_fill_preserve (cr);
  color.alpha = 1;
  gdk_cairo_set_source_rgba (cr, &color);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
}

static guint
index_of (const char *const *names, guint n, const char *name)
{
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (names[i], name) == 0)
      return i;
  return 0;
}

static void
sb_preferences_window_dispose (GObject *object)
{
  SbPreferencesWindow *self = SB_PREFERENCES_WINDOW (object);

  g_clear_object (&self->preferences);
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_PREFERENCES_WINDOW);
  G_OBJECT_CLASS (sb_preferences_window_parent_class)->dispose (object);
}

static void
sb_preferences_window_class_init (SbPreferencesWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_preferences_window_dispose;
  gtk_widget_class_set_template_from_resource (
      widget_class, "/org/stickleback/Stickleback/preferences-window.ui");
  gtk_widget_class_bind_template_child (widget_class, SbPreferencesWindow, unit_drop);
  gtk_widget_class_bind_template_child (widget_class, SbPreferencesWindow, style_drop);
  gtk_widget_class_bind_template_child (widget_class, SbPreferencesWindow, card);
  gtk_widget_class_bind_template_child (widget_class, SbPreferencesWindow, adjustment);
  gtk_widget_class_bind_template_callback (widget_class, unit_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, style_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, reset_cb);
}

static void
sb_preferences_window_init (SbPreferencesWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->card), draw_card, self, NULL);
  g_signal_connect_swapped (self->adjustment, "value-changed", G_CALLBACK (gtk_widget_queue_draw),
                            self->card);
}

GtkWidget *
sb_preferences_window_new (GtkWindow *parent, SbPreferences *preferences, double px_per_mm)
{
  SbPreferencesWindow *self =
      g_object_new (SB_TYPE_PREFERENCES_WINDOW, "transient-for", parent, NULL);
  g_autofree char *unit = NULL, *style = NULL;

  g_object_get (preferences, "unit", &unit, "style", &style, NULL);
  gtk_drop_down_set_selected (self->unit_drop, index_of (units, G_N_ELEMENTS (units), unit));
  gtk_drop_down_set_selected (self->style_drop, index_of (styles, G_N_ELEMENTS (styles), style));
  self->px_per_mm = px_per_mm;
  self->preferences = g_object_ref (preferences);
  g_object_bind_property (preferences, "screen-calibration", self->adjustment, "value",
                          G_BINDING_SYNC_CREATE | G_BINDING_BIDIRECTIONAL);
  return GTK_WIDGET (self);
}
