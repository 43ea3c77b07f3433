/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the clean-up page tell one another. */
#pragma once

#include "window/cleanup/cleanup-bars.h"
#include "window/cleanup/cleanup-framing.h"
#include "window/cleanup/cleanup-page.h"
#include "window/cleanup/cleanup-tools.h"

G_BEGIN_DECLS

struct _SbCleanupPage {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  SbCleanupTool tool;

  GtkWidget *box;
  SbCleanupBars bars;
  SbCleanupView *view;
  SbCleanupFraming *framing;
  GSimpleActionGroup *actions;
};

/* cleanup-actions.c: adds the actions cleanup.*. */
void sb_cleanup_page_add_actions (SbCleanupPage *self);

/* cleanup-page.c */
void sb_cleanup_page_show_status (SbCleanupPage *self, const char *text);
void sb_cleanup_page_set_tool (SbCleanupPage *self, SbCleanupTool tool);
/* What is being framed is given up first; else the maker leaves the page. */
void sb_cleanup_page_leave (SbCleanupPage *self);
/* Show anew: the brush's size, the specks that are marked, the pixels by zoom and switches. */
void sb_cleanup_page_update_brush (SbCleanupPage *self);
void sb_cleanup_page_update_marks (SbCleanupPage *self);
void sb_cleanup_page_update_pixels (SbCleanupPage *self);

G_END_DECLS
