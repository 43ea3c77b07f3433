/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/canvas/hand-point.h"
#include "window/parts/palette.h"

#define SIDE_PX 9.0f

struct _SbHandPointView {
  GtkWidget parent_instance;

  gboolean changed;
};

G_DEFINE_FINAL_TYPE (SbHandPointView, sb_hand_point, GTK_TYPE_WIDGET)

static graphene_rect_t
square (float side)
{
  float at = (SB_HAND_POINT_PX - side) / 2;

  return GRAPHENE_RECT_INIT (at, at, side, side);
}

/* White, with a dark edge that shows on any artwork; filled when changed, larger with the focus. */
static void
sb_hand_point_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbHandPointView *self = SB_HAND_POINT (widget);
  const SbPalette *palette = sb_palette_get (widget);
  float side = gtk_widget_is_focus (widget) ? SIDE_PX + 6 : SIDE_PX;
  graphene_rect_t rim = square (side + 4), edge = square (side + 2), inner = square (side - 2);

  gtk_snapshot_append_color (snapshot, &(GdkRGBA){1, 1, 1, 1}, &rim);
  gtk_snapshot_append_color (snapshot, &palette->accent, &edge);
  if (!self->changed)
    gtk_snapshot_append_color (snapshot, &(GdkRGBA){1, 1, 1, 1}, &inner);
}

static void
sb_hand_point_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = SB_HAND_POINT_PX;
}

static void
sb_hand_point_class_init (SbHandPointViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = sb_hand_point_snapshot;
  widget_class->measure = sb_hand_point_measure;
  gtk_widget_class_set_css_name (widget_class, "hand-point");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sb_hand_point_init (SbHandPointView *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "move");
  g_signal_connect (self, "state-flags-changed", G_CALLBACK (gtk_widget_queue_draw), NULL);
}

GtkWidget *
sb_hand_point_new (void)
{
  return g_object_new (SB_TYPE_HAND_POINT, NULL);
}

void
sb_hand_point_set_changed (SbHandPointView *self, gboolean changed)
{
  if (self->changed == changed)
    return;
  self->changed = changed;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_hand_point_set_label (SbHandPointView *self, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}
