/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "printing/run.h"
#include "window/parts/measure-entry.h"
#include "window/parts/words.h"
#include "window/printing/calibration-window.h"

/* The readings, in the order of the entries. */
enum {
  ACROSS,
  ALONG,
  LEFT,
  TOP,
  FIRST_TOP,
  FIRST_RIGHT,
  FIRST_BOTTOM,
  FIRST_LEFT,
  N_READINGS,
};

struct _SbCalibrationWindow {
  GtkWindow parent_instance;

  /* template children */
  GtkWidget *about_label;
  GtkWidget *print_button;
  GtkWidget *print_label;
  GtkGrid *grid;
  GtkWidget *result_label;
  GtkWidget *clear_button;
  GtkWidget *keep_button;

  SbMeasureEntry *entries[N_READINGS]; /* borrowed from the grid */

  /* owned */
  SbDesk *desk;
  char *printer;
  char *media;

  sb_um width, height; /* of the sheet, portrait */
  SbCalibration calibration;
};

G_DEFINE_FINAL_TYPE (SbCalibrationWindow, sb_calibration_window, GTK_TYPE_WINDOW)

enum {
  CALIBRATED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

/* --- What the readings say --- */

static SbRulerReadings
get_readings (SbCalibrationWindow *self)
{
  double mm[N_READINGS];

  for (guint i = 0; i < N_READINGS; i++)
    mm[i] = sb_measure_entry_get_value (self->entries[i]);
  return (SbRulerReadings){
      .across_mm = mm[ACROSS],
      .along_mm = mm[ALONG],
      .left_mm = mm[LEFT],
      .top_mm = mm[TOP],
      .first_top_mm = mm[FIRST_TOP],
      .first_right_mm = mm[FIRST_RIGHT],
      .first_bottom_mm = mm[FIRST_BOTTOM],
      .first_left_mm = mm[FIRST_LEFT],
  };
}

static void
update (SbCalibrationWindow *self)
{
  SbRulerReadings readings = get_readings (self);
  g_autoptr (GError) error = NULL;
  gboolean usable = sb_calibration_from_readings (&readings, self->width, self->height,
                                                  &self->calibration, &error);
  g_autofree char *told =
      usable ? sb_calibration_tell (&self->calibration, sb_desk_get_unit (self->desk)) : NULL;
  /* Translators: "101.5 % across, …" */
  g_autofree char *text = usable ? g_strdup_printf (_ ("It prints %s."), told) : NULL;

  gtk_label_set_label (GTK_LABEL (self->result_label), usable ? text : error->message);
  if (usable)
    gtk_widget_remove_css_class (self->result_label, "warning-text");
  else
    gtk_widget_add_css_class (self->result_label, "warning-text");
  gtk_widget_set_sensitive (self->keep_button, usable);
}

/* --- The sheet --- */

typedef struct {
  char *printer;
  sb_um width, height;
} Sheet;

static void
sheet_free (Sheet *sheet)
{
  g_free (sheet->printer);
  g_free (sheet);
}

static void
print_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Sheet *sheet = data;
  GError *error = NULL;
  char *note;
  int job_id;

  if (sb_print_rulers (sheet->printer, sheet->width, sheet->height, &job_id, &note, &error))
    g_task_return_pointer (task, note, g_free);
  else
    g_task_return_error (task, error);
}

static void
sent_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbCalibrationWindow *self = SB_CALIBRATION_WINDOW (source);
  g_autoptr (GError) error = NULL;
  g_autofree char *note = g_task_propagate_pointer (G_TASK (result), &error);

  if (!self->desk)
    return;
  g_autofree char *sent = g_strdup_printf (_ ("Sent to %s"), self->printer);
  gtk_label_set_label (GTK_LABEL (self->print_label), error ? error->message : note ? note : sent);
  gtk_widget_set_sensitive (self->print_button, TRUE);
}

static void
print_cb (SbCalibrationWindow *self)
{
  Sheet *sheet = g_new0 (Sheet, 1);
  g_autoptr (GTask) task = g_task_new (self, NULL, sent_cb, NULL);

  sheet->printer = g_strdup (self->printer);
  sheet->width = self->width;
  sheet->height = self->height;
  gtk_widget_set_sensitive (self->print_button, FALSE);
  gtk_label_set_label (GTK_LABEL (self->print_label), _ ("Sending…"));
  g_task_set_task_data (task, sheet, (GDestroyNotify)sheet_free);
  g_task_run_in_thread (task, print_in_thread);
}

/* --- Keeping it --- */

static void
save (SbCalibrationWindow *self, const SbCalibration *calibration, const char *done)
{
  g_autoptr (GError) error = NULL;

  if (!sb_calibration_save (self->printer, self->width, self->height, self->media, calibration,
                            &error)) {
    gtk_label_set_label (GTK_LABEL (self->result_label), error->message);
    gtk_widget_add_css_class (self->result_label, "warning-text");
    return;
  }
  g_signal_emit (self, signals[CALIBRATED], 0);
  sb_desk_say (self->desk, done);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
keep_cb (SbCalibrationWindow *self)
{
  /* An entry that has the focus takes what was typed when it loses it. */
  gtk_window_set_focus (GTK_WINDOW (self), NULL);
  update (self);
  if (gtk_widget_get_sensitive (self->keep_button))
    save (self, &self->calibration, _ ("The printer is calibrated"));
}

static void
clear_cb (SbCalibrationWindow *self)
{
  save (self, &SB_CALIBRATION_NONE, _ ("The calibration is cleared"));
}

/* --- The entries --- */

static void
add_entry (SbCalibrationWindow *self, int reading, int row, const char *label, const char *tip,
           double mm, double most_mm)
{
  GtkWidget *words = gtk_label_new (label);
  SbMeasureEntry *entry =
      g_object_new (SB_TYPE_MEASURE_ENTRY, "label", label, "lower", 0.0, "upper", most_mm, NULL);

  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_tooltip_text (words, tip);
  sb_measure_entry_set_unit (entry, SB_UNIT_MM); /* the sheet's own */
  sb_measure_entry_set_value (entry, mm);
  g_signal_connect_swapped (entry, "committed", G_CALLBACK (update), self);
  gtk_grid_attach (self->grid, words, 0, row, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (entry), 1, row, 1, 1);
  self->entries[reading] = entry;
}

static void
add_heading (SbCalibrationWindow *self, int row, const char *text)
{
  GtkWidget *label = sb_words_new (text, "caption");

  gtk_label_set_max_width_chars (GTK_LABEL (label), 44);
  gtk_grid_attach (self->grid, label, 0, row, 2, 1);
}

static void
add_entries (SbCalibrationWindow *self)
{
  static const char *const edges[] = {N_ ("Lowest mark at the top"), N_ ("Lowest mark right"),
                                      N_ ("Lowest mark at the foot"), N_ ("Lowest mark left")};
  double across, along;
  int row = 0;

  sb_calibration_get_rulers (self->width, self->height, &across, &along);
  g_autofree char *across_label = g_strdup_printf (_ ("Ruler across (%.0f mm)"), across);
  g_autofree char *along_label = g_strdup_printf (_ ("Ruler along (%.0f mm)"), along);
  add_heading (self, row++, _ ("With the TOP arrow up, measure with a good ruler:"));
  add_entry (self, ACROSS, row++, across_label, NULL, across, 2 * across);
  add_entry (self, ALONG, row++, along_label, NULL, along, 2 * along);
  add_entry (self, LEFT, row++, _ ("Left edge to the 20 mm line"),
             _ ("From the paper's left edge to the long line of the scale there"),
             SB_CALIBRATION_LINE_MM, 3 * SB_CALIBRATION_LINE_MM);
  add_entry (self, TOP, row++, _ ("Top edge to the 20 mm line"),
             _ ("From the paper's top edge to the long line of the scale there"),
             SB_CALIBRATION_LINE_MM, 3 * SB_CALIBRATION_LINE_MM);
  add_heading (self, row++,
               _ ("On each edge's scale, the lowest mark that was printed (0 when all "
                  "of them were):"));
  for (int i = 0; i < 4; i++)
    add_entry (self, FIRST_TOP + i, row++, _ (edges[i]), NULL, 0, SB_CALIBRATION_LINE_MM);
}

/* --- The object --- */

static void
sb_calibration_window_dispose (GObject *object)
{
  SbCalibrationWindow *self = SB_CALIBRATION_WINDOW (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->printer, g_free);
  g_clear_pointer (&self->media, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_CALIBRATION_WINDOW);
  G_OBJECT_CLASS (sb_calibration_window_parent_class)->dispose (object);
}

static void
sb_calibration_window_class_init (SbCalibrationWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_calibration_window_dispose;
  gtk_widget_class_set_template_from_resource (
      widget_class, "/org/stickleback/Stickleback/calibration-window.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbCalibrationWindow, name)
  BIND (about_label);
  BIND (print_button);
  BIND (print_label);
  BIND (grid);
  BIND (result_label);
  BIND (clear_button);
  BIND (keep_button);
#undef BIND
  gtk_widget_class_bind_template_callback (widget_class, print_cb);
  gtk_widget_class_bind_template_callback (widget_class, keep_cb);
  gtk_widget_class_bind_template_callback (widget_class, clear_cb);
  signals[CALIBRATED] = g_signal_new ("calibrated", SB_TYPE_CALIBRATION_WINDOW, G_SIGNAL_RUN_LAST,
                                      0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sb_calibration_window_init (SbCalibrationWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sb_calibration_window_new (GtkWindow *parent, SbDesk *desk)
{
  SbCalibrationWindow *self =
      g_object_new (SB_TYPE_CALIBRATION_WINDOW, "transient-for", parent, NULL);
  SbState *state = sb_desk_get_settled (desk);
  SbCalibration kept = sb_calibration_load_for (state);
  const SbPaper *paper = sb_paper_find_size (state->page_width, state->page_height);

  self->desk = g_object_ref (desk);
  self->printer = g_strdup (state->printer);
  self->media = g_strdup (state->stock.name);
  self->width = MIN (state->page_width, state->page_height);
  self->height = MAX (state->page_width, state->page_height);
  g_autofree char *own = sb_length_format_size (
      sb_um_to_mm (self->width), sb_um_to_mm (self->height), sb_desk_get_unit (desk));
  /* Translators: a printer, a paper and a stock */
  g_autofree char *about = g_strdup_printf (_ ("%s with %s, %s"), self->printer,
                                            paper ? _ (paper->label) : own, self->media);
  gtk_label_set_label (GTK_LABEL (self->about_label), about);
  gtk_widget_set_visible (self->clear_button, !sb_calibration_is_none (&kept));
  add_entries (self);
  update (self);
  return GTK_WIDGET (self);
}
