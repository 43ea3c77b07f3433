/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/file.h"
#include "window/parts/renderer.h"
#include "window/shell/app-window.h"
#include "window/shell/application.h"
#include "window/shell/recovering.h"
#include "window/shell/style.h"

struct _SbApplication {
  GtkApplication parent_instance;

  SbPreferences *preferences;
  SbStyle *style;
  gboolean recovery_offered;
};

G_DEFINE_FINAL_TYPE (SbApplication, sb_application, GTK_TYPE_APPLICATION)

static gboolean
offer_recovery_cb (gpointer user_data)
{
  sb_recovering_offer (user_data);
  return G_SOURCE_REMOVE;
}

static SbAppWindow *
new_window (SbApplication *self)
{
  SbAppWindow *window = sb_app_window_new (self);

  gtk_window_present (GTK_WINDOW (window));
  /* Once, when the first window stands and has begun to open what it was started with. */
  if (!self->recovery_offered)
    g_idle_add_full (G_PRIORITY_LOW, offer_recovery_cb, g_object_ref (window), g_object_unref);
  self->recovery_offered = TRUE;
  return window;
}

/* The window that has `file` open, or NULL. */
static SbAppWindow *
find_window (SbApplication *self, GFile *file)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l; l = l->next) {
    if (!SB_IS_APP_WINDOW (l->data))
      continue;
    GFile *open = sb_app_window_get_file (l->data);
    if (open && g_file_equal (open, file))
      return l->data;
  }
  return NULL;
}

/* An open window that has no job yet, or NULL. */
static SbAppWindow *
find_empty_window (SbApplication *self)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l; l = l->next)
    if (SB_IS_APP_WINDOW (l->data) && sb_app_window_is_empty (l->data))
      return l->data;
  return NULL;
}

void
sb_application_open_job (SbApplication *self, GFile *file, GtkWindow *window)
{
  g_return_if_fail (SB_IS_APPLICATION (self));

  SbAppWindow *target = find_window (self, file);
  if (target) {
    gtk_window_present (GTK_WINDOW (target));
    if (GTK_WINDOW (target) != window)
      sb_app_window_say (target, _ ("This job is already open in this window."));
    return;
  }
  target = SB_IS_APP_WINDOW (window) && sb_app_window_is_empty (SB_APP_WINDOW (window))
               ? SB_APP_WINDOW (window)
               : new_window (self);
  sb_app_window_open_job (target, file);
}

static gboolean
is_job (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);
  return g_str_has_suffix (name, SB_JOB_EXTENSION);
}

static void
sb_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  SbApplication *self = SB_APPLICATION (application);
  g_autoptr (GListStore) pictures = g_list_store_new (G_TYPE_FILE);

  for (int i = 0; i < n_files; i++)
    if (is_job (files[i]))
      sb_application_open_job (self, files[i], GTK_WINDOW (find_empty_window (self)));
    else
      g_list_store_append (pictures, files[i]);

  if (g_list_model_get_n_items (G_LIST_MODEL (pictures)) > 0) {
    SbAppWindow *window = find_empty_window (self);
    sb_app_window_open_pictures (window ? window : new_window (self), G_LIST_MODEL (pictures));
  }
}

static void
sb_application_activate (GApplication *application)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (window)
    gtk_window_present (window);
  else
    new_window (SB_APPLICATION (application));
}

static void
new_window_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  new_window (user_data);
}

/* Each window asks about its own unsaved changes; one that stays open stops the rest. */
static void
quit_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autoptr (GList) windows = g_list_copy (gtk_application_get_windows (user_data));

  for (GList *l = windows; l; l = l->next)
    gtk_window_close (l->data);
}

static void
about_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  const char *authors[] = {_ ("The Stickleback makers"), NULL};

  gtk_show_about_dialog (
      gtk_application_get_active_window (user_data), "program-name", _ ("Stickleback"), "version",
      SB_VERSION, "logo-icon-name", SB_APP_ID, "comments",
      _ ("Lay stickers out at true size, print them on an ordinary printer, cut them by hand."),
      "authors", authors, "license-type", GTK_LICENSE_GPL_3_0, "translator-credits",
      _ ("translator-credits"), NULL);
}

static void
add_actions (SbApplication *self)
{
  const GActionEntry actions[] = {
      {.name = "new-window", .activate = new_window_cb},
      {.name = "quit", .activate = quit_cb},
      {.name = "about", .activate = about_cb},
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  for (const char **name = (const char *[]){"show-strip", "show-border", "show-waste",
                                            "show-drawer", "show-side", NULL};
       *name; name++) {
    g_autoptr (GPropertyAction) action = g_property_action_new (*name, self->preferences, *name);
    g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
  }
}

static void
sb_application_startup (GApplication *application)
{
  SbApplication *self = SB_APPLICATION (application);

  G_APPLICATION_CLASS (sb_application_parent_class)->startup (application);
  self->preferences = sb_preferences_new ();
  self->style = sb_style_new (self->preferences);
  add_actions (self);
  sb_app_window_install_accels (GTK_APPLICATION (self));
  gtk_window_set_default_icon_name (SB_APP_ID);
}

static void
sb_application_finalize (GObject *object)
{
  SbApplication *self = SB_APPLICATION (object);

  g_clear_object (&self->style);
  g_clear_object (&self->preferences);
  G_OBJECT_CLASS (sb_application_parent_class)->finalize (object);
}

static void
sb_application_class_init (SbApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sb_application_finalize;
  application_class->startup = sb_application_startup;
  application_class->activate = sb_application_activate;
  application_class->open = sb_application_open;
}

static void
sb_application_init (SbApplication *self)
{
}

SbPreferences *
sb_application_get_preferences (SbApplication *self)
{
  g_return_val_if_fail (SB_IS_APPLICATION (self), NULL);
  return self->preferences;
}

int
sb_application_run (int argc, char **argv)
{
  if (!sb_renderer_init_gtk ()) {
    g_printerr (_ ("stickleback: there is no display to open a window on; the commands that need "
                   "none are listed by stickleback --help\n"));
    return 2;
  }
  g_set_application_name (_ ("Stickleback"));
  g_autoptr (SbApplication) self = g_object_new (SB_TYPE_APPLICATION, "application-id", SB_APP_ID,
                                                 "flags", G_APPLICATION_HANDLES_OPEN, NULL);
  return g_application_run (G_APPLICATION (self), argc, argv);
}
