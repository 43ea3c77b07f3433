/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-bars.h"
#include "window/cleanup/cleanup-tools.h"

#define BRUSH_MM 2.0 /* diameter */

static void
name_widget (GtkWidget *widget, const char *name, const char *tip)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_tooltip_text (widget, tip);
}

static GtkWidget *
new_tool_button (guint tool)
{
  const SbCleanupToolInfo *info = sb_cleanup_tool_get ((SbCleanupTool)tool);
  GtkWidget *button = gtk_toggle_button_new ();
  g_autofree char *tip = g_strdup_printf ("%s (%u)\n%s", _ (info->label), tool + 1, _ (info->hint));

  gtk_button_set_icon_name (GTK_BUTTON (button), info->icon);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "cleanup.tool");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "i", (int)tool);
  name_widget (button, _ (info->label), tip);
  return button;
}

GtkWidget *
sb_cleanup_bars_new_top (SbCleanupBars *bars)
{
  GtkWidget *bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *tools = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *done = gtk_button_new_with_mnemonic (_ ("_Done"));

  gtk_widget_add_css_class (bar, "cleanup-bar");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (done), "cleanup.done");
  gtk_widget_set_tooltip_text (done, _ ("Back to the pages (Escape)"));
  bars->title = gtk_label_new (NULL);
  gtk_label_set_ellipsize (GTK_LABEL (bars->title), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_xalign (GTK_LABEL (bars->title), 0);
  gtk_label_set_width_chars (GTK_LABEL (bars->title), 8);
  gtk_widget_set_hexpand (bars->title, TRUE);
  gtk_widget_add_css_class (bars->title, "pane-title");
  bars->badge = gtk_label_new (NULL);
  gtk_widget_set_valign (bars->badge, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (bars->badge, "badge");
  gtk_widget_add_css_class (tools, "linked");
  for (guint tool = 0; tool < SB_CLEANUP_N_TOOLS; tool++)
    gtk_box_append (GTK_BOX (tools), new_tool_button (tool));
  bars->brush = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ ("Size of the brush"), "lower",
                              SB_CLEANUP_BRUSH_LEAST_MM, "upper", SB_CLEANUP_BRUSH_MOST_MM, NULL);
  gtk_widget_set_tooltip_text (GTK_WIDGET (bars->brush), _ ("Size of the brush ([ and ])"));
  sb_measure_entry_set_value (bars->brush, BRUSH_MM);
  gtk_box_append (GTK_BOX (bar), done);
  gtk_box_append (GTK_BOX (bar), bars->title);
  gtk_box_append (GTK_BOX (bar), bars->badge);
  gtk_box_append (GTK_BOX (bar), tools);
  gtk_box_append (GTK_BOX (bar), GTK_WIDGET (bars->brush));
  return bar;
}

static GtkWidget *
new_icon_button (const char *icon, const char *name, const char *tip, const char *action)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  name_widget (button, name, tip);
  return button;
}

static GtkWidget *
new_ground (SbCleanupBars *bars)
{
  const char *grounds[] = {_ ("Checks"), _ ("White"),          _ ("Black"),
                           _ ("Grey"),   _ ("Stock’s colour"), NULL};
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  bars->ground = gtk_drop_down_new_from_strings (grounds);
  name_widget (bars->ground, _ ("Shown on"),
               _ ("What lies behind the artwork: a rim of left-over paper "
                  "shows on one of these"));
  bars->stock = gtk_color_button_new ();
  gtk_color_button_set_title (GTK_COLOR_BUTTON (bars->stock), _ ("Colour of the Stock"));
  name_widget (bars->stock, _ ("Colour of the stock"), _ ("Colour of the stock"));
  gtk_widget_set_visible (bars->stock, FALSE);
  gtk_box_append (GTK_BOX (box), bars->ground);
  gtk_box_append (GTK_BOX (box), bars->stock);
  return box;
}

GtkWidget *
sb_cleanup_bars_new_foot (SbCleanupBars *bars)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *zoom = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *before = gtk_toggle_button_new_with_mnemonic (_ ("_Before"));
  GtkWidget *marks = gtk_toggle_button_new_with_mnemonic (_ ("_Specks"));

  gtk_widget_add_css_class (foot, "foot");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (before), "cleanup.before");
  gtk_widget_set_tooltip_text (before, _ ("As it came in (hold B)"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (marks), "cleanup.marks");
  gtk_widget_set_tooltip_text (marks, _ ("Mark what was taken away as dust (M)"));
  bars->spinner = gtk_spinner_new ();
  bars->status = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (bars->status), 0);
  gtk_label_set_ellipsize (GTK_LABEL (bars->status), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (bars->status, TRUE);
  gtk_widget_add_css_class (bars->status, "caption");
  gtk_widget_add_css_class (zoom, "linked");
  gtk_box_append (GTK_BOX (zoom), new_icon_button ("zoom-out-symbolic", _ ("Zoom out"),
                                                   _ ("Zoom out (Ctrl+−)"), "cleanup.zoom-out"));
  gtk_box_append (GTK_BOX (zoom), new_icon_button ("sb-fit-symbolic", _ ("Fit the picture"),
                                                   _ ("Fit the picture (Ctrl+0)"), "cleanup.fit"));
  gtk_box_append (GTK_BOX (zoom), new_icon_button ("zoom-in-symbolic", _ ("Zoom in"),
                                                   _ ("Zoom in (Ctrl++)"), "cleanup.zoom-in"));
  gtk_box_append (GTK_BOX (foot), before);
  gtk_box_append (GTK_BOX (foot), marks);
  gtk_box_append (GTK_BOX (foot), new_ground (bars));
  gtk_box_append (GTK_BOX (foot), bars->spinner);
  gtk_box_append (GTK_BOX (foot), bars->status);
  gtk_box_append (GTK_BOX (foot), zoom);
  return foot;
}

static void
add_side_section (GtkWidget *side, const char *title, const char *const (*buttons)[3], guint n)
{
  GtkWidget *section = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "section");
  gtk_box_append (GTK_BOX (section), label);
  for (guint i = 0; i < n; i++) {
    GtkWidget *button = gtk_button_new_with_mnemonic (_ (buttons[i][1]));
    gtk_actionable_set_action_name (GTK_ACTIONABLE (button), buttons[i][0]);
    gtk_widget_set_tooltip_text (button, _ (buttons[i][2]));
    gtk_box_append (GTK_BOX (section), button);
  }
  gtk_box_append (GTK_BOX (side), section);
}

GtkWidget *
sb_cleanup_bars_new_side (GtkWidget *settings)
{
  static const char *const shape[][3] = {
      {"cleanup.crop", N_ ("_Crop"), N_ ("Show only a part of the picture")},
      {"cleanup.corners", N_ ("Straighten a _Photo"),
       N_ ("Four corners of the sheet take the slant out of a photo")},
      {"cleanup.level", N_ ("Make a Line Le_vel"),
       N_ ("Turns the picture until a line that you draw is level")},
      {"cleanup.length", N_ ("Size from a Le_ngth"),
       N_ ("A line whose length you know sets the true size")},
      {"cleanup.split", N_ ("Split into _Designs…"),
       N_ ("Every painting on the scan becomes a design of its own")},
  };
  static const char *const others[][3] = {
      {"cleanup.copy", N_ ("Clean _Others Alike…"), N_ ("Copies the settings to other designs")},
      {"cleanup.strip", N_ ("_Test Strip"),
       N_ ("Adds a page with the design from darker to lighter, for a test print")},
      {"cleanup.reset", N_ ("As It Came _In"), N_ ("Undoes the whole clean-up")},
  };
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18);
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  gtk_widget_set_margin_top (side, 12);
  gtk_widget_set_margin_bottom (side, 18);
  gtk_widget_set_margin_start (side, 18);
  gtk_widget_set_margin_end (side, 18);
  gtk_box_append (GTK_BOX (side), settings);
  add_side_section (side, _ ("Scan and Photo"), shape, G_N_ELEMENTS (shape));
  add_side_section (side, _ ("Further"), others, G_N_ELEMENTS (others));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), side);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (scrolled, 324, -1);
  gtk_widget_add_css_class (scrolled, "side-pane");
  return scrolled;
}

void
sb_cleanup_bars_add_keys (GtkWidget *page)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  static const struct {
    guint key;
    const char *action;
    int parameter; /* -2: none */
  } table[] = {
      {GDK_KEY_Escape, "cleanup.done", -2},
      {GDK_KEY_m, "cleanup.marks", -2},
      {GDK_KEY_bracketleft, "cleanup.brush-size", -1},
      {GDK_KEY_bracketright, "cleanup.brush-size", 1},
  };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    GtkShortcut *shortcut =
        gtk_shortcut_new (gtk_keyval_trigger_new (table[i].key, (GdkModifierType)0),
                          gtk_named_action_new (table[i].action));
    if (table[i].parameter != -2)
      gtk_shortcut_set_arguments (shortcut, g_variant_new_int32 (table[i].parameter));
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
  }
  for (guint tool = 0; tool < SB_CLEANUP_N_TOOLS; tool++) {
    GtkShortcut *shortcut =
        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_1 + tool, (GdkModifierType)0),
                          gtk_named_action_new ("cleanup.tool"));
    gtk_shortcut_set_arguments (shortcut, g_variant_new_int32 ((int)tool));
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
  }
  gtk_widget_add_controller (page, keys);
}
