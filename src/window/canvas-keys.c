/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The canvas' shortcuts. */
#include "config.h"

#include "window/canvas-private.h"

static void
bind_nudge (GtkWidgetClass *klass, guint key, guint keypad_key, int x, int y)
{
  static const struct {
    GdkModifierType modifiers;
    int um;
  } steps[] = {{0, 1000}, {GDK_SHIFT_MASK, 10000}, {GDK_CONTROL_MASK, 100}};

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++) {
    int dx = x * steps[i].um, dy = y * steps[i].um;
    gtk_widget_class_add_binding_action (klass, key, steps[i].modifiers, "pieces.nudge", "(ii)", dx,
                                         dy);
    gtk_widget_class_add_binding_action (klass, keypad_key, steps[i].modifiers, "pieces.nudge",
                                         "(ii)", dx, dy);
  }
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
  bind_nudge (klass, GDK_KEY_Left, GDK_KEY_KP_Left, -1, 0);
  bind_nudge (klass, GDK_KEY_Right, GDK_KEY_KP_Right, 1, 0);
  bind_nudge (klass, GDK_KEY_Up, GDK_KEY_KP_Up, 0, -1);
  bind_nudge (klass, GDK_KEY_Down, GDK_KEY_KP_Down, 0, 1);
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
