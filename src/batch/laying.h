/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the commands of sheets and cards share: one layout of a job that is made or changed, and
 * then laid on its pages anew. Functions that can fail print why and give FALSE. */
#pragma once

#include "batch/command.h"

G_BEGIN_DECLS

typedef struct {
  SbState *state;   /* owned: the job, replaced by each step */
  SbLayout *layout; /* owned: the copy that is being changed; id 0 while it is new */
} SbLaying;

void sb_laying_clear (SbLaying *laying);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbLaying, sb_laying_clear)

/* Takes the layout of this name up for changing; leaves `layout` NULL when there is none. A name
 * that belongs to a layout of another kind than the mask allows (1 << kind) is an error. */
gboolean sb_laying_begin (SbLaying *laying, const char *path, const char *name, guint kinds);

/* Reads a length of the layout within its range, um. `text` NULL leaves it. */
gboolean sb_laying_read (const char *option, const char *text, sb_um least, sb_um most,
                         sb_um *value);

/* Adds a line of text `size_pt` high with its middle at `at` (um) and this turn. NULL or ""
 * adds none. Its colour is black. */
gboolean sb_laying_add_text (SbLaying *laying, const char *option, const char *text, double size_pt,
                             SbIPoint at, gint32 turn);

/* Puts the changed layout into the job, lays its wanted copies on pages, saves the job and prints
 * what came of it. The exit status. */
int sb_laying_end (SbLaying *laying, const char *path, gboolean json);

G_END_DECLS
