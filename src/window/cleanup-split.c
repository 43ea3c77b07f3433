/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/design-split.h"
#include "picture/split.h"
#include "window/cleanup-batch.h"
#include "window/cleanup-split.h"
#include "window/cleanup-view.h"
#include "window/dialog-frame.h"
#include "window/work-card.h"

struct _SbCleanupSplit {
  GtkWindow parent_instance;

  SbAppWindow *app_window; /* borrowed: the dialog goes before it */
  SbDesign *scan;
  GArray *marks; /* SbCleanupMark: the paintings, crossed when they are left out */

  SbCleanupView *view;
  GtkWidget *told, *apply;
};

#define SB_TYPE_CLEANUP_SPLIT (sb_cleanup_split_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupSplit, sb_cleanup_split, SB, CLEANUP_SPLIT, GtkWindow)
G_DEFINE_FINAL_TYPE (SbCleanupSplit, sb_cleanup_split, GTK_TYPE_WINDOW)

/* What is found */

static guint
count_kept (SbCleanupSplit *self)
{
  guint n = 0;

  for (guint i = 0; i < self->marks->len; i++)
    n += !g_array_index (self->marks, SbCleanupMark, i).crossed;
  return n;
}

static void
update (SbCleanupSplit *self)
{
  guint kept = count_kept (self), found = self->marks->len;
  g_autofree char *told =
      found == 0 ? g_strdup (_ ("No painting was found: nothing on the paper is 5 mm or larger."))
                 : g_strdup_printf (ngettext ("%u painting was found. Click one to leave it out.",
                                              "%u paintings were found. Click one to leave it out.",
                                              found),
                                    found);
  g_autofree char *label =
      g_strdup_printf (ngettext ("_Make %u Design", "_Make %u Designs", kept), kept);

  sb_cleanup_view_set_marks (self->view, (gpointer)self->marks->data, found);
  gtk_label_set_label (GTK_LABEL (self->told), told);
  gtk_button_set_label (GTK_BUTTON (self->apply), label);
  gtk_widget_set_sensitive (self->apply, kept > 0);
}

static gboolean
contains (const SbCleanupMark *mark, double x, double y)
{
  return x >= mark->x0 && x <= mark->x1 && y >= mark->y0 && y <= mark->y1;
}

static void
point_cb (SbCleanupSplit *self, double x, double y)
{
  for (guint i = 0; i < self->marks->len; i++) {
    SbCleanupMark *mark = &g_array_index (self->marks, SbCleanupMark, i);
    if (contains (mark, x, y)) {
      mark->crossed = !mark->crossed;
      break;
    }
  }
  update (self);
}

static void
find_paintings (SbCleanupSplit *self, SbCleanResult *result)
{
  SbSplitParams params = sb_split_params_default ();
  double width = cairo_image_surface_get_width (result->surface);
  g_autoptr (SbSplit) split =
      sb_split_new (result->surface, width / self->scan->width_mm, &params, NULL, NULL);

  for (guint i = 0; split && i < sb_split_get_n_parts (split); i++) {
    SbSplitPart part = sb_split_get_part (split, i);
    SbCleanupMark mark = {(float)(part.x0 / width),
                          (float)(part.y0 / width),
                          (float)(part.x1 / width),
                          (float)(part.y1 / width),
                          i + 1,
                          FALSE,
                          FALSE};
    g_array_append_val (self->marks, mark);
  }
}

/* Making the designs */

typedef struct {
  SbAppWindow *window;
  SbDesign *scan;
  GArray *marks;
  SbWorkCard *card;
  GCancellable *cancellable;
} Making;

static void
making_free (Making *making)
{
  sb_work_card_done (making->card);
  g_object_unref (making->card);
  g_object_unref (making->cancellable);
  g_array_unref (making->marks);
  sb_design_unref (making->scan);
  g_object_unref (making->window);
  g_free (making);
}

static void
split_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Making *making = data;
  GError *error = NULL;
  GPtrArray *designs = sb_design_split (making->scan, cancellable, &error);

  if (designs)
    g_task_return_pointer (task, designs, (GDestroyNotify)g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

/* Without those that the maker left out. */
static void
leave_out (GPtrArray *designs, const GArray *marks)
{
  for (guint i = MIN (designs->len, marks->len); i > 0; i--)
    if (g_array_index (marks, SbCleanupMark, i - 1).crossed)
      g_ptr_array_remove_index (designs, i - 1);
}

static void
split_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Making *making = user_data;
  g_autoptr (GError) error = NULL;
  GPtrArray *designs = g_task_propagate_pointer (G_TASK (result), &error);

  if (designs && sb_app_window_get_desk (making->window)) {
    leave_out (designs, making->marks);
    guint n = designs->len;
    g_autofree char *name = g_strdup_printf (
        ngettext ("Split %2$s into %1$u Design", "Split %2$s into %1$u Designs", n), n,
        making->scan->name);
    g_autofree char *told =
        g_strdup_printf (ngettext ("%u design was added", "%u designs were added", n), n);
    sb_cleanup_batch_run (making->window, designs, _ ("Measuring the paintings"), name, told);
  } else if (designs) {
    g_ptr_array_unref (designs);
  } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    sb_app_window_show_error (making->window, _ ("The scan could not be split"), error->message);
  }
  making_free (making);
}

static void
apply_cb (SbCleanupSplit *self)
{
  Making *making = g_new0 (Making, 1);

  making->window = g_object_ref (self->app_window);
  making->scan = sb_design_ref (self->scan);
  making->marks = g_array_ref (self->marks);
  making->cancellable = g_cancellable_new ();
  making->card = g_object_ref (sb_work_card_new (sb_app_window_get_work_area (self->app_window),
                                                 _ ("Splitting the scan"), making->cancellable));
  g_autoptr (GTask) task = g_task_new (NULL, making->cancellable, split_cb, making);
  g_task_set_task_data (task, making, NULL);
  g_task_run_in_thread (task, split_in_thread);
  gtk_window_destroy (GTK_WINDOW (self));
}

/* Widget */

static void
sb_cleanup_split_finalize (GObject *object)
{
  SbCleanupSplit *self = SB_CLEANUP_SPLIT (object);

  sb_design_unref (self->scan);
  g_array_unref (self->marks);
  G_OBJECT_CLASS (sb_cleanup_split_parent_class)->finalize (object);
}

static void
sb_cleanup_split_class_init (SbCleanupSplitClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_cleanup_split_finalize;
}

static void
sb_cleanup_split_init (SbCleanupSplit *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->marks = g_array_new (FALSE, FALSE, sizeof (SbCleanupMark));
  self->told = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->told), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->told), 0);
  gtk_widget_add_css_class (self->told, "cleanup-bar");
  self->view = SB_CLEANUP_VIEW (sb_cleanup_view_new ());
  gtk_widget_set_vexpand (GTK_WIDGET (self->view), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Paintings found on the scan"), -1);
  sb_cleanup_view_set_hand (self->view, SB_CLEANUP_HAND_POINTS);
  g_signal_connect_swapped (self->view, "point", G_CALLBACK (point_cb), self);
  self->apply = gtk_button_new_with_mnemonic ("");
  g_signal_connect_swapped (self->apply, "clicked", G_CALLBACK (apply_cb), self);
  gtk_box_append (GTK_BOX (box), self->told);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->view));
  gtk_window_set_child (GTK_WINDOW (self), box);
  gtk_window_set_default_size (GTK_WINDOW (self), 860, 720);
}

void
sb_cleanup_split_open (SbAppWindow *window, SbCleanupSession *session)
{
  SbCleanResult *result = sb_cleanup_session_get_result (session);

  if (!result)
    return;
  SbCleanupSplit *self = g_object_new (SB_TYPE_CLEANUP_SPLIT, NULL);
  SbPixels *pixels = sb_cleanup_session_get_after (session, 0);
  self->app_window = window;
  self->scan = sb_design_ref (sb_cleanup_session_get_design (session));
  sb_dialog_frame (GTK_WINDOW (self), GTK_WINDOW (window), _ ("Split the Scan"), self->apply);
  sb_cleanup_view_set_size (self->view, sb_picture_get_width (self->scan->picture),
                            sb_picture_get_height (self->scan->picture));
  sb_cleanup_view_set_pixels (self->view, pixels, pixels);
  find_paintings (self, result);
  update (self);
  gtk_window_present (GTK_WINDOW (self));
}
