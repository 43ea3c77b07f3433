/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The main window: the start page while there is no job, then drawer, page canvas, Details or
 * proof, and the foot. Its actions are in window-actions.c, the life of its file in
 * window-files.c. */
#pragma once

#include "job/recovery.h"
#include "window/canvas/canvas.h"
#include "window/desk/desk.h"
#include "window/shell/application.h"

G_BEGIN_DECLS

#define SB_TYPE_APP_WINDOW (sb_app_window_get_type ())
G_DECLARE_FINAL_TYPE (SbAppWindow, sb_app_window, SB, APP_WINDOW, GtkApplicationWindow)

/* An empty window, as large as the last one; not shown yet. */
SbAppWindow *sb_app_window_new (SbApplication *application);

/* Keyboard shortcuts of all actions; once for the application. */
void sb_app_window_install_accels (GtkApplication *application);

/* The open job; NULL while the window is empty. Borrowed. */
SbDesk *sb_app_window_get_desk (SbAppWindow *self);
SbCanvas *sb_app_window_get_canvas (SbAppWindow *self); /* NULL while the window is empty */
SbPreferences *sb_app_window_get_preferences (SbAppWindow *self);
GtkBox *sb_app_window_get_work_area (SbAppWindow *self); /* for SbWorkCard */
GFile *sb_app_window_get_file (SbAppWindow *self);       /* or NULL */

/* No job is open and none is being opened. */
gboolean sb_app_window_is_empty (SbAppWindow *self);

/* Shows the job of `document` in this window, which must be empty. */
void sb_app_window_set_document (SbAppWindow *self, SbDocument *document);
/* The same for work that a crash interrupted; `recovery` (consumed) goes on keeping it. */
void sb_app_window_set_recovered (SbAppWindow *self, SbDocument *document, SbRecovery *recovery);

/* Loads `file` into this window, which must be empty. */
void sb_app_window_open_job (SbAppWindow *self, GFile *file);
/* Brings pictures into the open job, or into a new one. */
void sb_app_window_open_pictures (SbAppWindow *self, GListModel *files);
/* An empty job on a paper of measure/paper.h; NULL is the one used last. */
void sb_app_window_new_job (SbAppWindow *self, const char *paper_name);

/* A short message; sb_app_window_say_undo offers to undo what was done. */
void sb_app_window_say (SbAppWindow *self, const char *text);
void sb_app_window_say_undo (SbAppWindow *self, const char *text);
/* A message with a button that activates a detailed action. */
void sb_app_window_offer (SbAppWindow *self, const char *text, const char *button,
                          const char *action);

/* Shows Details or the proof at the end of the window. */
void sb_app_window_show_proof (SbAppWindow *self, gboolean proof);

G_END_DECLS
