/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/cleanup/cleanup-page-private.h"
#include "window/cleanup/cleanup-settings.h"
#include "window/parts/rgb.h"

#define REACH_PX 16.0 /* a click meets a speck from this far */

G_DEFINE_FINAL_TYPE (SbCleanupPage, sb_cleanup_page, GTK_TYPE_WIDGET)

enum {
  DONE,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static gboolean
get_switch (SbCleanupPage *self, const char *name)
{
  g_autoptr (GVariant) state =
      g_action_group_get_action_state (G_ACTION_GROUP (self->actions), name);

  return g_variant_get_boolean (state);
}

/* --- What is shown --- */

void
sb_cleanup_page_show_status (SbCleanupPage *self, const char *text)
{
  gtk_label_set_label (GTK_LABEL (self->bars.status), text);
}

static void
update_status (SbCleanupPage *self)
{
  SbDesk *desk = sb_cleanup_session_get_desk (self->session);
  gboolean busy = sb_design_changer_is_busy (sb_desk_get_changer (desk));

  gtk_spinner_set_spinning (GTK_SPINNER (self->bars.spinner), busy);
  gtk_widget_set_visible (self->bars.spinner, busy);
  sb_cleanup_page_show_status (self, busy ? _ ("Working it out at full resolution…")
                                          : _ (sb_cleanup_tool_get (self->tool)->hint));
}

void
sb_cleanup_page_update_brush (SbCleanupPage *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);

  sb_measure_entry_set_unit (self->bars.brush,
                             sb_desk_get_unit (sb_cleanup_session_get_desk (self->session)));
  sb_cleanup_view_set_brush (self->view,
                             sb_measure_entry_get_value (self->bars.brush) / 2 / design->width_mm,
                             &sb_cleanup_tool_get (self->tool)->colour);
}

/* How many px the longest side has on the screen. */
static int
shown_px (SbCleanupPage *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  double longest =
      MAX (sb_picture_get_width (design->picture), sb_picture_get_height (design->picture));

  return (int)ceil (MIN (longest, longest * sb_cleanup_view_get_scale (self->view) *
                                      gtk_widget_get_scale_factor (GTK_WIDGET (self))));
}

void
sb_cleanup_page_update_marks (SbCleanupPage *self)
{
  g_autoptr (GArray) marks = sb_cleanup_tool_get_marks (self->session);
  gboolean shown = self->tool == SB_CLEANUP_TOOL_PUT_BACK || get_switch (self, "marks");

  sb_cleanup_view_set_marks (self->view, (gpointer)marks->data, shown ? marks->len : 0);
}

void
sb_cleanup_page_update_pixels (SbCleanupPage *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);

  if (sb_cleanup_framing_is_active (self->framing))
    return;
  sb_cleanup_view_set_size (self->view, sb_picture_get_width (design->picture),
                            sb_picture_get_height (design->picture));
  int px = shown_px (self);
  /* As it came in, many pixels are only worth decoding once it is looked at. */
  int before_px = get_switch (self, "before") ? px : 0;
  sb_cleanup_view_set_pixels (self->view, sb_cleanup_session_get_before (self->session, before_px),
                              sb_cleanup_session_get_after (self->session, px));
  sb_cleanup_page_update_marks (self);
}

static void
pixels_cb (SbCleanupPage *self)
{
  sb_cleanup_page_update_pixels (self);
  update_status (self);
}

static void
update_design (SbCleanupPage *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);
  gboolean coarse = sb_design_is_coarse (design);
  g_autofree char *title = g_strdup_printf (_ ("Clean Up %s"), design->name);
  g_autofree char *badge = g_strdup_printf (coarse ? _ ("▲ %d dpi") : _ ("%d dpi"), dpi);
  g_autofree char *name = g_strdup_printf (_ ("Picture of %s"), design->name);

  gtk_label_set_label (GTK_LABEL (self->bars.title), title);
  gtk_label_set_label (GTK_LABEL (self->bars.badge), badge);
  if (coarse)
    gtk_widget_add_css_class (self->bars.badge, "caution");
  else
    gtk_widget_remove_css_class (self->bars.badge, "caution");
  gtk_widget_set_tooltip_text (
      self->bars.badge, coarse ? _ ("At this size it has too few pixels to print sharply.") : NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  sb_cleanup_page_update_brush (self);
  sb_cleanup_page_update_pixels (self);
  update_status (self);
}

/* Where a tool steered by key is, for eyes and screen readers. */
static void
cursor_cb (SbCleanupPage *self)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  SbUnit unit = sb_desk_get_unit (sb_cleanup_session_get_desk (self->session));
  double x, y;

  sb_cleanup_view_get_cursor (self->view, &x, &y);
  g_autofree char *across = sb_length_format (x * design->width_mm, unit);
  g_autofree char *down = sb_length_format (y * design->width_mm, unit);
  g_autofree char *text =
      g_strdup_printf (_ ("Tool at %s from the left, %s from the top"), across, down);
  sb_cleanup_page_show_status (self, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  text, -1);
}

/* --- What is done --- */

static void
stroke_cb (SbCleanupPage *self, gpointer points, guint n)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);

  if (!sb_cleanup_framing_is_active (self->framing))
    sb_cleanup_tool_stroke (self->tool, self->session, points, n,
                            sb_measure_entry_get_value (self->bars.brush) / 2 / design->width_mm);
}

static void
point_cb (SbCleanupPage *self, double x, double y)
{
  double reach = REACH_PX / sb_cleanup_view_get_scale (self->view) /
                 sb_picture_get_width (sb_cleanup_session_get_design (self->session)->picture);

  if (!sb_cleanup_tool_point (self->tool, self->session, x, y, reach))
    sb_cleanup_page_show_status (self, _ ("There is no speck here."));
}

static void
show_speck_cb (SbCleanupPage *self, guint index)
{
  g_autoptr (GArray) marks = sb_cleanup_tool_get_marks (self->session);

  if (index >= marks->len)
    return;
  g_action_group_change_action_state (G_ACTION_GROUP (self->actions), "marks",
                                      g_variant_new_boolean (TRUE));
  SbCleanupMark *mark = &g_array_index (marks, SbCleanupMark, index);
  mark->chosen = TRUE;
  sb_cleanup_view_set_marks (self->view, (gpointer)marks->data, marks->len);
  sb_cleanup_view_show (self->view, mark);
}

void
sb_cleanup_page_set_tool (SbCleanupPage *self, SbCleanupTool tool)
{
  self->tool = tool;
  sb_cleanup_view_set_hand (self->view, sb_cleanup_tool_get (tool)->hand);
  gtk_widget_set_sensitive (GTK_WIDGET (self->bars.brush),
                            sb_cleanup_tool_get (tool)->hand == SB_CLEANUP_HAND_BRUSHES);
  sb_cleanup_page_update_brush (self);
  sb_cleanup_page_update_marks (self);
  update_status (self);
}

static void
pick_cb (SbCleanupPage *self)
{
  g_action_group_change_action_state (G_ACTION_GROUP (self->actions), "tool",
                                      g_variant_new_int32 (SB_CLEANUP_TOOL_PICK));
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

static void
framing_ended_cb (SbCleanupPage *self)
{
  sb_cleanup_view_set_hand (self->view, sb_cleanup_tool_get (self->tool)->hand);
  update_design (self);
}

static void
stock_cb (SbCleanupPage *self)
{
  SbDesk *desk = sb_cleanup_session_get_desk (self->session);
  SbState *state = sb_desk_get_settled (desk);
  SbStock stock = state->stock;
  GdkRGBA colour;

  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (self->bars.stock), &colour);
  stock.rgb = sb_rgba_to_rgb (&colour);
  sb_job_edit (sb_desk_get_job (desk), sb_edit_set_stock (state, &stock), _ ("Change Stock"), NULL);
}

static void
update_stock (SbCleanupPage *self)
{
  SbState *state = sb_desk_get_settled (sb_cleanup_session_get_desk (self->session));
  GdkRGBA colour = sb_rgba_from_rgb (state->stock.rgb);

  gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (self->bars.stock), &colour);
  sb_cleanup_view_set_stock (self->view, &colour);
}

static void
ground_cb (SbCleanupPage *self)
{
  SbCleanupGround ground =
      (SbCleanupGround)gtk_drop_down_get_selected (GTK_DROP_DOWN (self->bars.ground));

  sb_cleanup_view_set_ground (self->view, ground);
  gtk_widget_set_visible (self->bars.stock, ground == SB_CLEANUP_GROUND_STOCK);
}

void
sb_cleanup_page_leave (SbCleanupPage *self)
{
  if (sb_cleanup_framing_is_active (self->framing))
    sb_cleanup_framing_stop (self->framing);
  else
    g_signal_emit (self, signals[DONE], 0);
}

/* --- Building --- */

static void
connect_controls (SbCleanupPage *self, GtkWidget *settings)
{
  SbCleanupBars *bars = &self->bars;

  g_signal_connect_swapped (settings, "pick", G_CALLBACK (pick_cb), self);
  g_signal_connect_swapped (settings, "show-speck", G_CALLBACK (show_speck_cb), self);
  g_signal_connect_swapped (bars->brush, "committed", G_CALLBACK (sb_cleanup_page_update_brush),
                            self);
  g_signal_connect_swapped (bars->ground, "notify::selected", G_CALLBACK (ground_cb), self);
  g_signal_connect_swapped (bars->stock, "color-set", G_CALLBACK (stock_cb), self);
  g_signal_connect_swapped (self->view, "stroke", G_CALLBACK (stroke_cb), self);
  g_signal_connect_swapped (self->view, "point", G_CALLBACK (point_cb), self);
  g_signal_connect_swapped (self->view, "cursor", G_CALLBACK (cursor_cb), self);
  g_signal_connect_swapped (self->view, "zoomed", G_CALLBACK (sb_cleanup_page_update_pixels), self);
  g_signal_connect_swapped (self->framing, "ended", G_CALLBACK (framing_ended_cb), self);
}

static void
build (SbCleanupPage *self)
{
  GtkWidget *middle = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *settings = sb_cleanup_settings_new (self->session);

  self->view = SB_CLEANUP_VIEW (sb_cleanup_view_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->view), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self->view), TRUE);
  self->framing = SB_CLEANUP_FRAMING (sb_cleanup_framing_new (self->session, self->view));
  gtk_box_append (GTK_BOX (left), GTK_WIDGET (self->framing));
  gtk_box_append (GTK_BOX (left), GTK_WIDGET (self->view));
  gtk_box_append (GTK_BOX (middle), left);
  gtk_box_append (GTK_BOX (middle), sb_cleanup_bars_new_side (settings));
  gtk_box_append (GTK_BOX (self->box), sb_cleanup_bars_new_top (&self->bars));
  gtk_box_append (GTK_BOX (self->box), middle);
  gtk_box_append (GTK_BOX (self->box), sb_cleanup_bars_new_foot (&self->bars));
  connect_controls (self, settings);
  update_stock (self);
}

/* --- Widget --- */

static void
gone_cb (SbCleanupPage *self)
{
  g_signal_emit (self, signals[DONE], 0);
}

static void
failed_cb (SbCleanupPage *self, const char *reason)
{
  sb_cleanup_page_show_status (self, reason);
}

static gboolean
sb_cleanup_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (SB_CLEANUP_PAGE (widget)->view));
}

static void
sb_cleanup_page_dispose (GObject *object)
{
  SbCleanupPage *self = SB_CLEANUP_PAGE (object);

  if (self->session) {
    g_signal_handlers_disconnect_by_data (self->session, self);
    g_signal_handlers_disconnect_by_data (
        sb_desk_get_changer (sb_cleanup_session_get_desk (self->session)), self);
  }
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_object (&self->actions);
  G_OBJECT_CLASS (sb_cleanup_page_parent_class)->dispose (object);
}

static void
sb_cleanup_page_class_init (SbCleanupPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_page_dispose;
  widget_class->grab_focus = sb_cleanup_page_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  signals[DONE] = g_signal_new ("done", SB_TYPE_CLEANUP_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
}

static void
sb_cleanup_page_init (SbCleanupPage *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  sb_cleanup_page_add_actions (self);
  sb_cleanup_bars_add_keys (GTK_WIDGET (self));
}

GtkWidget *
sb_cleanup_page_new (SbDesk *desk, guint design_id)
{
  SbCleanupPage *self = g_object_new (SB_TYPE_CLEANUP_PAGE, NULL);

  self->session = sb_cleanup_session_new (desk, design_id);
  build (self);
  g_signal_connect_swapped (self->session, "changed", G_CALLBACK (update_design), self);
  g_signal_connect_swapped (self->session, "pixels", G_CALLBACK (pixels_cb), self);
  g_signal_connect_swapped (self->session, "gone", G_CALLBACK (gone_cb), self);
  g_signal_connect_swapped (self->session, "failed", G_CALLBACK (failed_cb), self);
  g_signal_connect_swapped (sb_desk_get_changer (desk), "settled", G_CALLBACK (pixels_cb), self);
  g_signal_connect_swapped (sb_desk_get_changer (desk), "failed", G_CALLBACK (failed_cb), self);
  g_signal_connect_object (sb_desk_get_job (desk), "changed", G_CALLBACK (update_stock), self,
                           G_CONNECT_SWAPPED);
  sb_cleanup_page_set_tool (self, SB_CLEANUP_TOOL_MOVE);
  update_design (self);
  return GTK_WIDGET (self);
}
