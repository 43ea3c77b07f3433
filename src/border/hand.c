/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/hand.h"

#include <math.h>
#include <string.h>

#include "border/hand-track.h"
#include "border/verify.h"

#define LEAST_REACH_MM 2.5

struct _SbHand {
  gatomicrefcount refs;
  guint n;
  SbHandChange changes[];
};

SbHand *
sb_hand_new (const SbHandChange *changes, guint n)
{
  n = MIN (n, SB_HAND_MOST);
  if (n == 0)
    return NULL;
  SbHand *hand = g_malloc (sizeof *hand + n * sizeof *changes);
  g_atomic_ref_count_init (&hand->refs);
  hand->n = n;
  memcpy (hand->changes, changes, n * sizeof *changes);
  return hand;
}

SbHand *
sb_hand_ref (SbHand *hand)
{
  g_atomic_ref_count_inc (&hand->refs);
  return hand;
}

void
sb_hand_unref (SbHand *hand)
{
  if (hand != NULL && g_atomic_ref_count_dec (&hand->refs))
    g_free (hand);
}

guint
sb_hand_get_n (const SbHand *hand)
{
  return hand != NULL ? hand->n : 0;
}

const SbHandChange *
sb_hand_get (const SbHand *hand, guint i)
{
  return &hand->changes[i];
}

gboolean
sb_hand_equal (const SbHand *a, const SbHand *b)
{
  if (sb_hand_get_n (a) != sb_hand_get_n (b))
    return FALSE;
  for (guint i = 0; i < sb_hand_get_n (a); i++) {
    const SbHandChange *p = &a->changes[i], *q = &b->changes[i];
    if (p->kind != q->kind || p->at.x != q->at.x || p->at.y != q->at.y || p->by.x != q->by.x ||
        p->by.y != q->by.y || p->before != q->before || p->after != q->after)
      return FALSE;
  }
  return TRUE;
}

SbHand *
sb_hand_scale (const SbHand *hand, double x, double y)
{
  SbHand *scaled = sb_hand_new (hand != NULL ? hand->changes : NULL, sb_hand_get_n (hand));
  for (guint i = 0; i < sb_hand_get_n (scaled); i++) {
    SbHandChange *change = &scaled->changes[i];
    change->at = (SbPoint){change->at.x * x, change->at.y * y};
    change->by = (SbPoint){change->by.x * x, change->by.y * y};
    change->before *= sqrt (x * y);
    change->after *= sqrt (x * y);
  }
  return scaled;
}

static SbOutline *
apply (const SbHandChange *changes, guint n, const SbOutline *grown)
{
  g_autoptr (SbTracks) tracks = sb_tracks_new (changes, n, grown);
  return sb_tracks_build (tracks);
}

/* As many rings as before, the same way round, and no crossing. */
static gboolean
is_sound (const SbOutline *outline, const SbOutline *grown)
{
  if (sb_outline_get_n_rings (outline) != sb_outline_get_n_rings (grown) ||
      !(sb_outline_get_area_mm2 (outline) > 0))
    return FALSE;
  return sb_verify_simple (outline);
}

/* How many of the changes, from the first, the outline bears. */
static guint
count_sound (const SbHand *hand, const SbOutline *grown)
{
  guint sound = 0, unsound = hand->n + 1, n = hand->n;
  while (unsound - sound > 1) {
    g_autoptr (SbOutline) outline = apply (hand->changes, n, grown);
    if (is_sound (outline, grown))
      sound = n;
    else
      unsound = n;
    n = (sound + unsound) / 2;
  }
  return sound;
}

SbOutline *
sb_hand_apply (const SbHand *hand, const SbOutline *grown, guint *left_out)
{
  guint n = hand != NULL ? count_sound (hand, grown) : 0;
  if (left_out != NULL)
    *left_out = sb_hand_get_n (hand) - n;
  return n > 0 ? apply (hand->changes, n, grown) : sb_outline_ref ((SbOutline *)grown);
}

/* --- Taking hold of points --- */

static SbTracks *
tracks_of (const SbHand *hand, const SbOutline *grown)
{
  return sb_tracks_new (hand != NULL ? hand->changes : NULL, sb_hand_get_n (hand), grown);
}

GArray *
sb_hand_get_points (const SbHand *hand, const SbOutline *grown)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SbHandPoint));
  g_autoptr (SbTracks) tracks = tracks_of (hand, grown);
  sb_tracks_append_points (tracks, points);
  return points;
}

static GArray *
copy_changes (const SbHand *hand)
{
  GArray *changes = g_array_new (FALSE, FALSE, sizeof (SbHandChange));
  if (hand != NULL)
    g_array_append_vals (changes, hand->changes, hand->n);
  return changes;
}

/* Takes the changes over. FALSE when the outline does not bear them. */
static gboolean
take_changes (GArray *changes, const SbOutline *grown, SbHand **changed)
{
  g_autoptr (GArray) owned = changes;
  const SbHandChange *list = (const SbHandChange *)(void *)owned->data;
  if (owned->len > SB_HAND_MOST)
    return FALSE;
  g_autoptr (SbOutline) outline = apply (list, owned->len, grown);
  if (!is_sound (outline, grown))
    return FALSE;
  *changed = sb_hand_new (list, owned->len);
  return TRUE;
}

/* The point before or after another in its ring. */
static guint
get_neighbour (const GArray *points, guint i, int step)
{
  guint ring = g_array_index (points, SbHandPoint, i).ring, first = i, last = i;
  while (first > 0 && g_array_index (points, SbHandPoint, first - 1).ring == ring)
    first--;
  while (last + 1 < points->len && g_array_index (points, SbHandPoint, last + 1).ring == ring)
    last++;
  if (step < 0)
    return i == first ? last : i - 1;
  return i == last ? first : i + 1;
}

/* How far a moved point takes the outline along: to a neighbour, and where those lie close together
 * to the first one that is LEAST_REACH_MM away, or that was changed itself. */
static double
find_reach (const GArray *points, guint point, int step)
{
  double reach = 0;
  guint i = point;
  do {
    const SbHandPoint *p = &g_array_index (points, SbHandPoint, i);
    reach += step < 0 ? p->before : p->after;
    i = get_neighbour (points, i, step);
  } while (reach < LEAST_REACH_MM && i != point &&
           g_array_index (points, SbHandPoint, i).change < 0);
  return reach;
}

gboolean
sb_hand_move (const SbHand *hand, const SbOutline *grown, guint point, SbPoint to, SbHand **changed)
{
  g_autoptr (GArray) points = sb_hand_get_points (hand, grown);
  g_return_val_if_fail (point < points->len, FALSE);

  const SbHandPoint *p = &g_array_index (points, SbHandPoint, point);
  SbPoint by = {to.x - p->at.x, to.y - p->at.y};
  GArray *changes = copy_changes (hand);
  if (p->change >= 0) {
    g_array_index (changes, SbHandChange, p->change).by = by;
  } else {
    SbHandChange change = {SB_HAND_MOVED, p->at, by, find_reach (points, point, -1),
                           find_reach (points, point, 1)};
    g_array_append_val (changes, change);
  }
  return take_changes (changes, grown, changed);
}

static guint
count_in_ring (const GArray *points, guint ring)
{
  guint n = 0;
  for (guint i = 0; i < points->len; i++)
    n += g_array_index (points, SbHandPoint, i).ring == ring;
  return n;
}

gboolean
sb_hand_remove (const SbHand *hand, const SbOutline *grown, guint point, SbHand **changed)
{
  g_autoptr (GArray) points = sb_hand_get_points (hand, grown);
  g_return_val_if_fail (point < points->len, FALSE);

  const SbHandPoint *p = &g_array_index (points, SbHandPoint, point);
  if (count_in_ring (points, p->ring) <= SB_HAND_LEAST_POINTS)
    return FALSE;
  GArray *changes = copy_changes (hand);
  SbHandChange change = {SB_HAND_REMOVED, p->at, {0, 0}, p->before, p->after};
  if (p->change < 0)
    g_array_append_val (changes, change);
  else if (g_array_index (changes, SbHandChange, p->change).kind == SB_HAND_ADDED)
    g_array_remove_index (changes, (guint)p->change);
  else
    g_array_index (changes, SbHandChange, p->change) = change;
  return take_changes (changes, grown, changed);
}

gboolean
sb_hand_add (const SbHand *hand, const SbOutline *grown, SbPoint near, SbHand **changed,
             guint *point)
{
  g_autoptr (SbTracks) tracks = tracks_of (hand, grown);
  SbHandChange change;
  if (!sb_tracks_add_point (tracks, near, &change))
    return FALSE;
  GArray *changes = copy_changes (hand);
  g_array_append_val (changes, change);
  if (!take_changes (changes, grown, changed))
    return FALSE;

  int added = (int)sb_hand_get_n (*changed) - 1;
  g_autoptr (GArray) points = sb_hand_get_points (*changed, grown);
  for (*point = 0; *point < points->len; ++*point)
    if (g_array_index (points, SbHandPoint, *point).change == added)
      return TRUE;
  return TRUE;
}
