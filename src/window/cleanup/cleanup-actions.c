/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-others.h"
#include "window/cleanup/cleanup-page-private.h"
#include "window/cleanup/cleanup-split.h"

#define BRUSH_STEP 1.25
#define KEY_ZOOM 1.25

static void
tool_cb (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  SbCleanupPage *self = user_data;

  sb_cleanup_framing_stop (self->framing);
  g_simple_action_set_state (action, state);
  sb_cleanup_page_set_tool (
      self, (SbCleanupTool)CLAMP (g_variant_get_int32 (state), 0, SB_CLEANUP_N_TOOLS - 1));
}

static void
before_cb (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  SbCleanupPage *self = user_data;

  g_simple_action_set_state (action, state);
  sb_cleanup_view_set_before (self->view, g_variant_get_boolean (state));
  sb_cleanup_page_update_pixels (self);
}

static void
marks_cb (GSimpleAction *action, GVariant *state, gpointer user_data)
{
  g_simple_action_set_state (action, state);
  sb_cleanup_page_update_marks (user_data);
}

static void
zoom_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;
  const char *name = g_action_get_name (G_ACTION (action));
  double scale = sb_cleanup_view_get_scale (self->view);

  if (g_str_equal (name, "fit"))
    sb_cleanup_view_fit (self->view);
  else if (g_str_equal (name, "true-size")) /* a pixel for a pixel */
    sb_cleanup_view_set_scale (self->view, 1.0 / gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  else
    sb_cleanup_view_set_scale (self->view,
                               g_str_equal (name, "zoom-in") ? scale * KEY_ZOOM : scale / KEY_ZOOM);
}

static void
brush_size_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;
  double step = g_variant_get_int32 (parameter) > 0 ? BRUSH_STEP : 1 / BRUSH_STEP;

  sb_measure_entry_set_value (self->bars.brush,
                              CLAMP (sb_measure_entry_get_value (self->bars.brush) * step,
                                     SB_CLEANUP_BRUSH_LEAST_MM, SB_CLEANUP_BRUSH_MOST_MM));
  sb_cleanup_page_update_brush (self);
}

static void
done_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sb_cleanup_page_leave (user_data);
}

static void
frame_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;
  const char *name = g_action_get_name (G_ACTION (action));

  sb_cleanup_view_set_marks (self->view, NULL, 0);
  sb_cleanup_page_show_status (self, "");
  sb_cleanup_framing_start (self->framing,
                            g_str_equal (name, "crop")      ? SB_CLEANUP_FRAMING_CROP
                            : g_str_equal (name, "corners") ? SB_CLEANUP_FRAMING_CORNERS
                            : g_str_equal (name, "level")   ? SB_CLEANUP_FRAMING_LEVEL
                                                            : SB_CLEANUP_FRAMING_LENGTH);
}

static void
split_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;

  sb_cleanup_split_open (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), self->session);
}

static void
strip_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;

  sb_cleanup_others_make_strip (sb_cleanup_session_get_desk (self->session),
                                sb_cleanup_session_get_design (self->session));
}

static void
copy_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;

  sb_cleanup_others_open (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                          sb_cleanup_session_get_desk (self->session),
                          sb_cleanup_session_get_design (self->session));
}

static void
reset_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SbCleanupPage *self = user_data;
  SbCleanup none = sb_cleanup_none ();

  sb_cleanup_session_set_recipe (self->session, &none, _ ("Take %s as It Came In"), TRUE);
}

static const GActionEntry entries[] = {
    {.name = "done", .activate = done_cb},
    {.name = "tool", .parameter_type = "i", .state = "0", .change_state = tool_cb},
    {.name = "before", .state = "false", .change_state = before_cb},
    {.name = "marks", .state = "false", .change_state = marks_cb},
    {.name = "fit", .activate = zoom_cb},
    {.name = "true-size", .activate = zoom_cb},
    {.name = "zoom-in", .activate = zoom_cb},
    {.name = "zoom-out", .activate = zoom_cb},
    {.name = "brush-size", .parameter_type = "i", .activate = brush_size_cb},
    {.name = "crop", .activate = frame_cb},
    {.name = "corners", .activate = frame_cb},
    {.name = "level", .activate = frame_cb},
    {.name = "length", .activate = frame_cb},
    {.name = "split", .activate = split_cb},
    {.name = "copy", .activate = copy_cb},
    {.name = "strip", .activate = strip_cb},
    {.name = "reset", .activate = reset_cb},
};

void
sb_cleanup_page_add_actions (SbCleanupPage *self)
{
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries),
                                   self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "cleanup", G_ACTION_GROUP (self->actions));
}
