/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page is painted piece by piece in drawing order: the guide, then the artwork over it. Artwork
 * and guides are surfaces that all copies share; a copy is only another matrix.
 *
 * Bleeds come before all pieces, and each piece then clears its own inside, so that a bleed never
 * shows on a neighbour. */
#include "config.h"

#include "output/painter.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/file.h"
#include "job/layout-view.h"
#include "output/artwork.h"
#include "output/bleed.h"
#include "output/check-bar.h"
#include "output/guide.h"
#include "output/laid.h"
#include "output/recording.h"
#include "output/text.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
/* No guide and no bleed goes farther from the outline's box. */
#define GUIDE_REACH_MM 5.0
/* Colours that run on smoothly need no more. */
#define BLEED_DPI 300
/* The plain-paper test: a line that any printer shows, letters that can still be read. */
#define PLAIN_LINE_MM 0.12
#define PLAIN_TEXT_MM 2.8
#define PLAIN_TEXT_LEAST_MM 1.2

typedef struct {
  cairo_surface_t *surface; /* NULL: no guide */
  SbPoint origin;
} Guide;

struct _SbPainter {
  SbState *state;
  SbState *plain; /* the same with its layouts' pieces on the pages */
  SbArtworks *artworks;
  GHashTable *guides; /* layout and design id as a gint64 -> Guide */
  GHashTable *bleeds; /* design id -> SbBleed */
};

static void
guide_free (Guide *guide)
{
  if (guide->surface != NULL)
    sb_recording_free (guide->surface);
  g_free (guide);
}

static void
bleed_free (SbBleed *bleed)
{
  sb_bleed_clear (bleed);
  g_free (bleed);
}

SbPainter *
sb_painter_new (const SbState *state, int most_dpi)
{
  SbPainter *painter = g_new0 (SbPainter, 1);
  painter->state = sb_state_ref ((SbState *)state);
  painter->plain = sb_state_expand (state);
  painter->artworks =
      sb_artworks_new (most_dpi > 0 ? MIN (most_dpi, SB_PAINT_MOST_DPI) : SB_PAINT_MOST_DPI);
  painter->guides =
      g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify)guide_free);
  painter->bleeds = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify)bleed_free);
  return painter;
}

void
sb_painter_free (SbPainter *painter)
{
  if (painter == NULL)
    return;
  sb_state_unref (painter->state);
  sb_state_unref (painter->plain);
  sb_artworks_free (painter->artworks);
  g_hash_table_unref (painter->guides);
  g_hash_table_unref (painter->bleeds);
  g_free (painter);
}

/* The guide of a design in a layout, or loose (NULL). */
static const Guide *
get_guide (SbPainter *painter, const SbLayout *layout, const SbDesign *design)
{
  gint64 key = (gint64)(layout != NULL ? layout->id : 0) << 32 | design->id;
  Guide *guide = g_hash_table_lookup (painter->guides, &key);
  if (guide == NULL) {
    SbGuide style = sb_layout_get_guide (layout, design);
    sb_um gap = layout != NULL ? layout->gap : painter->state->gap;
    guide = g_new0 (Guide, 1);
    guide->surface = sb_guide_record (sb_design_get_outline (design), &style, sb_um_to_mm (gap),
                                      design->bleed_mm > 0, &guide->origin);
    g_hash_table_insert (painter->guides, g_memdup2 (&key, sizeof key), guide);
  }
  return guide;
}

/* The user space of `cr` becomes the artwork's frame in millimetres. */
static void
enter_frame (cairo_t *cr, const SbDesign *design, const SbPiece *piece)
{
  SbTransform t = sb_piece_get_transform (design, piece);
  cairo_matrix_t matrix;
  cairo_matrix_init (&matrix, t.xx, t.yx, t.xy, t.yy, t.x0, t.y0);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  cairo_transform (cr, &matrix);
}

/* Whether anything of the piece can show in the clip; `cr` is in the artwork's frame. */
static gboolean
is_visible (cairo_t *cr, const SbDesign *design)
{
  double x0, y0, x1, y1;
  cairo_clip_extents (cr, &x0, &y0, &x1, &y1);
  SbBox box = sb_outline_get_box (sb_design_get_outline (design));
  return fmin (box.x0 - GUIDE_REACH_MM, 0) < x1 &&
         fmax (box.x1 + GUIDE_REACH_MM, design->width_mm) > x0 &&
         fmin (box.y0 - GUIDE_REACH_MM, 0) < y1 &&
         fmax (box.y1 + GUIDE_REACH_MM, design->height_mm) > y0;
}

/* Of surface NULL where the design has none; NULL after an error. */
static const SbBleed *
get_bleed (SbPainter *painter, const SbDesign *design, GCancellable *cancellable, GError **error)
{
  SbBleed *bleed = g_hash_table_lookup (painter->bleeds, GUINT_TO_POINTER (design->id));
  if (bleed != NULL)
    return bleed;
  double width, height;
  cairo_surface_t *art =
      sb_artworks_get (painter->artworks, design, &width, &height, cancellable, error);
  if (art == NULL)
    return NULL;
  bleed = g_new (SbBleed, 1);
  *bleed = sb_bleed_make (design, art, width, height, BLEED_DPI / SB_MM_PER_INCH);
  g_hash_table_insert (painter->bleeds, GUINT_TO_POINTER (design->id), bleed);
  return bleed;
}

static gboolean
paint_bleed (SbPainter *painter, cairo_t *cr, const SbDesign *design, GCancellable *cancellable,
             GError **error)
{
  if (!(design->bleed_mm > 0))
    return TRUE;
  const SbBleed *bleed = get_bleed (painter, design, cancellable, error);
  if (bleed == NULL)
    return FALSE;
  if (bleed->surface != NULL) {
    sb_bleed_set_source (bleed, cr);
    cairo_paint (cr);
  }
  return TRUE;
}

/* The inside of a piece where bleeds are about: white, then its own bleed up to the cut. */
static gboolean
clear_inside (SbPainter *painter, cairo_t *cr, const SbDesign *design, GCancellable *cancellable,
              GError **error)
{
  cairo_save (cr);
  sb_guide_trace_outline (cr, sb_design_get_outline (design));
  cairo_clip (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  gboolean ok = paint_bleed (painter, cr, design, cancellable, error);
  cairo_restore (cr);
  return ok;
}

static gboolean
paint_artwork (SbPainter *painter, cairo_t *cr, const SbDesign *design, GCancellable *cancellable,
               GError **error)
{
  double width, height;
  cairo_surface_t *surface =
      sb_artworks_get (painter->artworks, design, &width, &height, cancellable, error);
  if (surface == NULL)
    return FALSE;
  cairo_save (cr);
  if (design->bleed_mm > 0) {
    /* Nothing that is not artwork, a shadow or its paper, may come between it and its bleed. */
    sb_guide_trace_outline (cr, sb_design_get_artwork (design));
    cairo_clip (cr);
  } else if (!sb_picture_has_alpha (design->picture)) {
    /* Its paper is in the picture: none of it is printed past the cut. */
    sb_guide_trace_outline (cr, sb_design_get_outline (design));
    cairo_clip (cr);
  }
  cairo_scale (cr, design->width_mm / width, design->height_mm / height);
  cairo_set_source_surface (cr, surface, 0, 0);
  if (sb_picture_is_crisp (design->picture)) /* wherever it lies among a bitmap's pixels */
    cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_restore (cr);
  return TRUE;
}

static void
paint_guide (cairo_t *cr, const Guide *guide)
{
  if (guide->surface == NULL)
    return;
  cairo_set_source_surface (cr, guide->surface, guide->origin.x, guide->origin.y);
  cairo_paint (cr);
}

/* A line of text that fits `width_mm`, or none when it would be too small to read. */
static void
paint_fitting_text (cairo_t *cr, SbPoint middle, double width_mm, double size_mm, const char *text)
{
  double width = sb_text_measure (cr, size_mm, text);
  if (width > width_mm)
    size_mm *= width_mm / width;
  if (size_mm >= PLAIN_TEXT_LEAST_MM)
    sb_text_draw (cr, middle.x, middle.y, 0.5, size_mm, text);
}

static void
paint_plain (cairo_t *cr, const SbDesign *design, SbUnit unit)
{
  const SbOutline *outline = sb_design_get_outline (design);
  cairo_set_source_rgb (cr, 0.3, 0.3, 0.3);
  cairo_set_line_width (cr, PLAIN_LINE_MM);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  sb_guide_trace_outline (cr, outline);
  cairo_stroke (cr);

  SbBox box = sb_outline_get_box (outline);
  SbPoint middle = sb_box_centre (box);
  double width = 0.8 * (box.x1 - box.x0);
  g_autofree char *size = sb_length_format_size (box.x1 - box.x0, box.y1 - box.y0, unit);
  cairo_set_source_rgb (cr, 0, 0, 0);
  paint_fitting_text (cr, (SbPoint){middle.x, middle.y - 2}, width, PLAIN_TEXT_MM, design->name);
  paint_fitting_text (cr, (SbPoint){middle.x, middle.y + 2}, width, PLAIN_TEXT_MM, size);
}

static gboolean
has_bleed (const SbState *state, const SbPage *page)
{
  for (guint i = 0; i < page->n_pieces; i++)
    if (sb_state_get_design (state, page->pieces[i].design_id)->bleed_mm > 0)
      return TRUE;
  return FALSE;
}

/* Every bleed of the page. */
static gboolean
paint_bleeds (SbPainter *painter, cairo_t *cr, const SbPage *page, GCancellable *cancellable,
              GError **error)
{
  gboolean ok = TRUE;
  for (guint i = 0; i < page->n_pieces && ok; i++) {
    const SbPiece *piece = &page->pieces[i];
    const SbDesign *design = sb_state_get_design (painter->state, piece->design_id);
    cairo_save (cr);
    enter_frame (cr, design, piece);
    if (is_visible (cr, design))
      ok = paint_bleed (painter, cr, design, cancellable, error);
    cairo_restore (cr);
  }
  return ok;
}

static gboolean
paint_piece (SbPainter *painter, cairo_t *cr, const SbLayout *layout, const SbPiece *piece,
             const SbPaintOptions *options, gboolean among_bleeds, GCancellable *cancellable,
             GError **error)
{
  const SbDesign *design = sb_state_get_design (painter->state, piece->design_id);
  const Guide *guide = get_guide (painter, layout, design);
  gboolean ok = TRUE;
  cairo_save (cr);
  enter_frame (cr, design, piece);
  if (is_visible (cr, design)) {
    if (options->mode == SB_PAINT_PLAIN) {
      paint_guide (cr, guide);
      paint_plain (cr, design, options->unit);
    } else {
      ok = !among_bleeds || clear_inside (painter, cr, design, cancellable, error);
      if (ok)
        paint_guide (cr, guide);
      ok = ok && paint_artwork (painter, cr, design, cancellable, error);
    }
  }
  cairo_restore (cr);
  return ok;
}

static void
paint_check_bar (SbPainter *painter, cairo_t *cr, guint index)
{
  SbIBox room;
  gboolean upright;
  if (!sb_check_bar_find_room (painter->state, index, &room, &upright))
    return;
  cairo_save (cr);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  sb_check_bar_draw (cr, &room, upright);
  cairo_restore (cr);
}

/* What lies under the pieces, and what over them. */
static void
paint_layout (SbPainter *painter, cairo_t *cr, guint index, gboolean marks,
              const SbPaintOptions *options)
{
  const SbPage *page = sb_state_get_page (painter->state, index);
  const SbLayout *view = painter->state->view;
  gboolean ground = !marks && options->mode == SB_PAINT_FULL;
  cairo_save (cr);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  if (view != NULL && ground)
    sb_laid_paint_ground (cr, view);
  else if (view != NULL && marks)
    sb_laid_paint_inner_marks (cr, view);
  else if (page->layout_id != 0 && ground)
    sb_laid_paint_grounds (cr, painter->state, page);
  else if (page->layout_id != 0 && marks)
    sb_laid_paint_marks (cr, painter->state, index);
  cairo_restore (cr);
}

static gboolean
paint_pieces (SbPainter *painter, cairo_t *cr, guint index, const SbPaintOptions *options,
              GCancellable *cancellable, GError **error)
{
  const SbPage *page = sb_state_get_page (painter->state, index);
  const SbPage *plain = sb_state_get_page (painter->plain, index);
  const SbLayout *layout = painter->state->view != NULL
                               ? painter->state->view
                               : sb_state_get_layout (painter->state, page->layout_id);
  guint n_loose = painter->state->view != NULL ? 0 : page->n_pieces;
  gboolean among_bleeds = options->mode == SB_PAINT_FULL && has_bleed (painter->state, plain);
  if (among_bleeds && !paint_bleeds (painter, cr, plain, cancellable, error))
    return FALSE;
  for (guint i = 0; i < plain->n_pieces; i++) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
        !paint_piece (painter, cr, i < n_loose ? NULL : layout, &plain->pieces[i], options,
                      among_bleeds, cancellable, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_painter_paint (SbPainter *painter, cairo_t *cr, guint index, const SbPaintOptions *options,
                  GCancellable *cancellable, GError **error)
{
  g_return_val_if_fail (index < painter->state->pages->len, FALSE);

  paint_layout (painter, cr, index, FALSE, options);
  if (!paint_pieces (painter, cr, index, options, cancellable, error))
    return FALSE;
  paint_layout (painter, cr, index, TRUE, options);
  if (options->check_bar || painter->state->check_bar)
    paint_check_bar (painter, cr, index);

  cairo_status_t status = cairo_status (cr);
  if (status != CAIRO_STATUS_SUCCESS) {
    g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("Page %u could not be painted: %s"),
                 index + 1, cairo_status_to_string (status));
    return FALSE;
  }
  return TRUE;
}
