/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/design-split.h"

#include <glib/gi18n.h>

#include "picture/split.h"

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static SbPicture *
picture_of (cairo_surface_t *surface, const char *name, GError **error)
{
  GByteArray *png = g_byte_array_new ();
  cairo_status_t status = cairo_surface_write_to_png_stream (surface, append, png);
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (png);

  if (status == CAIRO_STATUS_SUCCESS)
    return sb_picture_new (bytes, name, error);
  g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_TOO_LARGE, _ ("%s cannot be cut: %s"),
               name, cairo_status_to_string (status));
  return NULL;
}

static SbDesign *
design_of (const SbDesign *scan, guint number, cairo_surface_t *surface, double px_per_mm,
           GCancellable *cancellable, GError **error)
{
  g_autofree char *name = g_strdup_printf ("%s %u", scan->name, number);
  g_autoptr (SbPicture) picture = picture_of (surface, name, error);
  if (picture == NULL)
    return NULL;
  g_autoptr (SbDesign) design = sb_design_copy (scan);
  SbCleanup none = sb_cleanup_none (); /* the pixels are clean already */
  design->id = 0;
  sb_design_set_name (design, name);
  sb_design_set_hand (design, NULL); /* that was the whole scan's */
  sb_design_set_cleanup (design, &none);
  sb_design_set_picture (design, picture);
  sb_design_set_size (design, sb_picture_get_width (picture) / px_per_mm,
                      sb_picture_get_height (picture) / px_per_mm);
  return sb_design_prepare (design, cancellable, error) ? g_steal_pointer (&design) : NULL;
}

static gboolean
cut_part (const SbDesign *scan, const SbSplit *split, guint i, cairo_surface_t *surface,
          double px_per_mm, GPtrArray *designs, GCancellable *cancellable, GError **error)
{
  cairo_surface_t *cut = sb_split_cut (split, i, surface, error);
  if (cut == NULL)
    return FALSE;
  SbDesign *design = design_of (scan, i + 1, cut, px_per_mm, cancellable, error);
  cairo_surface_destroy (cut);
  if (design == NULL)
    return FALSE;
  g_ptr_array_add (designs, design);
  return TRUE;
}

static GPtrArray *
cut_all (const SbDesign *scan, cairo_surface_t *surface, GCancellable *cancellable, GError **error)
{
  double px_per_mm = cairo_image_surface_get_width (surface) / scan->width_mm;
  SbSplitParams params = sb_split_params_default ();
  g_autoptr (SbSplit) split = sb_split_new (surface, px_per_mm, &params, cancellable, error);
  if (split == NULL)
    return NULL;
  guint n = sb_split_get_n_parts (split);
  if (n == 0) {
    g_set_error (error, SB_PICTURE_ERROR, SB_PICTURE_ERROR_EMPTY,
                 _ ("%s has nothing on its paper that is %g mm or larger."), scan->name,
                 params.least_mm);
    return NULL;
  }

  g_autoptr (GPtrArray) designs = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref);
  for (guint i = 0; i < n; i++)
    if (!cut_part (scan, split, i, surface, px_per_mm, designs, cancellable, error))
      return NULL;
  return g_steal_pointer (&designs);
}

GPtrArray *
sb_design_split (const SbDesign *scan, GCancellable *cancellable, GError **error)
{
  cairo_surface_t *surface = sb_picture_decode (scan->picture, cancellable, error);
  if (surface == NULL)
    return NULL;
  GPtrArray *designs = cut_all (scan, surface, cancellable, error);
  cairo_surface_destroy (surface);
  return designs;
}
