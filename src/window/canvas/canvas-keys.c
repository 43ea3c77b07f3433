/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The canvas' shortcuts. */
#include "config.h"

#include "window/canvas/canvas-private.h"
#include "window/canvas/nudge-keys.h"

static gboolean
nudge_cb (GtkWidget *widget, GVariant *way, gpointer data)
{
  return gtk_widget_activate_action_variant (widget, "pieces.nudge", way);
}

static void
bind_key (GtkWidgetClass *klass, guint key, GdkModifierType modifiers, const char *action)
{
  gtk_widget_class_add_binding_action (klass, key, modifiers, action, NULL);
}

static void
bind_turn (GtkWidgetClass *klass, guint key, GdkModifierType modifiers, int by)
{
  gtk_widget_class_add_binding_action (klass, key, modifiers, "pieces.turn", "i", by);
}

void
sb_canvas_class_bind_keys (GtkWidgetClass *klass)
{
  sb_nudge_keys_bind (klass, nudge_cb);
  bind_key (klass, GDK_KEY_Delete, 0, "pieces.delete");
  bind_key (klass, GDK_KEY_KP_Delete, 0, "pieces.delete");
  bind_key (klass, GDK_KEY_BackSpace, 0, "pieces.delete");
  bind_key (klass, GDK_KEY_d, GDK_CONTROL_MASK, "pieces.duplicate");
  bind_key (klass, GDK_KEY_r, 0, "pieces.repeat-dialog");
  bind_key (klass, GDK_KEY_a, GDK_CONTROL_MASK, "pieces.select-all");
  bind_key (klass, GDK_KEY_a, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "pieces.select-same");
  bind_key (klass, GDK_KEY_Escape, 0, "pieces.select-none");
  bind_key (klass, GDK_KEY_c, GDK_CONTROL_MASK, "pieces.copy");
  bind_key (klass, GDK_KEY_x, GDK_CONTROL_MASK, "pieces.cut");
  bind_key (klass, GDK_KEY_v, GDK_CONTROL_MASK, "pieces.paste");
  bind_key (klass, GDK_KEY_Home, GDK_SHIFT_MASK, "pieces.raise");
  bind_key (klass, GDK_KEY_p, 0, "pieces.pin");
  bind_key (klass, GDK_KEY_m, 0, "pieces.move-inside");
  bind_key (klass, GDK_KEY_o, 0, "pieces.edit-outline");
  bind_key (klass, GDK_KEY_o, GDK_SHIFT_MASK, "pieces.undo-outline");
  bind_key (klass, GDK_KEY_O, GDK_SHIFT_MASK, "pieces.undo-outline");
  bind_key (klass, GDK_KEY_z, 0, "pieces.zoom-to");
  bind_key (klass, GDK_KEY_d, 0, "canvas.measure");
  bind_key (klass, GDK_KEY_Menu, 0, "pieces.menu");
  bind_key (klass, GDK_KEY_F10, GDK_SHIFT_MASK, "pieces.menu");
  bind_turn (klass, GDK_KEY_bracketright, 0, 15000);
  bind_turn (klass, GDK_KEY_bracketleft, 0, -15000);
  bind_turn (klass, GDK_KEY_bracketright, GDK_CONTROL_MASK, 90000);
  bind_turn (klass, GDK_KEY_bracketleft, GDK_CONTROL_MASK, -90000);
}
