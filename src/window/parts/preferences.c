/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/parts/preferences.h"

struct _SbPreferences {
  GObject parent_instance;

  GSettings *settings; /* or NULL */
  GValue values[14];   /* by property id */
};

G_DEFINE_FINAL_TYPE (SbPreferences, sb_preferences, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_UNIT,
  PROP_STYLE,
  PROP_SCREEN_CALIBRATION,
  PROP_SHOW_STRIP,
  PROP_SHOW_BORDER,
  PROP_SHOW_WASTE,
  PROP_SHOW_DRAWER,
  PROP_SHOW_SIDE,
  PROP_WINDOW_WIDTH,
  PROP_WINDOW_HEIGHT,
  PROP_WINDOW_MAXIMIZED,
  PROP_ZOOM,
  PROP_PAPER,
  N_PROPS,
};
static GParamSpec *props[N_PROPS];
G_STATIC_ASSERT (N_PROPS == G_N_ELEMENTS (((SbPreferences *)0)->values));

/* The schema as installed, else the one compiled beside the program in the build folder. */
static GSettingsSchema *
find_schema (void)
{
  GSettingsSchemaSource *installed = g_settings_schema_source_get_default ();
  GSettingsSchema *schema = NULL;

  if (installed)
    schema = g_settings_schema_source_lookup (installed, SB_APP_ID, TRUE);
  if (schema)
    return schema;

  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  if (!program)
    return NULL;
  g_autofree char *folder = g_path_get_dirname (program);
  g_autofree char *schemas = g_build_filename (folder, "..", "data", NULL);
  g_autoptr (GSettingsSchemaSource) built =
      g_settings_schema_source_new_from_directory (schemas, installed, TRUE, NULL);
  return built ? g_settings_schema_source_lookup (built, SB_APP_ID, FALSE) : NULL;
}

static void
sb_preferences_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  g_value_copy (&SB_PREFERENCES (object)->values[id], value);
}

static void
sb_preferences_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbPreferences *self = SB_PREFERENCES (object);

  if (g_param_values_cmp (pspec, &self->values[id], value) == 0)
    return;
  g_value_copy (value, &self->values[id]);
  g_object_notify_by_pspec (object, pspec);
}

static void
sb_preferences_finalize (GObject *object)
{
  SbPreferences *self = SB_PREFERENCES (object);

  for (guint i = PROP_0 + 1; i < N_PROPS; i++)
    g_value_unset (&self->values[i]);
  g_clear_object (&self->settings);
  G_OBJECT_CLASS (sb_preferences_parent_class)->finalize (object);
}

static void
sb_preferences_class_init (SbPreferencesClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;

  object_class->get_property = sb_preferences_get_property;
  object_class->set_property = sb_preferences_set_property;
  object_class->finalize = sb_preferences_finalize;

  props[PROP_UNIT] = g_param_spec_string ("unit", NULL, NULL, "auto", flags);
  props[PROP_STYLE] = g_param_spec_string ("style", NULL, NULL, "system", flags);
  props[PROP_SCREEN_CALIBRATION] =
      g_param_spec_double ("screen-calibration", NULL, NULL, 0.25, 4, 1, flags);
  props[PROP_SHOW_STRIP] = g_param_spec_boolean ("show-strip", NULL, NULL, TRUE, flags);
  props[PROP_SHOW_BORDER] = g_param_spec_boolean ("show-border", NULL, NULL, FALSE, flags);
  props[PROP_SHOW_WASTE] = g_param_spec_boolean ("show-waste", NULL, NULL, FALSE, flags);
  props[PROP_SHOW_DRAWER] = g_param_spec_boolean ("show-drawer", NULL, NULL, TRUE, flags);
  props[PROP_SHOW_SIDE] = g_param_spec_boolean ("show-side", NULL, NULL, TRUE, flags);
  props[PROP_WINDOW_WIDTH] =
      g_param_spec_int ("window-width", NULL, NULL, 0, G_MAXINT, 1360, flags);
  props[PROP_WINDOW_HEIGHT] =
      g_param_spec_int ("window-height", NULL, NULL, 0, G_MAXINT, 860, flags);
  props[PROP_WINDOW_MAXIMIZED] =
      g_param_spec_boolean ("window-maximized", NULL, NULL, FALSE, flags);
  props[PROP_ZOOM] = g_param_spec_double ("zoom", NULL, NULL, 0, 8, 0, flags);
  props[PROP_PAPER] = g_param_spec_string ("paper", NULL, NULL, "", flags);
  g_object_class_install_properties (object_class, N_PROPS, props);
}

static void
sb_preferences_init (SbPreferences *self)
{
  g_autoptr (GSettingsSchema) schema = find_schema ();

  for (guint i = PROP_0 + 1; i < N_PROPS; i++) {
    g_value_init (&self->values[i], props[i]->value_type);
    g_param_value_set_default (props[i], &self->values[i]);
  }
  if (!schema)
    return;
  self->settings = g_settings_new_full (schema, NULL, NULL);
  for (guint i = PROP_0 + 1; i < N_PROPS; i++)
    if (g_settings_schema_has_key (schema, props[i]->name))
      g_settings_bind (self->settings, props[i]->name, self, props[i]->name,
                       G_SETTINGS_BIND_DEFAULT);
}

SbPreferences *
sb_preferences_new (void)
{
  return g_object_new (SB_TYPE_PREFERENCES, NULL);
}

SbUnit
sb_preferences_get_unit (SbPreferences *self)
{
  g_return_val_if_fail (SB_IS_PREFERENCES (self), SB_UNIT_MM);

  const char *name = g_value_get_string (&self->values[PROP_UNIT]);
  for (SbUnit unit = SB_UNIT_MM; unit <= SB_UNIT_PT; unit++)
    if (g_strcmp0 (name, sb_unit_symbol (unit)) == 0)
      return unit;
  return sb_unit_from_locale ();
}
