/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Clean-up: from a scan or a photo to artwork with a soft edge and no paper, by a recipe.
 *
 *   picture -> its frame -> light divided out, retouched -> distance to the paper -> mask flooded
 *           from the edge -> strokes, specks -> soft edge, rim's colour -> levels
 *
 * (Handbook section 6.) Each step is kept until something it hangs on changes, so that a change of
 * a late one is quick. */
#pragma once

#include "picture/recipe.h"
#include "picture/specks.h"

G_BEGIN_DECLS

/* What a clean-up gave. Immutable, reference-counted. */
typedef struct {
  cairo_surface_t *surface;          /* ARGB32; NULL where only the rest was kept */
  int width, height;                 /* of the surface, px */
  GArray *specks;                    /* of SbSpeck, in px of the surface; those put back included */
  guint n_dust, n_hairs, n_pinholes; /* of them, those that went */
  gboolean has_paper;                /* FALSE: nothing looked like paper, and all stayed */
  guint8 paper[3];                   /* sRGB, where the light is brightest */
  double covered;                    /* part of the surface that is artwork, 0..1 */
  /* How many pixels of artwork have each value: CIE lightness (0..100 on 0..255), red, green,
   * blue. */
  guint32 histogram[4][256];
  SbMap
      to_picture; /* from px of the surface to parts of the picture's width, as strokes have them */
  /*< private >*/
  gatomicrefcount refs;
} SbCleanResult;

/* The same without its surface. */
SbCleanResult *
sb_clean_result_without_pixels (const SbCleanResult *result) G_GNUC_WARN_UNUSED_RESULT;
SbCleanResult *sb_clean_result_ref (SbCleanResult *result);
void sb_clean_result_unref (SbCleanResult *result);

/* A place in px of the surface, in parts of the picture's width, and a length there. */
SbPoint sb_clean_result_to_picture (const SbCleanResult *result, double x, double y);
double sb_clean_result_scale (const SbCleanResult *result, double x, double y, double length);

/* `strokes` with one that puts speck number `speck` back, or without those that do where it is put
 * back already. A new list. */
SbStrokes *sb_clean_result_toggle_speck (const SbCleanResult *result, guint speck,
                                         const SbStrokes *strokes) G_GNUC_WARN_UNUSED_RESULT;

/* 0..1, from the thread that works. */
typedef void (*SbProgress) (double done, gpointer data);

/* Cleans one picture, again and again by changing recipes. For one thread at a time. */
typedef struct _SbCleaner SbCleaner;

/* For `picture`, the whole of what came in as an ARGB32 surface at any scale (borrowed: a reference
 * is kept, and it must not change). With `keep` the steps of a run are kept for the next one; this
 * takes memory of its size twice more. */
SbCleaner *sb_cleaner_new (cairo_surface_t *picture, gboolean keep) G_GNUC_WARN_UNUSED_RESULT;
void sb_cleaner_free (SbCleaner *cleaner);

/* Cleans by `recipe` to `width` x `height` px at `px_per_mm`. NULL with an error: cancelled (the
 * cleaner may be used on), or no memory. A picture without anything like paper comes back whole,
 * and so does one that is all of one colour too dark for an empty sheet, unless that was picked.
 * Uses all processors. */
SbCleanResult *sb_cleaner_run (SbCleaner *cleaner, const SbCleanup *recipe, int width, int height,
                               double px_per_mm, SbProgress progress, gpointer progress_data,
                               GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCleaner, sb_cleaner_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCleanResult, sb_clean_result_unref)

G_END_DECLS
