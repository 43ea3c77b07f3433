/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "measure/paper.h"
#include "window/desk/recent.h"
#include "window/shell/start-page.h"

#define SHAPE_PX 56 /* the longest side that a paper of A4's height is drawn with */

struct _SbStartPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller;
  GtkWidget *drop_zone;
  GtkFlowBox *papers;
  GtkWidget *recent_box;
  GtkListBox *recent_list;
};

G_DEFINE_FINAL_TYPE (SbStartPage, sb_start_page, GTK_TYPE_WIDGET)

enum {
  NEW_JOB,
  OPEN_RECENT,
  FILES_DROPPED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
recent_activated_cb (SbStartPage *self, GtkListBoxRow *row)
{
  g_signal_emit (self, signals[OPEN_RECENT], 0, sb_recent_row_get_uri (row));
}

static void
paper_clicked_cb (GtkButton *button, SbStartPage *self)
{
  g_signal_emit (self, signals[NEW_JOB], 0, g_object_get_data (G_OBJECT (button), "paper"));
}

/* A sheet in its true proportions beside the others. */
static GtkWidget *
paper_shape_new (const SbPaper *paper)
{
  const double a4_height = 297000;
  GtkWidget *shape = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_set_size_request (shape, (int)(paper->width * SHAPE_PX / a4_height),
                               (int)(paper->height * SHAPE_PX / a4_height));
  gtk_widget_set_halign (shape, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (shape, GTK_ALIGN_END);
  gtk_widget_set_vexpand (shape, TRUE);
  gtk_widget_add_css_class (shape, "paper-shape");
  return shape;
}

static void
add_paper (SbStartPage *self, const SbPaper *paper)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *name = gtk_label_new (_ (paper->label));
  g_autofree char *size = sb_length_format_size (
      sb_um_to_mm (paper->width), sb_um_to_mm (paper->height), sb_unit_from_locale ());
  GtkWidget *told = gtk_label_new (size);

  gtk_widget_set_size_request (box, -1, SHAPE_PX + 50);
  gtk_box_append (GTK_BOX (box), paper_shape_new (paper));
  gtk_widget_add_css_class (name, "heading");
  gtk_box_append (GTK_BOX (box), name);
  gtk_widget_add_css_class (told, "caption");
  gtk_box_append (GTK_BOX (box), told);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "paper-card");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ (paper->label), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, size, -1);
  g_object_set_data (G_OBJECT (button), "paper", (gpointer)paper->name);
  g_signal_connect (button, "clicked", G_CALLBACK (paper_clicked_cb), self);

  GtkWidget *child = gtk_flow_box_child_new ();
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), button);
  gtk_widget_set_focusable (child, FALSE);
  gtk_flow_box_append (self->papers, child);
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, SbStartPage *self)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GSList) list = gdk_file_list_get_files (g_value_get_boxed (value));

  for (GSList *l = list; l; l = l->next)
    g_list_store_append (files, l->data);
  g_signal_emit (self, signals[FILES_DROPPED], 0, files);
  return TRUE;
}

static GdkDragAction
enter_cb (SbStartPage *self)
{
  gtk_widget_add_css_class (self->drop_zone, "drop-here");
  return GDK_ACTION_COPY;
}

static void
leave_cb (SbStartPage *self)
{
  gtk_widget_remove_css_class (self->drop_zone, "drop-here");
}

static void
fill_recent (SbStartPage *self)
{
  gtk_widget_set_visible (self->recent_box, sb_recent_fill (self->recent_list) > 0);
}

static void
sb_start_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SB_TYPE_START_PAGE);
  G_OBJECT_CLASS (sb_start_page_parent_class)->dispose (object);
}

static void
sb_start_page_class_init (SbStartPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_start_page_dispose;
  signals[NEW_JOB] = g_signal_new ("new-job", SB_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[OPEN_RECENT] = g_signal_new ("open-recent", SB_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0,
                                       NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[FILES_DROPPED] = g_signal_new ("files-dropped", SB_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_LIST_MODEL);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/start-page.ui");
  gtk_widget_class_bind_template_child (widget_class, SbStartPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, SbStartPage, drop_zone);
  gtk_widget_class_bind_template_child (widget_class, SbStartPage, papers);
  gtk_widget_class_bind_template_child (widget_class, SbStartPage, recent_box);
  gtk_widget_class_bind_template_child (widget_class, SbStartPage, recent_list);
  gtk_widget_class_bind_template_callback (widget_class, recent_activated_cb);
}

static void
sb_start_page_init (SbStartPage *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  gsize n = 0;
  const SbPaper *papers = sb_papers (&n);

  gtk_widget_init_template (GTK_WIDGET (self));
  for (gsize i = 0; i < n; i++)
    add_paper (self, &papers[i]);
  g_signal_connect_swapped (target, "enter", G_CALLBACK (enter_cb), self);
  g_signal_connect_swapped (target, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
  g_signal_connect_object (gtk_recent_manager_get_default (), "changed", G_CALLBACK (fill_recent),
                           self, G_CONNECT_SWAPPED);
  fill_recent (self);
}

GtkWidget *
sb_start_page_new (void)
{
  return g_object_new (SB_TYPE_START_PAGE, NULL);
}
