/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border/path.h"

#include <math.h>

#define SAME_PLACE_MM 1e-5
#define CORNER_TURN 0.1  /* radians; a smaller turn in one place is passed over */
#define ARC_LEAST_MM 0.3 /* shorter arcs become samples */
#define ARC_SAMPLE_MM 0.05

SbPath *
sb_path_new (void)
{
  SbPath *path = g_new (SbPath, 1);
  path->samples = g_array_new (FALSE, FALSE, sizeof (SbSample));
  path->ends = g_array_new (FALSE, FALSE, sizeof (guint));
  return path;
}

void
sb_path_free (SbPath *path)
{
  if (path == NULL)
    return;
  g_array_unref (path->samples);
  g_array_unref (path->ends);
  g_free (path);
}

static guint
loop_start (const SbPath *path)
{
  return path->ends->len ? g_array_index (path->ends, guint, path->ends->len - 1) : 0;
}

static double
turn_between (SbPoint a, SbPoint b)
{
  return atan2 (a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
}

static gboolean
same_place (SbPoint a, SbPoint b)
{
  return fabs (a.x - b.x) < SAME_PLACE_MM && fabs (a.y - b.y) < SAME_PLACE_MM;
}

void
sb_path_add (SbPath *path, SbPoint p, SbPoint tangent)
{
  guint start = loop_start (path), n = path->samples->len;
  SbSample sample = {.p = p, .tangent = tangent, .link = SB_LINK_CURVE};
  if (n > start) {
    SbSample *last = &g_array_index (path->samples, SbSample, n - 1);
    if (last->link == SB_LINK_CURVE && same_place (last->p, p)) {
      if (n - 1 > start && last[-1].link == SB_LINK_CORNER) {
        last->tangent = tangent; /* the same corner turns on */
        return;
      }
      if (fabs (turn_between (last->tangent, tangent)) < CORNER_TURN)
        return;
      last->link = SB_LINK_CORNER;
    }
  }
  g_array_append_val (path->samples, sample);
}

void
sb_path_add_arc (SbPath *path, SbPoint centre, double radius, SbPoint from, double turn)
{
  gboolean whole = fabs (turn) * radius >= ARC_LEAST_MM;
  int parts = whole ? 1 : MAX (1, (int)ceil (fabs (turn) * radius / ARC_SAMPLE_MM));
  double side = turn < 0 ? -1 : 1;
  for (int k = 0; k <= parts; k++) {
    double angle = turn * k / parts, c = cos (angle), s = sin (angle);
    SbPoint d = {c * from.x - s * from.y, s * from.x + c * from.y};
    sb_path_add (path, (SbPoint){centre.x + radius * d.x, centre.y + radius * d.y},
                 (SbPoint){-side * d.y, side * d.x});
    SbSample *sample = &g_array_index (path->samples, SbSample, path->samples->len - 1);
    if (k == parts || fabs (turn) * radius < SAME_PLACE_MM)
      continue;
    sample->link = whole ? SB_LINK_ARC : SB_LINK_BIT;
    sample->centre = centre;
    sample->turn = turn / parts;
  }
}

void
sb_path_close (SbPath *path)
{
  guint start = loop_start (path), n = path->samples->len;
  if (n - start > 1) {
    SbSample *first = &g_array_index (path->samples, SbSample, start),
             *last = &g_array_index (path->samples, SbSample, n - 1);
    if (last->link == SB_LINK_CURVE && same_place (first->p, last->p)) {
      if (fabs (turn_between (last->tangent, first->tangent)) < CORNER_TURN)
        g_array_set_size (path->samples, n - 1);
      else
        last->link = SB_LINK_CORNER;
    }
  }
  n = path->samples->len;
  if (n - start < 3)
    g_array_set_size (path->samples, start);
  else
    g_array_append_val (path->ends, n);
}

/* Arcs as legs of at most 0.02 radians. */
static void
arc_to_legs (SbOutlineBuilder *builder, const SbSample *sample)
{
  SbPoint v = {sample->p.x - sample->centre.x, sample->p.y - sample->centre.y};
  int parts = (int)ceil (fabs (sample->turn) / 0.02);
  for (int k = 1; k < parts; k++) {
    double c = cos (sample->turn * k / parts), s = sin (sample->turn * k / parts);
    sb_outline_builder_line_to (builder, (SbPoint){sample->centre.x + c * v.x - s * v.y,
                                                   sample->centre.y + s * v.x + c * v.y});
  }
}

SbOutline *
sb_path_to_legs (const SbPath *path)
{
  SbOutlineBuilder *builder = sb_outline_builder_new ();
  guint start = 0;
  for (guint l = 0; l < path->ends->len; l++) {
    guint end = g_array_index (path->ends, guint, l);
    const SbSample *samples = &g_array_index (path->samples, SbSample, 0);
    sb_outline_builder_move_to (builder, samples[start].p);
    for (guint i = start; i < end; i++) {
      if (i > start)
        sb_outline_builder_line_to (builder, samples[i].p);
      if (samples[i].link == SB_LINK_ARC || samples[i].link == SB_LINK_BIT)
        arc_to_legs (builder, &samples[i]);
    }
    sb_outline_builder_close (builder);
    start = end;
  }
  return sb_outline_builder_end (builder);
}
