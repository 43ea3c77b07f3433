/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/shell/job-title.h"

struct _SbJobTitle {
  GtkWidget parent_instance;

  GtkWidget *title;
  GtkWidget *subtitle;
  SbDesk *desk;     /* or NULL */
  SbCanvas *canvas; /* borrowed; lives as long as the window */
};

G_DEFINE_FINAL_TYPE (SbJobTitle, sb_job_title, GTK_TYPE_WIDGET)

static void
show_title (SbJobTitle *self, const char *title)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  gtk_label_set_label (GTK_LABEL (self->title), title);
  if (root)
    gtk_window_set_title (GTK_WINDOW (root), title);
}

static void
update_title (SbJobTitle *self)
{
  SbDocument *document = sb_desk_get_document (self->desk);
  g_autofree char *name = sb_document_dup_name (document);
  g_autofree char *changed = g_strdup_printf ("• %s", name);

  show_title (self, sb_document_is_modified (document) ? changed : name);
}

/* "Letter, page 1 of 2" */
static void
update_subtitle (SbJobTitle *self)
{
  SbState *state = sb_desk_get_state (self->desk);
  const SbPaper *paper = state->view ? NULL : sb_paper_find (state->paper_name);
  g_autofree char *size =
      sb_length_format_size (sb_um_to_mm (state->page_width), sb_um_to_mm (state->page_height),
                             sb_desk_get_unit (self->desk));
  guint page = 0;

  g_object_get (self->canvas, "page", &page, NULL);
  g_autofree char *text =
      g_strdup_printf (_ ("%s, page %u of %u"), paper ? _ (paper->label) : size,
                       MIN (page, state->pages->len - 1) + 1, state->pages->len);
  gtk_label_set_label (GTK_LABEL (self->subtitle), state->view ? size : text);
}

void
sb_job_title_set_job (SbJobTitle *self, SbDesk *desk, SbCanvas *canvas)
{
  g_return_if_fail (SB_IS_JOB_TITLE (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = g_object_ref (desk);
  self->canvas = canvas;
  g_signal_connect_object (sb_desk_get_document (desk), "title-changed", G_CALLBACK (update_title),
                           self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sb_desk_get_job (desk), "changed", G_CALLBACK (update_subtitle), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (sb_desk_get_preferences (desk), "notify::unit",
                           G_CALLBACK (update_subtitle), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (canvas, "notify::page", G_CALLBACK (update_subtitle), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_set_visible (self->subtitle, TRUE);
  update_title (self);
  update_subtitle (self);
}

static void
sb_job_title_root (GtkWidget *widget)
{
  SbJobTitle *self = SB_JOB_TITLE (widget);

  GTK_WIDGET_CLASS (sb_job_title_parent_class)->root (widget);
  if (!self->desk)
    show_title (self, _ ("Stickleback"));
}

static void
sb_job_title_dispose (GObject *object)
{
  SbJobTitle *self = SB_JOB_TITLE (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_job_title_parent_class)->dispose (object);
}

static void
sb_job_title_class_init (SbJobTitleClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_job_title_dispose;
  widget_class->root = sb_job_title_root;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
}

static GtkWidget *
add_label (SbJobTitle *self, const char *css_class, PangoEllipsizeMode ellipsize)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_ellipsize (GTK_LABEL (label), ellipsize);
  gtk_label_set_single_line_mode (GTK_LABEL (label), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (label), 5);
  gtk_widget_add_css_class (label, css_class);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  return label;
}

static void
sb_job_title_init (SbJobTitle *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  self->title = add_label (self, "title", PANGO_ELLIPSIZE_MIDDLE);
  self->subtitle = add_label (self, "subtitle", PANGO_ELLIPSIZE_END);
  gtk_widget_set_visible (self->subtitle, FALSE);
}
