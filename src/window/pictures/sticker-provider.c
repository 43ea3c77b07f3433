/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "output/sticker-png.h"
#include "window/pictures/sticker-provider.h"

#define DPI 300
#define PNG_MIME "image/png"
#define FILES_MIME "text/uri-list"

#define SB_TYPE_STICKER_PROVIDER (sb_sticker_provider_get_type ())
G_DECLARE_FINAL_TYPE (SbStickerProvider, sb_sticker_provider, SB, STICKER_PROVIDER,
                      GdkContentProvider)

struct _SbStickerProvider {
  GdkContentProvider parent_instance;

  SbDesign *design;
};

G_DEFINE_FINAL_TYPE (SbStickerProvider, sb_sticker_provider, GDK_TYPE_CONTENT_PROVIDER)

/* What a reader asked for. */
typedef struct {
  SbDesign *design;
  gboolean as_file;
  GOutputStream *stream;
} Request;

static void
request_free (Request *request)
{
  sb_design_unref (request->design);
  g_object_unref (request->stream);
  g_free (request);
}

static GdkContentFormats *
sb_sticker_provider_ref_formats (GdkContentProvider *provider)
{
  const char *mimes[] = {PNG_MIME, FILES_MIME};

  return gdk_content_formats_new (mimes, G_N_ELEMENTS (mimes));
}

/* Writes the picture into a file named after the design; tells its URI as a list. */
static GBytes *
put_into_file (SbDesign *design, GBytes *png, GCancellable *cancellable, GError **error)
{
  g_autofree char *folder =
      g_build_filename (g_get_user_runtime_dir (), "stickleback-stickers", NULL);
  g_autofree char *name = g_strconcat (design->name, ".png", NULL);

  g_mkdir_with_parents (folder, 0700);
  g_strdelimit (name, "/\\", '-');
  g_autoptr (GFile) file = g_file_new_build_filename (folder, name, NULL);
  if (!g_file_replace_contents (file, g_bytes_get_data (png, NULL), g_bytes_get_size (png), NULL,
                                FALSE, G_FILE_CREATE_PRIVATE, NULL, cancellable, error))
    return NULL;
  g_autofree char *uri = g_file_get_uri (file);
  char *list = g_strconcat (uri, "\r\n", NULL);
  return g_bytes_new_take (list, strlen (list));
}

static void
write_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Request *request = data;
  GError *error = NULL;
  g_autoptr (GBytes) png = sb_sticker_png (request->design, DPI, cancellable, &error);
  g_autoptr (GBytes) told = png && request->as_file
                                ? put_into_file (request->design, png, cancellable, &error)
                            : png ? g_bytes_ref (png)
                                  : NULL;

  if (told && g_output_stream_write_all (request->stream, g_bytes_get_data (told, NULL),
                                         g_bytes_get_size (told), NULL, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
sb_sticker_provider_write_async (GdkContentProvider *provider, const char *mime,
                                 GOutputStream *stream, int priority, GCancellable *cancellable,
                                 GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (provider, cancellable, callback, user_data);
  Request *request = g_new (Request, 1);

  request->design = sb_design_ref (SB_STICKER_PROVIDER (provider)->design);
  request->as_file = g_str_equal (mime, FILES_MIME);
  request->stream = g_object_ref (stream);
  g_task_set_priority (task, priority);
  g_task_set_task_data (task, request, (GDestroyNotify)request_free);
  g_task_run_in_thread (task, write_in_thread);
}

static gboolean
sb_sticker_provider_write_finish (GdkContentProvider *provider, GAsyncResult *result,
                                  GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}

static void
sb_sticker_provider_finalize (GObject *object)
{
  g_clear_pointer (&SB_STICKER_PROVIDER (object)->design, sb_design_unref);
  G_OBJECT_CLASS (sb_sticker_provider_parent_class)->finalize (object);
}

static void
sb_sticker_provider_class_init (SbStickerProviderClass *klass)
{
  GdkContentProviderClass *provider_class = GDK_CONTENT_PROVIDER_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sb_sticker_provider_finalize;
  provider_class->ref_formats = sb_sticker_provider_ref_formats;
  provider_class->write_mime_type_async = sb_sticker_provider_write_async;
  provider_class->write_mime_type_finish = sb_sticker_provider_write_finish;
}

static void
sb_sticker_provider_init (SbStickerProvider *self)
{
}

GdkContentProvider *
sb_sticker_provider_new (SbDesign *design)
{
  SbStickerProvider *self = g_object_new (SB_TYPE_STICKER_PROVIDER, NULL);

  self->design = sb_design_ref (design);
  return GDK_CONTENT_PROVIDER (self);
}
