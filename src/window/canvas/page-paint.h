/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What lies below and above the pieces: paper with its shadow and the pattern of waste, and the
 * non-printable strip. Made as render nodes that are kept while the layout stays. */
#pragma once

#include "window/canvas/canvas.h"
#include "window/canvas/pages-layout.h"

G_BEGIN_DECLS

/* What the nodes are made from; `widget` gives font, colours and scale factor. */
typedef struct {
  GtkWidget *widget;
  const SbPagesLayout *layout;
  SbState *state;
  SbOverlay overlay;
  SbUnit unit;
} SbPagePaint;

/* Pages in view: shadow, white paper, plus signs where no outline will cover them. A new node, or
 * NULL when nothing is in view. */
GskRenderNode *sb_page_paint_ground (const SbPagePaint *paint) G_GNUC_WARN_UNUSED_RESULT;

/* Brown dots over what the printer cannot reach, a dotted inner edge, and how wide it is in words.
 * A new node, or NULL. */
GskRenderNode *sb_page_paint_strip (const SbPagePaint *paint) G_GNUC_WARN_UNUSED_RESULT;

/* A small sample of each overlay's pattern for the legend. */
void sb_page_paint_sample (GtkWidget *widget, GtkSnapshot *snapshot, SbOverlay which,
                           const graphene_rect_t *rect);

/* "6.4 mm all round: cannot print". Free with g_free. */
char *sb_page_paint_describe_strip (const SbState *state, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
