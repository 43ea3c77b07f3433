/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The shortcuts window knows every key that does something, and none that does nothing: each of its
 * groups is compared with what is bound where the group says, and the other way round. */
#include "config.h"

#include <string.h>

#include "suite.h"
#include "window/cleanup/cleanup-bars.h"
#include "window/cleanup/cleanup-view.h"
#include "window/drawer/drawer.h"
#include "window/shell/app-window.h"

/* Where keys work. */
enum {
  WINDOW, /* everywhere in it */
  CANVAS,
  DRAWER,
  CLEANUP,
  N_PLACES,
};

/* Keys of one place: by value and modifiers. */
static void
add_key (GHashTable *keys, guint key, GdkModifierType modifiers)
{
  g_hash_table_add (keys, gtk_accelerator_name (gdk_keyval_to_lower (key), modifiers));
}

static void
add_accel (GHashTable *keys, const char *accel)
{
  guint key;
  GdkModifierType modifiers;

  ck_assert_msg (gtk_accelerator_parse (accel, &key, &modifiers), "%s", accel);
  add_key (keys, key, modifiers);
}

static GHashTable *
keys_new (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

/* --- What is shown --- */

/* As in "<Control>Left <Control>Right" or "1...7". */
static void
add_shown (GHashTable *keys, const char *accelerator)
{
  g_auto (GStrv) each = g_strsplit (accelerator, " ", -1);

  for (guint i = 0; each[i]; i++) {
    if (!strstr (each[i], "...")) {
      add_accel (keys, each[i]);
      continue;
    }
    g_auto (GStrv) ends = g_strsplit (each[i], "...", 2);
    for (guint key = gdk_keyval_from_name (ends[0]); key <= gdk_keyval_from_name (ends[1]); key++)
      add_key (keys, key, 0);
  }
}

static guint
place_of_group (GtkWidget *group)
{
  g_autofree char *title = NULL;

  g_object_get (group, "title", &title, NULL);
  return g_str_equal (title, "Pieces on the page") ? CANVAS
         : g_str_equal (title, "Drawer")           ? DRAWER
         : g_str_equal (title, "Clean-up")         ? CLEANUP
                                                   : WINDOW;
}

/* `place` is N_PLACES outside of groups, where the window keeps what its search finds. */
static void
list_shown (GtkWidget *widget, guint place, GHashTable *shown[N_PLACES])
{
  if (GTK_IS_SHORTCUTS_GROUP (widget))
    place = place_of_group (widget);
  if (GTK_IS_SHORTCUTS_SHORTCUT (widget) && place < N_PLACES) {
    g_autofree char *accelerator = NULL;
    g_object_get (widget, "accelerator", &accelerator, NULL);
    add_shown (shown[place], accelerator);
  }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    list_shown (child, place, shown);
}

static void
list_shortcuts_window (GHashTable *shown[N_PLACES])
{
  GtkBuilder *builder =
      gtk_builder_new_from_resource ("/org/stickleback/Stickleback/gtk/help-overlay.ui");
  GtkWidget *window = GTK_WIDGET (gtk_builder_get_object (builder, "help_overlay"));

  for (guint i = 0; i < N_PLACES; i++)
    shown[i] = keys_new ();
  list_shown (window, N_PLACES, shown);
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (builder);
}

/* --- What is bound --- */

static void
list_accels (GHashTable *keys)
{
  g_autoptr (GtkApplication) application =
      gtk_application_new ("org.stickleback.Test", G_APPLICATION_NON_UNIQUE);

  g_application_register (G_APPLICATION (application), NULL, NULL);
  sb_app_window_install_accels (application);
  g_auto (GStrv) actions = gtk_application_list_action_descriptions (application);
  for (guint i = 0; actions[i]; i++) {
    g_auto (GStrv) accels = gtk_application_get_accels_for_action (application, actions[i]);
    for (guint j = 0; accels[j]; j++)
      add_accel (keys, accels[j]);
  }
}

static void
add_trigger (GHashTable *keys, GtkShortcutTrigger *trigger)
{
  if (GTK_IS_ALTERNATIVE_TRIGGER (trigger)) {
    GtkAlternativeTrigger *both = GTK_ALTERNATIVE_TRIGGER (trigger);
    add_trigger (keys, gtk_alternative_trigger_get_first (both));
    add_trigger (keys, gtk_alternative_trigger_get_second (both));
  } else if (GTK_IS_KEYVAL_TRIGGER (trigger)) {
    GtkKeyvalTrigger *one = GTK_KEYVAL_TRIGGER (trigger);
    add_key (keys, gtk_keyval_trigger_get_keyval (one), gtk_keyval_trigger_get_modifiers (one));
  }
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
      add_trigger (keys, gtk_shortcut_get_trigger (shortcut));
    }
  }
}

static void
list_canvas (GHashTable *keys)
{
  g_autoptr (SbArtStore) store = sb_art_store_new ();
  g_autoptr (SbSelection) selection = sb_selection_new ();
  GtkWidget *canvas = g_object_ref_sink (sb_canvas_new (store, selection));

  list_bindings (canvas, keys);
  g_object_unref (canvas);
}

static GtkWidget *
find_list (GtkWidget *widget)
{
  GtkWidget *list = GTK_IS_LIST_BOX (widget) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child && !list;
       child = gtk_widget_get_next_sibling (child))
    list = find_list (child);
  return list;
}

static void
list_drawer (GHashTable *keys)
{
  g_autoptr (SbDocument) document = sb_document_new (sb_state_new ("letter", 215900, 279400));
  g_autoptr (SbPreferences) preferences = sb_preferences_new ();
  g_autoptr (SbDesk) desk = sb_desk_new (document, preferences);
  GtkWidget *drawer = g_object_ref_sink (sb_drawer_new (desk));

  list_bindings (find_list (drawer), keys);
  g_object_run_dispose (G_OBJECT (drawer));
  g_object_unref (drawer);
}

/* The view's keys go by a handler of its own, so those of `asked` are pressed and it is seen
 * whether they do something. */
static void
list_view (GHashTable *asked, GHashTable *keys)
{
  GtkWidget *view = g_object_ref_sink (sb_cleanup_view_new ());
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (view);
  GHashTableIter iter;
  gpointer name;

  sb_cleanup_view_set_size (SB_CLEANUP_VIEW (view), 100, 100);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);
    if (!GTK_IS_EVENT_CONTROLLER_KEY (controller))
      continue;
    g_hash_table_iter_init (&iter, asked);
    while (g_hash_table_iter_next (&iter, &name, NULL)) {
      gboolean handled = FALSE;
      guint key;
      GdkModifierType modifiers;
      gtk_accelerator_parse (name, &key, &modifiers);
      g_signal_emit_by_name (controller, "key-pressed", key, 0, modifiers, &handled);
      if (handled)
        add_key (keys, key, modifiers);
    }
  }
  g_clear_object (&controllers);
  g_object_unref (view);
}

static void
list_cleanup (GHashTable *keys)
{
  GtkWidget *page = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));

  sb_cleanup_bars_add_keys (page);
  list_bindings (page, keys);
  g_object_unref (page);
}

/* --- Exceptions --- */

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

/* What GTK does by itself: the focus goes on, what has it is activated, the main menu opens. */
static gboolean
is_of_gtk (const char *key)
{
  static const char *const keys[] = {"Tab", "<Shift>Tab", "Return", "F10"};

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (g_str_equal (key, keys[i]))
      return TRUE;
  return FALSE;
}

/* The arrow keys' steps are shown for one direction. */
static gboolean
is_arrow (const char *key)
{
  return g_str_has_suffix (key, "Up") || g_str_has_suffix (key, "Down") ||
         g_str_has_suffix (key, "Left") || g_str_has_suffix (key, "Right");
}

static void
check_all_shown (GHashTable *keys, GHashTable *shown[N_PLACES], const char *where)
{
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, keys);
  while (g_hash_table_iter_next (&iter, &key, NULL)) {
    gboolean found = is_second (key) || is_arrow (key);
    for (guint i = 0; i < N_PLACES; i++)
      found = found || g_hash_table_contains (shown[i], key);
    ck_assert_msg (found, "%s of %s is not in the shortcuts window", (char *)key, where);
  }
}

/* What works in the whole window is shown in other groups too. */
static void
check_all_bound (GHashTable *shown, GHashTable *keys, const char *where)
{
  g_autoptr (GHashTable) accels = keys_new ();
  GHashTableIter iter;
  gpointer key;

  list_accels (accels);
  ck_assert_uint_gt (g_hash_table_size (shown), 5);
  g_hash_table_iter_init (&iter, shown);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    ck_assert_msg (is_of_gtk (key) || g_hash_table_contains (keys, key) ||
                       g_hash_table_contains (accels, key),
                   "%s does nothing in %s", (char *)key, where);
}

static void
free_shown (GHashTable *shown[N_PLACES])
{
  for (guint i = 0; i < N_PLACES; i++)
    g_hash_table_unref (shown[i]);
}

START_TEST (accelerators)
{
  GHashTable *shown[N_PLACES];
  g_autoptr (GHashTable) keys = keys_new ();

  list_shortcuts_window (shown);
  list_accels (keys);
  ck_assert_uint_gt (g_hash_table_size (keys), 30);
  check_all_shown (keys, shown, "the window");
  check_all_bound (shown[WINDOW], keys, "the window");
  free_shown (shown);
}
END_TEST

START_TEST (keys_of_the_canvas)
{
  GHashTable *shown[N_PLACES];
  g_autoptr (GHashTable) keys = keys_new ();

  list_shortcuts_window (shown);
  list_canvas (keys);
  ck_assert_uint_gt (g_hash_table_size (keys), 20);
  check_all_shown (keys, shown, "the canvas");
  check_all_bound (shown[CANVAS], keys, "the canvas");
  free_shown (shown);
}
END_TEST

/* GTK's list has many keys of its own, which are not told. */
START_TEST (keys_of_the_drawer)
{
  GHashTable *shown[N_PLACES];
  g_autoptr (GHashTable) keys = keys_new ();

  list_shortcuts_window (shown);
  list_drawer (keys);
  check_all_bound (shown[DRAWER], keys, "the drawer");
  free_shown (shown);
}
END_TEST

START_TEST (keys_of_the_cleanup)
{
  GHashTable *shown[N_PLACES];
  g_autoptr (GHashTable) keys = keys_new ();

  list_shortcuts_window (shown);
  list_cleanup (keys);
  check_all_shown (keys, shown, "the clean-up");
  list_view (shown[CLEANUP], keys);
  check_all_bound (shown[CLEANUP], keys, "the clean-up");
  free_shown (shown);
}
END_TEST

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  Suite *suite = suite_create ("shortcuts");
  TCase *tcase = tcase_create ("shortcuts");

  tcase_add_test (tcase, accelerators);
  tcase_add_test (tcase, keys_of_the_canvas);
  tcase_add_test (tcase, keys_of_the_drawer);
  tcase_add_test (tcase, keys_of_the_cleanup);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
