/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The preferences: unit, style, and true size on the screen by a bank card. */
#pragma once

#include <gtk/gtk.h>

#include "window/parts/preferences.h"

G_BEGIN_DECLS

#define SB_TYPE_PREFERENCES_WINDOW (sb_preferences_window_get_type ())
G_DECLARE_FINAL_TYPE (SbPreferencesWindow, sb_preferences_window, SB, PREFERENCES_WINDOW, GtkWindow)

/* `px_per_mm`: what the monitor says of itself, in logical pixels. */
GtkWidget *sb_preferences_window_new (GtkWindow *parent, SbPreferences *preferences,
                                      double px_per_mm);

G_END_DECLS
