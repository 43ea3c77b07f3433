/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Equal copies in a repeated pattern: rows of copies that touch, each row as close to the one
 * before as a sideways shift allows; in every turn the shape may take, in rows or in columns, with
 * half-turned partners beside each other or in every other row. Equal discs give the hexagonal
 * lattice, the densest there is (A. Thue 1910; L. Fejes Toth 1942). */
#pragma once

#include "packing/task.h"

G_BEGIN_DECLS

/* The largest number of copies of `shape` found for an empty `box`, row by row from the top or the
 * left: an array of SbPlacing that passes sb_task_check; empty when not one fits. New. */
GArray *sb_lattice_lay (const SbTask *task, SbKeepOuts *keep_outs, SbIBox box,
                        guint shape) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
