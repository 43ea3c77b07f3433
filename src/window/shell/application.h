/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The program with its windows: opens jobs and pictures, knows the preferences, and keeps one
 * window for each file. */
#pragma once

#include <gtk/gtk.h>

#include "window/parts/preferences.h"

G_BEGIN_DECLS

#define SB_TYPE_APPLICATION (sb_application_get_type ())
G_DECLARE_FINAL_TYPE (SbApplication, sb_application, SB, APPLICATION, GtkApplication)

/* Opens the window; argv holds jobs or pictures. Returns the exit status. */
int sb_application_run (int argc, char **argv);

SbPreferences *sb_application_get_preferences (SbApplication *self); /* borrowed */

/* Opens a job: presents the window that has it already, else loads it into `window` (or a new
 * window when that is NULL or has a job). */
void sb_application_open_job (SbApplication *self, GFile *file, GtkWindow *window);

G_END_DECLS
