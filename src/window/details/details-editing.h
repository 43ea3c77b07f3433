/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What each part of Details needs to change the design that it shows. Main thread only. */
#pragma once

#include "window/desk/desk.h"

G_BEGIN_DECLS

typedef struct {
  SbDesk *desk;      /* owned; NULL until the part gets one */
  guint design_id;   /* of the design that is shown; 0 for none */
  gboolean updating; /* the program sets the controls, not a hand */
} SbDetailsEditing;

/* A copy of the design to change; hand it to sb_details_editing_end. NULL when there is none, or
 * when it is the program that has just set a control. */
SbDesign *sb_details_editing_begin (const SbDetailsEditing *editing) G_GNUC_WARN_UNUSED_RESULT;

/* Takes the changed copy (consumed) to the job; see sb_design_changer_end for `format` and `live`.
 */
void sb_details_editing_end (const SbDetailsEditing *editing, SbDesign *copy, const char *format,
                             gboolean live);

G_END_DECLS
