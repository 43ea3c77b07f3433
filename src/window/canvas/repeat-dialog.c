/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/canvas-private.h"
#include "window/canvas/repeat-dialog.h"
#include "window/desk/piece-edits.h"
#include "window/parts/dialog-frame.h"
#include "window/parts/measure-entry.h"

#define MOST 50 /* columns, rows */
#define GAP_MOST_MM 100

typedef struct {
  SbCanvas *canvas; /* borrowed: the dialog is modal to its window */
  GtkWindow *window;
  GtkSpinButton *columns, *rows;
  SbMeasureEntry *gap;
  GtkLabel *told;
  SbIBox box;  /* of the selected pieces' outlines, um */
  SbIBox area; /* printable */
  guint n;
} Repeat;

static sb_um
get_step (Repeat *repeat, sb_um size)
{
  return size + sb_um_from_mm (sb_measure_entry_get_value (repeat->gap));
}

static int
get_columns (Repeat *repeat)
{
  return gtk_spin_button_get_value_as_int (repeat->columns);
}

static int
get_rows (Repeat *repeat)
{
  return gtk_spin_button_get_value_as_int (repeat->rows);
}

static void
tell (Repeat *repeat)
{
  sb_um step_x = get_step (repeat, repeat->box.x1 - repeat->box.x0);
  sb_um step_y = get_step (repeat, repeat->box.y1 - repeat->box.y0);
  int columns = get_columns (repeat), rows = get_rows (repeat);
  int fit_x = 1 + MAX (repeat->area.x1 - repeat->box.x1, 0) / step_x;
  int fit_y = 1 + MAX (repeat->area.y1 - repeat->box.y1, 0) / step_y;
  guint total = (guint)(columns * rows) * repeat->n;
  gboolean fits = columns <= fit_x && rows <= fit_y;
  g_autofree char *all = g_strdup_printf (ngettext ("%u piece", "%u pieces", total), total);
  /* Translators: how many pieces, then columns by rows from where the pieces lie */
  g_autofree char *text =
      g_strdup_printf (fits ? _ ("%s. From here %d × %d fit onto the paper.")
                            : _ ("%s. From here only %d × %d fit onto the paper."),
                       all, fit_x, fit_y);

  gtk_label_set_label (repeat->told, text);
  if (fits)
    gtk_widget_remove_css_class (GTK_WIDGET (repeat->told), "warning-text");
  else
    gtk_widget_add_css_class (GTK_WIDGET (repeat->told), "warning-text");
}

static void
apply_cb (Repeat *repeat)
{
  /* An entry that has the focus takes what was typed when it loses it. */
  gtk_window_set_focus (repeat->window, NULL);
  gtk_widget_activate_action (GTK_WIDGET (repeat->canvas), "pieces.repeat", "(uuii)",
                              (guint)get_columns (repeat), (guint)get_rows (repeat),
                              get_step (repeat, repeat->box.x1 - repeat->box.x0),
                              get_step (repeat, repeat->box.y1 - repeat->box.y0));
  gtk_window_destroy (repeat->window);
}

static void
add_row (GtkGrid *grid, int row, const char *words, GtkWidget *widget)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), widget);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, widget, 1, row, 1, 1);
}

static GtkSpinButton *
add_count (Repeat *repeat, GtkGrid *grid, int row, const char *words, int value)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (1, MOST, 1);

  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), value);
  g_signal_connect_swapped (spin, "value-changed", G_CALLBACK (tell), repeat);
  add_row (grid, row, words, spin);
  return GTK_SPIN_BUTTON (spin);
}

static gboolean
return_cb (GtkWidget *grid, GVariant *parameter, gpointer repeat)
{
  apply_cb (repeat);
  return TRUE;
}

/* Spin buttons would keep the key to themselves. */
static void
apply_by_return (Repeat *repeat, GtkWidget *grid)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  for (const guint *key = (const guint[]){GDK_KEY_Return, GDK_KEY_KP_Enter, 0}; *key; key++)
    gtk_shortcut_controller_add_shortcut (
        GTK_SHORTCUT_CONTROLLER (keys),
        gtk_shortcut_new (gtk_keyval_trigger_new (*key, (GdkModifierType)0),
                          gtk_callback_action_new (return_cb, repeat, NULL)));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (grid, keys);
}

static GtkWidget *
build_body (Repeat *repeat, SbState *state, SbUnit unit)
{
  GtkWidget *grid = gtk_grid_new ();

  g_object_set (grid, "row-spacing", 6, "column-spacing", 12, "margin-top", 18, "margin-bottom", 18,
                "margin-start", 18, "margin-end", 18, NULL);
  repeat->told = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_wrap (repeat->told, TRUE);
  gtk_label_set_xalign (repeat->told, 0);
  gtk_label_set_max_width_chars (repeat->told, 40);
  gtk_widget_set_margin_top (GTK_WIDGET (repeat->told), 6);
  repeat->gap = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ ("Gap between outlines"), "lower",
                              0.0, "upper", (double)GAP_MOST_MM, NULL);
  sb_measure_entry_set_unit (repeat->gap, unit);
  sb_measure_entry_set_value (repeat->gap, sb_um_to_mm (state->gap));
  g_signal_connect_swapped (repeat->gap, "committed", G_CALLBACK (tell), repeat);
  repeat->columns = add_count (repeat, GTK_GRID (grid), 0, _ ("C_olumns"), 2);
  repeat->rows = add_count (repeat, GTK_GRID (grid), 1, _ ("_Rows"), 1);
  add_row (GTK_GRID (grid), 2, _ ("_Gap between outlines"), GTK_WIDGET (repeat->gap));
  gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (repeat->told), 0, 3, 2, 1);
  apply_by_return (repeat, grid);
  return grid;
}

void
sb_repeat_dialog_open (SbCanvas *canvas)
{
  SbPagesView *pages = sb_canvas_get_pages_view (canvas);
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (pages));
  GtkWidget *apply = gtk_button_new_with_mnemonic (_ ("_Repeat"));
  Repeat *repeat = g_new0 (Repeat, 1);
  const guint *ids = sb_selection_get_pieces (sb_pages_view_get_selection (pages), &repeat->n);

  repeat->canvas = canvas;
  repeat->box = sb_pieces_get_box (state, ids, repeat->n);
  repeat->area = sb_state_get_printable_box (state);
  repeat->window = GTK_WINDOW (gtk_window_new ());
  sb_dialog_frame (repeat->window, GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (canvas))),
                   _ ("Repeat in a Grid"), apply);
  gtk_window_set_resizable (repeat->window, FALSE);
  g_object_set_data_full (G_OBJECT (repeat->window), "sb-repeat", repeat, g_free);
  g_signal_connect_swapped (apply, "clicked", G_CALLBACK (apply_cb), repeat);
  gtk_window_set_child (repeat->window, build_body (repeat, state, sb_pages_view_get_unit (pages)));
  gtk_widget_grab_focus (GTK_WIDGET (repeat->columns));
  tell (repeat);
  gtk_window_present (repeat->window);
}
