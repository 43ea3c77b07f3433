/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the main window tell one another. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* window-actions.c */
void sb_window_actions_add (SbAppWindow *self);
/* Enables and disables actions by what the job and the selection allow. */
void sb_window_actions_update (SbAppWindow *self);

/* window-files.c */
/* Does something with the job once all that was typed is in it: what stands in an entry is taken,
 * and borders that are still growing are waited for. */
void sb_window_files_when_settled (SbAppWindow *self, void (*then) (SbAppWindow *));
void sb_window_files_open (SbAppWindow *self);
void sb_window_files_save (SbAppWindow *self);
void sb_window_files_save_as (SbAppWindow *self);
void sb_window_files_add_artwork (SbAppWindow *self);
void sb_window_files_replace_artwork (SbAppWindow *self, guint design_id);
/* Jobs open in their windows, pictures come into this one. `files`: GFile. */
void sb_window_files_open_list (SbAppWindow *self, GPtrArray *files);
void sb_window_files_reload (SbAppWindow *self);
/* Asks about unsaved changes, then destroys the window unless the maker keeps it. */
void sb_window_files_close (SbAppWindow *self);

/* window-export.c: asks for a file and writes the pages to it. */
void sb_window_export (SbAppWindow *self);

/* window-paste.c: brings in what other programs have put into the clipboard. */
void sb_window_paste (SbAppWindow *self);

/* window-drops.c: pictures that are dropped, or come without a file. */
void sb_window_take_files (SbAppWindow *self, GListModel *files);
/* At the place on the page, um. */
void sb_window_take_files_at (SbAppWindow *self, GdkFileList *files, guint page_index, int x,
                              int y);
void sb_window_take_texture (SbAppWindow *self, GdkTexture *texture);
/* Under a name of ours with its ending. */
void sb_window_import_bytes (SbAppWindow *self, GBytes *bytes, const char *name);
void sb_window_import_texture (SbAppWindow *self, GdkTexture *texture, const char *name);

/* app-window.c */
/* Notes that the maker has decided about unsaved changes. */
void sb_app_window_close_now (SbAppWindow *self);
void sb_app_window_start_search (SbAppWindow *self);
/* Start page, job and clean-up. */
GtkStack *sb_app_window_get_stack (SbAppWindow *self);
/* While a job is being read into this window. */
void sb_app_window_set_opening (SbAppWindow *self, gboolean opening);

G_END_DECLS
