/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/canvas/nudge-keys.h"

static void
bind (GtkWidgetClass *klass, guint key, guint keypad_key, int x, int y, GtkShortcutFunc run)
{
  static const struct {
    GdkModifierType modifiers;
    int um;
  } steps[] = {{0, 1000}, {GDK_SHIFT_MASK, 10000}, {GDK_CONTROL_MASK, 100}};

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++) {
    int dx = x * steps[i].um, dy = y * steps[i].um;
    gtk_widget_class_add_binding (klass, key, steps[i].modifiers, run, "(ii)", dx, dy);
    gtk_widget_class_add_binding (klass, keypad_key, steps[i].modifiers, run, "(ii)", dx, dy);
  }
}

void
sb_nudge_keys_bind (GtkWidgetClass *klass, GtkShortcutFunc run)
{
  bind (klass, GDK_KEY_Left, GDK_KEY_KP_Left, -1, 0, run);
  bind (klass, GDK_KEY_Right, GDK_KEY_KP_Right, 1, 0, run);
  bind (klass, GDK_KEY_Up, GDK_KEY_KP_Up, 0, -1, run);
  bind (klass, GDK_KEY_Down, GDK_KEY_KP_Down, 0, 1, run);
}
