/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/cleanup/cleanup-specks.h"
#include "window/cleanup/cleanup-tools.h"

#define COLOUR(r, g, b)                                                                            \
  {                                                                                                \
    (r) / 255.0f, (g) / 255.0f, (b) / 255.0f, 1                                                    \
  }

static const SbCleanupToolInfo tools[SB_CLEANUP_N_TOOLS] = {
    [SB_CLEANUP_TOOL_MOVE] = {"sb-hand-symbolic", N_ ("Move the picture"),
                              N_ ("Drag to move the picture. Ctrl and the wheel zoom."),
                              SB_CLEANUP_HAND_MOVES, COLOUR (0, 0, 0)},
    [SB_CLEANUP_TOOL_KEEP] = {"sb-brush-keep-symbolic", N_ ("Keep"),
                              N_ ("Brush over what belongs to the artwork."),
                              SB_CLEANUP_HAND_BRUSHES, COLOUR (15, 111, 102)},
    [SB_CLEANUP_TOOL_REMOVE] = {"sb-brush-remove-symbolic", N_ ("Take away"),
                                N_ ("Brush over what does not belong to the artwork."),
                                SB_CLEANUP_HAND_BRUSHES, COLOUR (163, 38, 27)},
    [SB_CLEANUP_TOOL_RETOUCH] = {"sb-retouch-symbolic", N_ ("Retouch"),
                                 N_ ("Brush over a hair or a scratch: it is painted anew from what "
                                     "is around it."),
                                 SB_CLEANUP_HAND_BRUSHES, COLOUR (107, 91, 149)},
    [SB_CLEANUP_TOOL_OPEN] = {"sb-white-away-symbolic", N_ ("Click whites away"),
                              N_ ("Click paper that the artwork encloses, and it goes."),
                              SB_CLEANUP_HAND_POINTS, COLOUR (0, 0, 0)},
    [SB_CLEANUP_TOOL_PUT_BACK] = {"sb-put-back-symbolic", N_ ("Put specks back"),
                                  N_ ("Click a marked speck to have it back, once more to take it "
                                      "away."),
                                  SB_CLEANUP_HAND_POINTS, COLOUR (0, 0, 0)},
    [SB_CLEANUP_TOOL_PICK] = {"sb-pick-symbolic", N_ ("Pick the paper’s colour"),
                              N_ ("Click where there is nothing but paper."),
                              SB_CLEANUP_HAND_POINTS, COLOUR (0, 0, 0)},
};

const SbCleanupToolInfo *
sb_cleanup_tool_get (SbCleanupTool tool)
{
  return tools + tool;
}

/* The recipe with one stroke more. `points` are in parts of the width of what is shown. */
static void
add_stroke (SbCleanupSession *session, SbStrokeKind kind, const float *points, guint n,
            double radius, const char *format)
{
  SbCleanResult *result = sb_cleanup_session_get_result (session);
  SbCleanup recipe = sb_cleanup_session_get_design (session)->cleanup;

  if (!result || n == 0)
    return;
  double width = result->width;
  g_autofree float *places = g_new (float, 2 * n);
  for (guint i = 0; i < n; i++) {
    SbPoint at =
        sb_clean_result_to_picture (result, points[2 * i] * width, points[2 * i + 1] * width);
    places[2 * i] = (float)at.x;
    places[2 * i + 1] = (float)at.y;
  }
  SbStroke stroke = {
      kind,
      (float)sb_clean_result_scale (result, points[0] * width, points[1] * width, radius * width),
      n, places};
  g_autoptr (SbStrokes) strokes = sb_strokes_add (recipe.strokes, &stroke);
  recipe.strokes = strokes;
  sb_cleanup_session_set_recipe (session, &recipe, format, TRUE);
}

void
sb_cleanup_tool_stroke (SbCleanupTool tool, SbCleanupSession *session, const float *points, guint n,
                        double radius)
{
  switch (tool) {
  case SB_CLEANUP_TOOL_KEEP:
    add_stroke (session, SB_STROKE_KEEP, points, n, radius, _ ("Keep Part of %s"));
    break;
  case SB_CLEANUP_TOOL_REMOVE:
    add_stroke (session, SB_STROKE_REMOVE, points, n, radius, _ ("Take Part of %s Away"));
    break;
  case SB_CLEANUP_TOOL_RETOUCH:
    add_stroke (session, SB_STROKE_RETOUCH, points, n, radius, _ ("Retouch %s"));
    break;
  case SB_CLEANUP_TOOL_MOVE:
  case SB_CLEANUP_TOOL_OPEN:
  case SB_CLEANUP_TOOL_PUT_BACK:
  case SB_CLEANUP_TOOL_PICK:
  case SB_CLEANUP_N_TOOLS:
  default:
    break;
  }
}

/* How far a place is from a speck's box, px. */
static double
distance (const SbSpeck *speck, double x, double y)
{
  return hypot (MAX (MAX (speck->x0 - x, x - speck->x1), 0),
                MAX (MAX (speck->y0 - y, y - speck->y1), 0));
}

static gboolean
put_back (SbCleanupSession *session, double x, double y, double reach)
{
  SbCleanResult *result = sb_cleanup_session_get_specks (session);
  guint found = G_MAXUINT;

  if (!result)
    return FALSE;
  double width = result->width, best = reach * width;
  for (guint i = 0; i < result->specks->len; i++) {
    double away = distance (&g_array_index (result->specks, SbSpeck, i), x * width, y * width);
    if (away < best) {
      best = away;
      found = i;
    }
  }
  if (found == G_MAXUINT)
    return FALSE;
  sb_cleanup_specks_toggle (session, found);
  return TRUE;
}

static gboolean
pick (SbCleanupSession *session, double x, double y)
{
  SbCleanup recipe = sb_cleanup_session_get_design (session)->cleanup;

  if (!sb_cleanup_session_pick (session, x, y, recipe.paper))
    return FALSE;
  recipe.paper_picked = TRUE;
  sb_cleanup_session_set_recipe (session, &recipe, _ ("Paper Colour of %s"), TRUE);
  return TRUE;
}

gboolean
sb_cleanup_tool_point (SbCleanupTool tool, SbCleanupSession *session, double x, double y,
                       double reach)
{
  float place[2] = {(float)x, (float)y};

  switch (tool) {
  case SB_CLEANUP_TOOL_OPEN:
    add_stroke (session, SB_STROKE_OPEN, place, 1, 0, _ ("Click White of %s Away"));
    return TRUE;
  case SB_CLEANUP_TOOL_PUT_BACK:
    return put_back (session, x, y, reach);
  case SB_CLEANUP_TOOL_PICK:
    return pick (session, x, y);
  case SB_CLEANUP_TOOL_MOVE:
  case SB_CLEANUP_TOOL_KEEP:
  case SB_CLEANUP_TOOL_REMOVE:
  case SB_CLEANUP_TOOL_RETOUCH:
  case SB_CLEANUP_N_TOOLS:
  default:
    return FALSE;
  }
}

GArray *
sb_cleanup_tool_get_marks (SbCleanupSession *session)
{
  SbCleanResult *result = sb_cleanup_session_get_specks (session);
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (SbCleanupMark));

  for (guint i = 0; result && i < result->specks->len; i++) {
    const SbSpeck *speck = &g_array_index (result->specks, SbSpeck, i);
    float part = 1 / (float)result->width;
    SbCleanupMark mark = {(float)speck->x0 * part,
                          (float)speck->y0 * part,
                          (float)speck->x1 * part,
                          (float)speck->y1 * part,
                          0,
                          speck->put_back,
                          FALSE};
    g_array_append_val (marks, mark);
  }
  return marks;
}
