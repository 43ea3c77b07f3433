/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/drawer/layouts-pane.h"
#include "window/shell/foot.h"

struct _SbFoot {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkWidget *figures_label;
  GtkAdjustment *zoom_adjustment;
  GtkWidget *zoom_label;

  /* owned */
  SbDesk *desk;
  SbCanvas *canvas;

  gboolean updating;
};

G_DEFINE_FINAL_TYPE (SbFoot, sb_foot, GTK_TYPE_WIDGET)

/* The slider moves evenly in steps of the eye: by the logarithm. */
static void
zoom_moved_cb (SbFoot *self)
{
  if (!self->updating && self->canvas)
    g_object_set (self->canvas, "zoom", exp2 (gtk_adjustment_get_value (self->zoom_adjustment)),
                  NULL);
}

static void
zoom_changed_cb (SbFoot *self)
{
  double zoom = 1;

  g_object_get (self->canvas, "zoom", &zoom, NULL);
  self->updating = TRUE;
  gtk_adjustment_set_value (self->zoom_adjustment, log2 (zoom));
  self->updating = FALSE;
  g_autofree char *text = g_strdup_printf (_ ("%.0f %%"), zoom * 100);
  gtk_label_set_label (GTK_LABEL (self->zoom_label), text);
}

static char *
describe_free_spot (SbFoot *self, const SbPageFigures *figures)
{
  SbIBox spot = figures->free_spot;

  if (spot.x1 <= spot.x0 || spot.y1 <= spot.y0)
    return g_strdup (_ ("no free spot"));
  g_autofree char *size =
      sb_length_format_size (sb_um_to_mm (spot.x1 - spot.x0), sb_um_to_mm (spot.y1 - spot.y0),
                             sb_desk_get_unit (self->desk));
  return g_strdup_printf (_ ("largest free spot %s"), size);
}

/* "Page 1 of 2 · 26 pieces · 18.4 % waste · largest free spot 38 × 31 mm"; what a sheet or card
 * leaves free is no waste: it is meant to be. */
static void
update_figures (SbFoot *self)
{
  SbState *state = sb_desk_get_state (self->desk);
  guint n_pages = state->pages->len;
  guint page = 0;

  g_object_get (self->canvas, "page", &page, NULL);
  const SbPageFigures *figures = sb_checker_get_figures (sb_desk_get_checker (self->desk), page);
  g_autofree char *pages =
      state->view ? g_strdup (sb_layout_kind_get_word (state->view->kind))
                  : g_strdup_printf (_ ("Page %u of %u"), MIN (page, n_pages - 1) + 1, n_pages);
  if (!figures) {
    gtk_label_set_label (GTK_LABEL (self->figures_label), pages);
    return;
  }
  g_autofree char *pieces =
      g_strdup_printf (ngettext ("%u piece", "%u pieces", figures->pieces), figures->pieces);
  g_autofree char *waste = g_strdup_printf (state->view ? _ ("%.1f %% free") : _ ("%.1f %% waste"),
                                            figures->waste_percent);
  g_autofree char *spot = describe_free_spot (self, figures);
  g_autofree char *text = g_strdup_printf ("%s · %s · %s · %s", pages, pieces, waste, spot);
  gtk_label_set_label (GTK_LABEL (self->figures_label), text);
  gtk_widget_set_tooltip_text (self->figures_label, text);
}

static void
sb_foot_dispose (GObject *object)
{
  SbFoot *self = SB_FOOT (object);

  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_checker (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_preferences (self->desk), self);
    g_signal_handlers_disconnect_by_data (self->canvas, self);
  }
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_FOOT);
  g_clear_object (&self->canvas);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_foot_parent_class)->dispose (object);
}

static void
sb_foot_class_init (SbFootClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_foot_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "foot");
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/foot.ui");
  gtk_widget_class_bind_template_child (widget_class, SbFoot, box);
  gtk_widget_class_bind_template_child (widget_class, SbFoot, figures_label);
  gtk_widget_class_bind_template_child (widget_class, SbFoot, zoom_adjustment);
  gtk_widget_class_bind_template_child (widget_class, SbFoot, zoom_label);
  gtk_widget_class_bind_template_callback (widget_class, zoom_moved_cb);
}

static void
sb_foot_init (SbFoot *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_adjustment_set_lower (self->zoom_adjustment, log2 (SB_ZOOM_LEAST));
  gtk_adjustment_set_upper (self->zoom_adjustment, log2 (SB_ZOOM_MOST));
}

GtkWidget *
sb_foot_new (SbDesk *desk, SbCanvas *canvas)
{
  SbFoot *self = g_object_new (SB_TYPE_FOOT, NULL);

  self->desk = g_object_ref (desk);
  self->canvas = g_object_ref (canvas);
  g_signal_connect_swapped (sb_desk_get_checker (desk), "changed", G_CALLBACK (update_figures),
                            self);
  g_signal_connect_swapped (sb_desk_get_preferences (desk), "notify::unit",
                            G_CALLBACK (update_figures), self);
  g_signal_connect_swapped (canvas, "notify::page", G_CALLBACK (update_figures), self);
  g_signal_connect_swapped (canvas, "notify::zoom", G_CALLBACK (zoom_changed_cb), self);
  update_figures (self);
  zoom_changed_cb (self);
  return GTK_WIDGET (self);
}
