/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the program remembers between runs, as one object whose properties have the names of the
 * keys in data/org.stickleback.Stickleback.gschema.xml. Bound to GSettings where the schema is
 * found (installed, or compiled in the build folder); works from its defaults where it is not. Main
 * thread only. */
#pragma once

#include <gio/gio.h>

#include "measure/length.h"

G_BEGIN_DECLS

#define SB_TYPE_PREFERENCES (sb_preferences_get_type ())
G_DECLARE_FINAL_TYPE (SbPreferences, sb_preferences, SB, PREFERENCES, GObject)

SbPreferences *sb_preferences_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* The unit to show; "auto" is resolved by the locale. Changes with notify::unit. */
SbUnit sb_preferences_get_unit (SbPreferences *self);

G_END_DECLS
