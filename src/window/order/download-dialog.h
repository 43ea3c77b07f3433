/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Asks what the download for customers is to hold, makes it in a folder of the maker's choice and
 * tells the files and their sizes. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

void sb_download_dialog_show (SbAppWindow *parent);

G_END_DECLS
