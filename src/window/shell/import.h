/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bringing artwork into the open job: files, dropped files and pasted pictures. Reads, asks for
 * sizes the files do not state, grows the borders in threads with progress, adds all that worked as
 * one step of history, and tells what failed and why. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* Where the first piece of dropped artwork is to lie; page -1 leaves everything in the drawer. */
typedef struct {
  int page;
  SbIPoint at;
} SbImportPlace;

#define SB_IMPORT_TO_DRAWER ((SbImportPlace){.page = -1})

/* `files`: a list model of GFile. The window must have a job. */
void sb_import_files (SbAppWindow *window, GListModel *files, SbImportPlace place);

/* A picture's bytes (PNG and so on) under a name of ours. */
void sb_import_bytes (SbAppWindow *window, GBytes *bytes, const char *name, SbImportPlace place);

/* Puts the picture of `file` in the place of a design's; its width and its pieces stay. */
void sb_import_replace (SbAppWindow *window, guint design_id, GFile *file);

G_END_DECLS
