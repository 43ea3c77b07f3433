/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The shortcuts window knows every key that does something, and none that does nothing: it is
 * compared with the application's accelerators and with the bindings of the canvas. */
#include "config.h"

#include <string.h>

#include "suite.h"
#include "window/shell/app-window.h"

/* Keys of one place: by value and modifiers. */
static void
add_key (GHashTable *keys, guint key, GdkModifierType modifiers)
{
  g_hash_table_add (keys, gtk_accelerator_name (gdk_keyval_to_lower (key), modifiers));
}

static void
add_accels (GHashTable *keys, const char *const *accels)
{
  for (guint i = 0; accels[i]; i++) {
    guint key;
    GdkModifierType modifiers;
    ck_assert_msg (gtk_accelerator_parse (accels[i], &key, &modifiers), "%s", accels[i]);
    add_key (keys, key, modifiers);
  }
}

static void
list_shown (GtkWidget *widget, GHashTable *keys)
{
  if (GTK_IS_SHORTCUTS_SHORTCUT (widget)) {
    g_autofree char *accelerator = NULL;
    g_object_get (widget, "accelerator", &accelerator, NULL);
    if (accelerator && !strstr (accelerator, "...")) {
      g_auto (GStrv) each = g_strsplit (accelerator, " ", -1);
      add_accels (keys, (const char *const *)each);
    }
  }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    list_shown (child, keys);
}

static GHashTable *
keys_new (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

static GHashTable *
list_shortcuts_window (void)
{
  GtkBuilder *builder =
      gtk_builder_new_from_resource ("/org/stickleback/Stickleback/gtk/help-overlay.ui");
  GtkWidget *window = GTK_WIDGET (gtk_builder_get_object (builder, "help_overlay"));
  GHashTable *keys = keys_new ();

  list_shown (window, keys);
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (builder);
  return keys;
}

/* Second keys for the same: of the key pad, and those that other programs have. */
static gboolean
is_second (const char *key)
{
  static const char *const seconds[] = {"<Control>y", "<Control>equal", "BackSpace"};

  for (guint i = 0; i < G_N_ELEMENTS (seconds); i++)
    if (g_str_equal (key, seconds[i]))
      return TRUE;
  return strstr (key, "KP_") != NULL;
}

static void
check_all_shown (GHashTable *keys, GHashTable *shown, const char *where)
{
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, keys);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    ck_assert_msg (is_second (key) || g_hash_table_contains (shown, key),
                   "%s of %s is not in the shortcuts window", (char *)key, where);
}

START_TEST (every_accelerator_is_shown)
{
  g_autoptr (GtkApplication) application =
      gtk_application_new ("org.stickleback.Test", G_APPLICATION_NON_UNIQUE);
  g_autoptr (GHashTable) shown = list_shortcuts_window (), keys = keys_new ();

  g_application_register (G_APPLICATION (application), NULL, NULL);
  sb_app_window_install_accels (application);
  g_auto (GStrv) actions = gtk_application_list_action_descriptions (application);
  for (guint i = 0; actions[i]; i++) {
    g_auto (GStrv) accels = gtk_application_get_accels_for_action (application, actions[i]);
    add_accels (keys, (const char *const *)accels);
  }
  ck_assert_uint_gt (g_hash_table_size (keys), 30);
  check_all_shown (keys, shown, "the window");
}
END_TEST

/* The arrow keys' steps are shown for one direction. */
static gboolean
is_arrow (guint key)
{
  return key == GDK_KEY_Up || key == GDK_KEY_Down || key == GDK_KEY_Left || key == GDK_KEY_Right;
}

static void
list_bindings (GtkWidget *widget, GHashTable *keys)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);
    if (!GTK_IS_SHORTCUT_CONTROLLER (controller))
      continue;
    for (guint j = 0; j < g_list_model_get_n_items (G_LIST_MODEL (controller)); j++) {
      g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), j);
      GtkShortcutTrigger *trigger = gtk_shortcut_get_trigger (shortcut);
      if (!GTK_IS_KEYVAL_TRIGGER (trigger))
        continue;
      guint key = gtk_keyval_trigger_get_keyval (GTK_KEYVAL_TRIGGER (trigger));
      if (!is_arrow (key))
        add_key (keys, key, gtk_keyval_trigger_get_modifiers (GTK_KEYVAL_TRIGGER (trigger)));
    }
  }
}

START_TEST (every_key_of_the_canvas_is_shown)
{
  g_autoptr (SbArtStore) store = sb_art_store_new ();
  g_autoptr (SbSelection) selection = sb_selection_new ();
  GtkWidget *canvas = g_object_ref_sink (sb_canvas_new (store, selection));
  g_autoptr (GHashTable) shown = list_shortcuts_window (), keys = keys_new ();

  list_bindings (canvas, keys);
  ck_assert_uint_gt (g_hash_table_size (keys), 20);
  check_all_shown (keys, shown, "the canvas");
  g_object_unref (canvas);
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("shortcuts");
  TCase *tcase = tcase_create ("shortcuts");

  tcase_add_test (tcase, every_accelerator_is_shown);
  tcase_add_test (tcase, every_key_of_the_canvas_is_shown);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
