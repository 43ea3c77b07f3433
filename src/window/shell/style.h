/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The look: loads the style sheet and the palette (light, dark or high contrast) that fits the
 * desktop and the maker's choice, and keeps them in step. */
#pragma once

#include <gtk/gtk.h>

#include "window/parts/preferences.h"

G_BEGIN_DECLS

#define SB_TYPE_STYLE (sb_style_get_type ())
G_DECLARE_FINAL_TYPE (SbStyle, sb_style, SB, STYLE, GObject)

/* Loads both for the default display, and follows the preferences until it is freed. */
SbStyle *sb_style_new (SbPreferences *preferences) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
