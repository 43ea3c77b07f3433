/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/shell/style.h"

#define RESOURCE "/org/stickleback/Stickleback/"

struct _SbStyle {
  GObject parent_instance;

  SbPreferences *preferences;
  GtkSettings *settings;
  GtkCssProvider *palette;
  GtkCssProvider *sheet;
};

G_DEFINE_FINAL_TYPE (SbStyle, sb_style, G_TYPE_OBJECT)

/* "system" leaves the desktop's own choice alone. */
static void
apply_choice (SbStyle *self)
{
  g_autofree char *style = NULL;

  g_object_get (self->preferences, "style", &style, NULL);
  if (g_str_equal (style, "system"))
    gtk_settings_reset_property (self->settings, "gtk-application-prefer-dark-theme");
  else
    g_object_set (self->settings, "gtk-application-prefer-dark-theme", g_str_equal (style, "dark"),
                  NULL);
}

static void
load_palette (SbStyle *self)
{
  g_autofree char *theme = NULL;
  gboolean dark = FALSE;

  g_object_get (self->settings, "gtk-theme-name", &theme, "gtk-application-prefer-dark-theme",
                &dark, NULL);
  dark = dark || (theme && (g_str_has_suffix (theme, "-dark") || strstr (theme, "Inverse")));
  gboolean contrast = theme && (strstr (theme, "HighContrast") || strstr (theme, "-hc"));
  const char *file =
      contrast ? dark ? RESOURCE "palette-contrast-dark.css" : RESOURCE "palette-contrast.css"
      : dark   ? RESOURCE "palette-dark.css"
               : RESOURCE "palette-light.css";
  gtk_css_provider_load_from_resource (self->palette, file);
}

static void
sb_style_dispose (GObject *object)
{
  SbStyle *self = SB_STYLE (object);

  if (self->settings)
    g_signal_handlers_disconnect_by_data (self->settings, self);
  if (self->preferences)
    g_signal_handlers_disconnect_by_data (self->preferences, self);
  g_clear_object (&self->settings);
  g_clear_object (&self->preferences);
  g_clear_object (&self->palette);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (sb_style_parent_class)->dispose (object);
}

static void
sb_style_class_init (SbStyleClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_style_dispose;
}

static void
sb_style_init (SbStyle *self)
{
  self->palette = gtk_css_provider_new ();
  self->sheet = gtk_css_provider_new ();
}

SbStyle *
sb_style_new (SbPreferences *preferences)
{
  SbStyle *self = g_object_new (SB_TYPE_STYLE, NULL);
  GdkDisplay *display = gdk_display_get_default ();

  self->preferences = g_object_ref (preferences);
  self->settings = g_object_ref (gtk_settings_get_for_display (display));
  g_signal_connect_object (self->settings, "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK (load_palette), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->settings, "notify::gtk-theme-name", G_CALLBACK (load_palette),
                           self, G_CONNECT_SWAPPED);
  g_signal_connect_object (preferences, "notify::style", G_CALLBACK (apply_choice), self,
                           G_CONNECT_SWAPPED);

  gtk_css_provider_load_from_resource (self->sheet, RESOURCE "style.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (self->palette),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (self->sheet),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  apply_choice (self);
  load_palette (self);
  return self;
}
