/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/file.h"
#include "window/desk/recent.h"

#define SHOWN_MOST 8
#define URI_KEY "sb-uri"

void
sb_recent_add (GFile *file)
{
  g_autofree char *uri = g_file_get_uri (file);
  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *name = g_filename_display_name (base);
  GtkRecentData data = {
      .display_name = name,
      .mime_type = (char *)SB_JOB_MIME,
      .app_name = (char *)"Stickleback",
      .app_exec = (char *)"stickleback %u",
  };

  gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *)b),
                              gtk_recent_info_get_modified ((GtkRecentInfo *)a));
}

static GtkWidget *
row_new (GtkRecentInfo *info)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *shown = gtk_recent_info_get_uri_display (info);
  g_autofree char *folder = shown ? g_path_get_dirname (shown) : NULL;
  g_autofree char *name = g_strdup (gtk_recent_info_get_display_name (info));

  if (g_str_has_suffix (name, SB_JOB_EXTENSION))
    name[strlen (name) - strlen (SB_JOB_EXTENSION)] = '\0';
  GtkWidget *title = gtk_label_new (name);
  GtkWidget *where = gtk_label_new (folder);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (where), 0);
  gtk_label_set_ellipsize (GTK_LABEL (where), PANGO_ELLIPSIZE_START);
  gtk_widget_add_css_class (where, "caption");
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), where);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data_full (G_OBJECT (row), URI_KEY, g_strdup (gtk_recent_info_get_uri (info)),
                          g_free);
  return row;
}

guint
sb_recent_fill (GtkListBox *list)
{
  GList *infos = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  GtkWidget *child;
  guint n = 0;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (list))))
    gtk_list_box_remove (list, child);
  infos = g_list_sort (infos, newest_first);
  for (GList *l = infos; l && n < SHOWN_MOST; l = l->next) {
    GtkRecentInfo *info = l->data;
    if (g_str_has_suffix (gtk_recent_info_get_uri (info), SB_JOB_EXTENSION) &&
        gtk_recent_info_is_local (info) && gtk_recent_info_exists (info)) {
      gtk_list_box_append (list, row_new (info));
      n++;
    }
  }
  g_list_free_full (infos, (GDestroyNotify)gtk_recent_info_unref);
  return n;
}

const char *
sb_recent_row_get_uri (GtkListBoxRow *row)
{
  return g_object_get_data (G_OBJECT (row), URI_KEY);
}
