/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/parts/wheel.h"

static void
ignore_wheel (GtkWidget *widget)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
    if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
      gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_NONE);
  }
}

void
sb_wheel_pass_on (GtkWidget *widget)
{
  if (GTK_IS_SCALE (widget) || GTK_IS_SPIN_BUTTON (widget))
    ignore_wheel (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    sb_wheel_pass_on (child);
}
