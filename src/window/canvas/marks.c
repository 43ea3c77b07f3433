/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/canvas/marks.h"
#include "window/canvas/pages-view.h"
#include "window/canvas/plate.h"
#include "window/canvas/strokes.h"
#include "window/parts/palette.h"

struct _SbMarks {
  GtkWidget parent_instance;

  SbPagesView *view; /* the parent */
  GArray *guides;    /* SbSnapGuide */
  guint guides_page;
  gboolean has_band;
  graphene_rect_t band;
  char *told;
  SbDesign *ghost;
  guint ghost_page;
  SbIPoint ghost_at;
  gint32 ghost_turn;
  SbBaked ghost_baked;
  gboolean dragging;
  gboolean has_group_frame;
  SbFrame group_frame;
};

G_DEFINE_FINAL_TYPE (SbMarks, sb_marks, GTK_TYPE_WIDGET)

/* Places */

static SbPoint
to_view (SbMarks *self, guint page, double x_um, double y_um)
{
  return sb_pages_layout_to_view (sb_pages_view_get_layout (self->view), page, x_um, y_um);
}

static SbFrame
frame_of (SbMarks *self, SbPieceView *view)
{
  const SbPiece *piece = sb_piece_view_get_piece (view);
  double scale = sb_pages_view_get_layout (self->view)->scale;
  double width, height;

  sb_bake_get_finished_size (sb_piece_view_get_design (view), sb_piece_view_get_stretch (view),
                             &width, &height);
  SbPoint at = to_view (self, sb_piece_view_get_page (view), piece->at.x, piece->at.y);
  return sb_frame_new (at, width / 2 * scale, height / 2 * scale, piece->turn);
}

/* About the outlines' boxes. */
static gboolean
find_group_frame (SbMarks *self, const guint *ids, guint n, SbFrame *frame)
{
  SbIBox all = {0};
  guint page = 0;

  for (guint i = 0; i < n; i++) {
    SbPieceView *view = sb_pages_view_find (self->view, ids[i]);
    if (!view || (i > 0 && sb_piece_view_get_page (view) != page))
      return FALSE;
    SbIBox box = sb_polygon_get_box (sb_piece_view_get_outline (view));
    page = sb_piece_view_get_page (view);
    if (i == 0)
      all = box;
    all = (SbIBox){MIN (all.x0, box.x0), MIN (all.y0, box.y0), MAX (all.x1, box.x1),
                   MAX (all.y1, box.y1)};
  }
  SbPoint a = to_view (self, page, all.x0, all.y0), b = to_view (self, page, all.x1, all.y1);
  *frame = sb_frame_new ((SbPoint){(a.x + b.x) / 2, (a.y + b.y) / 2}, (b.x - a.x) / 2,
                         (b.y - a.y) / 2, 0);
  return TRUE;
}

gboolean
sb_marks_get_frame (SbMarks *self, SbFrame *frame)
{
  guint n;
  const guint *ids = sb_selection_get_pieces (sb_pages_view_get_selection (self->view), &n);
  SbPieceView *view = n == 1 ? sb_pages_view_find (self->view, ids[0]) : NULL;

  if (n > 1 && self->has_group_frame)
    *frame = self->group_frame;
  else if (n > 1)
    return find_group_frame (self, ids, n, frame);
  else if (view)
    *frame = frame_of (self, view);
  return n > 1 || view != NULL;
}

gboolean
sb_marks_get_selection_box (SbMarks *self, graphene_rect_t *box)
{
  guint n;
  const guint *ids = sb_selection_get_pieces (sb_pages_view_get_selection (self->view), &n);
  gboolean found = FALSE;

  for (guint i = 0; i < n; i++) {
    SbPieceView *view = sb_pages_view_find (self->view, ids[i]);
    if (!view)
      continue;
    const SbPiece *piece = sb_piece_view_get_piece (view);
    SbPoint at = to_view (self, sb_piece_view_get_page (view), piece->at.x, piece->at.y);
    int left, top, width, height;
    sb_piece_view_get_extents (view, &left, &top, &width, &height);
    graphene_rect_t one =
        GRAPHENE_RECT_INIT ((float)(at.x + left), (float)(at.y + top), (float)width, (float)height);
    if (found)
      graphene_rect_union (box, &one, box);
    else
      *box = one;
    found = TRUE;
  }
  return found;
}

/* Drawing */

static void
append_frame (SbMarks *self, GtkSnapshot *snapshot, const SbPalette *palette)
{
  const GdkRGBA white = {1, 1, 1, 1};
  guint n = sb_selection_get_n_pieces (sb_pages_view_get_selection (self->view));
  SbFrame frame;
  graphene_rect_t box;

  if (self->dragging)
    return;
  if (sb_marks_get_frame (self, &frame)) {
    for (int i = 0; i < 4 && n > 1; i++)
      sb_stroke_dashed_line (snapshot, frame.corners[i], frame.corners[(i + 1) % 4],
                             &palette->accent);
    sb_stroke_line (snapshot, frame.stem, frame.turn, 1.5, &palette->accent);
    for (int i = 0; i < 4; i++)
      sb_stroke_dot (snapshot, frame.corners[i], 5, &palette->accent, &white);
    sb_stroke_dot (snapshot, frame.turn, 6, &white, &palette->accent);
  } else if (sb_marks_get_selection_box (self, &box)) {
    sb_stroke_dashed_box (snapshot, &box, &palette->accent);
  }
}

static void
append_guide (SbMarks *self, GtkSnapshot *snapshot, const SbPalette *palette,
              const SbSnapGuide *guide)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->view);
  SbPoint a = to_view (self, self->guides_page, guide->a.x, guide->a.y);
  SbPoint b = to_view (self, self->guides_page, guide->b.x, guide->b.y);

  sb_stroke_line (snapshot, a, b, 1, &palette->accent);
  if (guide->length_um < 0)
    return;
  g_autofree char *text =
      sb_length_format (guide->length_um / SB_UM_PER_MM, sb_pages_view_get_unit (self->view));
  SbPlate plate = {text, &palette->accent, &palette->plate_text, TRUE};
  SbPlateSize size = sb_plate_measure (GTK_WIDGET (self), &plate);
  gboolean lies = fabs (b.x - a.x) > fabs (b.y - a.y);
  double x = (a.x + b.x) / 2 + (lies ? -size.width / 2.0 : 8);
  double y = (a.y + b.y) / 2 + (lies ? 8 : -size.height / 2.0);
  sb_plate_append_within (GTK_WIDGET (self), snapshot, &plate, x, y, layout->view_width,
                          layout->view_height);
}

/* Where the baked ghost lies. */
static graphene_rect_t
get_ghost_box (SbMarks *self)
{
  SbPoint at = to_view (self, self->ghost_page, self->ghost_at.x, self->ghost_at.y);
  double factor = sb_pages_view_get_layout (self->view)->scale / self->ghost_baked.px_a_mm;

  return GRAPHENE_RECT_INIT ((float)floor (at.x - self->ghost_baked.left * factor),
                             (float)floor (at.y - self->ghost_baked.top * factor),
                             (float)(sb_pixels_get_width (self->ghost_baked.pixels) * factor),
                             (float)(sb_pixels_get_height (self->ghost_baked.pixels) * factor));
}

static void
append_ghost (SbMarks *self, GtkSnapshot *snapshot)
{
  if (!self->ghost)
    return;
  double scale = sb_pages_view_get_layout (self->view)->scale;
  SbBakeKey key = {
      .design = self->ghost,
      .turn = self->ghost_turn,
      .px_a_mm = scale * gtk_widget_get_scale_factor (GTK_WIDGET (self)),
      .stretch = 1,
      .flags = SB_BAKE_SELECTED,
      .strong = sb_palette_is_high_contrast (GTK_WIDGET (self)),
  };

  sb_bakery_get_now (sb_pages_view_get_bakery (self->view), &key, &self->ghost_baked);
  graphene_rect_t rect = get_ghost_box (self);
  sb_pixels_append (self->ghost_baked.pixels, GTK_WIDGET (self), snapshot, &rect);
}

static void
append_band (SbMarks *self, GtkSnapshot *snapshot, const SbPalette *palette)
{
  GdkRGBA tint = palette->accent;

  if (!self->has_band)
    return;
  tint.alpha = 0.1f;
  gtk_snapshot_append_color (snapshot, &tint, &self->band);
  sb_stroke_dashed_box (snapshot, &self->band, &palette->accent);
}

static void
append_told (SbMarks *self, GtkSnapshot *snapshot, const SbPalette *palette)
{
  const SbPagesLayout *layout = sb_pages_view_get_layout (self->view);
  graphene_rect_t box;

  if (!self->told)
    return;
  if (self->ghost)
    box = get_ghost_box (self);
  else if (!sb_marks_get_selection_box (self, &box))
    return;
  SbPlate plate = {self->told, &palette->accent, &palette->plate_text, FALSE};
  SbPlateSize size = sb_plate_measure (GTK_WIDGET (self), &plate);
  sb_plate_append_within (
      GTK_WIDGET (self), snapshot, &plate, box.origin.x + (box.size.width - (float)size.width) / 2,
      box.origin.y - (float)size.height - 6, layout->view_width, layout->view_height);
}

static void
sb_marks_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbMarks *self = SB_MARKS (widget);
  const SbPalette *palette = sb_palette_get (widget);

  if (!sb_pages_view_get_job (self->view))
    return;
  append_ghost (self, snapshot);
  append_frame (self, snapshot, palette);
  for (guint i = 0; i < self->guides->len; i++)
    append_guide (self, snapshot, palette, &g_array_index (self->guides, SbSnapGuide, i));
  append_band (self, snapshot, palette);
  append_told (self, snapshot, palette);
}

static void
sb_marks_dispose (GObject *object)
{
  SbMarks *self = SB_MARKS (object);

  g_clear_pointer (&self->guides, g_array_unref);
  g_clear_pointer (&self->told, g_free);
  g_clear_pointer (&self->ghost, sb_design_unref);
  sb_baked_clear (&self->ghost_baked);
  G_OBJECT_CLASS (sb_marks_parent_class)->dispose (object);
}

static void
sb_marks_class_init (SbMarksClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_marks_dispose;
  GTK_WIDGET_CLASS (klass)->snapshot = sb_marks_snapshot;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "marks");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
sb_marks_init (SbMarks *self)
{
  self->guides = g_array_new (FALSE, FALSE, sizeof (SbSnapGuide));
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  gtk_widget_set_can_focus (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_marks_new (void)
{
  return g_object_new (SB_TYPE_MARKS, NULL);
}

void
sb_marks_set_view (SbMarks *self, GtkWidget *pages_view)
{
  self->view = SB_PAGES_VIEW (pages_view);
  g_signal_connect_object (pages_view, "synced", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (pages_view, "layout-changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

void
sb_marks_set_guides (SbMarks *self, guint page, const SbSnapGuide *guides, guint n)
{
  if (n == 0 && self->guides->len == 0)
    return;
  self->guides_page = page;
  g_array_set_size (self->guides, 0);
  g_array_append_vals (self->guides, guides, n);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_marks_set_band (SbMarks *self, const graphene_rect_t *band)
{
  self->has_band = band != NULL;
  if (band)
    graphene_rect_normalize_r (band, &self->band);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_marks_set_told (SbMarks *self, const char *text)
{
  if (g_strcmp0 (self->told, text) == 0)
    return;
  g_free (self->told);
  self->told = g_strdup (text);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_marks_set_ghost (SbMarks *self, SbDesign *design, guint page, SbIPoint at, gint32 turn)
{
  if (design)
    sb_design_ref (design);
  g_clear_pointer (&self->ghost, sb_design_unref);
  self->ghost = design;
  self->ghost_page = page;
  self->ghost_at = at;
  self->ghost_turn = turn;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_marks_set_dragging (SbMarks *self, gboolean dragging)
{
  if (self->dragging == dragging)
    return;
  self->dragging = dragging;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sb_marks_set_group_frame (SbMarks *self, const SbFrame *frame)
{
  self->has_group_frame = frame != NULL;
  if (frame)
    self->group_frame = *frame;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
