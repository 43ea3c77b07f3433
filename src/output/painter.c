/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A page is painted piece by piece in drawing order: the guide, then the artwork over it. Artwork
 * and guides are surfaces that all copies share; a copy is only another matrix. */
#include "config.h"

#include "output/painter.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/file.h"
#include "output/artwork.h"
#include "output/check-bar.h"
#include "output/guide.h"
#include "output/recording.h"
#include "output/text.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
/* No guide goes farther from the outline's box. */
#define GUIDE_REACH_MM 5.0
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
  SbArtworks *artworks;
  GHashTable *guides; /* design id -> Guide */
};

static void
guide_free (Guide *guide)
{
  if (guide->surface != NULL)
    sb_recording_free (guide->surface);
  g_free (guide);
}

SbPainter *
sb_painter_new (const SbState *state, int most_dpi)
{
  SbPainter *painter = g_new0 (SbPainter, 1);
  painter->state = sb_state_ref ((SbState *)state);
  painter->artworks =
      sb_artworks_new (most_dpi > 0 ? MIN (most_dpi, SB_PAINT_MOST_DPI) : SB_PAINT_MOST_DPI);
  painter->guides = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify)guide_free);
  return painter;
}

void
sb_painter_free (SbPainter *painter)
{
  if (painter == NULL)
    return;
  sb_state_unref (painter->state);
  sb_artworks_free (painter->artworks);
  g_hash_table_unref (painter->guides);
  g_free (painter);
}

static const Guide *
get_guide (SbPainter *painter, const SbDesign *design)
{
  Guide *guide = g_hash_table_lookup (painter->guides, GUINT_TO_POINTER (design->id));
  if (guide == NULL) {
    guide = g_new0 (Guide, 1);
    guide->surface = sb_guide_record (sb_design_get_outline (design), &design->guide,
                                      sb_um_to_mm (painter->state->gap), &guide->origin);
    g_hash_table_insert (painter->guides, GUINT_TO_POINTER (design->id), guide);
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
  if (!sb_picture_has_alpha (design->picture)) {
    /* Its paper is in the picture: none of it is printed past the cut. */
    sb_guide_trace_outline (cr, sb_design_get_outline (design));
    cairo_clip (cr);
  }
  cairo_scale (cr, design->width_mm / width, design->height_mm / height);
  cairo_set_source_surface (cr, surface, 0, 0);
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
paint_piece (SbPainter *painter, cairo_t *cr, const SbPiece *piece, const SbPaintOptions *options,
             GCancellable *cancellable, GError **error)
{
  const SbDesign *design = sb_state_get_design (painter->state, piece->design_id);
  const Guide *guide = get_guide (painter, design);
  gboolean ok = TRUE;
  cairo_save (cr);
  enter_frame (cr, design, piece);
  if (is_visible (cr, design)) {
    paint_guide (cr, guide);
    if (options->mode == SB_PAINT_PLAIN)
      paint_plain (cr, design, options->unit);
    else
      ok = paint_artwork (painter, cr, design, cancellable, error);
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

gboolean
sb_painter_paint (SbPainter *painter, cairo_t *cr, guint index, const SbPaintOptions *options,
                  GCancellable *cancellable, GError **error)
{
  const SbPage *page = sb_state_get_page (painter->state, index);
  g_return_val_if_fail (page != NULL, FALSE);

  for (guint i = 0; i < page->n_pieces; i++) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
        !paint_piece (painter, cr, &page->pieces[i], options, cancellable, error))
      return FALSE;
  }
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
