/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lists share their strokes: a longer list holds references to those of the shorter one. */
#include "picture/strokes.h"

#include <math.h>
#include <string.h>

/* A stroke with points of its own, in a counted box. */
struct _SbStrokes {
  gatomicrefcount refs;
  guint n;
  SbStroke **strokes;
};

static void
clear_stroke (gpointer box)
{
  g_free ((gpointer)((SbStroke *)box)->points);
}

static void
release_stroke (SbStroke *stroke)
{
  g_atomic_rc_box_release_full (stroke, clear_stroke);
}

static SbStrokes *
strokes_new (guint n)
{
  SbStrokes *strokes = g_new0 (SbStrokes, 1);
  g_atomic_ref_count_init (&strokes->refs);
  strokes->n = n;
  strokes->strokes = g_new0 (SbStroke *, n);
  return strokes;
}

SbStrokes *
sb_strokes_ref (SbStrokes *strokes)
{
  if (strokes != NULL)
    g_atomic_ref_count_inc (&strokes->refs);
  return strokes;
}

void
sb_strokes_unref (SbStrokes *strokes)
{
  if (strokes == NULL || !g_atomic_ref_count_dec (&strokes->refs))
    return;
  for (guint i = 0; i < strokes->n; i++)
    release_stroke (strokes->strokes[i]);
  g_free (strokes->strokes);
  g_free (strokes);
}

static gboolean
is_usable (const SbStroke *stroke)
{
  guint least = stroke->kind == SB_STROKE_LASSO ? 3 : 1;

  if ((guint)stroke->kind >= SB_STROKE_N_KINDS || stroke->n_points < least ||
      stroke->n_points > SB_STROKES_MOST_POINTS || !(stroke->radius >= 0 && stroke->radius <= 1))
    return FALSE;
  for (guint i = 0; i < 2 * stroke->n_points; i++)
    if (!(fabsf (stroke->points[i]) <= SB_STROKES_FARTHEST))
      return FALSE;
  return TRUE;
}

SbStrokes *
sb_strokes_add (const SbStrokes *strokes, const SbStroke *stroke)
{
  guint n = sb_strokes_get_n (strokes);

  if (n >= SB_STROKES_MOST || !is_usable (stroke))
    return sb_strokes_ref ((SbStrokes *)strokes);
  SbStrokes *longer = strokes_new (n + 1);
  for (guint i = 0; i < n; i++)
    longer->strokes[i] = g_atomic_rc_box_acquire (strokes->strokes[i]);
  SbStroke *own = g_atomic_rc_box_new (SbStroke);
  *own = *stroke;
  own->points = g_memdup2 (stroke->points, 2 * stroke->n_points * sizeof *stroke->points);
  longer->strokes[n] = own;
  return longer;
}

SbStrokes *
sb_strokes_without (const SbStrokes *strokes, guint index)
{
  guint n = sb_strokes_get_n (strokes);

  g_return_val_if_fail (index < n, sb_strokes_ref ((SbStrokes *)strokes));
  if (n == 1)
    return NULL;
  SbStrokes *shorter = strokes_new (n - 1);
  for (guint i = 0; i < n - 1; i++)
    shorter->strokes[i] = g_atomic_rc_box_acquire (strokes->strokes[i + (i >= index)]);
  return shorter;
}

guint
sb_strokes_get_n (const SbStrokes *strokes)
{
  return strokes != NULL ? strokes->n : 0;
}

SbStroke
sb_strokes_get (const SbStrokes *strokes, guint index)
{
  return *strokes->strokes[index];
}

static gboolean
stroke_equal (const SbStroke *a, const SbStroke *b)
{
  return a == b || (a->kind == b->kind && a->radius == b->radius && a->n_points == b->n_points &&
                    memcmp (a->points, b->points, 2 * a->n_points * sizeof *a->points) == 0);
}

gboolean
sb_strokes_equal (const SbStrokes *a, const SbStrokes *b)
{
  guint n = sb_strokes_get_n (a);

  if (a == b)
    return TRUE;
  if (n != sb_strokes_get_n (b))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!stroke_equal (a->strokes[i], b->strokes[i]))
      return FALSE;
  return TRUE;
}

gboolean
sb_strokes_have (const SbStrokes *strokes, SbStrokeKind kind)
{
  for (guint i = 0; i < sb_strokes_get_n (strokes); i++)
    if (strokes->strokes[i]->kind == kind)
      return TRUE;
  return FALSE;
}
