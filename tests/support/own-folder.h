/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A fixture: a new folder for each test, gone with all in it afterwards. */
#pragma once

#include "trouble.h"

static char *folder;

static inline void
make_own_folder (void)
{
  folder = sb_make_folder ();
}

static inline void
remove_own_folder (void)
{
  sb_remove_folder (folder);
  folder = NULL;
}
