/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "packing/fill-sizes.h"

#include <math.h>

#include "job/edit.h"

#define N_SIZES 3        /* greatest, middle, least */
#define SAME_MM 0.05     /* sizes nearer to each other than this are one */
#define LEAST_FACTOR 0.1 /* of the artwork: smaller than that it is a speck */

const SbDesign *
sb_filling_get_parent (const SbState *state, const SbDesign *design)
{
  guint id = design->filling.size_of;
  const SbDesign *parent = id != 0 && id != design->id ? sb_state_get_design (state, id) : NULL;
  return parent != NULL && parent->freebie && parent->filling.size_of == 0 ? parent : NULL;
}

static double
get_longer_side (const SbDesign *design)
{
  double width, height;
  sb_design_get_finished_size (design, &width, &height);
  return MAX (width, height);
}

/* Whether `other` is `design` in the size asked for, as far as a maker can see. */
static gboolean
is_same_but_size (const SbDesign *design, const SbDesign *other, double longer_mm)
{
  if (fabs (get_longer_side (other) - longer_mm) > SAME_MM)
    return FALSE;
  g_autoptr (SbDesign) resized = sb_design_copy (other);
  resized->id = design->id;
  sb_design_set_name (resized, design->name);
  resized->wanted = design->wanted;
  resized->filling = design->filling;
  resized->width_mm = design->width_mm;
  resized->height_mm = design->height_mm;
  return sb_design_equal (resized, design);
}

static SbDesign *
find_size (const SbState *state, SbDesign *design, double longer_mm)
{
  if (fabs (get_longer_side (design) - longer_mm) <= SAME_MM)
    return sb_design_ref (design);
  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *other = state->designs->pdata[i];
    if (sb_filling_get_parent (state, other) == design &&
        is_same_but_size (design, other, longer_mm))
      return sb_design_ref (other);
  }
  return NULL;
}

/* NULL when it cannot be. */
static SbDesign *
make_size (const SbDesign *design, double longer_mm, GCancellable *cancellable)
{
  SbBox visible = sb_outline_get_box (sb_design_get_artwork (design));
  double artwork = MAX (visible.x1 - visible.x0, visible.y1 - visible.y0);
  double factor = 1 + (longer_mm - get_longer_side (design)) / artwork;
  if (!(factor >= LEAST_FACTOR))
    return NULL;
  g_autoptr (SbDesign) size = sb_design_copy (design);
  g_autofree char *name = g_strdup_printf ("%s %.3g mm", design->name, longer_mm);
  size->id = 0;
  size->wanted = 0;
  size->filling = (SbFilling){.share = 1, .size_of = design->id};
  sb_design_set_name (size, name);
  sb_design_set_size (size, design->width_mm * factor, design->height_mm * factor);
  return sb_design_prepare (size, cancellable, NULL) ? g_steal_pointer (&size) : NULL;
}

/* The greatest, the one between and the least: even steps of the eye, each the same part of the one
 * before. By a square root, which is the same on every machine, as pow is not. */
static double
size_between (double least, double greatest, guint k)
{
  return k == 0 ? greatest : k + 1 == N_SIZES ? least : sqrt (greatest * least);
}

GPtrArray *
sb_filling_get_sizes (const SbState *state, SbDesign *design, GCancellable *cancellable)
{
  GPtrArray *sizes = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  const SbFilling *filling = &design->filling;
  double least = MAX (filling->least_mm, 0.1), greatest = filling->greatest_mm, last = G_MAXDOUBLE;
  for (guint k = 0; k < N_SIZES && greatest > 0; k++) {
    double mm = size_between (MIN (least, greatest), greatest, k);
    if (last - mm <= SAME_MM)
      break;
    last = mm;
    SbDesign *size = find_size (state, design, mm);
    if (size == NULL)
      size = make_size (design, mm, cancellable);
    if (size != NULL)
      g_ptr_array_add (sizes, size);
  }
  if (sizes->len == 0)
    g_ptr_array_add (sizes, sb_design_ref (design));
  return sizes;
}

SbState *
sb_filling_drop_unused (SbState *state)
{
  for (guint i = state->designs->len; i > 0; i--) {
    const SbDesign *design = state->designs->pdata[i - 1];
    if (sb_filling_get_parent (state, design) == NULL ||
        sb_state_count_placed (state, design->id) > 0)
      continue;
    SbState *next = sb_edit_remove_design (state, design->id);
    sb_state_unref (state);
    state = next;
  }
  return state;
}
