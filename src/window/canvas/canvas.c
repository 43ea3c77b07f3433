/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/canvas/canvas-drag.h"
#include "window/canvas/canvas-drop.h"
#include "window/canvas/canvas-private.h"
#include "window/canvas/legend.h"
#include "window/canvas/monitor-scale.h"
#include "window/canvas/rulers.h"

struct _SbCanvas {
  GtkWidget parent_instance;

  GtkWidget *grid;
  GtkWidget *rulers[2]; /* by GtkOrientation */
  GtkWidget *scrolled;
  GtkWidget *legend;
  GtkWidget *menu; /* a popover that stays: one made for each use would be dropped in its frame */
  SbPagesView *pages;

  guint page;
  double calibration;
  double monitor_scale; /* 0 when it has to be asked for */
};

G_DEFINE_FINAL_TYPE (SbCanvas, sb_canvas, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_ZOOM,
  PROP_PAGE,
  PROP_OVERLAY,
  PROP_UNIT,
  PROP_CALIBRATION,
  N_PROPS,
};
static GParamSpec *props[N_PROPS];

enum {
  FILES_DROPPED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

GType
sb_overlay_get_type (void)
{
  static gsize type = 0;
  static const GFlagsValue values[] = {
      {SB_OVERLAY_STRIP, "SB_OVERLAY_STRIP", "strip"},
      {SB_OVERLAY_BORDER, "SB_OVERLAY_BORDER", "border"},
      {SB_OVERLAY_WASTE, "SB_OVERLAY_WASTE", "waste"},
      {0, NULL, NULL},
  };

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_flags_register_static ("SbOverlay", values));
  return type;
}

/* True size */

/* Kept until the window comes to another monitor: asking takes the server's time in each frame. */
double
sb_canvas_get_monitor_scale (SbCanvas *self)
{
  GtkNative *native = gtk_widget_get_native (GTK_WIDGET (self));
  GdkSurface *surface = native ? gtk_native_get_surface (native) : NULL;

  if (!surface)
    return sb_monitor_scale_of (NULL);
  if (self->monitor_scale == 0)
    self->monitor_scale = sb_monitor_scale_of (surface);
  return self->monitor_scale;
}

static void
enter_monitor_cb (SbCanvas *self)
{
  self->monitor_scale = 0;
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_ZOOM]);
}

static void
sb_canvas_realize (GtkWidget *widget)
{
  SbCanvas *self = SB_CANVAS (widget);

  GTK_WIDGET_CLASS (sb_canvas_parent_class)->realize (widget);
  self->monitor_scale = 0;
  g_signal_connect_object (gtk_native_get_surface (gtk_widget_get_native (widget)), "enter-monitor",
                           G_CALLBACK (enter_monitor_cb), self, G_CONNECT_SWAPPED);
}

static double
true_scale (SbCanvas *self)
{
  return sb_canvas_get_monitor_scale (self) * self->calibration;
}

static double
get_zoom (SbCanvas *self)
{
  return sb_pages_view_get_layout (self->pages)->scale / true_scale (self);
}

static void
set_zoom (SbCanvas *self, double zoom, double x, double y)
{
  sb_pages_view_set_scale (self->pages,
                           CLAMP (zoom, SB_ZOOM_LEAST, SB_ZOOM_MOST) * true_scale (self), x, y);
}

SbPoint
sb_canvas_get_middle (SbCanvas *self)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);

  return (SbPoint){layout->view_width / 2.0, layout->view_height / 2.0};
}

void
sb_canvas_zoom_by (SbCanvas *self, double factor, double x, double y)
{
  set_zoom (self, get_zoom (self) * factor, x, y);
}

/* Following the pages view */

static void
update_rulers (SbCanvas *self)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbPoint origin = sb_pages_layout_get_origin (layout, self->page);
  double scale = layout->n_pages > 0 ? layout->scale : 0;

  sb_ruler_set_scale (SB_RULER (self->rulers[GTK_ORIENTATION_HORIZONTAL]), origin.x, scale);
  sb_ruler_set_scale (SB_RULER (self->rulers[GTK_ORIENTATION_VERTICAL]), origin.y, scale);
}

static void
update_spans (SbCanvas *self)
{
  graphene_rect_t box = GRAPHENE_RECT_INIT (0, 0, 0, 0);

  sb_marks_get_selection_box (sb_pages_view_get_marks (self->pages), &box);
  sb_ruler_set_span (SB_RULER (self->rulers[GTK_ORIENTATION_HORIZONTAL]), box.origin.x,
                     box.origin.x + box.size.width);
  sb_ruler_set_span (SB_RULER (self->rulers[GTK_ORIENTATION_VERTICAL]), box.origin.y,
                     box.origin.y + box.size.height);
}

static void
layout_changed_cb (SbCanvas *self)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  guint page = sb_pages_layout_find_page (layout, layout->view_height / 2.0);

  if (page != self->page) {
    self->page = page;
    g_object_notify_by_pspec (G_OBJECT (self), props[PROP_PAGE]);
  }
  update_rulers (self);
  update_spans (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_ZOOM]);
}

static void
synced_cb (SbCanvas *self)
{
  update_rulers (self);
  update_spans (self);
  sb_canvas_update_actions (self);
  sb_legend_update (SB_LEGEND (self->legend), self->pages);
}

void
sb_canvas_show_pointer (SbCanvas *self, double x, double y)
{
  sb_ruler_set_pointer (SB_RULER (self->rulers[GTK_ORIENTATION_HORIZONTAL]), x);
  sb_ruler_set_pointer (SB_RULER (self->rulers[GTK_ORIENTATION_VERTICAL]), y);
}

/* Widget */

static gboolean
sb_canvas_grab_focus (GtkWidget *widget)
{
  SbCanvas *self = SB_CANVAS (widget);
  SbSelection *selection = sb_pages_view_get_selection (self->pages);
  guint n;
  const guint *ids = sb_selection_get_pieces (selection, &n);
  SbPieceView *view = n > 0 ? sb_pages_view_find (self->pages, ids[n - 1]) : NULL;

  return gtk_widget_grab_focus (view ? GTK_WIDGET (view) : GTK_WIDGET (self->pages));
}

static void
sb_canvas_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SbCanvas *self = SB_CANVAS (object);

  switch (id) {
  case PROP_ZOOM:
    g_value_set_double (value, get_zoom (self));
    break;
  case PROP_PAGE:
    g_value_set_uint (value, self->page);
    break;
  case PROP_OVERLAY:
    g_value_set_flags (value, sb_pages_view_get_overlay (self->pages));
    break;
  case PROP_UNIT:
    g_value_set_int (value, (int)sb_pages_view_get_unit (self->pages));
    break;
  case PROP_CALIBRATION:
    g_value_set_double (value, self->calibration);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
set_unit (SbCanvas *self, SbUnit unit)
{
  sb_pages_view_set_unit (self->pages, unit);
  sb_ruler_set_unit (SB_RULER (self->rulers[GTK_ORIENTATION_HORIZONTAL]), unit);
  sb_ruler_set_unit (SB_RULER (self->rulers[GTK_ORIENTATION_VERTICAL]), unit);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_UNIT]);
}

/* The zoom stays what it is: true size becomes another one. */
static void
set_calibration (SbCanvas *self, double calibration)
{
  double zoom = get_zoom (self);
  SbPoint middle = sb_canvas_get_middle (self);

  self->calibration = calibration;
  if (sb_pages_view_is_fitting (self->pages))
    g_object_notify_by_pspec (G_OBJECT (self), props[PROP_ZOOM]);
  else
    set_zoom (self, zoom, middle.x, middle.y);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_CALIBRATION]);
}

static void
sb_canvas_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbCanvas *self = SB_CANVAS (object);
  SbPoint middle = sb_canvas_get_middle (self);

  switch (id) {
  case PROP_ZOOM:
    set_zoom (self, g_value_get_double (value), middle.x, middle.y);
    break;
  case PROP_PAGE:
    sb_pages_view_show_page (self->pages, g_value_get_uint (value));
    break;
  case PROP_OVERLAY:
    sb_pages_view_set_overlay (self->pages, (SbOverlay)g_value_get_flags (value));
    g_object_notify_by_pspec (object, pspec);
    break;
  case PROP_UNIT:
    set_unit (self, (SbUnit)g_value_get_int (value));
    break;
  case PROP_CALIBRATION:
    set_calibration (self, g_value_get_double (value));
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sb_canvas_dispose (GObject *object)
{
  SbCanvas *self = SB_CANVAS (object);

  if (self->pages) {
    g_signal_handlers_disconnect_by_data (self->pages, self);
    g_clear_object (&self->pages);
  }
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_pointer (&self->menu, gtk_widget_unparent);
  G_OBJECT_CLASS (sb_canvas_parent_class)->dispose (object);
}

static void
sb_canvas_class_init (SbCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;

  object_class->get_property = sb_canvas_get_property;
  object_class->set_property = sb_canvas_set_property;
  object_class->dispose = sb_canvas_dispose;
  widget_class->grab_focus = sb_canvas_grab_focus;
  widget_class->realize = sb_canvas_realize;

  props[PROP_ZOOM] =
      g_param_spec_double ("zoom", NULL, NULL, SB_ZOOM_LEAST, SB_ZOOM_MOST, 1, flags);
  props[PROP_PAGE] = g_param_spec_uint ("page", NULL, NULL, 0, G_MAXUINT, 0, flags);
  props[PROP_OVERLAY] =
      g_param_spec_flags ("overlay", NULL, NULL, SB_TYPE_OVERLAY, SB_OVERLAY_STRIP, flags);
  props[PROP_UNIT] =
      g_param_spec_int ("unit", NULL, NULL, SB_UNIT_MM, SB_UNIT_PT, SB_UNIT_MM, flags);
  props[PROP_CALIBRATION] = g_param_spec_double ("calibration", NULL, NULL, 0.5, 2, 1, flags);
  g_object_class_install_properties (object_class, N_PROPS, props);

  signals[FILES_DROPPED] =
      g_signal_new ("files-dropped", SB_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                    G_TYPE_NONE, 4, GDK_TYPE_FILE_LIST, G_TYPE_UINT, G_TYPE_INT, G_TYPE_INT);
  gtk_widget_class_set_css_name (widget_class, "canvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  sb_canvas_class_install_actions (widget_class);
}

static void
files_dropped_cb (SbCanvas *self, GdkFileList *files, guint page, int x, int y)
{
  g_signal_emit (self, signals[FILES_DROPPED], 0, files, page, x, y);
}

static void
sb_canvas_init (SbCanvas *self)
{
  GtkGrid *grid;

  self->calibration = 1;
  self->grid = gtk_grid_new ();
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  grid = GTK_GRID (self->grid);
  for (int i = 0; i < 2; i++)
    self->rulers[i] = sb_ruler_new ((GtkOrientation)i);
  self->scrolled = gtk_scrolled_window_new ();
  gtk_widget_set_hexpand (self->scrolled, TRUE);
  gtk_widget_set_vexpand (self->scrolled, TRUE);
  self->legend = sb_legend_new ();
  self->menu = gtk_popover_menu_new_from_model (NULL);
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));

  GtkWidget *corner = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (corner, "ruler-corner");
  gtk_grid_attach (grid, corner, 0, 0, 1, 1);
  gtk_grid_attach (grid, self->rulers[GTK_ORIENTATION_HORIZONTAL], 1, 0, 1, 1);
  gtk_grid_attach (grid, self->rulers[GTK_ORIENTATION_VERTICAL], 0, 1, 1, 1);
  gtk_grid_attach (grid, self->scrolled, 1, 1, 1, 1);
  gtk_grid_attach (grid, self->legend, 0, 2, 2, 1);
}

GtkWidget *
sb_canvas_new (SbArtStore *store, SbSelection *selection)
{
  SbCanvas *self = g_object_new (SB_TYPE_CANVAS, NULL);

  self->pages = g_object_ref (SB_PAGES_VIEW (sb_pages_view_new (store, selection)));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), GTK_WIDGET (self->pages));
  sb_canvas_drag_attach (self->pages);
  sb_canvas_drop_attach (self->pages, G_CALLBACK (files_dropped_cb), self);
  sb_canvas_input_attach (self, self->scrolled);
  g_signal_connect_swapped (self->pages, "layout-changed", G_CALLBACK (layout_changed_cb), self);
  g_signal_connect_swapped (self->pages, "synced", G_CALLBACK (synced_cb), self);
  sb_pages_view_set_overlay (self->pages, SB_OVERLAY_STRIP);
  sb_pages_view_set_scale (self->pages, sb_monitor_scale_of (NULL), 0, 0);
  synced_cb (self);
  return GTK_WIDGET (self);
}

GtkPopover *
sb_canvas_get_menu (SbCanvas *self)
{
  return GTK_POPOVER (self->menu);
}

SbPagesView *
sb_canvas_get_pages_view (SbCanvas *self)
{
  return self->pages;
}

void
sb_canvas_set_job (SbCanvas *self, SbJob *job)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  sb_canvas_drag_cancel (self->pages);
  self->page = 0;
  sb_pages_view_set_job (self->pages, job);
  sb_canvas_zoom_fit (self);
}

void
sb_canvas_set_checker (SbCanvas *self, SbChecker *checker)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  sb_pages_view_set_checker (self->pages, checker);
}

void
sb_canvas_zoom_fit (SbCanvas *self)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  sb_pages_view_fit (self->pages, self->page);
}

gboolean
sb_canvas_is_fitting (SbCanvas *self)
{
  g_return_val_if_fail (SB_IS_CANVAS (self), FALSE);

  return sb_pages_view_is_fitting (self->pages);
}

void
sb_canvas_zoom_true (SbCanvas *self)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  SbPoint middle = sb_canvas_get_middle (self);
  set_zoom (self, 1, middle.x, middle.y);
}

void
sb_canvas_zoom_to_selection (SbCanvas *self)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  const SbPagesLayout *layout = sb_pages_view_get_layout (self->pages);
  SbMarks *marks = sb_pages_view_get_marks (self->pages);
  graphene_rect_t box;

  if (!sb_marks_get_selection_box (marks, &box))
    return;
  double factor = MIN (layout->view_width / (box.size.width + 48.0),
                       layout->view_height / (box.size.height + 48.0));
  sb_canvas_zoom_by (self, factor, box.origin.x + box.size.width / 2,
                     box.origin.y + box.size.height / 2);
  if (!sb_marks_get_selection_box (marks, &box))
    return;
  sb_pages_view_scroll_by (self->pages,
                           box.origin.x + box.size.width / 2 - layout->view_width / 2.0,
                           box.origin.y + box.size.height / 2 - layout->view_height / 2.0);
}

void
sb_canvas_show_piece (SbCanvas *self, guint piece_id)
{
  g_return_if_fail (SB_IS_CANVAS (self));

  SbPieceView *view = sb_pages_view_find (self->pages, piece_id);
  if (!view)
    return;
  SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
  sb_pages_view_scroll_to (self->pages, sb_piece_view_get_page (view),
                           (SbBox){box.x0, box.y0, box.x1, box.y1});
  gtk_widget_set_child_visible (GTK_WIDGET (view), TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (view));
}
