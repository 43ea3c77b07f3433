/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Asks what the download for customers is to hold, makes it in a folder of the maker's choice and
 * tells the files and their sizes. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

/* A modal dialog of `parent`, about the job of `desk`. */
void sb_download_dialog_show (GtkWindow *parent, SbDesk *desk);

G_END_DECLS
