/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What makes a drag cheap: the ground and the strip are render nodes that are kept until the layout
 * changes, each piece keeps its own node, and a move allocates children anew without drawing any.
 * Nodes that are the same pointer as in the last frame cost nothing when frames are compared. */
#include "config.h"

#include <math.h>

#include "window/canvas/free-spots.h"
#include "window/canvas/page-paint.h"
#include "window/canvas/pages-view-private.h"
#include "window/parts/renderer.h"

/* Rebaking waits until a zoom has come to rest; until then the old textures are scaled. */
#define BAKE_DELAY_MS 120

/* How long a frame of a turn or a resize may bake. */
#define BAKE_NOW_MS 5

/* Textures */

void
sb_pages_view_bake_all (SbPagesView *self)
{
  for (guint i = 0; i < self->drawn->len; i++) {
    GtkWidget *view = self->drawn->pdata[i];
    if (gtk_widget_get_child_visible (view))
      sb_piece_view_bake (SB_PIECE_VIEW (view), FALSE);
  }
}

static gboolean
bake_cb (gpointer data)
{
  SbPagesView *self = data;

  self->bake_source = 0;
  sb_pages_view_bake_all (self);
  return G_SOURCE_REMOVE;
}

void
sb_pages_view_bake_later (SbPagesView *self)
{
  g_clear_handle_id (&self->bake_source, g_source_remove);
  self->bake_source = g_timeout_add (BAKE_DELAY_MS, bake_cb, self);
}

void
sb_pages_view_baked (SbPagesView *self)
{
  if (self->bake_source == 0)
    sb_pages_view_bake_all (self);
}

/* Bakes views until the time for it is used up; the thread does the others. */
static void
bake_in_time (GPtrArray *views)
{
  gint64 end = g_get_monotonic_time () + BAKE_NOW_MS * G_TIME_SPAN_MILLISECOND;

  for (guint i = 0; i < views->len; i++)
    if (gtk_widget_get_child_visible (views->pdata[i]))
      sb_piece_view_bake (views->pdata[i], i == 0 || g_get_monotonic_time () < end);
}

void
sb_pages_view_bake_now (SbPagesView *self, const guint *piece_ids, guint n)
{
  g_autoptr (GPtrArray) views = g_ptr_array_new ();

  for (guint i = 0; i < n; i++) {
    SbPieceView *view = sb_pages_view_find (self, piece_ids[i]);
    if (view)
      g_ptr_array_add (views, view);
  }
  bake_in_time (views);
}

/* Copies of which the time is not enough show their old texture, scaled. */
void
sb_pages_view_bake_stretched (SbPagesView *self)
{
  gint64 end = g_get_monotonic_time () + BAKE_NOW_MS * G_TIME_SPAN_MILLISECOND;

  for (guint i = 0; i < self->drawn->len && g_get_monotonic_time () < end; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    if (gtk_widget_get_child_visible (GTK_WIDGET (view)) && sb_piece_view_get_stretch (view) != 1)
      sb_piece_view_bake (view, TRUE);
  }
}

double
sb_pages_view_get_stretch (SbPagesView *self, guint design_id)
{
  const double *stretch = g_hash_table_lookup (self->stretches, GUINT_TO_POINTER (design_id));

  return stretch ? *stretch : 1;
}

void
sb_pages_view_set_stretch (SbPagesView *self, guint design_id, double stretch)
{
  if (stretch == 1)
    g_hash_table_remove (self->stretches, GUINT_TO_POINTER (design_id));
  else
    g_hash_table_insert (self->stretches, GUINT_TO_POINTER (design_id),
                         g_memdup2 (&stretch, sizeof stretch));
  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    if (sb_piece_view_get_design (view)->id == design_id)
      sb_piece_view_set_stretch (view, stretch);
  }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  sb_pages_view_tell_synced (self);
}

gboolean
sb_pages_view_is_busy (SbPagesView *self)
{
  return self->bake_source != 0 || sb_bakery_is_busy (self->bakery);
}

/* Placing and drawing */

static void
allocate_piece (SbPagesView *self, SbPieceView *view)
{
  const SbPiece *piece = sb_piece_view_get_piece (view);
  SbPoint at = sb_pages_layout_to_view (&self->layout, sb_piece_view_get_page (view), piece->at.x,
                                        piece->at.y);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  int left, top, width, height;

  sb_piece_view_get_extents (view, &left, &top, &width, &height);
  /* On whole device pixels, so that the texture is drawn as it was baked. */
  double x = floor (at.x * scale + 0.5) / scale + left;
  double y = floor (at.y * scale + 0.5) / scale + top;
  gboolean seen = x < self->layout.view_width && y < self->layout.view_height && x + width > 0 &&
                  y + height > 0;
  gboolean was_seen = gtk_widget_get_child_visible (GTK_WIDGET (view));

  gtk_widget_set_child_visible (GTK_WIDGET (view), seen);
  if (!seen)
    return;
  if (!was_seen && self->bake_source == 0)
    sb_piece_view_bake (view, FALSE);
  gtk_widget_measure (GTK_WIDGET (view), GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (GTK_WIDGET (view), width, height, -1,
                       gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float)x, (float)y)));
}

/* Below the piece, in its middle, and within the view. */
static void
allocate_plate (SbPagesView *self)
{
  graphene_rect_t box;
  int width, height;

  if (!gtk_widget_should_layout (self->plate) ||
      !sb_marks_get_selection_box (SB_MARKS (self->marks), &box))
    return;
  gtk_widget_measure (self->plate, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  gtk_widget_measure (self->plate, GTK_ORIENTATION_VERTICAL, width, NULL, &height, NULL, NULL);
  float x = box.origin.x + (box.size.width - (float)width) / 2;
  float y = box.origin.y + box.size.height + 8;
  x = CLAMP (x, 4, MAX ((float)(self->layout.view_width - width) - 4, 4));
  y = CLAMP (y, 4, MAX ((float)(self->layout.view_height - height) - 4, 4));
  gtk_widget_allocate (
      self->plate, width, height, -1,
      gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT (floorf (x), floorf (y))));
}

void
sb_pages_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SbPagesView *self = SB_PAGES_VIEW (widget);
  gboolean resized = self->layout.view_width != width || self->layout.view_height != height;
  guint page = sb_pages_layout_find_page (&self->layout, self->layout.view_height / 2.0);

  self->allocating = TRUE;
  self->layout.view_width = width;
  self->layout.view_height = height;
  sb_pages_view_configure_adjustments (self, self->layout.scroll_x, self->layout.scroll_y);
  if (resized && self->fitting)
    sb_pages_view_fit_once (self, page);
  if (resized) /* even at the same scale: the page is centred anew */
    sb_pages_view_layout_changed (self);
  sb_pages_view_allocate_laid (self);
  for (guint i = 0; i < self->drawn->len; i++)
    allocate_piece (self, self->drawn->pdata[i]);
  gtk_widget_measure (self->marks, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (self->marks, width, height, -1, NULL);
  allocate_plate (self);
  if (gtk_widget_should_layout (self->hand)) {
    gtk_widget_measure (self->hand, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
    gtk_widget_allocate (self->hand, width, height, -1, NULL);
    sb_hand_edit_place_points (SB_HAND_EDIT (self->hand));
  }
  if (gtk_widget_should_layout (self->measure)) {
    gtk_widget_measure (self->measure, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
    gtk_widget_allocate (self->measure, width, height, -1, NULL);
  }
  self->allocating = FALSE;
}

/* One node a layer, be there something or not: frames are compared node by node, and a layer that
 * stepped into another one's place would have all of both drawn anew. */
static void
append_layer (GtkSnapshot *snapshot, GskRenderNode *node)
{
  g_autoptr (GskRenderNode) layer =
      node ? gsk_render_node_ref (node) : gsk_container_node_new (NULL, 0);

  gtk_snapshot_append_node (snapshot, layer);
}

static void
take_layer (GtkSnapshot *snapshot, GtkSnapshot *layer)
{
  g_autoptr (GskRenderNode) node = gtk_snapshot_free_to_node (layer);

  append_layer (snapshot, node);
}

static void
append_laid (SbPagesView *self, GtkSnapshot *snapshot)
{
  GtkSnapshot *layer = gtk_snapshot_new ();

  sb_pages_view_snapshot_laid (self, layer);
  take_layer (snapshot, layer);
}

static void
append_child (SbPagesView *self, GtkWidget *child, GtkSnapshot *snapshot)
{
  GtkSnapshot *layer = gtk_snapshot_new ();

  gtk_widget_snapshot_child (GTK_WIDGET (self), child, layer);
  take_layer (snapshot, layer);
}

static GskRenderNode *
make_fit (SbPagesView *self)
{
  SbPoint a =
      sb_pages_layout_to_view (&self->layout, self->fit_page, self->fit_um.x0, self->fit_um.y0);
  SbPoint b =
      sb_pages_layout_to_view (&self->layout, self->fit_page, self->fit_um.x1, self->fit_um.y1);
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT ((float)a.x, (float)a.y, (float)(b.x - a.x), (float)(b.y - a.y));
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  sb_pixels_append (self->fit, GTK_WIDGET (self), snapshot, &rect);
  return gtk_snapshot_free_to_node (snapshot);
}

static gboolean
is_lifted (SbPagesView *self, SbPieceView *view)
{
  return self->lifted &&
         sb_selection_contains (self->selection, sb_piece_view_get_piece (view)->id);
}

static void
append_pieces (SbPagesView *self, gboolean lifted, GtkSnapshot *snapshot)
{
  for (guint i = 0; i < self->drawn->len; i++)
    if (is_lifted (self, self->drawn->pdata[i]) == lifted)
      gtk_widget_snapshot_child (GTK_WIDGET (self), self->drawn->pdata[i], snapshot);
}

static GskRenderNode *
make_piece (SbPagesView *self, GtkWidget *view)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  gtk_widget_snapshot_child (GTK_WIDGET (self), view, snapshot);
  return gtk_snapshot_free_to_node (snapshot);
}

static void
unref_node (gpointer node)
{
  if (node)
    gsk_render_node_unref (node);
}

/* Where the ground is opaque. */
static cairo_region_t *
find_paper (SbPagesView *self)
{
  cairo_region_t *paper = cairo_region_create ();

  for (guint i = 0; i < self->layout.n_pages; i++) {
    SbPoint a = sb_pages_layout_to_view (&self->layout, i, 0, 0);
    SbPoint b = sb_pages_layout_to_view (&self->layout, i, self->layout.page_width,
                                         self->layout.page_height);
    int x = (int)ceil (a.x), y = (int)ceil (a.y);
    cairo_rectangle_int_t page = {x, y, (int)floor (b.x) - x, (int)floor (b.y) - y};
    cairo_region_union_rectangle (paper, &page);
  }
  return paper;
}

/* The ground, where the dragged piece fits, and the pieces that rest. */
static void
append_still (SbPagesView *self, GtkSnapshot *snapshot)
{
  g_autoptr (GPtrArray) nodes = g_ptr_array_new_with_free_func (unref_node);
  cairo_region_t *paper = find_paper (self);

  g_ptr_array_add (nodes, self->ground ? gsk_render_node_ref (self->ground) : NULL);
  g_ptr_array_add (nodes, self->fit_node ? gsk_render_node_ref (self->fit_node) : NULL);
  for (guint i = 0; i < self->drawn->len; i++)
    if (!is_lifted (self, self->drawn->pdata[i]))
      g_ptr_array_add (nodes, make_piece (self, self->drawn->pdata[i]));
  sb_still_append (self->still, GTK_WIDGET (self), snapshot, nodes, paper);
  cairo_region_destroy (paper);
}

/* Cairo compares frames by their layers; with OpenGL those that stay become one. Pages that carry a
 * layout have their pictures between the layers. */
static void
append_page (SbPagesView *self, GtkSnapshot *snapshot)
{
  GtkSnapshot *pieces = gtk_snapshot_new ();

  if (sb_renderer_is_cairo (GTK_WIDGET (self)) || g_hash_table_size (self->laid) > 0) {
    append_layer (snapshot, self->ground);
    append_laid (self, snapshot);
    append_layer (snapshot, self->fit_node);
    append_pieces (self, FALSE, pieces);
  } else {
    append_still (self, snapshot);
  }
  append_pieces (self, TRUE, pieces);
  take_layer (snapshot, pieces);
}

void
sb_pages_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbPagesView *self = SB_PAGES_VIEW (widget);
  SbState *state = self->job ? sb_job_get_state (self->job) : NULL;

  if (!state)
    return;
  SbPagePaint paint = {widget, &self->layout, state, self->overlay, self->unit};
  if (!self->ground)
    self->ground = sb_page_paint_ground (&paint);
  if (!self->strip && self->overlay & SB_OVERLAY_STRIP)
    self->strip = sb_page_paint_strip (&paint);
  if (!self->spots && self->overlay & SB_OVERLAY_WASTE)
    self->spots = sb_free_spots_paint (&paint, self->free_spots);
  if (!self->fit_node && self->fit)
    self->fit_node = make_fit (self);

  append_page (self, snapshot);
  append_layer (snapshot, self->strip);
  append_layer (snapshot, self->spots);
  append_child (self, self->marks, snapshot);
  append_child (self, self->plate, snapshot);
  append_child (self, self->hand, snapshot);
  append_child (self, self->measure, snapshot);
}

void
sb_pages_view_set_fit (SbPagesView *self, const SbFitArea *area)
{
  SbPixels *tint = area ? sb_fit_area_get_tint (area, &self->fit_um) : NULL;

  if (tint == self->fit)
    return;
  g_clear_pointer (&self->fit, sb_pixels_unref);
  g_clear_pointer (&self->fit_node, gsk_render_node_unref);
  self->fit = tint ? sb_pixels_ref (tint) : NULL;
  self->fit_page = area ? sb_fit_area_get_page (area) : 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Findings come many times a second while something is dragged; the spots are seldom others. */
void
sb_pages_view_follow_spots (SbPagesView *self)
{
  g_autoptr (GArray) spots = sb_free_spots_list (self->checker, self->layout.n_pages);

  if (sb_free_spots_equal (spots, self->free_spots))
    return;
  g_array_unref (self->free_spots);
  self->free_spots = g_steal_pointer (&spots);
  g_clear_pointer (&self->spots, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_pages_view_set_lifted (SbPagesView *self, gboolean lifted)
{
  self->lifted = lifted;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_pages_view_drop_nodes (SbPagesView *self)
{
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->strip, gsk_render_node_unref);
  g_clear_pointer (&self->spots, gsk_render_node_unref);
  g_clear_pointer (&self->fit_node, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
