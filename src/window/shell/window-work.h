/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slow work on a window's file, with its card: what the callback needs once it is done. */
#pragma once

#include "window/parts/work-card.h"
#include "window/shell/app-window.h"

G_BEGIN_DECLS

/* Holds references: the window may be closed before the work is done. */
typedef struct {
  SbAppWindow *window;
  GFile *file;
  SbWorkCard *card;
  GCancellable *cancellable; /* NULL where it cannot be cancelled */
  gboolean then_close;
} SbWindowWork;

/* Shows a card of that title while the work lasts. */
SbWindowWork *sb_window_work_new (SbAppWindow *window, GFile *file, const char *title,
                                  gboolean can_cancel) G_GNUC_WARN_UNUSED_RESULT;
void sb_window_work_free (SbWindowWork *work);

/* A file's name without its folder, as people read it. */
char *sb_window_work_dup_name (GFile *file) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
