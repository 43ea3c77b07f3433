/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What makes a drag cheap: the ground and the strip are render nodes that are kept until the layout
 * changes, each piece keeps its own node, and a move allocates children anew without drawing any.
 * Nodes that are the same pointer as in the last frame cost nothing when frames are compared. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/finding-plate.h"
#include "window/page-paint.h"
#include "window/pages-view.h"

/* Rebaking waits until a zoom has come to rest; until then the old textures are scaled. */
#define BAKE_DELAY_MS 120

/* Copies of a design that is being resized which are drawn anew in each frame; textures of further
 * ones are scaled. */
#define MOST_BAKED_NOW 8

struct _SbPagesView {
  GtkWidget parent_instance;

  /* Owned. */
  SbBakery *bakery;
  SbSelection *selection;
  SbChecker *checker;
  SbJob *job;
  GtkAdjustment *adjustments[2]; /* by GtkOrientation */
  GtkScrollablePolicy policies[2];

  SbPagesLayout layout;
  SbOverlay overlay;
  SbUnit unit;

  /* What a run of zooms holds in its place. */
  SbPoint held, held_at, held_scroll;

  GHashTable *views; /* SbPieceView by piece id */
  GPtrArray *drawn;  /* SbPieceView in drawing order */
  guint stretched_design;
  double stretch;

  gboolean lifted;     /* the selected pieces are drawn above the others */
  gboolean fitting;    /* goes on fitting a page while the view changes its size */
  gboolean allocating; /* nothing may ask for another allocation */
  guint told_source;

  GskRenderNode *ground; /* below the pieces; NULL when it has to be made */
  GskRenderNode *strip;  /* above them */
  GtkWidget *marks;
  GtkWidget *plate; /* the finding of the one selected piece */
  SbPixels *fit;    /* where the dragged piece fits, or NULL */
  GskRenderNode *fit_node;
  guint fit_page;
  SbBox fit_um;
  guint bake_source;
};

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

static void
scrollable_init (GtkScrollableInterface *iface)
{
}

/* Textures */

static void
bake_all (SbPagesView *self)
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
  bake_all (self);
  return G_SOURCE_REMOVE;
}

static void
bake_later (SbPagesView *self)
{
  g_clear_handle_id (&self->bake_source, g_source_remove);
  self->bake_source = g_timeout_add (BAKE_DELAY_MS, bake_cb, self);
}

static void
baked_cb (SbPagesView *self)
{
  if (self->bake_source == 0)
    bake_all (self);
}

/* Flags */

/* Findings about resolution are of the design: tinting every piece for them would hide the rest. */
static gboolean
is_of_place (const SbFinding *finding)
{
  return finding->rule == SB_RULE_EDGE || finding->rule == SB_RULE_OVERLAP ||
         finding->rule == SB_RULE_GAP;
}

static void
note_severity (GHashTable *flags, guint piece_id, SbSeverity severity)
{
  guint flag = severity == SB_SEVERITY_STOP      ? SB_BAKE_STOP
               : severity == SB_SEVERITY_CAUTION ? SB_BAKE_CAUTION
                                                 : 0;

  /* Worst first: what is there already is at least as bad. */
  if (flag && piece_id && !g_hash_table_contains (flags, GUINT_TO_POINTER (piece_id)))
    g_hash_table_insert (flags, GUINT_TO_POINTER (piece_id), GUINT_TO_POINTER (flag));
}

static GHashTable *
list_severities (SbPagesView *self)
{
  GHashTable *flags = g_hash_table_new (NULL, NULL);

  if (!self->checker)
    return flags;
  GPtrArray *findings = sb_checker_get_findings (self->checker);
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (!is_of_place (finding))
      continue;
    note_severity (flags, finding->piece_id, finding->severity);
    note_severity (flags, finding->other_id, finding->severity);
  }
  return flags;
}

static void
update_flags (SbPagesView *self)
{
  g_autoptr (GHashTable) severities = list_severities (self);
  guint n_selected = sb_selection_get_n_pieces (self->selection);
  guint all = self->overlay & SB_OVERLAY_BORDER ? SB_BAKE_RING : SB_BAKE_PLAIN;

  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    guint id = sb_piece_view_get_piece (view)->id;
    guint flags = all | GPOINTER_TO_UINT (g_hash_table_lookup (severities, GUINT_TO_POINTER (id)));
    if (sb_selection_contains (self->selection, id))
      flags |= SB_BAKE_SELECTED;
    sb_piece_view_set_flags (view, flags);
    /* One that has the handles needs no other sign of the focus. */
    if (flags & SB_BAKE_SELECTED && n_selected == 1)
      gtk_widget_add_css_class (GTK_WIDGET (view), "alone");
    else
      gtk_widget_remove_css_class (GTK_WIDGET (view), "alone");
  }
}

/* Names */

static const char *
unit_word (SbUnit unit)
{
  switch (unit) {
  case SB_UNIT_CM:
    return _ ("centimetres");
  case SB_UNIT_INCH:
    return _ ("inches");
  case SB_UNIT_PT:
    return _ ("points");
  case SB_UNIT_MM:
  default:
    return _ ("millimetres");
  }
}

static void
name_piece (SbPagesView *self, SbPieceView *view, guint copy)
{
  const SbPiece *piece = sb_piece_view_get_piece (view);
  SbDesign *design = sb_piece_view_get_design (view);
  g_autofree char *x = sb_length_format_number (sb_um_to_mm (piece->at.x), self->unit);
  g_autofree char *y = sb_length_format_number (sb_um_to_mm (piece->at.y), self->unit);
  /* Translators: the name of a piece for screen readers: design, which of its copies, place from
   * the left and from the top, the unit in words, the page. */
  g_autofree char *label =
      g_strdup_printf (_ ("%s, piece %u, %s by %s %s from the top left of page %u"), design->name,
                       copy, x, y, unit_word (self->unit), sb_piece_view_get_page (view) + 1);
  GString *text = g_string_new (label);
  double width, height;

  if (piece->turn % 1000 == 0 && piece->turn != 0)
    g_string_append_printf (text, _ (", turned %d degrees"), piece->turn / 1000);
  else if (piece->turn != 0)
    g_string_append_printf (text, _ (", turned %.1f degrees"), piece->turn / 1000.0);
  if (piece->pinned)
    g_string_append (text, _ (", pinned"));
  sb_piece_view_set_label (view, text->str);
  g_string_free (text, TRUE);

  sb_design_get_finished_size (design, &width, &height);
  g_autofree char *size = sb_length_format_size (width, height, self->unit);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, size,
                                  -1);
}

/* Only of settled states: a name that is spoken at each step of a drag helps nobody. */
static void
name_pieces (SbPagesView *self)
{
  g_autoptr (GHashTable) counts = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    gpointer key = GUINT_TO_POINTER (sb_piece_view_get_piece (view)->design_id);
    guint copy = GPOINTER_TO_UINT (g_hash_table_lookup (counts, key)) + 1;

    g_hash_table_insert (counts, key, GUINT_TO_POINTER (copy));
    name_piece (self, view, copy);
  }
}

/* Following the job */

static void
drop_nodes (SbPagesView *self)
{
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->strip, gsk_render_node_unref);
  g_clear_pointer (&self->fit_node, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static SbPieceView *
ensure_view (SbPagesView *self, guint piece_id)
{
  SbPieceView *view = g_hash_table_lookup (self->views, GUINT_TO_POINTER (piece_id));

  if (!view) {
    view = SB_PIECE_VIEW (sb_piece_view_new (self->bakery));
    g_hash_table_insert (self->views, GUINT_TO_POINTER (piece_id), view);
    sb_piece_view_set_scale (view, self->layout.scale);
    gtk_widget_insert_before (GTK_WIDGET (view), GTK_WIDGET (self), self->marks);
  }
  return view;
}

/* Puts the children into drawing order, which is also the order in which they are picked. */
static void
order_children (SbPagesView *self)
{
  GtkWidget *after = NULL;

  for (guint i = 0; i < self->drawn->len; i++) {
    GtkWidget *view = self->drawn->pdata[i];
    if (gtk_widget_get_prev_sibling (view) != after)
      gtk_widget_insert_after (view, GTK_WIDGET (self), after);
    after = view;
  }
}

static void
remove_gone (SbPagesView *self, GHashTable *kept)
{
  GHashTableIter iter;
  gpointer id, view;

  g_hash_table_iter_init (&iter, self->views);
  while (g_hash_table_iter_next (&iter, &id, &view))
    if (!g_hash_table_contains (kept, view)) {
      gtk_widget_unparent (view);
      g_hash_table_iter_remove (&iter);
    }
}

static void
sync_pieces (SbPagesView *self, SbState *state)
{
  g_autoptr (GHashTable) kept = g_hash_table_new (NULL, NULL);

  g_ptr_array_set_size (self->drawn, 0);
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint j = 0; j < page->n_pieces; j++) {
      const SbPiece *piece = &page->pieces[j];
      SbPieceView *view = ensure_view (self, piece->id);
      sb_piece_view_set_piece (view, sb_state_get_design (state, piece->design_id), piece, i);
      sb_piece_view_set_stretch (view,
                                 piece->design_id == self->stretched_design ? self->stretch : 1);
      g_ptr_array_add (self->drawn, view);
      g_hash_table_add (kept, view);
    }
  }
  remove_gone (self, kept);
  order_children (self);
}

static void configure_adjustments (SbPagesView *self, double scroll_x, double scroll_y);

static void
sync_pages (SbPagesView *self, SbState *state)
{
  SbPagesLayout *layout = &self->layout;
  gboolean other = layout->page_width != state->page_width ||
                   layout->page_height != state->page_height ||
                   layout->n_pages != state->pages->len;

  layout->page_width = state->page_width;
  layout->page_height = state->page_height;
  layout->n_pages = state->pages->len;
  if (!other)
    return;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  /* Whoever added a page may scroll to it before the next allocation. */
  configure_adjustments (self, layout->scroll_x, layout->scroll_y);
}

static void
follow_job (SbPagesView *self)
{
  SbState *state = self->job ? sb_job_get_state (self->job) : NULL;

  if (state) {
    if (state->page_width != self->layout.page_width ||
        state->page_height != self->layout.page_height || state->pages->len != self->layout.n_pages)
      drop_nodes (self);
    sync_pages (self, state);
    sync_pieces (self, state);
  } else {
    g_autoptr (GHashTable) none = g_hash_table_new (NULL, NULL);
    g_ptr_array_set_size (self->drawn, 0);
    remove_gone (self, none);
    self->layout.n_pages = 0;
    drop_nodes (self);
  }
  update_flags (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_signal_emit (self, signals[SYNCED], 0);
}

static void
job_changed_cb (SbPagesView *self)
{
  SbState *state = sb_job_get_state (self->job);

  follow_job (self);
  if (state == sb_job_get_settled_state (self->job)) {
    name_pieces (self);
    /* Margins may be others. */
    drop_nodes (self);
  }
  if (self->bake_source == 0)
    bake_all (self);
}

static const SbFinding *
find_worst (SbPagesView *self, guint piece_id)
{
  GPtrArray *findings = sb_checker_get_findings (self->checker);

  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (is_of_place (finding) && (finding->piece_id == piece_id || finding->other_id == piece_id))
      return finding;
  }
  return NULL;
}

static void
update_plate (SbPagesView *self)
{
  guint n;
  const guint *ids = sb_selection_get_pieces (self->selection, &n);
  const SbFinding *finding = self->checker && n == 1 ? find_worst (self, ids[0]) : NULL;

  sb_finding_plate_set_finding (SB_FINDING_PLATE (self->plate), finding, self->unit);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
selection_changed_cb (SbPagesView *self)
{
  update_flags (self);
  update_plate (self);
  bake_all (self);
  g_signal_emit (self, signals[SYNCED], 0);
}

static void
checker_changed_cb (SbPagesView *self)
{
  update_flags (self);
  update_plate (self);
  bake_all (self);
  g_signal_emit (self, signals[SYNCED], 0);
}

/* Scrolling */

static void
set_adjustment (SbPagesView *self, GtkOrientation orientation, double content, int view,
                double value)
{
  GtkAdjustment *adjustment = self->adjustments[orientation];

  if (adjustment)
    gtk_adjustment_configure (adjustment, value, 0, MAX (content, view), view * 0.1, view * 0.9,
                              view);
}

static void
read_adjustments (SbPagesView *self)
{
  if (self->adjustments[0])
    self->layout.scroll_x = floor (gtk_adjustment_get_value (self->adjustments[0]) + 0.5);
  if (self->adjustments[1])
    self->layout.scroll_y = floor (gtk_adjustment_get_value (self->adjustments[1]) + 0.5);
}

static void
configure_adjustments (SbPagesView *self, double scroll_x, double scroll_y)
{
  double width, height;

  sb_pages_layout_get_size (&self->layout, &width, &height);
  set_adjustment (self, GTK_ORIENTATION_HORIZONTAL, width, self->layout.view_width, scroll_x);
  set_adjustment (self, GTK_ORIENTATION_VERTICAL, height, self->layout.view_height, scroll_y);
  read_adjustments (self);
}

static gboolean
tell_layout_cb (gpointer data)
{
  SbPagesView *self = data;

  self->told_source = 0;
  g_signal_emit (self, signals[LAYOUT_CHANGED], 0);
  return G_SOURCE_REMOVE;
}

/* Whoever listens may ask for a new allocation, which is lost in the middle of one. */
static void
layout_changed (SbPagesView *self)
{
  drop_nodes (self);
  if (!self->allocating) {
    gtk_widget_queue_allocate (GTK_WIDGET (self));
    g_signal_emit (self, signals[LAYOUT_CHANGED], 0);
  } else if (self->told_source == 0) {
    self->told_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, tell_layout_cb, self, NULL);
  }
}

static void
value_changed_cb (SbPagesView *self)
{
  double x = self->layout.scroll_x, y = self->layout.scroll_y;

  read_adjustments (self);
  if (x != self->layout.scroll_x || y != self->layout.scroll_y)
    layout_changed (self);
}

static void
take_adjustment (SbPagesView *self, GtkOrientation orientation, GtkAdjustment *adjustment)
{
  if (self->adjustments[orientation])
    g_signal_handlers_disconnect_by_data (self->adjustments[orientation], self);
  g_clear_object (&self->adjustments[orientation]);
  if (!adjustment)
    return;
  self->adjustments[orientation] = g_object_ref_sink (adjustment);
  g_signal_connect_swapped (adjustment, "value-changed", G_CALLBACK (value_changed_cb), self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

/* Widget */

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

static void apply_scale (SbPagesView *self, double scale, double view_x, double view_y);

static void
fit_page (SbPagesView *self, guint page)
{
  SbPagesLayout *layout = &self->layout;

  if (layout->view_width <= 1 || layout->view_height <= 1 || layout->n_pages == 0)
    return;
  apply_scale (self, sb_pages_layout_get_fit_scale (layout), layout->view_width / 2.0,
               layout->view_height / 2.0);
  sb_pages_view_show_page (self, page);
}

static void
sb_pages_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SbPagesView *self = SB_PAGES_VIEW (widget);
  gboolean resized = self->layout.view_width != width || self->layout.view_height != height;
  guint page = sb_pages_layout_find_page (&self->layout, self->layout.view_height / 2.0);

  self->allocating = TRUE;
  self->layout.view_width = width;
  self->layout.view_height = height;
  configure_adjustments (self, self->layout.scroll_x, self->layout.scroll_y);
  if (resized && self->fitting)
    fit_page (self, page);
  if (resized) /* even at the same scale: the page is centred anew */
    layout_changed (self);
  for (guint i = 0; i < self->drawn->len; i++)
    allocate_piece (self, self->drawn->pdata[i]);
  gtk_widget_measure (self->marks, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (self->marks, width, height, -1, NULL);
  allocate_plate (self);
  self->allocating = FALSE;
}

static void
snapshot_fit (SbPagesView *self, GtkSnapshot *snapshot)
{
  if (!self->fit)
    return;
  SbPoint a =
      sb_pages_layout_to_view (&self->layout, self->fit_page, self->fit_um.x0, self->fit_um.y0);
  SbPoint b =
      sb_pages_layout_to_view (&self->layout, self->fit_page, self->fit_um.x1, self->fit_um.y1);
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT ((float)a.x, (float)a.y, (float)(b.x - a.x), (float)(b.y - a.y));
  if (!self->fit_node) {
    GtkSnapshot *kept = gtk_snapshot_new ();
    sb_pixels_append (self->fit, GTK_WIDGET (self), kept, &rect);
    self->fit_node = gtk_snapshot_free_to_node (kept);
  }
  gtk_snapshot_append_node (snapshot, self->fit_node);
}

static void
snapshot_pieces (SbPagesView *self, GtkSnapshot *snapshot)
{
  g_autoptr (GPtrArray) lifted = g_ptr_array_new ();

  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    if (self->lifted && sb_selection_contains (self->selection, sb_piece_view_get_piece (view)->id))
      g_ptr_array_add (lifted, view);
    else
      gtk_widget_snapshot_child (GTK_WIDGET (self), GTK_WIDGET (view), snapshot);
  }
  for (guint i = 0; i < lifted->len; i++)
    gtk_widget_snapshot_child (GTK_WIDGET (self), lifted->pdata[i], snapshot);
}

static void
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

  if (self->ground)
    gtk_snapshot_append_node (snapshot, self->ground);
  snapshot_fit (self, snapshot);
  snapshot_pieces (self, snapshot);
  if (self->strip)
    gtk_snapshot_append_node (snapshot, self->strip);
  gtk_widget_snapshot_child (widget, self->marks, snapshot);
  gtk_widget_snapshot_child (widget, self->plate, snapshot);
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
    take_adjustment (self, GTK_ORIENTATION_HORIZONTAL, g_value_get_object (value));
    break;
  case PROP_VADJUSTMENT:
    take_adjustment (self, GTK_ORIENTATION_VERTICAL, g_value_get_object (value));
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
  drop_nodes (SB_PAGES_VIEW (widget));
  bake_all (SB_PAGES_VIEW (widget));
}

static void
sb_pages_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (sb_pages_view_parent_class)->css_changed (widget, change);
  style_changed (widget);
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
  take_adjustment (self, GTK_ORIENTATION_HORIZONTAL, NULL);
  take_adjustment (self, GTK_ORIENTATION_VERTICAL, NULL);
  if (self->selection)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  if (self->bakery)
    g_signal_handlers_disconnect_by_data (self->bakery, self);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->selection);
  g_clear_object (&self->bakery);
  g_clear_pointer (&self->views, g_hash_table_unref);
  g_clear_pointer (&self->drawn, g_ptr_array_unref);
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->strip, gsk_render_node_unref);
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
  self->drawn = g_ptr_array_new ();
  self->layout.scale = 1;
  self->stretch = 1;
  self->marks = sb_marks_new ();
  gtk_widget_set_parent (self->marks, GTK_WIDGET (self));
  self->plate = sb_finding_plate_new ();
  gtk_widget_set_parent (self->plate, GTK_WIDGET (self));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Pages"),
                                  -1);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (style_changed), NULL);
}

GtkWidget *
sb_pages_view_new (SbArtStore *store, SbSelection *selection)
{
  SbPagesView *self = g_object_new (SB_TYPE_PAGES_VIEW, NULL);

  self->bakery = sb_bakery_new (store);
  self->selection = g_object_ref (selection);
  g_signal_connect_swapped (selection, "changed", G_CALLBACK (selection_changed_cb), self);
  g_signal_connect_swapped (self->bakery, "baked", G_CALLBACK (baked_cb), self);
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
    g_signal_connect_swapped (job, "changed", G_CALLBACK (job_changed_cb), self);
  follow_job (self);
  name_pieces (self);
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
    g_signal_connect_swapped (checker, "changed", G_CALLBACK (checker_changed_cb), self);
    checker_changed_cb (self);
  }
}

void
sb_pages_view_set_overlay (SbPagesView *self, SbOverlay overlay)
{
  if (self->overlay == overlay)
    return;
  self->overlay = overlay;
  drop_nodes (self);
  update_flags (self);
  bake_all (self);
  g_signal_emit (self, signals[SYNCED], 0);
}

void
sb_pages_view_set_unit (SbPagesView *self, SbUnit unit)
{
  if (self->unit == unit)
    return;
  self->unit = unit;
  name_pieces (self);
  drop_nodes (self);
  g_signal_emit (self, signals[SYNCED], 0);
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

/* In a run of zooms about one point the same spot is held, though pages that are smaller than the
 * view lie in its middle meanwhile. */
static void
hold_spot (SbPagesView *self, double view_x, double view_y)
{
  if (self->held_at.x == view_x && self->held_at.y == view_y &&
      self->held_scroll.x == self->layout.scroll_x && self->held_scroll.y == self->layout.scroll_y)
    return;
  self->held = sb_pages_layout_get_spot (&self->layout, view_x, view_y);
  self->held_at = (SbPoint){view_x, view_y};
}

static void
apply_scale (SbPagesView *self, double scale, double view_x, double view_y)
{
  double scroll_x, scroll_y;

  if (scale == self->layout.scale)
    return;
  hold_spot (self, view_x, view_y);
  sb_pages_layout_hold_spot (self->held, scale, view_x, view_y, &scroll_x, &scroll_y);
  self->layout.scale = scale;
  configure_adjustments (self, scroll_x, scroll_y);
  self->held_scroll = (SbPoint){self->layout.scroll_x, self->layout.scroll_y};
  for (guint i = 0; i < self->drawn->len; i++)
    sb_piece_view_set_scale (self->drawn->pdata[i], scale);
  sb_bakery_forget_waiting (self->bakery);
  bake_later (self);
  layout_changed (self);
}

void
sb_pages_view_set_scale (SbPagesView *self, double scale, double view_x, double view_y)
{
  self->fitting = FALSE;
  apply_scale (self, scale, view_x, view_y);
}

void
sb_pages_view_fit (SbPagesView *self, guint page)
{
  self->fitting = TRUE;
  fit_page (self, page);
}

gboolean
sb_pages_view_is_fitting (SbPagesView *self)
{
  return self->fitting;
}

void
sb_pages_view_show_page (SbPagesView *self, guint page)
{
  SbPoint origin = sb_pages_layout_get_origin (&self->layout, page);

  sb_pages_view_scroll_by (self, 0,
                           origin.y - sb_um_to_mm (SB_PAGES_SPACE_UM) * self->layout.scale);
}

void
sb_pages_view_scroll_by (SbPagesView *self, double dx, double dy)
{
  for (int i = 0; i < 2; i++)
    if (self->adjustments[i])
      gtk_adjustment_set_value (self->adjustments[i],
                                gtk_adjustment_get_value (self->adjustments[i]) +
                                    (i == GTK_ORIENTATION_HORIZONTAL ? dx : dy));
}

/* How far to scroll so that lo..hi comes within 0..size; its start wins when it is larger. */
static double
reach (double lo, double hi, double size)
{
  if (lo < 0 || hi - lo > size)
    return lo;
  return hi > size ? hi - size : 0;
}

void
sb_pages_view_scroll_to (SbPagesView *self, guint page, SbBox box_um)
{
  const double space = 12;
  SbPoint a = sb_pages_layout_to_view (&self->layout, page, box_um.x0, box_um.y0);
  SbPoint b = sb_pages_layout_to_view (&self->layout, page, box_um.x1, box_um.y1);

  sb_pages_view_scroll_by (self, reach (a.x - space, b.x + space, self->layout.view_width),
                           reach (a.y - space, b.y + space, self->layout.view_height));
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

void
sb_pages_view_set_stretch (SbPagesView *self, guint design_id, double stretch)
{
  self->stretched_design = stretch == 1 ? 0 : design_id;
  self->stretch = stretch;
  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    gboolean is_of = sb_piece_view_get_design (view)->id == design_id;
    sb_piece_view_set_stretch (view, is_of ? stretch : 1);
  }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_signal_emit (self, signals[SYNCED], 0);
}

void
sb_pages_view_bake_now (SbPagesView *self, guint piece_id)
{
  SbPieceView *view = sb_pages_view_find (self, piece_id);

  if (view)
    sb_piece_view_bake (view, TRUE);
}

void
sb_pages_view_bake_stretched (SbPagesView *self)
{
  guint n = 0;

  for (guint i = 0; i < self->drawn->len && n < MOST_BAKED_NOW; i++) {
    GtkWidget *view = self->drawn->pdata[i];
    if (gtk_widget_get_child_visible (view) &&
        sb_piece_view_get_design (SB_PIECE_VIEW (view))->id == self->stretched_design) {
      sb_piece_view_bake (SB_PIECE_VIEW (view), TRUE);
      n++;
    }
  }
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

void
sb_pages_view_set_lifted (SbPagesView *self, gboolean lifted)
{
  self->lifted = lifted;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
sb_pages_view_is_busy (SbPagesView *self)
{
  return self->bake_source != 0 || sb_bakery_is_busy (self->bakery);
}
