/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/parts/measure-entry.h"

#define WIDTH_PX 112
#define STEP_MM 0.5         /* Up and Down */
#define STEP_INCH (1 / 16.) /* of an inch, when that is the unit */
#define STEP_DEGREES 1.0

struct _SbMeasureEntry {
  GtkWidget parent_instance;

  GtkWidget *entry;
  SbUnit unit;
  gboolean angle;
  double lower, upper;
  double value;
  gboolean mixed;
  char *shown; /* what we wrote last: anything else was typed */
};

G_DEFINE_FINAL_TYPE (SbMeasureEntry, sb_measure_entry, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_ANGLE,
  PROP_LOWER,
  PROP_UPPER,
  PROP_LABEL,
  N_PROPS,
};
static GParamSpec *props[N_PROPS];

enum {
  COMMITTED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static char *
format (SbMeasureEntry *self)
{
  g_autofree char *number = NULL;

  if (self->mixed)
    return g_strdup ("");
  if (self->angle) {
    number = sb_decimal_format (self->value, 0);
    return g_strconcat (number, "°", NULL);
  }
  number = sb_decimal_format (self->value / sb_unit_get_mm (self->unit),
                              self->unit == SB_UNIT_MM ? 1 : 2);
  return g_strconcat (number, " ", sb_unit_symbol (self->unit), NULL);
}

static void
show_value (SbMeasureEntry *self)
{
  g_free (self->shown);
  self->shown = format (self);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), self->shown);
  gtk_widget_remove_css_class (self->entry, "error");
  gtk_widget_set_tooltip_text (self->entry, NULL);
}

static gboolean
is_typed (SbMeasureEntry *self)
{
  return g_strcmp0 (self->shown, gtk_editable_get_text (GTK_EDITABLE (self->entry))) != 0;
}

static gboolean
parse_angle (const char *text, double *value, GError **error)
{
  g_autofree char *number = g_strdup (text);
  char *end = NULL;

  g_strdelimit (number, ",", '.');
  *value = g_ascii_strtod (number, &end);
  while (*end && (g_unichar_isspace (g_utf8_get_char (end)) || g_str_has_prefix (end, "°")))
    end = g_utf8_next_char (end);
  if (end == number || *end || !isfinite (*value)) {
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_SYNTAX,
                 _ ("“%s” is not an angle in degrees."), text);
    return FALSE;
  }
  return TRUE;
}

static gboolean
parse (SbMeasureEntry *self, double *value, GError **error)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  if (self->angle)
    return parse_angle (text, value, error);
  if (!sb_length_parse (text, self->unit, value, error))
    return FALSE;
  if (*value < self->lower || *value > self->upper) {
    g_autofree char *lower = sb_length_format (self->lower, self->unit);
    g_autofree char *upper = sb_length_format (self->upper, self->unit);
    g_set_error (error, SB_MEASURE_ERROR, SB_MEASURE_ERROR_RANGE, _ ("Between %s and %s."), lower,
                 upper);
    return FALSE;
  }
  return TRUE;
}

/* Takes `value` as the maker's own. */
static void
commit_value (SbMeasureEntry *self, double value)
{
  gboolean changed = self->mixed || value != self->value;

  self->value = value;
  self->mixed = FALSE;
  show_value (self);
  if (changed)
    g_signal_emit (self, signals[COMMITTED], 0, value);
}

static gboolean
commit (SbMeasureEntry *self)
{
  g_autoptr (GError) error = NULL;
  double value = 0;

  if (!is_typed (self))
    return TRUE;
  if (!parse (self, &value, &error)) {
    gtk_widget_add_css_class (self->entry, "error");
    gtk_widget_set_tooltip_text (self->entry, error->message);
    gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                                 GTK_ACCESSIBLE_INVALID_TRUE, -1);
    return FALSE;
  }
  gtk_accessible_reset_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID);
  commit_value (self, value);
  return TRUE;
}

static void
activate_cb (SbMeasureEntry *self)
{
  if (commit (self))
    gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
}

static void
leave_cb (SbMeasureEntry *self)
{
  if (!commit (self))
    show_value (self);
}

static double
step (SbMeasureEntry *self)
{
  if (self->angle)
    return STEP_DEGREES;
  return self->unit == SB_UNIT_INCH ? STEP_INCH * SB_MM_PER_INCH : STEP_MM;
}

static gboolean
key_pressed_cb (SbMeasureEntry *self, guint keyval, guint keycode, GdkModifierType state)
{
  switch (keyval) {
  case GDK_KEY_Escape:
    if (!is_typed (self))
      return FALSE;
    show_value (self);
    gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
    return TRUE;
  case GDK_KEY_Up:
  case GDK_KEY_KP_Up:
  case GDK_KEY_Down:
  case GDK_KEY_KP_Down:
    if (self->mixed || !commit (self))
      return TRUE;
    double by = step (self) * (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up ? 1 : -1) *
                (state & GDK_SHIFT_MASK ? 10 : 1);
    commit_value (self, CLAMP (self->value + by, self->lower, self->upper));
    return TRUE;
  default:
    return FALSE;
  }
}

static gboolean
sb_measure_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (SB_MEASURE_ENTRY (widget)->entry);
}

static void
sb_measure_entry_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SbMeasureEntry *self = SB_MEASURE_ENTRY (object);

  switch (id) {
  case PROP_ANGLE:
    g_value_set_boolean (value, self->angle);
    break;
  case PROP_LOWER:
    g_value_set_double (value, self->lower);
    break;
  case PROP_UPPER:
    g_value_set_double (value, self->upper);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sb_measure_entry_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbMeasureEntry *self = SB_MEASURE_ENTRY (object);

  switch (id) {
  case PROP_ANGLE:
    self->angle = g_value_get_boolean (value);
    break;
  case PROP_LOWER:
    self->lower = g_value_get_double (value);
    break;
  case PROP_UPPER:
    self->upper = g_value_get_double (value);
    break;
  case PROP_LABEL:
    gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    g_value_get_string (value), -1);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sb_measure_entry_dispose (GObject *object)
{
  SbMeasureEntry *self = SB_MEASURE_ENTRY (object);

  g_clear_pointer (&self->entry, gtk_widget_unparent);
  G_OBJECT_CLASS (sb_measure_entry_parent_class)->dispose (object);
}

static void
sb_measure_entry_finalize (GObject *object)
{
  g_free (SB_MEASURE_ENTRY (object)->shown);
  G_OBJECT_CLASS (sb_measure_entry_parent_class)->finalize (object);
}

static void
sb_measure_entry_class_init (SbMeasureEntryClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = sb_measure_entry_get_property;
  object_class->set_property = sb_measure_entry_set_property;
  object_class->dispose = sb_measure_entry_dispose;
  object_class->finalize = sb_measure_entry_finalize;
  widget_class->grab_focus = sb_measure_entry_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "measureentry");

  props[PROP_ANGLE] =
      g_param_spec_boolean ("angle", NULL, NULL, FALSE, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  props[PROP_LOWER] = g_param_spec_double ("lower", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0,
                                           G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  props[PROP_UPPER] = g_param_spec_double ("upper", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0,
                                           G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  props[PROP_LABEL] =
      g_param_spec_string ("label", NULL, NULL, NULL, G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, props);
  signals[COMMITTED] = g_signal_new ("committed", SB_TYPE_MEASURE_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL,
                                     NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
}

static void
sb_measure_entry_init (SbMeasureEntry *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->upper = SB_UM_MOST / (double)SB_UM_PER_MM;
  gtk_widget_set_size_request (GTK_WIDGET (self), WIDTH_PX, -1);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_END);
  self->entry = gtk_entry_new ();
  gtk_widget_add_css_class (self->entry, "numeric");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 9);
  gtk_editable_set_alignment (GTK_EDITABLE (self->entry), 1);
  /* A value's history is the job's. */
  gtk_editable_set_enable_undo (GTK_EDITABLE (self->entry), FALSE);
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));

  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (self->entry, focus);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (self->entry, keys);
}

void
sb_measure_entry_set_unit (SbMeasureEntry *self, SbUnit unit)
{
  g_return_if_fail (SB_IS_MEASURE_ENTRY (self));

  if (self->unit == unit && self->shown)
    return;
  self->unit = unit;
  show_value (self);
}

void
sb_measure_entry_set_value (SbMeasureEntry *self, double value)
{
  g_return_if_fail (SB_IS_MEASURE_ENTRY (self));

  gboolean typed = self->shown && is_typed (self);
  if (self->shown && self->value == value && !self->mixed)
    return;
  self->value = value;
  self->mixed = FALSE;
  if (!typed)
    show_value (self);
}

double
sb_measure_entry_get_value (SbMeasureEntry *self)
{
  g_return_val_if_fail (SB_IS_MEASURE_ENTRY (self), 0);
  return self->value;
}

void
sb_measure_entry_set_mixed (SbMeasureEntry *self)
{
  g_return_if_fail (SB_IS_MEASURE_ENTRY (self));

  self->mixed = TRUE;
  show_value (self);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _ ("several"));
}

void
sb_measure_entry_set_range (SbMeasureEntry *self, double lower, double upper)
{
  g_return_if_fail (SB_IS_MEASURE_ENTRY (self));

  self->lower = lower;
  self->upper = upper;
}
