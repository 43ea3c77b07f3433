/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Another program to drag files from: a small undecorated window that offers the files named on its
 * command line. It leaves once they were taken. With --take FILE it is one to drag a picture to,
 * which it writes into the file. */
#include <gtk/gtk.h>

static GdkContentProvider *
prepare_cb (GtkDragSource *source, double x, double y, gpointer files)
{
  GdkFileList *list = gdk_file_list_new_from_list (files);
  GdkContentProvider *provider = gdk_content_provider_new_typed (GDK_TYPE_FILE_LIST, list);

  g_boxed_free (GDK_TYPE_FILE_LIST, list);
  return provider;
}

static void
end_cb (GtkDragSource *source, GdkDrag *drag, gboolean delete_data, gpointer loop)
{
  g_main_loop_quit (loop);
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, gpointer path)
{
  return gdk_texture_save_to_png (g_value_get_object (value), path);
}

int
main (int argc, char **argv)
{
  g_autoptr (GMainLoop) loop = g_main_loop_new (NULL, FALSE);
  GSList *files = NULL;

  gtk_init ();
  gboolean takes = argc == 3 && g_str_equal (argv[1], "--take");
  for (int i = 1; i < argc; i++)
    files = g_slist_append (files, g_file_new_for_path (argv[i]));

  GtkWidget *window = gtk_window_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  gtk_window_set_title (GTK_WINDOW (window), takes ? "drag target" : "drag source");
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), 120, 60);
  gtk_window_set_child (GTK_WINDOW (window), gtk_label_new ("files"));
  g_signal_connect (source, "prepare", G_CALLBACK (prepare_cb), files);
  g_signal_connect (source, "drag-end", G_CALLBACK (end_cb), loop);
  if (takes) {
    GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_TEXTURE, GDK_ACTION_COPY);
    g_signal_connect (target, "drop", G_CALLBACK (drop_cb), argv[2]);
    gtk_widget_add_controller (window, GTK_EVENT_CONTROLLER (target));
    g_object_unref (source);
  } else {
    gtk_widget_add_controller (window, GTK_EVENT_CONTROLLER (source));
  }
  gtk_window_present (GTK_WINDOW (window));
  g_main_loop_run (loop);
  g_slist_free_full (files, g_object_unref);
  return 0;
}
