/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What pages-view.c, pages-follow.c, pages-scroll.c and pages-draw.c share. */
#pragma once

#include "window/canvas/finding-plate.h"
#include "window/canvas/pages-view.h"
#include "window/canvas/still.h"

G_BEGIN_DECLS

struct _SbPagesView {
  GtkWidget parent_instance;

  /* Owned. */
  SbBakery *bakery;
  SbSelection *selection;
  SbChecker *checker;
  SbJob *job;
  GtkAdjustment *adjustments[2]; /* by GtkOrientation */
  GtkScrollablePolicy policies[2];

  SbPagesLayout layout;
  SbOverlay overlay;
  SbUnit unit;

  /* What a run of zooms holds in its place. */
  SbPoint held, held_at, held_scroll;

  GHashTable *views;     /* SbPieceView by piece id */
  GPtrArray *drawn;      /* SbPieceView in drawing order */
  GHashTable *stretches; /* double by design id; of designs that are being resized */

  gboolean lifted;     /* the selected pieces are drawn above the others */
  gboolean fitting;    /* goes on fitting a page while the view changes its size */
  gboolean allocating; /* nothing may ask for another allocation */
  guint told_source;

  GskRenderNode *ground; /* below the pieces; NULL when it has to be made */
  SbStill *still;        /* of the ground and the pieces that rest, for OpenGL */
  GskRenderNode *strip;  /* above them */
  GskRenderNode *spots;  /* above those */
  GArray *free_spots;    /* SbIBox a page, that it shows */
  GHashTable *laid;      /* page id -> the picture of a page that carries a layout */
  GtkWidget *marks;
  GtkWidget *plate; /* the finding of the one selected piece */
  GtkWidget *hand;  /* the points of an outline that is edited by hand */
  GtkWidget *measure;
  SbPixels *fit; /* where the dragged piece fits, or NULL */
  GskRenderNode *fit_node;
  guint fit_page;
  SbBox fit_um;
  guint bake_source;
};

/* pages-view.c: signals. */
void sb_pages_view_tell_layout (SbPagesView *self);
void sb_pages_view_tell_synced (SbPagesView *self);

/* pages-follow.c */
void sb_pages_view_follow_job (SbPagesView *self);
void sb_pages_view_job_changed (SbPagesView *self);
/* The selection or the findings are others. */
void sb_pages_view_marks_changed (SbPagesView *self);
void sb_pages_view_update_flags (SbPagesView *self);
void sb_pages_view_name_pieces (SbPagesView *self);

/* pages-laid.c */
GHashTable *sb_laid_pages_new (void);
void sb_pages_view_sync_laid (SbPagesView *self, SbState *state); /* NULL: no job */
void sb_pages_view_allocate_laid (SbPagesView *self);
void sb_pages_view_snapshot_laid (SbPagesView *self, GtkSnapshot *snapshot);

/* pages-scroll.c */
void sb_pages_view_take_adjustment (SbPagesView *self, GtkOrientation orientation,
                                    GtkAdjustment *adjustment);
void sb_pages_view_configure_adjustments (SbPagesView *self, double scroll_x, double scroll_y);
void sb_pages_view_layout_changed (SbPagesView *self);
/* Fits a page without going on fitting it. */
void sb_pages_view_fit_once (SbPagesView *self, guint page);

/* pages-draw.c */
void sb_pages_view_drop_nodes (SbPagesView *self);
void sb_pages_view_bake_all (SbPagesView *self);
double sb_pages_view_get_stretch (SbPagesView *self, guint design_id);
/* More textures or artwork have arrived. */
void sb_pages_view_baked (SbPagesView *self);
/* The largest free spots may be others. */
void sb_pages_view_follow_spots (SbPagesView *self);
/* Once a zoom has come to rest. */
void sb_pages_view_bake_later (SbPagesView *self);
void sb_pages_view_size_allocate (GtkWidget *widget, int width, int height, int baseline);
void sb_pages_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot);

G_END_DECLS
