/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/desk/recent.h"
#include "window/shell/recent-popover.h"

struct _SbRecentPopover {
  GtkPopover parent_instance;

  GtkListBox *list;
  GtkWidget *none;
};

G_DEFINE_FINAL_TYPE (SbRecentPopover, sb_recent_popover, GTK_TYPE_POPOVER)

enum {
  OPEN_RECENT,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
activated_cb (SbRecentPopover *self, GtkListBoxRow *row)
{
  g_autofree char *uri = g_strdup (sb_recent_row_get_uri (row));

  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit (self, signals[OPEN_RECENT], 0, uri);
}

static void
shown_cb (SbRecentPopover *self)
{
  gtk_widget_set_visible (self->none, sb_recent_fill (self->list) == 0);
}

static void
sb_recent_popover_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SB_TYPE_RECENT_POPOVER);
  G_OBJECT_CLASS (sb_recent_popover_parent_class)->dispose (object);
}

static void
sb_recent_popover_class_init (SbRecentPopoverClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_recent_popover_dispose;
  signals[OPEN_RECENT] = g_signal_new ("open-recent", SB_TYPE_RECENT_POPOVER, G_SIGNAL_RUN_LAST, 0,
                                       NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/recent-popover.ui");
  gtk_widget_class_bind_template_child (widget_class, SbRecentPopover, list);
  gtk_widget_class_bind_template_child (widget_class, SbRecentPopover, none);
  gtk_widget_class_bind_template_callback (widget_class, activated_cb);
}

static void
sb_recent_popover_init (SbRecentPopover *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self, "show", G_CALLBACK (shown_cb), NULL);
}
