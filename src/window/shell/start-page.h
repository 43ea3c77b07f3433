/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a window shows before it has a job: new from a paper size, recent jobs, and where to drop
 * pictures. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_START_PAGE (sb_start_page_get_type ())
G_DECLARE_FINAL_TYPE (SbStartPage, sb_start_page, SB, START_PAGE, GtkWidget)

/* Signals: "new-job" (const char *paper_name), "open-recent" (const char *uri), "files-dropped"
 * (GListModel of GFile). */
GtkWidget *sb_start_page_new (void);

G_END_DECLS
