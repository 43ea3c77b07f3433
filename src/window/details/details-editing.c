/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/details/details-editing.h"

SbDesign *
sb_details_editing_begin (const SbDetailsEditing *editing)
{
  if (editing->updating || !editing->desk)
    return NULL;
  return sb_design_changer_begin (sb_desk_get_changer (editing->desk), editing->design_id);
}

void
sb_details_editing_end (const SbDetailsEditing *editing, SbDesign *copy, const char *format,
                        gboolean live)
{
  sb_design_changer_end (sb_desk_get_changer (editing->desk), copy, format, live);
}
