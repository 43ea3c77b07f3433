/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rules inside a layout: what a kiss-cut sheet and a folded card ask for beyond what holds of
 * any page. Measures are those of the layout (handbook sections 3.4 and 4.3). */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "geometry/relation.h"
#include "proof/rules.h"

/* A hole lies at least 1/4 in below the top (handbook 3.4, S72). */
#define HOLE_LEAST_UM 6350
/* The panel covers the bag's mouth by 12 mm, so that two staples or tape hold (3.4). */
#define ZONE_LEAST_UM 12000
/* Many lasers stop near 163 to 220 g/m2 (3.4; from memory, so it is only a note). */
#define WEIGHT_MANY_TAKE 163

static char *
get_label (const SbProofPage *proof, const SbShape *shape)
{
  return sb_piece_get_label (proof->state, shape->piece->id);
}

/* How much a box lacks to keep `edge` from all sides of the frame. */
static sb_um
get_missing (SbIBox box, SbIBox frame, sb_um edge)
{
  sb_um nearest =
      MIN (MIN (box.x0 - frame.x0, frame.x1 - box.x1), MIN (box.y0 - frame.y0, frame.y1 - box.y1));
  return nearest < 0 ? 0 : edge - nearest; /* what hangs over is another finding */
}

static void
check_sheet_rim (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  SbIBox frame = {0, 0, layout->width, layout->height};
  sb_um missing = get_missing (sb_polygon_get_box (shape->outline), frame, layout->edge);
  if (missing <= 0)
    return;
  g_autofree char *label = get_label (proof, shape);
  g_autofree char *lost = sb_proof_format_lost (sb_um_to_mm (missing), proof->unit);
  g_autofree char *wanted = sb_length_format (sb_um_to_mm (layout->edge), proof->unit);
  SbFinding *finding = sb_proof_add (
      proof, SB_SEVERITY_CAUTION, SB_RULE_RIM, shape->piece,
      /* Translators: a piece and two lengths */
      g_strdup_printf (_ ("%1$s is %2$s too near the edge of the sheet for a distance of %3$s"),
                       label, lost, wanted));
  finding->lost_mm = sb_um_to_mm (missing);
}

/* The half of a card that a box has most of. */
static SbIBox
get_panel (const SbLayout *layout, SbIBox box)
{
  sb_um fold = sb_layout_get_fold (layout);
  if (fold < 0)
    return (SbIBox){0, 0, layout->width, layout->height};
  gboolean back = box.y0 + (box.y1 - box.y0) / 2 < fold;
  return (SbIBox){0, back ? 0 : fold, layout->width, back ? fold : layout->height};
}

static void
check_text_rim (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  SbIBox box = sb_polygon_get_box (shape->artwork);
  sb_um missing = get_missing (box, get_panel (layout, box), layout->edge);
  if (missing <= 0)
    return;
  g_autofree char *label = get_label (proof, shape);
  g_autofree char *lost = sb_proof_format_lost (sb_um_to_mm (missing), proof->unit);
  g_autofree char *wanted = sb_length_format (sb_um_to_mm (layout->edge), proof->unit);
  SbFinding *finding = sb_proof_add (
      proof, SB_SEVERITY_CAUTION, SB_RULE_RIM, shape->piece,
      /* Translators: a text and two lengths */
      g_strdup_printf (
          _ ("%1$s is %2$s too near an edge or the fold for text, which keeps %3$s from them"),
          label, lost, wanted));
  finding->lost_mm = sb_um_to_mm (missing);
}

static void
check_fold (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  sb_um fold = sb_layout_get_fold (layout);
  SbIBox box = sb_polygon_get_box (shape->artwork);
  if (box.y0 >= fold || box.y1 <= fold)
    return;
  g_autofree char *label = get_label (proof, shape);
  sb_proof_add (
      proof, SB_SEVERITY_NOTE, SB_RULE_FOLD, shape->piece,
      g_strdup_printf (_ ("%s runs over the fold; score it well, as ink and toner crack"), label));
}

static void
check_zone (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  SbIBox box = sb_polygon_get_box (shape->artwork);
  if (box.y0 >= layout->zone && box.y1 <= layout->height - layout->zone)
    return;
  g_autofree char *label = get_label (proof, shape);
  sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_ZONE, shape->piece,
                g_strdup_printf (_ ("%s lies where the staples or the seal go"), label));
}

/* The hole as a polygon of 32 corners around it. */
static SbPolygon *
make_hole (const SbLayout *layout, gboolean back)
{
  sb_um fold = sb_layout_get_fold (layout);
  sb_um diameter = layout->hole + (back ? SB_LAYOUT_HOLE_MORE : 0);
  double radius = diameter / 2.0 / cos (G_PI / 32);
  SbIPoint centre = {layout->width / 2, back ? fold - layout->hole_at : fold + layout->hole_at};
  SbIPoint corners[32];
  for (int i = 0; i < 32; i++)
    corners[i] = (SbIPoint){centre.x + (sb_um)lround (radius * cos (i * G_PI / 16)),
                            centre.y + (sb_um)lround (radius * sin (i * G_PI / 16))};
  SbLoop loop = {G_N_ELEMENTS (corners), corners};
  return sb_polygon_new (&loop, 1);
}

static void
check_hole (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  for (int back = 0; back < 2 && layout->hole > 0; back++) {
    g_autoptr (SbPolygon) hole = make_hole (layout, back);
    if (!sb_polygons_closer_than (hole, shape->artwork, 0))
      continue;
    g_autofree char *label = get_label (proof, shape);
    sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_HOLE, shape->piece,
                  g_strdup_printf (_ ("The hole goes through %s"), label));
    return;
  }
}

/* Text on the back reads upright behind the fold when it is drawn on its head, and on the front
 * when it is not. */
static void
check_upright (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  SbIBox panel = get_panel (layout, sb_polygon_get_box (shape->artwork));
  gboolean on_head = shape->piece->turn > 90000 && shape->piece->turn < 270000;
  gboolean aside = shape->piece->turn == 90000 || shape->piece->turn == 270000;
  if (aside || on_head == (panel.y0 == 0))
    return;
  g_autofree char *label = get_label (proof, shape);
  sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_UPSIDE_DOWN, shape->piece,
                g_strdup_printf (_ ("%s stands on its head when the card is folded"), label));
}

static void
check_header_measures (SbProofPage *proof, const SbLayout *layout)
{
  sb_um hole_top = layout->hole_at - (layout->hole + SB_LAYOUT_HOLE_MORE) / 2;
  if (layout->hole > 0 && hole_top < HOLE_LEAST_UM) {
    g_autofree char *least = sb_length_format (sb_um_to_mm (HOLE_LEAST_UM), proof->unit);
    sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_HOLE, NULL,
                  /* Translators: a card and a length */
                  g_strdup_printf (_ ("%s: the hole is less than %s below the fold and may tear"),
                                   layout->name, least));
  }
  if (layout->zone < ZONE_LEAST_UM) {
    g_autofree char *least = sb_length_format (sb_um_to_mm (ZONE_LEAST_UM), proof->unit);
    sb_proof_add (
        proof, SB_SEVERITY_NOTE, SB_RULE_ZONE, NULL,
        /* Translators: a card and a length */
        g_strdup_printf (_ ("%s: staples or tape need %s of card over the mouth of the bag"),
                         layout->name, least));
  }
}

static void
check_weight (SbProofPage *proof, const SbLayout *layout)
{
  if (layout->weight <= WEIGHT_MANY_TAKE)
    return;
  sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_WEIGHT, NULL,
                g_strdup_printf (_ ("%s: not every printer takes card of %d g/m²; its maker says "
                                    "which weight, and by which path"),
                                 layout->name, layout->weight));
}

static void
check_card_piece (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  gboolean is_text = shape->design->lettering != NULL;
  if (is_text)
    check_text_rim (proof, layout, shape);
  if (layout->kind != SB_LAYOUT_HEADER)
    return;
  check_hole (proof, layout, shape);
  check_fold (proof, layout, shape);
  if (is_text) {
    check_zone (proof, layout, shape);
    check_upright (proof, layout, shape);
  }
}

static void
check_piece (SbProofPage *proof, const SbLayout *layout, const SbShape *shape)
{
  sb_proof_check_edges (proof, shape);
  if (sb_layout_is_card (layout))
    check_card_piece (proof, layout, shape);
  else
    check_sheet_rim (proof, layout, shape);
}

/* The view with margins that leave just `reach`. */
static SbState *
show_reach (const SbState *view, SbIBox reach)
{
  SbState *shown = sb_state_copy (view);
  shown->margins =
      (SbMargins){reach.y0, shown->page_width - reach.x1, shown->page_height - reach.y1, reach.x0};
  return shown;
}

void
sb_proof_check_layout (SbProofPage *proof, const SbState *view, SbIBox reach, GHashTable *seen)
{
  g_autoptr (SbState) shown = show_reach (view, reach);
  const SbLayout *layout = shown->view;
  SbProofPage inside = *proof;
  inside.state = shown;
  inside.layout_id = layout->id;
  g_autoptr (GHashTable) kinds = sb_shape_kinds_new ();
  g_autoptr (GArray) shapes = sb_shapes_of_page (shown, 0, kinds);
  for (guint i = 0; i < shapes->len; i++) {
    const SbShape *shape = &g_array_index (shapes, SbShape, i);
    check_piece (&inside, layout, shape);
    if (g_hash_table_add (seen, GUINT_TO_POINTER (shape->design->id)))
      sb_proof_check_sticker (&inside, shape);
  }
  if (!sb_layout_is_card (layout))
    sb_proof_check_neighbours (&inside, shapes);
  else
    check_weight (&inside, layout);
  if (layout->kind == SB_LAYOUT_HEADER)
    check_header_measures (&inside, layout);
}
