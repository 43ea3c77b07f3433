/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "geometry/relation.h"
#include "proof/rules.h"

/* Smallest finished side that scissors can follow (handbook section 4.2, common practice). */
#define SMALLEST_SIDE_MM 12.0
/* Thinnest part (the same table). */
#define THINNEST_PART_MM 4.0
/* Less than this is the rounding of both. */
#define THROUGH_LEAST_UM 50.0

static void
check_resolution (SbProofPage *proof, const SbShape *shape)
{
  const SbDesign *design = shape->design;
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);
  if (dpi > 0 && dpi < SB_DPI_GOOD && sb_design_get_steps (design) > 0) {
    sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_RESOLUTION, shape->piece,
                  /* Translators: a design and its pixels per inch */
                  g_strdup_printf (_ ("%s is enlarged past its pixels, with hard edges: each of "
                                      "them shows, %d to the inch"),
                                   design->name, dpi));
    return;
  }
  if (!sb_design_is_coarse (design))
    return;
  char *message;
  /* Translators: a design and its dots per inch */
  if (dpi < SB_DPI_BAD)
    message = g_strdup_printf (_ ("%s will look blurred: it has %d dpi at this size; %d is good"),
                               design->name, dpi, SB_DPI_GOOD);
  else if (dpi < SB_DPI_POOR)
    message = g_strdup_printf (_ ("%s will look soft: it has %d dpi at this size; %d is good"),
                               design->name, dpi, SB_DPI_GOOD);
  else
    message =
        g_strdup_printf (_ ("%s may look a little soft: it has %d dpi at this size; %d is good"),
                         design->name, dpi, SB_DPI_GOOD);
  sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_RESOLUTION, shape->piece, message);
}

static void
check_islands (SbProofPage *proof, const SbShape *shape)
{
  guint n = sb_growth_get_n_islands (shape->design->growth);
  if (n < 2)
    return;
  sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_ISLANDS, shape->piece,
                g_strdup_printf (ngettext ("%s falls into %u part, cut on its own",
                                           "%s falls into %u parts, each cut on its own", n),
                                 shape->design->name, n));
}

static void
check_size (SbProofPage *proof, const SbShape *shape)
{
  double width_mm, height_mm;
  sb_design_get_finished_size (shape->design, &width_mm, &height_mm);
  double side = MIN (width_mm, height_mm);
  if (side >= SMALLEST_SIDE_MM)
    return;
  g_autofree char *across = sb_length_format (side, proof->unit);
  g_autofree char *least = sb_length_format (SMALLEST_SIDE_MM, proof->unit);
  sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_SMALL, shape->piece,
                /* Translators: a design and two lengths */
                g_strdup_printf (_ ("%s is only %s across; under %s a sticker is hard to cut"),
                                 shape->design->name, across, least));
}

static void
check_neck (SbProofPage *proof, const SbShape *shape)
{
  SbPoint where;
  double neck_mm = sb_growth_get_neck_mm (shape->design->growth, &where);
  if (neck_mm >= THINNEST_PART_MM)
    return;
  g_autofree char *wide = sb_length_format (neck_mm, proof->unit);
  g_autofree char *least = sb_length_format (THINNEST_PART_MM, proof->unit);
  sb_proof_add (proof, SB_SEVERITY_NOTE, SB_RULE_NECK, shape->piece,
                /* Translators: a design and two lengths */
                g_strdup_printf (_ ("%s has a part only %s wide; under %s it tears or curls"),
                                 shape->design->name, wide, least));
}

/* How far a place is from the edge of a polygon, um. */
static double
edge_distance_um (const SbPolygon *polygon, SbIPoint p)
{
  double least = G_MAXDOUBLE;
  for (guint i = 0; i < sb_polygon_get_n_loops (polygon); i++) {
    const SbLoop *loop = sb_polygon_get_loop (polygon, i);
    for (guint k = 0; k < loop->n_points; k++) {
      SbIPoint a = loop->points[k], b = loop->points[(k + 1) % loop->n_points];
      double dx = b.x - a.x, dy = b.y - a.y, x = p.x - a.x, y = p.y - a.y;
      double t = CLAMP ((x * dx + y * dy) / (dx * dx + dy * dy), 0, 1);
      least = MIN (least, hypot (t * dx - x, t * dy - y));
    }
  }
  return least;
}

/* How far corners of `a` are from the edge of `b`, of those that lie inside it or of those that do
 * not. */
static double
farthest_um (const SbPolygon *a, const SbPolygon *b, gboolean inside)
{
  double most = 0;
  for (guint i = 0; i < sb_polygon_get_n_loops (a); i++) {
    const SbLoop *loop = sb_polygon_get_loop (a, i);
    for (guint k = 0; k < loop->n_points; k++)
      if (!sb_polygon_contains (b, loop->points[k]) == !inside)
        most = MAX (most, edge_distance_um (b, loop->points[k]));
  }
  return most;
}

/* Only hands bring an outline into the artwork: a grown one keeps the border's width. */
static void
check_through (SbProofPage *proof, const SbShape *shape)
{
  if (shape->design->hand == NULL)
    return;
  double most = MAX (farthest_um (shape->artwork, shape->outline, FALSE),
                     farthest_um (shape->outline, shape->artwork, TRUE));
  if (most < THROUGH_LEAST_UM)
    return;
  g_autofree char *lost = sb_length_format (most / SB_UM_PER_MM, proof->unit);
  sb_proof_add (proof, SB_SEVERITY_CAUTION, SB_RULE_THROUGH, shape->piece,
                /* Translators: a design and a length */
                g_strdup_printf (_ ("The outline of %s, changed by hand, cuts %s of artwork off"),
                                 shape->design->name, lost));
}

void
sb_proof_check_sticker (SbProofPage *proof, const SbShape *shape)
{
  check_resolution (proof, shape);
  gboolean on_card = proof->state->view != NULL && sb_layout_is_card (proof->state->view);
  if (on_card || shape->design->lettering != NULL) /* not cut on its own */
    return;
  check_islands (proof, shape);
  check_size (proof, shape);
  check_neck (proof, shape);
  check_through (proof, shape);
}
