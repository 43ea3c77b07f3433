/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/pages-view-private.h"

static void scrollable_init (GtkScrollableInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (SbPagesView, sb_pages_view, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, scrollable_init))

enum {
  PROP_0,
  PROP_HADJUSTMENT,
  PROP_VADJUSTMENT,
  PROP_HSCROLL_POLICY,
  PROP_VSCROLL_POLICY,
};

enum {
  LAYOUT_CHANGED,
  SYNCED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

void
sb_pages_view_tell_layout (SbPagesView *self)
{
  g_signal_emit (self, signals[LAYOUT_CHANGED], 0);
}

void
sb_pages_view_tell_synced (SbPagesView *self)
{
  sb_hand_edit_follow (SB_HAND_EDIT (self->hand));
  sb_measure_tool_follow (SB_MEASURE_TOOL (self->measure));
  g_signal_emit (self, signals[SYNCED], 0);
}

static void
scrollable_init (GtkScrollableInterface *iface)
{
}

static void
select_and_show (SbPagesView *self, SbPieceView *view)
{
  const SbPiece *piece = sb_piece_view_get_piece (view);
  SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));

  sb_pages_view_scroll_to (self, sb_piece_view_get_page (view),
                           (SbBox){box.x0, box.y0, box.x1, box.y1});
  gtk_widget_set_child_visible (GTK_WIDGET (view), TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (view));
  sb_selection_set_piece (self->selection, piece->id);
}

/* Tab walks the pieces in reading order, those out of view too, and leaves after the last. */
static gboolean
sb_pages_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  SbPagesView *self = SB_PAGES_VIEW (widget);
  gboolean back = direction == GTK_DIR_TAB_BACKWARD;
  GtkWidget *focus = gtk_widget_get_focus_child (widget);
  g_autoptr (GPtrArray) list = NULL;
  guint at;

  if (direction != GTK_DIR_TAB_FORWARD && !back)
    return FALSE;
  if (focus == self->hand && gtk_widget_child_focus (self->hand, direction))
    return TRUE;
  list = sb_pages_view_list (self);
  if (list->len == 0)
    return gtk_widget_is_focus (widget) ? FALSE : gtk_widget_grab_focus (widget);
  if (!focus || !g_ptr_array_find (list, focus, &at))
    at = back ? list->len - 1 : 0;
  else if (back ? at == 0 : at + 1 == list->len)
    return FALSE;
  else
    at = back ? at - 1 : at + 1;
  select_and_show (self, list->pdata[at]);
  return TRUE;
}

static void
sb_pages_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SbPagesView *self = SB_PAGES_VIEW (object);

  switch (id) {
  case PROP_HADJUSTMENT:
    g_value_set_object (value, self->adjustments[GTK_ORIENTATION_HORIZONTAL]);
    break;
  case PROP_VADJUSTMENT:
    g_value_set_object (value, self->adjustments[GTK_ORIENTATION_VERTICAL]);
    break;
  case PROP_HSCROLL_POLICY:
    g_value_set_enum (value, self->policies[GTK_ORIENTATION_HORIZONTAL]);
    break;
  case PROP_VSCROLL_POLICY:
    g_value_set_enum (value, self->policies[GTK_ORIENTATION_VERTICAL]);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
sb_pages_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SbPagesView *self = SB_PAGES_VIEW (object);

  switch (id) {
  case PROP_HADJUSTMENT:
    sb_pages_view_take_adjustment (self, GTK_ORIENTATION_HORIZONTAL, g_value_get_object (value));
    break;
  case PROP_VADJUSTMENT:
    sb_pages_view_take_adjustment (self, GTK_ORIENTATION_VERTICAL, g_value_get_object (value));
    break;
  case PROP_HSCROLL_POLICY:
    self->policies[GTK_ORIENTATION_HORIZONTAL] = (GtkScrollablePolicy)g_value_get_enum (value);
    break;
  case PROP_VSCROLL_POLICY:
    self->policies[GTK_ORIENTATION_VERTICAL] = (GtkScrollablePolicy)g_value_get_enum (value);
    break;
  default:
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
  }
}

static void
style_changed (GtkWidget *widget)
{
  sb_pages_view_drop_nodes (SB_PAGES_VIEW (widget));
  sb_pages_view_bake_all (SB_PAGES_VIEW (widget));
}

static void
sb_pages_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (sb_pages_view_parent_class)->css_changed (widget, change);
  style_changed (widget);
}

static void
sb_pages_view_unrealize (GtkWidget *widget)
{
  sb_still_clear (SB_PAGES_VIEW (widget)->still);
  GTK_WIDGET_CLASS (sb_pages_view_parent_class)->unrealize (widget);
}

static void
sb_pages_view_dispose (GObject *object)
{
  SbPagesView *self = SB_PAGES_VIEW (object);
  GtkWidget *child;

  g_clear_handle_id (&self->bake_source, g_source_remove);
  g_clear_handle_id (&self->told_source, g_source_remove);
  sb_pages_view_set_job (self, NULL);
  sb_pages_view_set_checker (self, NULL);
  sb_pages_view_take_adjustment (self, GTK_ORIENTATION_HORIZONTAL, NULL);
  sb_pages_view_take_adjustment (self, GTK_ORIENTATION_VERTICAL, NULL);
  if (self->selection)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  if (self->bakery)
    g_signal_handlers_disconnect_by_data (self->bakery, self);
  g_clear_pointer (&self->laid, g_hash_table_unref);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->selection);
  g_clear_object (&self->bakery);
  g_clear_pointer (&self->views, g_hash_table_unref);
  g_clear_pointer (&self->drawn, g_ptr_array_unref);
  g_clear_pointer (&self->stretches, g_hash_table_unref);
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->still, sb_still_free);
  g_clear_pointer (&self->strip, gsk_render_node_unref);
  g_clear_pointer (&self->spots, gsk_render_node_unref);
  g_clear_pointer (&self->free_spots, g_array_unref);
  g_clear_pointer (&self->fit_node, gsk_render_node_unref);
  g_clear_pointer (&self->fit, sb_pixels_unref);
  G_OBJECT_CLASS (sb_pages_view_parent_class)->dispose (object);
}

static void
sb_pages_view_class_init (SbPagesViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = sb_pages_view_get_property;
  object_class->set_property = sb_pages_view_set_property;
  object_class->dispose = sb_pages_view_dispose;
  widget_class->size_allocate = sb_pages_view_size_allocate;
  widget_class->snapshot = sb_pages_view_snapshot;
  widget_class->focus = sb_pages_view_focus;
  widget_class->css_changed = sb_pages_view_css_changed;
  widget_class->unrealize = sb_pages_view_unrealize;

  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");

  signals[LAYOUT_CHANGED] = g_signal_new ("layout-changed", SB_TYPE_PAGES_VIEW, G_SIGNAL_RUN_LAST,
                                          0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SYNCED] = g_signal_new ("synced", SB_TYPE_PAGES_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "pages");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
sb_pages_view_init (SbPagesView *self)
{
  self->views = g_hash_table_new (NULL, NULL);
  self->laid = sb_laid_pages_new ();
  self->still = sb_still_new ();
  self->drawn = g_ptr_array_new ();
  self->free_spots = g_array_new (FALSE, TRUE, sizeof (SbIBox));
  self->layout.scale = 1;
  self->stretches = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  self->marks = sb_marks_new ();
  gtk_widget_set_parent (self->marks, GTK_WIDGET (self));
  self->plate = sb_finding_plate_new ();
  gtk_widget_set_parent (self->plate, GTK_WIDGET (self));
  self->hand = sb_hand_edit_new (GTK_WIDGET (self));
  self->measure = sb_measure_tool_new (GTK_WIDGET (self));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Pages"),
                                  -1);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (style_changed), NULL);
  /* Another theme may leave the style of this widget as it is, and yet be one of high contrast. */
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-theme-name",
                           G_CALLBACK (style_changed), self, G_CONNECT_SWAPPED);
}

GtkWidget *
sb_pages_view_new (SbArtStore *store, SbSelection *selection)
{
  SbPagesView *self = g_object_new (SB_TYPE_PAGES_VIEW, NULL);

  self->bakery = sb_bakery_new (store);
  self->selection = g_object_ref (selection);
  g_signal_connect_swapped (selection, "changed", G_CALLBACK (sb_pages_view_marks_changed), self);
  g_signal_connect_swapped (self->bakery, "baked", G_CALLBACK (sb_pages_view_baked), self);
  sb_marks_set_view (SB_MARKS (self->marks), GTK_WIDGET (self));
  return GTK_WIDGET (self);
}

void
sb_pages_view_set_job (SbPagesView *self, SbJob *job)
{
  if (self->job == job)
    return;
  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  g_set_object (&self->job, job);
  if (job)
    g_signal_connect_swapped (job, "changed", G_CALLBACK (sb_pages_view_job_changed), self);
  sb_pages_view_follow_job (self);
  sb_pages_view_name_pieces (self);
}

void
sb_pages_view_set_checker (SbPagesView *self, SbChecker *checker)
{
  if (self->checker == checker)
    return;
  if (self->checker)
    g_signal_handlers_disconnect_by_data (self->checker, self);
  g_set_object (&self->checker, checker);
  if (checker) {
    g_signal_connect_swapped (checker, "changed", G_CALLBACK (sb_pages_view_follow_spots), self);
    g_signal_connect_swapped (checker, "changed", G_CALLBACK (sb_pages_view_marks_changed), self);
    sb_pages_view_marks_changed (self);
  }
  sb_pages_view_follow_spots (self);
}

void
sb_pages_view_set_overlay (SbPagesView *self, SbOverlay overlay)
{
  if (self->overlay == overlay)
    return;
  self->overlay = overlay;
  sb_pages_view_drop_nodes (self);
  sb_pages_view_update_flags (self);
  sb_pages_view_bake_all (self);
  sb_pages_view_tell_synced (self);
}

void
sb_pages_view_set_unit (SbPagesView *self, SbUnit unit)
{
  if (self->unit == unit)
    return;
  self->unit = unit;
  sb_pages_view_name_pieces (self);
  sb_pages_view_drop_nodes (self);
  sb_pages_view_tell_synced (self);
}

SbJob *
sb_pages_view_get_job (SbPagesView *self)
{
  return self->job;
}

SbSelection *
sb_pages_view_get_selection (SbPagesView *self)
{
  return self->selection;
}

SbBakery *
sb_pages_view_get_bakery (SbPagesView *self)
{
  return self->bakery;
}

SbChecker *
sb_pages_view_get_checker (SbPagesView *self)
{
  return self->checker;
}

SbMarks *
sb_pages_view_get_marks (SbPagesView *self)
{
  return SB_MARKS (self->marks);
}

SbHandEdit *
sb_pages_view_get_hand_edit (SbPagesView *self)
{
  return SB_HAND_EDIT (self->hand);
}

SbMeasureTool *
sb_pages_view_get_measure_tool (SbPagesView *self)
{
  return SB_MEASURE_TOOL (self->measure);
}

const SbPagesLayout *
sb_pages_view_get_layout (SbPagesView *self)
{
  return &self->layout;
}

SbOverlay
sb_pages_view_get_overlay (SbPagesView *self)
{
  return self->overlay;
}

SbUnit
sb_pages_view_get_unit (SbPagesView *self)
{
  return self->unit;
}

SbPieceView *
sb_pages_view_pick (SbPagesView *self, double view_x, double view_y)
{
  for (guint i = self->drawn->len; i-- > 0;) {
    GtkWidget *view = self->drawn->pdata[i];
    double x, y;
    if (gtk_widget_get_child_visible (view) &&
        gtk_widget_translate_coordinates (GTK_WIDGET (self), view, view_x, view_y, &x, &y) &&
        gtk_widget_contains (view, x, y))
      return SB_PIECE_VIEW (view);
  }
  return NULL;
}

gboolean
sb_pages_view_is_over_plate (SbPagesView *self, double view_x, double view_y)
{
  GtkWidget *picked = gtk_widget_pick (GTK_WIDGET (self), view_x, view_y, GTK_PICK_DEFAULT);

  return picked && gtk_widget_is_ancestor (picked, self->plate);
}

SbPieceView *
sb_pages_view_find (SbPagesView *self, guint piece_id)
{
  return g_hash_table_lookup (self->views, GUINT_TO_POINTER (piece_id));
}

static int
compare_places (gconstpointer a, gconstpointer b)
{
  SbPieceView *view_a = *(SbPieceView *const *)a, *view_b = *(SbPieceView *const *)b;
  const SbPiece *p = sb_piece_view_get_piece (view_a), *q = sb_piece_view_get_piece (view_b);
  guint page_a = sb_piece_view_get_page (view_a), page_b = sb_piece_view_get_page (view_b);

  if (page_a != page_b)
    return page_a < page_b ? -1 : 1;
  if (p->at.y != q->at.y)
    return p->at.y < q->at.y ? -1 : 1;
  if (p->at.x != q->at.x)
    return p->at.x < q->at.x ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

GPtrArray *
sb_pages_view_list (SbPagesView *self)
{
  GPtrArray *list = g_ptr_array_copy (self->drawn, NULL, NULL);

  g_ptr_array_sort (list, compare_places);
  return list;
}
