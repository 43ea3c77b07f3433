/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/parts/measure-entry.h"
#include "window/parts/size-dialog.h"

#define SIDE_LEAST_MM 2
#define SIDE_MOST_MM 1500

struct _SbSizeDialog {
  GtkWindow parent_instance;

  /* template children */
  GtkWidget *list;
  GtkWidget *same_check;

  SbUnit unit;
  GPtrArray *rows; /* Row */
  gboolean answered;
};

G_DEFINE_FINAL_TYPE (SbSizeDialog, sb_size_dialog, GTK_TYPE_WINDOW)

typedef struct {
  SbSizeDialog *dialog; /* borrowed */
  SbPicture *picture;
  SbMeasureEntry *entry; /* borrowed */
  GtkWidget *told;       /* borrowed */
} Row;

enum {
  RESPONSE,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
row_free (Row *row)
{
  sb_picture_unref (row->picture);
  g_free (row);
}

/* "1200 × 900 px, 600 dpi at this size" */
static void
row_tell (Row *row)
{
  int width = sb_picture_get_width (row->picture), height = sb_picture_get_height (row->picture);
  double mm = sb_measure_entry_get_value (row->entry) / MAX (width, height);
  int dpi = sb_picture_get_dpi_at (row->picture, width * mm, height * mm);
  g_autofree char *text = NULL;

  if (dpi == 0)
    text = g_strdup (_ ("Vector drawing, sharp at any size"));
  else if (dpi < SB_DPI_POOR)
    text = g_strdup_printf (_ ("%d × %d px, only %d dpi: will look soft"), width, height, dpi);
  else
    text = g_strdup_printf (_ ("%d × %d px, %d dpi at this size"), width, height, dpi);
  gtk_label_set_label (GTK_LABEL (row->told), text);
  if (dpi != 0 && dpi < SB_DPI_POOR)
    gtk_widget_add_css_class (row->told, "warning-text");
  else
    gtk_widget_remove_css_class (row->told, "warning-text");
}

static void
set_all (SbSizeDialog *self, double value)
{
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = self->rows->pdata[i];
    sb_measure_entry_set_value (row->entry, value);
    row_tell (row);
  }
}

static void
committed_cb (Row *row, double value)
{
  SbSizeDialog *self = row->dialog;

  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->same_check)))
    set_all (self, value);
  else
    row_tell (row);
}

static void
same_toggled_cb (SbSizeDialog *self)
{
  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->same_check)) && self->rows->len > 0)
    set_all (self, sb_measure_entry_get_value (((Row *)self->rows->pdata[0])->entry));
}

static void
answer (SbSizeDialog *self, gboolean accepted)
{
  if (self->answered)
    return;
  self->answered = TRUE;
  g_signal_emit (self, signals[RESPONSE], 0, accepted);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
add_cb (SbSizeDialog *self)
{
  /* An entry that has the focus takes what was typed when it loses it. */
  gtk_window_set_focus (GTK_WINDOW (self), NULL);
  answer (self, TRUE);
}

static void
cancel_cb (SbSizeDialog *self)
{
  answer (self, FALSE);
}

static gboolean
sb_size_dialog_close_request (GtkWindow *window)
{
  answer (SB_SIZE_DIALOG (window), FALSE);
  return TRUE;
}

static void
sb_size_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SB_TYPE_SIZE_DIALOG);
  g_clear_pointer (&SB_SIZE_DIALOG (object)->rows, g_ptr_array_unref);
  G_OBJECT_CLASS (sb_size_dialog_parent_class)->dispose (object);
}

static void
sb_size_dialog_class_init (SbSizeDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_size_dialog_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sb_size_dialog_close_request;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/size-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, SbSizeDialog, list);
  gtk_widget_class_bind_template_child (widget_class, SbSizeDialog, same_check);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  gtk_widget_class_bind_template_callback (widget_class, same_toggled_cb);
  signals[RESPONSE] = g_signal_new ("response", SB_TYPE_SIZE_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL,
                                    NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
}

static void
sb_size_dialog_init (SbSizeDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify)row_free);
}

GtkWidget *
sb_size_dialog_new (GtkWindow *parent, SbUnit unit)
{
  SbSizeDialog *self = g_object_new (SB_TYPE_SIZE_DIALOG, "transient-for", parent, NULL);

  self->unit = unit;
  return GTK_WIDGET (self);
}

void
sb_size_dialog_add (SbSizeDialog *self, const char *name, SbPicture *picture, double longest_mm)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new (name);
  Row *row = g_new0 (Row, 1);

  row->dialog = self;
  row->picture = sb_picture_ref (picture);
  row->told = gtk_label_new (NULL);
  row->entry = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ ("Longest side"), "lower",
                             (double)SIDE_LEAST_MM, "upper", (double)SIDE_MOST_MM, NULL);
  sb_measure_entry_set_unit (row->entry, self->unit);
  sb_measure_entry_set_value (row->entry, longest_mm);
  g_signal_connect_swapped (row->entry, "committed", G_CALLBACK (committed_cb), row);

  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_MIDDLE);
  gtk_widget_add_css_class (title, "heading");
  gtk_label_set_xalign (GTK_LABEL (row->told), 0);
  gtk_label_set_ellipsize (GTK_LABEL (row->told), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (row->told, "caption");
  gtk_box_append (GTK_BOX (words), title);
  gtk_box_append (GTK_BOX (words), row->told);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (GTK_WIDGET (row->entry), GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (row->entry));
  gtk_box_append (GTK_BOX (self->list), line);
  g_ptr_array_add (self->rows, row);
  gtk_widget_set_visible (self->same_check, self->rows->len > 1);
  row_tell (row);
}

double
sb_size_dialog_get_longest (SbSizeDialog *self, guint row)
{
  return sb_measure_entry_get_value (((Row *)self->rows->pdata[row])->entry);
}
