/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Opens the window; argv holds jobs or pictures. Returns the exit status. */
int sb_application_run (int argc, char **argv);
