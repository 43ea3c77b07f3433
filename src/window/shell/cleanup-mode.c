/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-page.h"
#include "window/shell/cleanup-mode.h"
#include "window/shell/window-private.h"

GtkWidget *
sb_cleanup_mode_get_page (SbAppWindow *window)
{
  GtkStack *stack = sb_app_window_get_stack (window);
  GtkWidget *page = gtk_stack_get_visible_child (stack);

  return SB_IS_CLEANUP_PAGE (page) ? page : NULL;
}

static gboolean
drop_page_cb (gpointer page)
{
  GtkWidget *stack = gtk_widget_get_parent (page);

  if (stack)
    gtk_stack_remove (GTK_STACK (stack), page);
  return G_SOURCE_REMOVE;
}

void
sb_cleanup_mode_leave (SbAppWindow *window)
{
  GtkWidget *page = sb_cleanup_mode_get_page (window);

  if (!page)
    return;
  gtk_stack_set_visible_child_name (sb_app_window_get_stack (window), "job");
  gtk_widget_grab_focus (GTK_WIDGET (sb_app_window_get_canvas (window)));
  /* Not at once: it may be what has just asked for this. */
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, drop_page_cb, g_object_ref (page), g_object_unref);
}

void
sb_cleanup_mode_enter (SbAppWindow *window)
{
  SbDesk *desk = sb_app_window_get_desk (window);
  SbDesign *design = sb_desk_get_current_design (desk);

  if (sb_cleanup_mode_get_page (window))
    return;
  if (!design) {
    sb_app_window_say (window, _ ("Select the design to clean first"));
  } else if (sb_picture_get_kind (design->picture) == SB_PICTURE_VECTOR) {
    sb_app_window_say (window, _ ("A vector drawing has no paper and no dust to clean"));
  } else {
    GtkWidget *page = sb_cleanup_page_new (desk, design->id);
    g_signal_connect_swapped (page, "done", G_CALLBACK (sb_cleanup_mode_leave), window);
    gtk_stack_add_child (sb_app_window_get_stack (window), page);
    gtk_stack_set_visible_child (sb_app_window_get_stack (window), page);
    gtk_widget_grab_focus (page);
  }
}
