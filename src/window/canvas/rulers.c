/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/rulers.h"
#include "window/parts/palette.h"

#define THICK 22
#define LEAST_LABEL_PX 46
#define LEAST_TICK_PX 6

struct _SbRuler {
  GtkWidget parent_instance;

  GtkOrientation orientation;
  SbUnit unit;
  double origin, scale;
  double pointer;
  double from, to;

  GskRenderNode *ticks; /* kept until the scale moves: the pointer's mark moves far more often */
};

G_DEFINE_FINAL_TYPE (SbRuler, sb_ruler, GTK_TYPE_WIDGET)

/* A step of labels and how many ticks it is divided into, in the unit. */
typedef struct {
  double labelled;
  int parts;
} Step;

static const Step decimal_steps[] = {{1, 10},   {2, 4},   {5, 5},   {10, 10},   {20, 4}, {50, 5},
                                     {100, 10}, {200, 4}, {500, 5}, {1000, 10}, {0, 0}};
/* Inches are halved. */
static const Step inch_steps[] = {{0.25, 4}, {0.5, 8}, {1, 16},  {1, 8},  {1, 4},
                                  {2, 4},    {5, 5},   {10, 10}, {20, 4}, {0, 0}};
static const Step cm_steps[] = {{0.1, 1}, {0.2, 2}, {0.5, 5}, {1, 10}, {2, 4},
                                {5, 5},   {10, 10}, {20, 4},  {50, 5}, {0, 0}};

void
sb_ruler_choose_ticks (SbUnit unit, double scale, double *labelled_mm, double *small_mm)
{
  const Step *step = unit == SB_UNIT_INCH ? inch_steps
                     : unit == SB_UNIT_CM ? cm_steps
                                          : decimal_steps;
  double mm = sb_unit_get_mm (unit);

  while (step[1].parts && (step->labelled * mm * scale < LEAST_LABEL_PX ||
                           step->labelled * mm * scale / step->parts < LEAST_TICK_PX))
    step++;
  *labelled_mm = step->labelled * mm;
  *small_mm = *labelled_mm / step->parts;
}

static int
length_of (SbRuler *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  return self->orientation == GTK_ORIENTATION_HORIZONTAL ? gtk_widget_get_width (widget)
                                                         : gtk_widget_get_height (widget);
}

/* A rectangle along the ruler: `at` and `size` along it, `depth` from its inner edge. */
static graphene_rect_t
along (SbRuler *self, double at, double size, double depth)
{
  if (self->orientation == GTK_ORIENTATION_HORIZONTAL)
    return GRAPHENE_RECT_INIT ((float)at, (float)(THICK - depth), (float)size, (float)depth);
  return GRAPHENE_RECT_INIT ((float)(THICK - depth), (float)at, (float)depth, (float)size);
}

static void
append_label (SbRuler *self, GtkSnapshot *snapshot, double at, double value, const GdkRGBA *colour)
{
  /* The mark keeps the sign before the number where words go from right to left. */
  g_autofree char *text = g_strdup_printf ("\u200e%g", value);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  PangoAttrList *attributes = pango_attr_list_new ();
  gboolean lies = self->orientation == GTK_ORIENTATION_HORIZONTAL;

  pango_attr_list_insert (attributes, pango_attr_scale_new (0.72));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  gtk_snapshot_save (snapshot);
  if (lies) {
    gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float)at + 3, 1));
  } else {
    /* Written upwards, so that long numbers fit. */
    int width, height;
    pango_layout_get_pixel_size (layout, &width, &height);
    gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (1, (float)(at + 3 + width)));
    gtk_snapshot_rotate (snapshot, -90);
  }
  gtk_snapshot_append_layout (snapshot, layout, colour);
  gtk_snapshot_restore (snapshot);
}

static GskRenderNode *
make_ticks (SbRuler *self)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  double labelled_mm, small_mm, mm = sb_unit_get_mm (self->unit);
  int length = length_of (self);
  GdkRGBA colour, faint;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &colour);
  faint = colour;
  faint.alpha *= 0.6f;
  sb_ruler_choose_ticks (self->unit, self->scale, &labelled_mm, &small_mm);
  int parts = (int)lround (labelled_mm / small_mm);
  int first = (int)floor (-self->origin / self->scale / small_mm);
  int last = (int)ceil ((length - self->origin) / self->scale / small_mm);

  for (int i = first; i <= last; i++) {
    double at = floor (self->origin + i * small_mm * self->scale + 0.5);
    gboolean is_labelled = ((i % parts) + parts) % parts == 0;
    gboolean is_half = parts % 2 == 0 && ((i % parts) + parts) % parts == parts / 2;
    graphene_rect_t tick = along (self, at, 1, is_labelled ? 9 : is_half ? 7 : 5);

    gtk_snapshot_append_color (snapshot, is_labelled ? &colour : &faint, &tick);
    if (is_labelled)
      append_label (self, snapshot, at, round (i * small_mm / mm * 100) / 100, &colour);
  }
  return gtk_snapshot_free_to_node (snapshot);
}

static void
sb_ruler_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbRuler *self = SB_RULER (widget);
  const GdkRGBA *accent = &sb_palette_get (widget)->accent;
  GdkRGBA colour, tint;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &colour);
  if (self->scale <= 0)
    return;
  if (self->to > self->from) {
    graphene_rect_t span = along (self, self->from, self->to - self->from, THICK);
    tint = *accent;
    tint.alpha = 0.18f;
    gtk_snapshot_append_color (snapshot, &tint, &span);
  }
  if (!self->ticks)
    self->ticks = make_ticks (self);
  if (self->ticks)
    gtk_snapshot_append_node (snapshot, self->ticks);
  if (self->pointer >= 0) {
    graphene_rect_t mark = along (self, floor (self->pointer), 1, THICK);
    gtk_snapshot_append_color (snapshot, &colour, &mark);
  }
}

static void
drop_ticks (SbRuler *self)
{
  g_clear_pointer (&self->ticks, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
sb_ruler_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                  int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == SB_RULER (widget)->orientation ? 0 : THICK;
}

static void
sb_ruler_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  drop_ticks (SB_RULER (widget));
}

static void
sb_ruler_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (sb_ruler_parent_class)->css_changed (widget, change);
  drop_ticks (SB_RULER (widget));
}

static void
sb_ruler_dispose (GObject *object)
{
  g_clear_pointer (&SB_RULER (object)->ticks, gsk_render_node_unref);
  G_OBJECT_CLASS (sb_ruler_parent_class)->dispose (object);
}

static void
sb_ruler_class_init (SbRulerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_ruler_dispose;
  widget_class->snapshot = sb_ruler_snapshot;
  widget_class->measure = sb_ruler_measure;
  widget_class->size_allocate = sb_ruler_size_allocate;
  widget_class->css_changed = sb_ruler_css_changed;
  gtk_widget_class_set_css_name (widget_class, "ruler");
  /* Places are told by each piece's own name. */
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
sb_ruler_init (SbRuler *self)
{
  self->pointer = -1;
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
sb_ruler_new (GtkOrientation orientation)
{
  SbRuler *self = g_object_new (SB_TYPE_RULER, NULL);

  self->orientation = orientation;
  return GTK_WIDGET (self);
}

void
sb_ruler_set_unit (SbRuler *self, SbUnit unit)
{
  self->unit = unit;
  drop_ticks (self);
}

void
sb_ruler_set_scale (SbRuler *self, double origin, double scale)
{
  if (self->origin == origin && self->scale == scale)
    return;
  self->origin = origin;
  self->scale = scale;
  drop_ticks (self);
}

void
sb_ruler_set_pointer (SbRuler *self, double at)
{
  if (self->pointer == at)
    return;
  self->pointer = at;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_ruler_set_span (SbRuler *self, double from, double to)
{
  if (self->from == from && self->to == to)
    return;
  self->from = from;
  self->to = to;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
