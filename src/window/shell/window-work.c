/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/shell/window-work.h"

SbWindowWork *
sb_window_work_new (SbAppWindow *window, GFile *file, const char *title, gboolean can_cancel)
{
  SbWindowWork *work = g_new0 (SbWindowWork, 1);

  work->window = g_object_ref (window);
  g_set_object (&work->file, file);
  work->cancellable = can_cancel ? g_cancellable_new () : NULL;
  work->card = g_object_ref (
      sb_work_card_new (sb_app_window_get_work_area (window), title, work->cancellable));
  return work;
}

void
sb_window_work_free (SbWindowWork *work)
{
  sb_work_card_done (work->card);
  g_object_unref (work->card);
  g_clear_object (&work->cancellable);
  g_clear_object (&work->file);
  g_object_unref (work->window);
  g_free (work);
}

char *
sb_window_work_dup_name (GFile *file)
{
  g_autofree char *base = g_file_get_basename (file);
  return g_filename_display_name (base);
}
