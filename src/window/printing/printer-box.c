/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "output/check-bar.h"
#include "printing/calibration.h"
#include "printing/media.h"
#include "window/parts/measure-entry.h"
#include "window/printing/calibration-window.h"
#include "window/printing/printer-box.h"
#include "window/printing/printer-margins.h"

struct _SbPrinterBox {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkDropDown *printer_drop;
  GtkWidget *printer_label;
  GtkCheckButton *borderless_check;
  GtkWidget *overshoot_box;
  SbMeasureEntry *overshoot_entry;
  GtkWidget *calibration_box;
  GtkWidget *calibration_label;
  GtkCheckButton *bar_check;
  GtkWidget *bar_label;
  GtkWidget *advice_label;
  GtkWidget *gate_label;

  /* owned */
  SbDesk *desk;
  GPtrArray *printers; /* SbPrinter; or NULL before they are known */
  SbState *shown;      /* what the labels tell of */

  char *paper_asked; /* printer and paper of `paper`, or NULL */
  SbPaperAnswer paper;

  gboolean asked;    /* the print service has been asked for printers */
  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbPrinterBox, sb_printer_box, GTK_TYPE_WIDGET)

static const SbPrinter *
get_printer (SbPrinterBox *self)
{
  const char *chosen = sb_desk_get_settled (self->desk)->printer;

  for (guint i = 0; chosen && self->printers && i < self->printers->len; i++)
    if (g_str_equal (((SbPrinter *)self->printers->pdata[i])->name, chosen))
      return self->printers->pdata[i];
  return NULL;
}

static void
set_told (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* --- What is shown --- */

static void
update_printer (SbPrinterBox *self)
{
  const SbPrinter *printer = get_printer (self);
  guint position = 0;

  if (printer && g_ptr_array_find (self->printers, printer, &position))
    position++;
  gtk_drop_down_set_selected (self->printer_drop, position);
}

/* "Cannot print: 6.4 mm at the top, …" */
static void
update_strip (SbPrinterBox *self, SbState *state, SbUnit unit)
{
  g_autofree char *top = sb_length_format_fine (sb_um_to_mm (state->margins.top), unit);
  g_autofree char *right = sb_length_format_fine (sb_um_to_mm (state->margins.right), unit);
  g_autofree char *bottom = sb_length_format_fine (sb_um_to_mm (state->margins.bottom), unit);
  g_autofree char *left = sb_length_format_fine (sb_um_to_mm (state->margins.left), unit);
  g_autofree char *strip = g_strdup_printf (
      state->overshoot > 0
          ? _ ("Lost past the edges: %s at the top, %s right, %s at the foot, %s left.")
          : _ ("Cannot print: %s at the top, %s right, %s at the foot, %s left."),
      top, right, bottom, left);
  const char *source = state->margins_source == SB_MARGINS_TYPED     ? _ ("Typed by you.")
                       : state->margins_source == SB_MARGINS_PRINTER ? _ ("As the printer says.")
                       : state->printer
                           ? _ ("The printer does not say; what nearly any can do is assumed.")
                           : _ ("What nearly any printer can do.");
  const char *service = self->asked && !self->printers ? _ ("No print service answers.") : "";
  g_autofree char *text = g_strdup_printf ("%s %s\n%s", strip, source, service);

  gtk_label_set_label (GTK_LABEL (self->printer_label), g_strchomp (text));
}

static void
update_borderless (SbPrinterBox *self, SbState *state, SbUnit unit)
{
  gboolean on = state->overshoot > 0;
  gboolean only = self->paper_asked && self->paper.answer == SB_MARGINS_BORDERLESS;
  gboolean can = self->paper_asked && self->paper.borderless_too;

  gtk_check_button_set_active (self->borderless_check, on);
  gtk_widget_set_sensitive (GTK_WIDGET (self->borderless_check), !only);
  gtk_widget_set_visible (GTK_WIDGET (self->borderless_check), on || only || can);
  gtk_widget_set_visible (self->overshoot_box, on);
  sb_measure_entry_set_unit (self->overshoot_entry, unit);
  sb_measure_entry_set_value (self->overshoot_entry, sb_um_to_mm (state->overshoot));
}

static void
update_calibration (SbPrinterBox *self, SbState *state, SbUnit unit)
{
  gtk_widget_set_visible (self->calibration_box, state->printer != NULL);
  if (!state->printer)
    return;
  SbCalibration calibration = sb_calibration_load_for (state);
  g_autofree char *told = sb_calibration_tell (&calibration, unit);
  g_autofree char *text =
      sb_calibration_is_none (&calibration)
          ? g_strdup (_ ("Not calibrated for this paper and stock"))
          /* Translators: what a calibration says, "101.5 % across, …" */
          : g_strdup_printf (_ ("Calibrated: prints %s; that is taken back."), told);
  gtk_label_set_label (GTK_LABEL (self->calibration_label), text);
}

static void
update_bar (SbPrinterBox *self, SbState *state)
{
  g_autofree char *text = NULL;
  guint without = 0, last = 0;

  for (guint i = 0; state->check_bar && i < state->pages->len; i++) {
    SbIBox room;
    gboolean upright;
    if (sb_check_bar_find_room (state, i, &room, &upright))
      continue;
    without++;
    last = i + 1;
  }
  if (without == 1)
    text = g_strdup_printf (_ ("Page %u has no room for it."), last);
  else if (without > 1)
    text = g_strdup_printf (
        ngettext ("%u page has no room for it.", "%u pages have no room for it.", without),
        without);
  gtk_check_button_set_active (self->bar_check, state->check_bar);
  set_told (self->bar_label, text);
}

static void
update_stock (SbPrinterBox *self, SbState *state)
{
  const SbPrinter *printer = get_printer (self);
  SbPrinterKind kind = printer ? printer->kind : SB_PRINTER_KIND_UNKNOWN;
  g_autofree char *advice = sb_media_advice (&state->stock, kind);
  g_autofree char *about = g_strdup_printf ("%s\n%s", sb_stock_get_label (&state->stock), advice);
  g_autofree char *caution = NULL;

  gtk_label_set_label (GTK_LABEL (self->advice_label), about);
  if (printer)
    sb_media_check (&state->stock, kind, FALSE, &caution);
  set_told (self->gate_label, caution);
}

static void
update (SbPrinterBox *self)
{
  SbState *state = sb_desk_get_settled (self->desk);
  SbUnit unit = sb_desk_get_unit (self->desk);

  self->updating = TRUE;
  update_printer (self);
  update_strip (self, state, unit);
  update_borderless (self, state, unit);
  update_calibration (self, state, unit);
  update_bar (self, state);
  update_stock (self, state);
  self->updating = FALSE;
}

/* --- Asking the printer about the paper --- */

typedef struct {
  char *key;
  char *printer;
  sb_um width, height; /* portrait */
  SbPaperAnswer paper;
} Question;

static void
question_free (Question *question)
{
  g_free (question->key);
  g_free (question->printer);
  g_free (question);
}

static void
ask_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Question *question = data;
  GError *error = NULL;

  if (sb_printer_ask_paper (question->printer, question->width, question->height, &question->paper,
                            &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbPrinterBox *self = SB_PRINTER_BOX (source);
  Question *question = g_task_get_task_data (G_TASK (result));

  if (!self->desk || g_strcmp0 (self->paper_asked, question->key) != 0 ||
      !g_task_propagate_boolean (G_TASK (result), NULL))
    return;
  self->paper = question->paper;
  update (self);
}

/* When the printer or the paper are others than before. */
static void
ask_paper (SbPrinterBox *self)
{
  SbState *state = sb_desk_get_settled (self->desk);
  sb_um width = MIN (state->page_width, state->page_height);
  sb_um height = MAX (state->page_width, state->page_height);
  g_autofree char *key =
      get_printer (self) ? g_strdup_printf ("%s %dx%d", state->printer, width, height) : NULL;

  if (g_strcmp0 (key, self->paper_asked) == 0)
    return;
  g_free (self->paper_asked);
  self->paper_asked = g_strdup (key);
  self->paper = (SbPaperAnswer){0};
  if (!key)
    return;
  Question *question = g_new0 (Question, 1);
  question->key = g_steal_pointer (&key);
  question->printer = g_strdup (state->printer);
  question->width = width;
  question->height = height;
  g_autoptr (GTask) task = g_task_new (self, NULL, answered_cb, NULL);
  g_task_set_task_data (task, question, (GDestroyNotify)question_free);
  g_task_run_in_thread (task, ask_in_thread);
}

/* A change that is only under way (a drag) is waited for: the settled state changes once. */
static void
job_changed_cb (SbPrinterBox *self)
{
  SbState *state = sb_desk_get_settled (self->desk);

  if (!gtk_widget_get_mapped (GTK_WIDGET (self)) || state == self->shown)
    return;
  g_clear_pointer (&self->shown, sb_state_unref);
  self->shown = sb_state_ref (state);
  ask_paper (self);
  update (self);
}

static void
unit_changed_cb (SbPrinterBox *self)
{
  g_clear_pointer (&self->shown, sb_state_unref);
  job_changed_cb (self);
}

/* --- The list of printers --- */

static void
list_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  GPtrArray *printers = sb_printers_list (&error);

  if (printers)
    g_task_return_pointer (task, printers, (GDestroyNotify)g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

static void
listed_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbPrinterBox *self = SB_PRINTER_BOX (source);
  g_autoptr (GPtrArray) printers = g_task_propagate_pointer (G_TASK (result), NULL);
  g_autoptr (GtkStringList) names = NULL;

  if (!self->desk)
    return;
  self->printers = g_steal_pointer (&printers);
  names = gtk_string_list_new ((const char *[]){_ ("Any printer"), NULL});
  for (guint i = 0; self->printers && i < self->printers->len; i++)
    gtk_string_list_append (names, ((SbPrinter *)self->printers->pdata[i])->label);
  self->updating = TRUE;
  gtk_drop_down_set_model (self->printer_drop, G_LIST_MODEL (names));
  self->updating = FALSE;
  unit_changed_cb (self);
  /* What it says may have changed since the job was saved. */
  const SbPrinter *printer = get_printer (self);
  if (printer && sb_desk_get_settled (self->desk)->margins_source != SB_MARGINS_TYPED)
    sb_printer_margins_ask (self->desk, printer->name);
}

/* The print service may be slow to answer, so it is asked when the proof is first seen. */
static void
sb_printer_box_map (GtkWidget *widget)
{
  SbPrinterBox *self = SB_PRINTER_BOX (widget);

  GTK_WIDGET_CLASS (sb_printer_box_parent_class)->map (widget);
  job_changed_cb (self);
  if (self->asked)
    return;
  self->asked = TRUE;
  g_autoptr (GTask) task = g_task_new (self, NULL, listed_cb, NULL);
  g_task_run_in_thread (task, list_in_thread);
}

/* --- What the maker changes --- */

static void
printer_changed_cb (SbPrinterBox *self)
{
  guint selected = gtk_drop_down_get_selected (self->printer_drop);

  if (self->updating || !self->desk || selected == GTK_INVALID_LIST_POSITION)
    return;
  const SbPrinter *printer = selected > 0 && self->printers && selected <= self->printers->len
                                 ? self->printers->pdata[selected - 1]
                                 : NULL;
  const char *before = sb_desk_get_settled (self->desk)->printer;
  const char *now = printer ? printer->name : NULL;
  if (g_strcmp0 (before, now) != 0)
    sb_printer_margins_ask (self->desk, now);
}

static void
set_overshoot (SbPrinterBox *self, sb_um overshoot)
{
  sb_job_edit (sb_desk_get_job (self->desk),
               sb_edit_set_borderless (sb_desk_get_settled (self->desk), overshoot),
               _ ("Print Borderless"), "overshoot");
}

static void
borderless_toggled_cb (SbPrinterBox *self)
{
  if (self->updating || !self->desk)
    return;
  if (gtk_check_button_get_active (self->borderless_check))
    set_overshoot (self, SB_OVERSHOOT_UM);
  else
    sb_printer_margins_leave_borderless (self->desk);
}

static void
overshoot_committed_cb (SbPrinterBox *self, double mm)
{
  if (!self->updating)
    set_overshoot (self, sb_um_from_mm (mm));
}

static void
bar_toggled_cb (SbPrinterBox *self)
{
  if (self->updating || !self->desk)
    return;
  gboolean active = gtk_check_button_get_active (self->bar_check);
  sb_job_edit (sb_desk_get_job (self->desk),
               sb_edit_set_check_bar (sb_desk_get_settled (self->desk), active), _ ("Check Bar"),
               NULL);
}

static void
calibrated_cb (SbPrinterBox *self)
{
  SbState *state = sb_desk_get_settled (self->desk);

  update (self);
  if (state->printer && state->margins_source != SB_MARGINS_TYPED)
    sb_printer_margins_ask (self->desk, state->printer);
}

static void
calibrate_cb (SbPrinterBox *self)
{
  GtkWindow *parent = GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
  GtkWidget *window = sb_calibration_window_new (parent, self->desk);

  g_signal_connect_object (window, "calibrated", G_CALLBACK (calibrated_cb), self,
                           G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (window));
}

/* --- The object --- */

static void
sb_printer_box_dispose (GObject *object)
{
  SbPrinterBox *self = SB_PRINTER_BOX (object);

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
  }
  self->updating = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_PRINTER_BOX);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->printers, g_ptr_array_unref);
  g_clear_pointer (&self->shown, sb_state_unref);
  g_clear_pointer (&self->paper_asked, g_free);
  G_OBJECT_CLASS (sb_printer_box_parent_class)->dispose (object);
}

static void
sb_printer_box_class_init (SbPrinterBoxClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_printer_box_dispose;
  widget_class->map = sb_printer_box_map;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/printer-box.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget_class, SbPrinterBox, name)
  BIND (box);
  BIND (printer_drop);
  BIND (printer_label);
  BIND (borderless_check);
  BIND (overshoot_box);
  BIND (overshoot_entry);
  BIND (calibration_box);
  BIND (calibration_label);
  BIND (bar_check);
  BIND (bar_label);
  BIND (advice_label);
  BIND (gate_label);
#undef BIND
#define BIND(name) gtk_widget_class_bind_template_callback (widget_class, name)
  BIND (printer_changed_cb);
  BIND (borderless_toggled_cb);
  BIND (overshoot_committed_cb);
  BIND (bar_toggled_cb);
  BIND (calibrate_cb);
#undef BIND
}

static void
sb_printer_box_init (SbPrinterBox *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new ((const char *[]){_ ("Any printer"), NULL});

  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_drop_down_set_model (self->printer_drop, G_LIST_MODEL (names));
  self->updating = FALSE;
}

void
sb_printer_box_set_desk (SbPrinterBox *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_PRINTER_BOX (self));
  g_return_if_fail (self->desk == NULL);

  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (job_changed_cb), self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit",
                            G_CALLBACK (unit_changed_cb), self);
}
