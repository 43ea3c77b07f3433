/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/desk/autosave.h"
#include "window/parts/error-dialog.h"
#include "window/parts/work-card.h"
#include "window/shell/app-window.h"
#include "window/shell/cleanup-mode.h"
#include "window/shell/foot.h"
#include "window/shell/job-buttons.h"
#include "window/shell/job-title.h"
#include "window/shell/recent-popover.h"
#include "window/shell/side-panes.h"
#include "window/shell/start-page.h"
#include "window/shell/toasts.h"
#include "window/shell/view-bar.h"
#include "window/shell/window-private.h"

struct _SbAppWindow {
  GtkApplicationWindow parent_instance;

  /* template children */
  SbJobTitle *title;
  SbJobButtons *job_buttons;
  GtkStack *stack;
  GtkWidget *start_box;
  GtkWidget *outside_bar;
  GtkRevealer *drawer_revealer;
  GtkWidget *canvas_box;
  GtkRevealer *side_revealer;
  GtkStack *side_stack;
  GtkWidget *foot_box;
  GtkBox *work_area;
  SbToasts *toasts;

  /* owned */
  SbPreferences *preferences;
  SbDesk *desk;
  SbAutosave *autosave;
  GtkWidget *canvas;  /* borrowed from canvas_box; NULL while the window is empty */
  SbSidePanes *panes; /* NULL as long */

  gboolean opening;
  gboolean close_now;
};

G_DEFINE_FINAL_TYPE (SbAppWindow, sb_app_window, GTK_TYPE_APPLICATION_WINDOW)

static void
update_overlay (SbAppWindow *self)
{
  gboolean strip, border, waste;

  if (!self->canvas)
    return;
  g_object_get (self->preferences, "show-strip", &strip, "show-border", &border, "show-waste",
                &waste, NULL);
  SbOverlay overlay = (strip ? SB_OVERLAY_STRIP : 0) | (border ? SB_OVERLAY_BORDER : 0) |
                      (waste ? SB_OVERLAY_WASTE : 0);
  g_object_set (self->canvas, "overlay", overlay, NULL);
}

static void
update_unit (SbAppWindow *self)
{
  if (!self->canvas)
    return;
  g_object_set (self->canvas, "unit", sb_preferences_get_unit (self->preferences), NULL);
}

static void
new_from_paper_cb (SbAppWindow *self, const char *paper_name)
{
  sb_app_window_new_job (self, paper_name);
}

static void
open_recent_cb (SbAppWindow *self, const char *uri)
{
  g_autoptr (GFile) file = g_file_new_for_uri (uri);

  sb_application_open_job (SB_APPLICATION (gtk_window_get_application (GTK_WINDOW (self))), file,
                           GTK_WINDOW (self));
}

static void
said_cb (SbAppWindow *self, const char *text, gboolean can_undo)
{
  if (can_undo)
    sb_app_window_say_undo (self, text);
  else
    sb_app_window_say (self, text);
}

static SbWorkCard *
work_cb (SbAppWindow *self, const char *title, GCancellable *cancellable)
{
  return g_object_ref (sb_work_card_new (self->work_area, title, cancellable));
}

static void
changed_outside_cb (SbAppWindow *self)
{
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->outside_bar), TRUE);
}

static void
outside_response_cb (SbAppWindow *self, int response)
{
  gtk_info_bar_set_revealed (GTK_INFO_BAR (self->outside_bar), FALSE);
  if (response == 1)
    sb_window_files_reload (self);
}

/* For the next window. */
static void
remember (SbAppWindow *self)
{
  gboolean maximized = gtk_window_is_maximized (GTK_WINDOW (self));

  if (!maximized) {
    int width, height;
    gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
    g_object_set (self->preferences, "window-width", width, "window-height", height, NULL);
  }
  g_object_set (self->preferences, "window-maximized", maximized, NULL);
  if (self->canvas) {
    double zoom = 0;
    if (!sb_canvas_is_fitting (SB_CANVAS (self->canvas)))
      g_object_get (self->canvas, "zoom", &zoom, NULL);
    g_object_set (self->preferences, "zoom", zoom, NULL);
  }
}

static gboolean
sb_app_window_close_request (GtkWindow *window)
{
  SbAppWindow *self = SB_APP_WINDOW (window);

  if (self->desk && !self->close_now) {
    sb_window_files_close (self);
    return TRUE;
  }
  if (self->autosave)
    sb_autosave_stop (self->autosave);
  remember (self);
  return GTK_WINDOW_CLASS (sb_app_window_parent_class)->close_request (window);
}

static void
forget_desk (SbAppWindow *self)
{
  if (!self->desk)
    return;
  g_signal_handlers_disconnect_by_data (self->desk, self);
  g_signal_handlers_disconnect_by_data (sb_desk_get_document (self->desk), self);
  g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
  g_signal_handlers_disconnect_by_data (sb_desk_get_changer (self->desk), self);
  g_signal_handlers_disconnect_by_data (sb_desk_get_selection (self->desk), self);
  g_clear_object (&self->autosave);
  g_clear_object (&self->desk);
}

static void
sb_app_window_dispose (GObject *object)
{
  SbAppWindow *self = SB_APP_WINDOW (object);

  g_clear_pointer (&self->panes, sb_side_panes_free);
  self->canvas = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_APP_WINDOW);
  forget_desk (self);
  g_clear_object (&self->preferences);
  G_OBJECT_CLASS (sb_app_window_parent_class)->dispose (object);
}

static void
sb_app_window_class_init (SbAppWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_app_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sb_app_window_close_request;

  g_type_ensure (SB_TYPE_JOB_BUTTONS);
  g_type_ensure (SB_TYPE_JOB_TITLE);
  g_type_ensure (SB_TYPE_RECENT_POPOVER);
  g_type_ensure (SB_TYPE_TOASTS);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/app-window.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbAppWindow, name)
  BIND (title);
  BIND (job_buttons);
  BIND (stack);
  BIND (start_box);
  BIND (outside_bar);
  BIND (drawer_revealer);
  BIND (canvas_box);
  BIND (side_revealer);
  BIND (side_stack);
  BIND (foot_box);
  BIND (work_area);
  BIND (toasts);
#undef BIND
  gtk_widget_class_bind_template_callback (widget_class, outside_response_cb);
  gtk_widget_class_bind_template_callback (widget_class, open_recent_cb);
}

static void
sb_app_window_init (SbAppWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
add_start_page (SbAppWindow *self)
{
  GtkWidget *page = sb_start_page_new ();

  gtk_widget_set_hexpand (page, TRUE);
  g_signal_connect_swapped (page, "new-job", G_CALLBACK (new_from_paper_cb), self);
  g_signal_connect_swapped (page, "open-recent", G_CALLBACK (open_recent_cb), self);
  g_signal_connect_swapped (page, "files-dropped", G_CALLBACK (sb_window_take_files), self);
  gtk_box_append (GTK_BOX (self->start_box), page);
}

SbAppWindow *
sb_app_window_new (SbApplication *application)
{
  SbAppWindow *self = g_object_new (SB_TYPE_APP_WINDOW, "application", application, NULL);
  int width, height;
  gboolean maximized;

  self->preferences = g_object_ref (sb_application_get_preferences (application));
  g_object_get (self->preferences, "window-width", &width, "window-height", &height,
                "window-maximized", &maximized, NULL);
  gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (maximized)
    gtk_window_maximize (GTK_WINDOW (self));

  g_object_bind_property (self->preferences, "show-drawer", self->drawer_revealer, "reveal-child",
                          G_BINDING_SYNC_CREATE);
  g_object_bind_property (self->preferences, "show-side", self->side_revealer, "reveal-child",
                          G_BINDING_SYNC_CREATE);
  for (const char **name = (const char *[]){"notify::show-strip", "notify::show-border",
                                            "notify::show-waste", NULL};
       *name; name++)
    g_signal_connect_object (self->preferences, *name, G_CALLBACK (update_overlay), self,
                             G_CONNECT_SWAPPED);
  g_signal_connect_object (self->preferences, "notify::unit", G_CALLBACK (update_unit), self,
                           G_CONNECT_SWAPPED);

  sb_window_actions_add (self);
  sb_window_actions_update (self);
  add_start_page (self);
  return self;
}

SbDesk *
sb_app_window_get_desk (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->desk;
}

SbCanvas *
sb_app_window_get_canvas (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->canvas ? SB_CANVAS (self->canvas) : NULL;
}

SbPreferences *
sb_app_window_get_preferences (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->preferences;
}

GtkBox *
sb_app_window_get_work_area (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->work_area;
}

GFile *
sb_app_window_get_file (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->desk ? sb_document_get_file (sb_desk_get_document (self->desk)) : NULL;
}

gboolean
sb_app_window_is_empty (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), FALSE);
  return !self->desk && !self->opening;
}

void
sb_app_window_set_opening (SbAppWindow *self, gboolean opening)
{
  self->opening = opening;
}

static gboolean
close_cb (gpointer window)
{
  gtk_window_close (window);
  return G_SOURCE_REMOVE;
}

/* Not at once: this may be part of answering a request to close, or a dialog's answer. */
void
sb_app_window_close_now (SbAppWindow *self)
{
  self->close_now = TRUE;
  g_idle_add_full (G_PRIORITY_DEFAULT, close_cb, g_object_ref (self), g_object_unref);
}

static void
add_canvas (SbAppWindow *self)
{
  self->canvas = sb_canvas_new (sb_desk_get_art (self->desk), sb_desk_get_selection (self->desk));
  gtk_widget_set_hexpand (self->canvas, TRUE);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->canvas_box), GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_vexpand (self->canvas, TRUE);
  gtk_box_append (GTK_BOX (self->canvas_box), sb_view_bar_new (self->desk));
  gtk_box_append (GTK_BOX (self->canvas_box), self->canvas);
  g_object_bind_property (self->preferences, "screen-calibration", self->canvas, "calibration",
                          G_BINDING_SYNC_CREATE);
  g_signal_connect_swapped (self->canvas, "files-dropped", G_CALLBACK (sb_window_take_files_at),
                            self);
  update_overlay (self);
  g_object_set (self->canvas, "unit", sb_desk_get_unit (self->desk), NULL);
  sb_canvas_set_job (SB_CANVAS (self->canvas), sb_desk_get_job (self->desk));
  sb_canvas_set_checker (SB_CANVAS (self->canvas), sb_desk_get_checker (self->desk));
  double zoom = 0;
  g_object_get (self->preferences, "zoom", &zoom, NULL);
  if (zoom >= SB_ZOOM_LEAST)
    g_object_set (self->canvas, "zoom", zoom, NULL);
}

static void
add_foot (SbAppWindow *self)
{
  GtkWidget *foot = sb_foot_new (self->desk, SB_CANVAS (self->canvas));

  gtk_widget_set_hexpand (foot, TRUE);
  gtk_box_append (GTK_BOX (self->foot_box), foot);
}

static gboolean
drop_start_page_cb (gpointer start_box)
{
  GtkWidget *page = gtk_widget_get_first_child (start_box);

  if (page)
    gtk_box_remove (start_box, page);
  return G_SOURCE_REMOVE;
}

GtkStack *
sb_app_window_get_stack (SbAppWindow *self)
{
  g_return_val_if_fail (SB_IS_APP_WINDOW (self), NULL);
  return self->stack;
}

void
sb_app_window_start_search (SbAppWindow *self)
{
  sb_side_panes_start_search (self->panes);
}

void
sb_app_window_set_document (SbAppWindow *self, SbDocument *document)
{
  sb_app_window_set_recovered (self, document, NULL);
}

void
sb_app_window_set_recovered (SbAppWindow *self, SbDocument *document, SbRecovery *recovery)
{
  g_return_if_fail (SB_IS_APP_WINDOW (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = sb_desk_new (document, self->preferences);
  self->autosave = sb_autosave_new (document, recovery);
  SbJob *job = sb_desk_get_job (self->desk);
  g_signal_connect_swapped (self->desk, "said", G_CALLBACK (said_cb), self);
  g_signal_connect_swapped (self->desk, "failed", G_CALLBACK (sb_error_dialog_show), self);
  g_signal_connect_swapped (self->desk, "work", G_CALLBACK (work_cb), self);
  g_signal_connect_swapped (document, "changed-outside", G_CALLBACK (changed_outside_cb), self);
  add_canvas (self);
  self->panes = sb_side_panes_new (self, self->drawer_revealer, self->side_stack);
  add_foot (self);
  g_signal_connect_swapped (job, "history-changed", G_CALLBACK (sb_window_actions_update), self);
  g_signal_connect_swapped (sb_desk_get_changer (self->desk), "taken",
                            G_CALLBACK (sb_window_actions_update), self);
  g_signal_connect_swapped (sb_desk_get_selection (self->desk), "changed",
                            G_CALLBACK (sb_window_actions_update), self);

  sb_job_buttons_set_desk (self->job_buttons, self->desk);
  gtk_stack_set_visible_child_name (self->stack, "job");
  /* Not at once: it may be what has just asked for this. */
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, drop_start_page_cb, g_object_ref (self->start_box),
                   g_object_unref);
  sb_job_title_set_job (self->title, self->desk, SB_CANVAS (self->canvas));
  sb_window_actions_update (self);
  gtk_widget_grab_focus (self->canvas);
}

void
sb_app_window_say (SbAppWindow *self, const char *text)
{
  g_return_if_fail (SB_IS_APP_WINDOW (self));
  sb_toasts_show (self->toasts, text, NULL, NULL);
}

void
sb_app_window_say_undo (SbAppWindow *self, const char *text)
{
  g_return_if_fail (SB_IS_APP_WINDOW (self));
  sb_toasts_show (self->toasts, text, _ ("_Undo"), "win.undo");
}

void
sb_app_window_offer (SbAppWindow *self, const char *text, const char *button, const char *action)
{
  g_return_if_fail (SB_IS_APP_WINDOW (self));
  sb_toasts_show (self->toasts, text, button, action);
}

void
sb_app_window_show_proof (SbAppWindow *self, gboolean proof)
{
  g_return_if_fail (SB_IS_APP_WINDOW (self));

  sb_cleanup_mode_leave (self);
  if (self->panes)
    sb_side_panes_need (self->panes);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (proof)
    g_object_set (self->preferences, "show-side", TRUE, NULL);
  /* Else it would fall on *Print*. */
  if (focus && self->canvas && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->side_stack)))
    gtk_widget_grab_focus (self->canvas);
  gtk_stack_set_visible_child_name (self->side_stack, proof ? "proof" : "details");
}
