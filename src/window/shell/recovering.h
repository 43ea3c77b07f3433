/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Offers the jobs that a crash left behind. */
#pragma once

#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* Looks for jobs of processes that are gone and, where there are some, asks above `window` what to
 * do with them. */
void sb_recovering_offer (SbAppWindow *window);

G_END_DECLS
