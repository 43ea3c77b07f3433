/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/place-design.h"
#include "window/details/details.h"
#include "window/drawer/drawer.h"
#include "window/drawer/layouts-pane.h"
#include "window/printing/proof-pane.h"
#include "window/shell/side-panes.h"
#include "window/shell/window-private.h"

#define DRAWER_WIDTH 276

struct _SbSidePanes {
  SbAppWindow *window; /* owns this */
  GtkWidget *drawer_box;
  GtkStack *side_stack;
  GtkWidget *drawer; /* NULL until the panes are there */
  guint source;
  guint tick;
};

static void
place_cb (SbAppWindow *window, guint design_id)
{
  sb_place_design (sb_app_window_get_desk (window), sb_app_window_get_canvas (window), design_id);
}

static void
removed_cb (SbAppWindow *window, const char *name)
{
  g_autofree char *text = g_strdup_printf (_ ("Removed %s and its pieces"), name);

  sb_app_window_say_undo (window, text);
}

static void
add_drawer (SbSidePanes *panes)
{
  SbAppWindow *window = panes->window;
  SbDesk *desk = sb_app_window_get_desk (window);
  GtkBox *box = GTK_BOX (panes->drawer_box);

  panes->drawer = sb_drawer_new (desk);
  g_signal_connect_swapped (panes->drawer, "files-dropped", G_CALLBACK (sb_window_take_files),
                            window);
  g_signal_connect_swapped (panes->drawer, "texture-dropped", G_CALLBACK (sb_window_take_texture),
                            window);
  g_signal_connect_swapped (panes->drawer, "place", G_CALLBACK (place_cb), window);
  g_signal_connect_swapped (panes->drawer, "replace", G_CALLBACK (sb_window_files_replace_artwork),
                            window);
  g_signal_connect_swapped (panes->drawer, "removed", G_CALLBACK (removed_cb), window);
  gtk_widget_set_vexpand (panes->drawer, TRUE);
  gtk_box_append (box, panes->drawer);
  gtk_box_append (box, gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_box_append (box, sb_layouts_pane_new (desk));
}

static void
add_side (SbSidePanes *panes)
{
  SbDesk *desk = sb_app_window_get_desk (panes->window);

  gtk_stack_add_named (panes->side_stack, sb_details_new (desk), "details");
  gtk_stack_add_named (panes->side_stack,
                       sb_proof_pane_new (desk, sb_app_window_get_canvas (panes->window)), "proof");
}

void
sb_side_panes_need (SbSidePanes *panes)
{
  if (panes->drawer)
    return;
  g_clear_handle_id (&panes->source, g_source_remove);
  add_drawer (panes);
  add_side (panes);
}

static gboolean
idle_cb (gpointer user_data)
{
  SbSidePanes *panes = user_data;

  panes->source = 0;
  sb_side_panes_need (panes);
  return G_SOURCE_REMOVE;
}

/* All of a frame is drawn in one turn of the main loop, after this. */
static gboolean
first_frame_cb (GtkWidget *canvas, GdkFrameClock *clock, gpointer user_data)
{
  SbSidePanes *panes = user_data;

  panes->tick = 0;
  if (!panes->drawer)
    panes->source = g_idle_add (idle_cb, panes);
  return G_SOURCE_REMOVE;
}

SbSidePanes *
sb_side_panes_new (SbAppWindow *window, GtkRevealer *drawer_revealer, GtkStack *side_stack)
{
  SbSidePanes *panes = g_new0 (SbSidePanes, 1);

  panes->window = window;
  panes->side_stack = side_stack;
  panes->drawer_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_size_request (panes->drawer_box, DRAWER_WIDTH, -1);
  gtk_widget_add_css_class (panes->drawer_box, "drawer-box");
  gtk_revealer_set_child (drawer_revealer, panes->drawer_box);
  panes->tick = gtk_widget_add_tick_callback (GTK_WIDGET (sb_app_window_get_canvas (window)),
                                              first_frame_cb, panes, NULL);
  return panes;
}

void
sb_side_panes_free (SbSidePanes *panes)
{
  if (panes->tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (sb_app_window_get_canvas (panes->window)),
                                     panes->tick);
  g_clear_handle_id (&panes->source, g_source_remove);
  g_free (panes);
}

void
sb_side_panes_start_search (SbSidePanes *panes)
{
  sb_side_panes_need (panes);
  g_object_set (sb_app_window_get_preferences (panes->window), "show-drawer", TRUE, NULL);
  sb_drawer_start_search (SB_DRAWER (panes->drawer));
}
