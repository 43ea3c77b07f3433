/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A short message at the foot of the window that goes away by itself, with at most one button
 * ("Undo"). The newest replaces the one before. It stays while the pointer or the focus is on it.
 * Messages that need an answer are dialogs instead. CSS node: box.toast in a revealer. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_TOASTS (sb_toasts_get_type ())
G_DECLARE_FINAL_TYPE (SbToasts, sb_toasts, SB, TOASTS, GtkWidget)

/* Shows `text`; with `action` (a detailed action name, "win.undo") a button labelled `button`. */
void sb_toasts_show (SbToasts *self, const char *text, const char *button, const char *action);
void sb_toasts_hide (SbToasts *self);

G_END_DECLS
