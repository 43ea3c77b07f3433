/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The window's actions (win.*), their shortcuts and when they can be used. Commands on pieces are
 * the canvas's own; those that need a place in a menu or on a button are passed on to it. */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/cleanup/cleanup-split-run.h"
#include "window/order/download-dialog.h"
#include "window/order/order-window.h"
#include "window/printing/print-dialog.h"
#include "window/shell/arranging.h"
#include "window/shell/cleanup-mode.h"
#include "window/shell/preferences-window.h"
#include "window/shell/window-private.h"

static void
new_job_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbAppWindow *self = user_data;

  if (!sb_app_window_is_empty (self)) {
    self = sb_app_window_new (SB_APPLICATION (gtk_window_get_application (user_data)));
    gtk_window_present (GTK_WINDOW (self));
  }
  sb_app_window_new_job (self, NULL);
}

static void
print_told_cb (GtkWindow *parent, const char *message, gpointer user_data)
{
  sb_app_window_say (SB_APP_WINDOW (parent), message);
}

static void
print (SbAppWindow *self)
{
  SbDesk *desk = sb_app_window_get_desk (self);
  g_autofree char *title = sb_document_dup_name (sb_desk_get_document (desk));

  sb_print_dialog_run (GTK_WINDOW (self), sb_desk_get_whole (desk), title, sb_desk_get_unit (desk),
                       print_told_cb, NULL);
}

static void
show_order (SbAppWindow *self)
{
  sb_order_window_show (GTK_WINDOW (self), sb_app_window_get_desk (self));
}

static void
show_download (SbAppWindow *self)
{
  sb_download_dialog_show (GTK_WINDOW (self), sb_app_window_get_desk (self));
}

static void
close_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_window_close (user_data);
}

/* While a text is being typed, undo and redo belong to it as long as they change it. */
static gboolean
changes_text (SbAppWindow *self, const char *action)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (!GTK_IS_TEXT (focus))
    return FALSE;
  g_autofree char *before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (focus)));
  gtk_widget_activate_action (focus, action, NULL);
  return g_strcmp0 (before, gtk_editable_get_text (GTK_EDITABLE (focus))) != 0;
}

static void
undo_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDesk *desk = sb_app_window_get_desk (user_data);

  /* What is still being measured is the newest change, and not in the job yet. */
  if (!changes_text (user_data, "text.undo") &&
      !sb_design_changer_take_back (sb_desk_get_changer (desk)))
    sb_job_undo (sb_desk_get_job (desk));
}

static void
redo_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  if (!changes_text (user_data, "text.redo"))
    sb_job_redo (sb_desk_get_job (sb_app_window_get_desk (user_data)));
}

static void
proof_cb (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  g_simple_action_set_state (action, state);
  sb_app_window_show_proof (user_data, g_variant_get_boolean (state));
}

static void
add_page_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDesk *desk = sb_app_window_get_desk (user_data);
  SbState *state = sb_desk_get_settled (desk);

  sb_job_edit (sb_desk_get_job (desk), sb_edit_add_page (state, state->pages->len), _ ("Add Page"),
               NULL);
  g_object_set (sb_app_window_get_canvas (user_data), "page",
                sb_desk_get_state (desk)->pages->len - 1, NULL);
}

static void
remove_page_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDesk *desk = sb_app_window_get_desk (user_data);
  guint page = 0;

  g_object_get (sb_app_window_get_canvas (user_data), "page", &page, NULL);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_remove_page (sb_desk_get_settled (desk), page),
               _ ("Remove Page"), NULL);
  sb_app_window_say_undo (user_data, _ ("Page removed"));
}

static void
turn_page (SbAppWindow *self, int by)
{
  guint page = 0;
  guint n = sb_desk_get_state (sb_app_window_get_desk (self))->pages->len;

  g_object_get (sb_app_window_get_canvas (self), "page", &page, NULL);
  g_object_set (sb_app_window_get_canvas (self), "page",
                (guint)CLAMP ((int)page + by, 0, (int)n - 1), NULL);
}

static void
next_page_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  turn_page (user_data, 1);
}

static void
previous_page_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  turn_page (user_data, -1);
}

/* "fit" is canvas.fit, or cleanup.fit while a picture is cleaned, and so on. */
static void
canvas_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  GtkWidget *page = sb_cleanup_mode_get_page (user_data);
  g_autofree char *name =
      g_strconcat (page ? "cleanup." : "canvas.", g_action_get_name (G_ACTION (action)), NULL);

  gtk_widget_activate_action (page ? page : GTK_WIDGET (sb_app_window_get_canvas (user_data)), name,
                              NULL);
}

static gboolean
get_toggle (SbAppWindow *self, const char *name)
{
  g_autoptr (GVariant) state = g_action_group_get_action_state (G_ACTION_GROUP (self), name);

  return g_variant_get_boolean (state);
}

static void
arrange (SbAppWindow *self)
{
  sb_arranging_arrange (self, get_toggle (self, "arrange-rows"), get_toggle (self, "arrange-fill"));
}

static void
arrange_rows_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_simple_action_set_state (action, parameter);
}

static void
full_screen_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  if (gtk_window_is_fullscreen (user_data))
    gtk_window_unfullscreen (user_data);
  else
    gtk_window_fullscreen (user_data);
}

/* Until a canvas can measure the monitor, 96 dpi. */
static void
preferences_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCanvas *canvas = sb_app_window_get_canvas (user_data);
  double px_per_mm = canvas ? sb_canvas_get_monitor_scale (canvas) : 96 / SB_MM_PER_INCH;

  gtk_window_present (GTK_WINDOW (
      sb_preferences_window_new (user_data, sb_app_window_get_preferences (user_data), px_per_mm)));
}

static void
help_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_show_uri (user_data, "help:stickleback", GDK_CURRENT_TIME);
}

static void
split_scan_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbDesk *desk = sb_app_window_get_desk (user_data);
  SbDesign *scan =
      desk ? sb_state_get_design (sb_desk_get_settled (desk), g_variant_get_uint32 (parameter))
           : NULL;

  if (scan)
    sb_cleanup_split_run (desk, scan, NULL, FALSE, FALSE);
}

/* What only has to be called; `settled`: once what was typed just now is in the job. */
static const struct {
  const char *name;
  void (*run) (SbAppWindow *self);
  gboolean settled;
} calls[] = {
    {"open", sb_window_files_open, FALSE},
    {"save", sb_window_files_save, FALSE},
    {"save-as", sb_window_files_save_as, FALSE},
    {"export", sb_window_export, FALSE},
    {"print", print, TRUE},
    {"order", show_order, TRUE},
    {"download", show_download, TRUE},
    {"add-artwork", sb_window_files_add_artwork, FALSE},
    {"paste-artwork", sb_window_paste, FALSE},
    {"clean-up", sb_cleanup_mode_enter, FALSE},
    {"arrange", arrange, TRUE},
    {"fill-gaps", sb_arranging_fill_gaps, TRUE},
    {"search", sb_app_window_start_search, FALSE},
};

static void
call_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  guint i = 0;

  while (!g_str_equal (calls[i].name, g_action_get_name (G_ACTION (action))))
    i++;
  if (calls[i].settled)
    sb_window_files_when_settled (user_data, calls[i].run);
  else
    calls[i].run (user_data);
}

static const GActionEntry actions[] = {
    {.name = "split-scan", .parameter_type = "u", .activate = split_scan_cb},
    {.name = "new-job", .activate = new_job_cb},
    {.name = "open", .activate = call_cb},
    {.name = "close", .activate = close_cb},
    {.name = "help", .activate = help_cb},
    {.name = "save", .activate = call_cb},
    {.name = "save-as", .activate = call_cb},
    {.name = "export", .activate = call_cb},
    {.name = "add-artwork", .activate = call_cb},
    {.name = "print", .activate = call_cb},
    {.name = "order", .activate = call_cb},
    {.name = "download", .activate = call_cb},
    {.name = "paste-artwork", .activate = call_cb},
    {.name = "undo", .activate = undo_cb},
    {.name = "redo", .activate = redo_cb},
    {.name = "proof", .state = "false", .change_state = proof_cb},
    {.name = "add-page", .activate = add_page_cb},
    {.name = "remove-page", .activate = remove_page_cb},
    {.name = "next-page", .activate = next_page_cb},
    {.name = "previous-page", .activate = previous_page_cb},
    {.name = "arrange", .activate = call_cb},
    {.name = "arrange-rows", .activate = arrange_rows_cb, .parameter_type = "b", .state = "false"},
    {.name = "arrange-fill", .state = "true"},
    {.name = "fill-gaps", .activate = call_cb},
    {.name = "clean-up", .activate = call_cb},
    {.name = "search", .activate = call_cb},
    {.name = "full-screen", .activate = full_screen_cb},
    {.name = "preferences", .activate = preferences_cb},
    {.name = "measure", .activate = canvas_cb},
    {.name = "fit", .activate = canvas_cb},
    {.name = "true-size", .activate = canvas_cb},
    {.name = "zoom-in", .activate = canvas_cb},
    {.name = "zoom-out", .activate = canvas_cb},
};

/* What works in a window without a job. */
static const char *const always[] = {"new-job",     "open",          "close",       "help",
                                     "add-artwork", "paste-artwork", "preferences", "full-screen"};

void
sb_window_actions_add (SbAppWindow *self)
{
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
}

static void
enable (SbAppWindow *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

static gboolean
is_always (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (always); i++)
    if (g_str_equal (always[i], name))
      return TRUE;
  return FALSE;
}

void
sb_window_actions_update (SbAppWindow *self)
{
  SbDesk *desk = sb_app_window_get_desk (self);

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    enable (self, actions[i].name, desk != NULL || is_always (actions[i].name));
  if (!desk)
    return;
  SbJob *job = sb_desk_get_job (desk);
  enable (self, "undo",
          sb_job_can_undo (job) || sb_design_changer_is_busy (sb_desk_get_changer (desk)));
  enable (self, "redo", sb_job_can_redo (job));
}

void
sb_app_window_install_accels (GtkApplication *application)
{
  static const struct {
    const char *action;
    const char *accels[4];
  } table[] = {
      {"app.new-window", {"<Control><Shift>n"}},
      {"app.quit", {"<Control>q"}},
      {"app.show-strip", {"<Control>1"}},
      {"app.show-border", {"<Control>2"}},
      {"app.show-waste", {"<Control>3"}},
      {"app.show-drawer", {"F9"}},
      {"app.show-side", {"<Shift>F9"}},
      {"win.new-job", {"<Control>n"}},
      {"win.open", {"<Control>o"}},
      {"win.close", {"<Control>w"}},
      {"win.help", {"F1"}},
      {"win.save", {"<Control>s"}},
      {"win.save-as", {"<Control><Shift>s"}},
      {"win.export", {"<Control>e"}},
      {"win.print", {"<Control>p"}},
      {"win.add-artwork", {"<Control>i"}},
      {"win.paste-artwork", {"<Control><Shift>v"}},
      {"win.undo", {"<Control>z"}},
      {"win.redo", {"<Control><Shift>z", "<Control>y"}},
      {"win.clean-up", {"F7"}},
      {"win.order", {"F6"}},
      {"win.download", {"<Control><Shift>d"}},
      {"win.proof", {"F8"}},
      {"win.arrange", {"<Control>r"}},
      {"win.fill-gaps", {"<Control>g"}},
      {"win.preferences", {"<Control>comma"}},
      {"win.add-page", {"<Control><Shift>p"}},
      {"win.next-page", {"<Control>Page_Down"}},
      {"win.previous-page", {"<Control>Page_Up"}},
      {"win.search", {"<Control>f"}},
      {"win.full-screen", {"F11"}},
      {"win.fit", {"<Control>0", "<Control>KP_0"}},
      {"win.true-size", {"<Control>9", "<Control>KP_9"}},
      {"win.zoom-in", {"<Control>plus", "<Control>equal", "<Control>KP_Add"}},
      {"win.zoom-out", {"<Control>minus", "<Control>KP_Subtract"}},
      {"win.show-help-overlay", {"<Control>question"}},
  };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    gtk_application_set_accels_for_action (application, table[i].action, table[i].accels);
}
