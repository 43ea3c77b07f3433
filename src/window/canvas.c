/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/canvas.h"

struct _SbCanvas {
  GtkWidget parent_instance;

  SbArtStore *store;
  SbSelection *selection;
  double zoom;
  guint page;
  SbOverlay overlay;
  SbUnit unit;
  double calibration;
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

static void
sb_canvas_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SbCanvas *self = SB_CANVAS (object);

  switch (id) {
  case PROP_ZOOM:
    g_value_set_double (value, self->zoom);
    break;
  case PROP_PAGE:
    g_value_set_uint (value, self->page);
    break;
  case PROP_OVERLAY:
    g_value_set_flags (value, self->overlay);
    break;
  case PROP_UNIT:
    g_value_set_int (value, (int)self->unit);
    break;
  case PROP_CALIBRATION:
    g_value_set_double (value, self->calibration);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sb_canvas_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbCanvas *self = SB_CANVAS (object);

  switch (id) {
  case PROP_ZOOM:
    self->zoom = g_value_get_double (value);
    break;
  case PROP_PAGE:
    self->page = g_value_get_uint (value);
    break;
  case PROP_OVERLAY:
    self->overlay = (SbOverlay)g_value_get_flags (value);
    break;
  case PROP_UNIT:
    self->unit = (SbUnit)g_value_get_int (value);
    break;
  case PROP_CALIBRATION:
    self->calibration = g_value_get_double (value);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    return;
  }
  g_object_notify_by_pspec (object, pspec);
}

static void
sb_canvas_dispose (GObject *object)
{
  SbCanvas *self = SB_CANVAS (object);

  g_clear_object (&self->store);
  g_clear_object (&self->selection);
  G_OBJECT_CLASS (sb_canvas_parent_class)->dispose (object);
}

static void
sb_canvas_class_init (SbCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;

  object_class->get_property = sb_canvas_get_property;
  object_class->set_property = sb_canvas_set_property;
  object_class->dispose = sb_canvas_dispose;

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
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "canvas");
}

static void
sb_canvas_init (SbCanvas *self)
{
  self->zoom = 1;
  self->calibration = 1;
  self->overlay = SB_OVERLAY_STRIP;
}

GtkWidget *
sb_canvas_new (SbArtStore *store, SbSelection *selection)
{
  SbCanvas *self = g_object_new (SB_TYPE_CANVAS, NULL);

  self->store = g_object_ref (store);
  self->selection = g_object_ref (selection);
  return GTK_WIDGET (self);
}

void
sb_canvas_set_job (SbCanvas *self, SbJob *job)
{
}

void
sb_canvas_zoom_fit (SbCanvas *self)
{
}

void
sb_canvas_zoom_true (SbCanvas *self)
{
}

void
sb_canvas_zoom_to_selection (SbCanvas *self)
{
}

void
sb_canvas_show_piece (SbCanvas *self, guint piece_id)
{
}

double
sb_canvas_get_monitor_scale (SbCanvas *self)
{
  return 96.0 / SB_MM_PER_INCH;
}
