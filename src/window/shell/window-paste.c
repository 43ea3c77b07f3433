/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/shell/import.h"
#include "window/shell/window-private.h"

static void
pasted_texture_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SbAppWindow) self = user_data;
  g_autoptr (GdkTexture) texture =
      gdk_clipboard_read_texture_finish (GDK_CLIPBOARD (source), result, NULL);

  if (texture)
    sb_window_import_texture (self, texture, _ ("Pasted picture.png"));
  else
    sb_app_window_say (self, _ ("There is no picture to paste"));
}

static void
pasted_files_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SbAppWindow) self = user_data;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, NULL);
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GSList) list = value ? gdk_file_list_get_files (g_value_get_boxed (value)) : NULL;

  for (GSList *l = list; l; l = l->next)
    g_ptr_array_add (files, g_object_ref (l->data));
  sb_window_files_open_list (self, files);
}

/* What came over the clipboard, byte for byte. */
typedef struct {
  SbAppWindow *window;
  GOutputStream *bytes;
  const char *name;
} Paste;

static void
paste_free (Paste *paste)
{
  g_object_unref (paste->window);
  g_object_unref (paste->bytes);
  g_free (paste);
}

static void
spliced_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Paste *paste = user_data;
  g_autoptr (GError) error = NULL;

  if (g_output_stream_splice_finish (G_OUTPUT_STREAM (source), result, &error) > 0) {
    g_autoptr (GBytes) bytes =
        g_memory_output_stream_steal_as_bytes (G_MEMORY_OUTPUT_STREAM (paste->bytes));
    sb_window_import_bytes (paste->window, bytes, paste->name);
  } else {
    sb_app_window_say (paste->window, error ? error->message : _ ("There is no picture to paste"));
  }
  paste_free (paste);
}

static void
pasted_bytes_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Paste *paste = user_data;
  const char *mime;
  g_autoptr (GInputStream) stream =
      gdk_clipboard_read_finish (GDK_CLIPBOARD (source), result, &mime, NULL);

  if (!stream) {
    sb_app_window_say (paste->window, _ ("There is no picture to paste"));
    paste_free (paste);
    return;
  }
  paste->name =
      g_str_equal (mime, "image/png") ? _ ("Pasted picture.png") : _ ("Pasted picture.svg");
  g_output_stream_splice_async (paste->bytes, stream,
                                G_OUTPUT_STREAM_SPLICE_CLOSE_SOURCE |
                                    G_OUTPUT_STREAM_SPLICE_CLOSE_TARGET,
                                G_PRIORITY_DEFAULT, NULL, spliced_cb, paste);
}

/* Some programs offer a file's icon as a picture beside the file itself, so files come first. SVG
 * stays a drawing and PNG keeps its physical size: those are taken as they are. */
void
sb_window_paste (SbAppWindow *self)
{
  static const char *const as_is[] = {"image/svg+xml", "image/png", NULL};
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self));
  GdkContentFormats *formats = gdk_clipboard_get_formats (clipboard);

  if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST)) {
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL,
                                    pasted_files_cb, g_object_ref (self));
  } else if (gdk_content_formats_contain_mime_type (formats, as_is[0]) ||
             gdk_content_formats_contain_mime_type (formats, as_is[1])) {
    Paste *paste = g_new0 (Paste, 1);
    paste->window = g_object_ref (self);
    paste->bytes = g_memory_output_stream_new_resizable ();
    gdk_clipboard_read_async (clipboard, (const char **)as_is, G_PRIORITY_DEFAULT, NULL,
                              pasted_bytes_cb, paste);
  } else {
    gdk_clipboard_read_texture_async (clipboard, NULL, pasted_texture_cb, g_object_ref (self));
  }
}
