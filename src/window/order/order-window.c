/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-window.h"

#include <glib/gi18n.h>
#include <string.h>

#include "job/edit.h"
#include "job/safe-file.h"
#include "order/finish.h"
#include "order/tables.h"
#include "output/order-papers.h"
#include "window/order/order-form.h"
#include "window/order/order-laying.h"
#include "window/order/order-result.h"

#define WINDOW_KEY "order-window"
#define WIDTH 1180
#define HEIGHT 720
#define FORM_WIDTH 640

typedef struct {
  GtkWindow *parent;
  GtkWindow *window;
  SbDesk *desk;
  SbOrderResult *result;
  GtkBox *work_area;
} Order;

/* --- Papers --- */

typedef enum {
  PAPER_TICKS,
  PAPER_SLIP,
  PAPER_TABLE,
} Paper;

static const struct {
  const char *action, *title, *name;
} papers[] = {
    [PAPER_TICKS] = {"tick-list", N_ ("Save the Tick List"), N_ ("tick list.pdf")},
    [PAPER_SLIP] = {"slip", N_ ("Save the Packing Slip"), N_ ("packing slip.pdf")},
    [PAPER_TABLE] = {"table", N_ ("Save the Table"), N_ ("order.csv")},
};

static GBytes *
make_paper (Order *order, Paper paper, GError **error)
{
  const SbState *state = sb_desk_get_whole (order->desk);
  const SbBill *bill = sb_order_result_get_bill (order->result);

  switch (paper) {
  case PAPER_TICKS:
    return sb_order_make_tick_list (state, error);
  case PAPER_SLIP:
    return sb_order_make_packing_slip (state, error);
  case PAPER_TABLE:
  default:
    break;
  }
  if (!bill) {
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_BUSY,
                         _ ("The order is still being reckoned. Try again in a moment."));
    return NULL;
  }
  char *csv = sb_order_to_csv (state, bill);
  return g_bytes_new_take (csv, strlen (csv));
}

static gboolean
write_paper (Order *order, Paper paper, const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = make_paper (order, paper, error);
  g_autoptr (SbSafeFile) file = bytes ? sb_safe_file_open (path, error) : NULL;

  if (!file)
    return FALSE;
  sb_safe_file_write (file, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return sb_safe_file_commit (g_steal_pointer (&file), error);
}

typedef struct {
  Order *order;
  Paper paper;
} Saving;

static void
save_response_cb (GtkNativeDialog *dialog, int response, Saving *saving)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                               ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog))
                               : NULL;
  const char *path = file ? g_file_peek_path (file) : NULL;
  g_autoptr (GError) error = NULL;

  if (path && !write_paper (saving->order, saving->paper, path, &error))
    sb_desk_fail (saving->order->desk, _ ("The paper was not saved"), error->message);
  g_object_unref (dialog);
}

static void
save_paper (Order *order, Paper paper)
{
  GtkFileChooserNative *chooser =
      gtk_file_chooser_native_new (_ (papers[paper].title), order->window,
                                   GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));
  Saving *saving = g_new0 (Saving, 1);

  saving->order = order;
  saving->paper = paper;
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), _ (papers[paper].name));
  g_signal_connect_data (chooser, "response", G_CALLBACK (save_response_cb), saving,
                         (GClosureNotify)(void (*) (void))g_free, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
paper_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_str_equal (papers[i].action, g_action_get_name (G_ACTION (action))))
      save_paper (user_data, (Paper)i);
}

/* --- The order as a whole --- */

static void
lay_out_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Order *order = user_data;

  sb_order_laying_start (order->window, order->work_area, order->desk);
}

static void
done_cb (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Order *order = user_data;
  SbState *state = sb_desk_get_whole (order->desk);

  sb_job_edit (sb_desk_get_job (order->desk), sb_edit_set_order (state, sb_order_finish (state)),
               _ ("Leftovers to Stock"), NULL);
  sb_desk_say_undo (order->desk, _ ("The order is done; what is left went to stock"));
}

static const GActionEntry actions[] = {
    {.name = "tick-list", .activate = paper_cb}, {.name = "slip", .activate = paper_cb},
    {.name = "table", .activate = paper_cb},     {.name = "lay-out", .activate = lay_out_cb},
    {.name = "done", .activate = done_cb},
};

static GtkWidget *
button_new (const char *label, const char *action, const char *tip)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_tooltip_text (button, tip);
  return button;
}

static GtkWidget *
header_new (void)
{
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *lay_out = button_new (_ ("_Lay Out"), "order.lay-out",
                                   _ ("Lay the order on new pages, in the fewest sheets"));
  GtkWidget *more = gtk_menu_button_new ();
  g_autoptr (GMenu) menu = g_menu_new ();

  g_menu_append (menu, _ ("_Tick List…"), "order.tick-list");
  g_menu_append (menu, _ ("_Packing Slip…"), "order.slip");
  g_menu_append (menu, _ ("T_able…"), "order.table");
  gtk_menu_button_set_label (GTK_MENU_BUTTON (more), _ ("_Papers"));
  gtk_menu_button_set_use_underline (GTK_MENU_BUTTON (more), TRUE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (more), G_MENU_MODEL (menu));
  gtk_widget_add_css_class (lay_out, "suggested-action");
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), lay_out);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), more);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header),
                           button_new (_ ("_Done: Leftovers to Stock"), "order.done",
                                       _ ("The order is made: what is left goes to stock")));
  return header;
}

static GtkWidget *
scrolled_new (GtkWidget *child)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  gtk_widget_set_margin_top (child, 12);
  gtk_widget_set_margin_bottom (child, 12);
  gtk_widget_set_margin_start (child, 12);
  gtk_widget_set_margin_end (child, 12);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), child);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
body_new (Order *order)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *paned = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  GtkWidget *result = sb_order_result_new (order->desk);

  order->result = SB_ORDER_RESULT (result);
  order->work_area = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  gtk_paned_set_start_child (GTK_PANED (paned), scrolled_new (sb_order_form_new (order->desk)));
  GtkWidget *result_scrolled = scrolled_new (result);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (result_scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC); /* its lines wrap */
  gtk_paned_set_end_child (GTK_PANED (paned), result_scrolled);
  gtk_paned_set_shrink_end_child (GTK_PANED (paned), FALSE);
  gtk_paned_set_position (GTK_PANED (paned), FORM_WIDTH);
  gtk_widget_set_vexpand (paned, TRUE);
  gtk_box_append (GTK_BOX (box), paned);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (order->work_area));
  return box;
}

static void
destroyed_cb (GtkWidget *window, Order *order)
{
  g_object_set_data (G_OBJECT (order->parent), WINDOW_KEY, NULL);
  g_object_unref (order->desk);
  g_object_unref (order->parent);
  g_free (order);
}

static void
add_keys (GtkWidget *window)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (keys), GTK_SHORTCUT_SCOPE_GLOBAL);
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_shortcut_trigger_parse_string ("Escape"),
                        gtk_named_action_new ("window.close")));
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_shortcut_trigger_parse_string ("<Control>r"),
                        gtk_named_action_new ("order.lay-out")));
  gtk_widget_add_controller (window, keys);
}

void
sb_order_window_show (GtkWindow *parent, SbDesk *desk)
{
  GtkWindow *open = g_object_get_data (G_OBJECT (parent), WINDOW_KEY);
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();

  if (open) {
    gtk_window_present (open);
    return;
  }
  Order *order = g_new0 (Order, 1);
  order->parent = g_object_ref (parent);
  order->desk = g_object_ref (desk);
  GtkWidget *window = gtk_window_new ();
  order->window = GTK_WINDOW (window);
  gtk_window_set_title (order->window, _ ("Order and Cost"));
  gtk_window_set_transient_for (order->window, parent);
  gtk_window_set_destroy_with_parent (order->window, TRUE);
  gtk_window_set_default_size (order->window, WIDTH, HEIGHT);
  g_action_map_add_action_entries (G_ACTION_MAP (group), actions, G_N_ELEMENTS (actions), order);
  gtk_widget_insert_action_group (window, "order", G_ACTION_GROUP (group));
  gtk_window_set_titlebar (order->window, header_new ());
  gtk_window_set_child (order->window, body_new (order));
  add_keys (window);
  g_signal_connect (window, "destroy", G_CALLBACK (destroyed_cb), order);
  g_object_set_data (G_OBJECT (parent), WINDOW_KEY, window);
  gtk_window_present (order->window);
}
