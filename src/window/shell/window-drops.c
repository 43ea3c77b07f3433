/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/shell/import.h"
#include "window/shell/window-private.h"

void
sb_window_take_files_at (SbAppWindow *self, GdkFileList *files, guint page_index, int x, int y)
{
  g_autoptr (GListStore) store = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GSList) list = gdk_file_list_get_files (files);

  for (GSList *l = list; l; l = l->next)
    g_list_store_append (store, l->data);
  sb_import_files (self, G_LIST_MODEL (store),
                   (SbImportPlace){.page = (int)page_index, .at = {x, y}});
}

void
sb_window_take_files (SbAppWindow *self, GListModel *files)
{
  g_autoptr (GPtrArray) array = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < g_list_model_get_n_items (files); i++)
    g_ptr_array_add (array, g_list_model_get_item (files, i));
  sb_window_files_open_list (self, array);
}

void
sb_window_import_bytes (SbAppWindow *self, GBytes *bytes, const char *name)
{
  if (sb_app_window_get_desk (self) == NULL)
    sb_app_window_new_job (self, NULL);
  sb_import_bytes (self, bytes, name, SB_IMPORT_TO_DRAWER);
}

void
sb_window_import_texture (SbAppWindow *self, GdkTexture *texture, const char *name)
{
  g_autoptr (GBytes) bytes = gdk_texture_save_to_png_bytes (texture);

  sb_window_import_bytes (self, bytes, name);
}

void
sb_window_take_texture (SbAppWindow *self, GdkTexture *texture)
{
  sb_window_import_texture (self, texture, _ ("Dropped picture.png"));
}
