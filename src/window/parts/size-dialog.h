/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Asks how large pictures shall be printed that do not say so themselves, or that would not fit on
 * the page: one row a picture, with its resolution at the size that is typed. */
#pragma once

#include <gtk/gtk.h>

#include "picture/picture.h"

G_BEGIN_DECLS

#define SB_TYPE_SIZE_DIALOG (sb_size_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SbSizeDialog, sb_size_dialog, SB, SIZE_DIALOG, GtkWindow)

GtkWidget *sb_size_dialog_new (GtkWindow *parent, SbUnit unit);

/* One picture to ask about, at `longest_mm` to begin with. Rows are numbered from 0. */
void sb_size_dialog_add (SbSizeDialog *self, const char *name, SbPicture *picture,
                         double longest_mm);

/* The longest side of a row's picture, mm. */
double sb_size_dialog_get_longest (SbSizeDialog *self, guint row);

/* Emits "response" (gboolean accepted) once, before it closes. */

G_END_DECLS
