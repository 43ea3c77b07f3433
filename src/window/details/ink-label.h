/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How much ink what is shown asks for, in words; measured in a thread. */
#pragma once

#include <gtk/gtk.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_TYPE_INK_LABEL (sb_ink_label_get_type ())
G_DECLARE_FINAL_TYPE (SbInkLabel, sb_ink_label, SB, INK_LABEL, GtkWidget)

/* Of the first page of `state`; what was told stays until it is measured. */
void sb_ink_label_show (SbInkLabel *self, SbState *state);

G_END_DECLS
