/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command line: the same program without a window. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* TRUE when argv[1] names a command ("new", "add", ... "help", "--version"). */
gboolean sb_batch_is_command (int argc, char **argv);

/* Runs the command; returns the exit status: 0 done, 1 the proof stops, 2 wrong use or unreadable
 * input, 3 could not write. */
int sb_batch_run (int argc, char **argv);

G_END_DECLS
