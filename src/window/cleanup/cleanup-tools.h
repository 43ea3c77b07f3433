/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The tools of the clean-up: what each is called, and what it does to the recipe. */
#pragma once

#include "window/cleanup/cleanup-session.h"
#include "window/cleanup/cleanup-view.h"

G_BEGIN_DECLS

typedef enum {
  SB_CLEANUP_TOOL_MOVE,
  SB_CLEANUP_TOOL_KEEP,
  SB_CLEANUP_TOOL_REMOVE,
  SB_CLEANUP_TOOL_RETOUCH,
  SB_CLEANUP_TOOL_OPEN,
  SB_CLEANUP_TOOL_PUT_BACK,
  SB_CLEANUP_TOOL_PICK,
  SB_CLEANUP_N_TOOLS,
} SbCleanupTool;

typedef struct {
  const char *icon;
  const char *label; /* translated by the caller */
  const char *hint;  /* what to do with it, likewise */
  SbCleanupHand hand;
  GdkRGBA colour; /* of a brush */
} SbCleanupToolInfo;

/* Static memory. */
const SbCleanupToolInfo *sb_cleanup_tool_get (SbCleanupTool tool);

/* A stroke of the view, or a click, taken to the recipe as a step of its own. Places and `radius`
 * are in parts of the width of what the session shows. */
void sb_cleanup_tool_stroke (SbCleanupTool tool, SbCleanupSession *session, const float *points,
                             guint n, double radius);
/* FALSE when nothing is there that the tool could change. */
gboolean sb_cleanup_tool_point (SbCleanupTool tool, SbCleanupSession *session, double x, double y,
                                double reach);

/* The specks of the session's result, to show in the view. A new array of SbCleanupMark. */
GArray *sb_cleanup_tool_get_marks (SbCleanupSession *session) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
