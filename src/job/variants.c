/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/variants.h"

#include <glib/gi18n.h>
#include <math.h>

/* Per cent of lightness; the design itself is between the first and the second. */
static const int steps[] = {-10, 10, 20};
#define DESIGN_PLACE 1
/* Full brightness lightens a middle tone by a quarter of the way from black to white. */
#define BRIGHTNESS_FOR_PERCENT 4

static SbDesign *
make_variant (const SbDesign *design, int percent)
{
  SbDesign *variant = sb_design_copy (design);
  SbCleanup recipe = design->cleanup;
  g_autofree char *name = g_strdup_printf (_ ("%s %+d %%"), design->name, percent);

  variant->id = 0;
  variant->wanted = 1;
  variant->freebie = FALSE;
  recipe.adjust.brightness += percent * BRIGHTNESS_FOR_PERCENT;
  sb_design_set_cleanup (variant, &recipe);
  sb_design_set_name (variant, name);
  return variant;
}

GPtrArray *
sb_design_make_variants (const SbDesign *design, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) variants = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);

  if (sb_picture_get_kind (design->picture) == SB_PICTURE_VECTOR) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
                 _ ("%s is a drawing made of lines; its lightness cannot be changed here."),
                 design->name);
    return NULL;
  }
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++) {
    SbDesign *variant = make_variant (design, steps[i]);
    g_ptr_array_add (variants, variant);
    if (!sb_design_prepare (variant, cancellable, error))
      return NULL;
  }
  return g_steal_pointer (&variants);
}

/* Rows from the top left of what the printer reaches. */
static void
lay_in_rows (const SbState *state, SbPiece *pieces, guint n)
{
  SbIBox box = sb_state_get_printable_box (state);
  sb_um x = box.x0, y = box.y0, height = 0;

  for (guint i = 0; i < n; i++) {
    double width_mm, height_mm;
    sb_design_get_finished_size (sb_state_get_design (state, pieces[i].design_id), &width_mm,
                                 &height_mm);
    sb_um w = (sb_um)ceil (width_mm * 1000), h = (sb_um)ceil (height_mm * 1000);
    if (x > box.x0 && x + w > box.x1) {
      x = box.x0;
      y += height + state->gap;
      height = 0;
    }
    pieces[i].at = (SbIPoint){x + w / 2, y + h / 2};
    x += w + state->gap;
    height = MAX (height, h);
  }
}

SbState *
sb_edit_add_variants (const SbState *state, guint design_id, GPtrArray *variants)
{
  SbState *next = sb_edit_add_page (state, state->pages->len);
  g_autoptr (GArray) pieces = g_array_new (FALSE, TRUE, sizeof (SbPiece));

  for (guint i = 0; i <= variants->len; i++) {
    SbPiece piece = {.design_id = design_id};
    if (i == DESIGN_PLACE)
      g_array_append_val (pieces, piece);
    if (i == variants->len)
      break;
    SbState *with_design =
        sb_edit_add_design (next, sb_design_ref (variants->pdata[i]), &piece.design_id);
    sb_state_unref (next);
    next = with_design;
    g_array_append_val (pieces, piece);
  }
  lay_in_rows (next, (SbPiece *)(void *)pieces->data, pieces->len);
  for (guint i = 0; i < pieces->len; i++) {
    SbState *with_piece =
        sb_edit_add_piece (next, next->pages->len - 1, g_array_index (pieces, SbPiece, i), NULL);
    sb_state_unref (next);
    next = with_piece;
  }
  return next;
}
