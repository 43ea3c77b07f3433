/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "window/canvas/still.h"

/* More changes in a frame, or a larger part of the view, and all is drawn as it is. */
#define MOST_CHANGES 8
#define LARGEST_PART 0.125f

/* Textures over the first one. */
#define MOST_PATCHES 32

struct _SbStill {
  GPtrArray *nodes;    /* of the last frame, or NULL */
  GPtrArray *pictures; /* texture nodes: all of them, then what became another */
};

SbStill *
sb_still_new (void)
{
  SbStill *still = g_new0 (SbStill, 1);

  still->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify)gsk_render_node_unref);
  return still;
}

void
sb_still_clear (SbStill *still)
{
  g_clear_pointer (&still->nodes, g_ptr_array_unref);
  g_ptr_array_set_size (still->pictures, 0);
}

void
sb_still_free (SbStill *still)
{
  sb_still_clear (still);
  g_ptr_array_unref (still->pictures);
  g_free (still);
}

static gboolean
is_transform (const GskRenderNode *node)
{
  return gsk_render_node_get_node_type (node) == GSK_TRANSFORM_NODE;
}

/* A child that did not change has its node, moved by a new one to the same place. */
static gboolean
is_same (GskRenderNode *a, GskRenderNode *b)
{
  if (a == b || !a || !b)
    return a == b;
  return is_transform (a) && is_transform (b) &&
         gsk_transform_node_get_child (a) == gsk_transform_node_get_child (b) &&
         gsk_transform_equal (gsk_transform_node_get_transform (a),
                              gsk_transform_node_get_transform (b));
}

static void
add_bounds (graphene_rect_t *sum, GskRenderNode *node)
{
  graphene_rect_t bounds;

  if (!node)
    return;
  gsk_render_node_get_bounds (node, &bounds);
  if (sum->size.width > 0)
    graphene_rect_union (sum, &bounds, sum);
  else
    *sum = bounds;
}

static graphene_rect_t
get_view (GtkWidget *widget)
{
  return GRAPHENE_RECT_INIT (0, 0, (float)gtk_widget_get_width (widget),
                             (float)gtk_widget_get_height (widget));
}

static gboolean
is_within (const graphene_rect_t *rect, const cairo_region_t *region)
{
  cairo_rectangle_int_t whole = {(int)floorf (rect->origin.x), (int)floorf (rect->origin.y),
                                 (int)ceilf (rect->size.width) + 1,
                                 (int)ceilf (rect->size.height) + 1};

  return cairo_region_contains_rectangle (region, &whole) == CAIRO_REGION_OVERLAP_IN;
}

/* The rectangles in which nodes became others; NULL when that is too much. */
static GArray *
find_changes (SbStill *still, GtkWidget *widget, GPtrArray *nodes, const cairo_region_t *opaque)
{
  GArray *changes = g_array_new (FALSE, FALSE, sizeof (graphene_rect_t));
  graphene_rect_t view = get_view (widget);
  float left = graphene_rect_get_area (&view) * LARGEST_PART;
  gboolean is_few = still->nodes && still->nodes->len == nodes->len;

  for (guint i = 0; is_few && i < nodes->len; i++) {
    graphene_rect_t change = GRAPHENE_RECT_INIT (0, 0, 0, 0);
    if (is_same (still->nodes->pdata[i], nodes->pdata[i]))
      continue;
    add_bounds (&change, still->nodes->pdata[i]);
    add_bounds (&change, nodes->pdata[i]);
    left -= graphene_rect_get_area (&change);
    g_array_append_val (changes, change);
    is_few = changes->len <= MOST_CHANGES && left >= 0 && is_within (&change, opaque);
  }
  if (!is_few)
    g_clear_pointer (&changes, g_array_unref);
  return changes;
}

static GskRenderNode *
join (GPtrArray *nodes, const graphene_rect_t *part, float scale)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  graphene_rect_t bounds;

  gtk_snapshot_scale (snapshot, scale, scale);
  for (guint i = 0; i < nodes->len; i++) {
    if (!nodes->pdata[i])
      continue;
    gsk_render_node_get_bounds (nodes->pdata[i], &bounds);
    if (graphene_rect_intersection (&bounds, part, NULL))
      gtk_snapshot_append_node (snapshot, nodes->pdata[i]);
  }
  return gtk_snapshot_free_to_node (snapshot);
}

/* A part at device pixels, so that it is drawn as it is. */
static void
paint (SbStill *still, GtkWidget *widget, GPtrArray *nodes, const graphene_rect_t *rect)
{
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (widget));
  float scale = (float)gtk_widget_get_scale_factor (widget);
  graphene_rect_t part, pixels, view = get_view (widget);

  graphene_rect_round_extents (rect, &part);
  if (!graphene_rect_intersection (&part, &view, &part))
    return;
  g_autoptr (GskRenderNode) node = join (nodes, &part, scale);
  if (!node)
    return;
  graphene_rect_scale (&part, scale, scale, &pixels);
  g_autoptr (GdkTexture) texture = gsk_renderer_render_texture (renderer, node, &pixels);
  g_ptr_array_add (still->pictures, gsk_texture_node_new (texture, &part));
}

static void
paint_all (SbStill *still, GtkWidget *widget, GPtrArray *nodes)
{
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, 0, 0);

  g_ptr_array_set_size (still->pictures, 0);
  for (guint i = 0; i < nodes->len; i++)
    add_bounds (&all, nodes->pdata[i]);
  paint (still, widget, nodes, &all);
}

static void
append_all (GtkSnapshot *snapshot, GPtrArray *nodes)
{
  for (guint i = 0; i < nodes->len; i++)
    if (nodes->pdata[i])
      gtk_snapshot_append_node (snapshot, nodes->pdata[i]);
}

void
sb_still_append (SbStill *still, GtkWidget *widget, GtkSnapshot *snapshot, GPtrArray *nodes,
                 const cairo_region_t *opaque)
{
  g_autoptr (GArray) changes = find_changes (still, widget, nodes, opaque);

  if (!changes) {
    g_ptr_array_set_size (still->pictures, 0);
    append_all (snapshot, nodes);
  } else {
    if (still->pictures->len == 0 || still->pictures->len + changes->len > 1 + MOST_PATCHES)
      paint_all (still, widget, nodes);
    else
      for (guint i = 0; i < changes->len; i++)
        paint (still, widget, nodes, &g_array_index (changes, graphene_rect_t, i));
    append_all (snapshot, still->pictures);
  }
  g_clear_pointer (&still->nodes, g_ptr_array_unref);
  still->nodes = g_ptr_array_ref (nodes);
}
