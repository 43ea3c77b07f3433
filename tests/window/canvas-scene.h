/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A job to drag things about in: leaf-like stickers painted here, a known number of pieces in rows,
 * and a window with nothing but a canvas. Used by the tests of the canvas and by its benchmark. */
#pragma once

#include "job/edit.h"
#include "window/canvas/canvas.h"

G_BEGIN_DECLS

typedef struct {
  guint designs;   /* different pictures */
  guint pieces;    /* in rows over as many pages as they need */
  int picture_px;  /* each picture's side */
  double size_mm;  /* each picture's printed side */
  gboolean turned; /* every second piece is turned by some degrees */
  sb_um spread;    /* from middle to middle */
} SbSceneParams;

typedef struct {
  GtkWidget *window;
  SbCanvas *canvas;
  SbJob *job;
  SbSelection *selection;
  SbArtStore *store;
  SbChecker *checker;
  GSubprocess *hand; /* xdotool, reading commands */
  GDataInputStream *answers;
} SbScene;

SbState *sb_scene_make_state (const SbSceneParams *params) G_GNUC_WARN_UNUSED_RESULT;

/* A shown window of width x height px. Takes the state. */
SbScene *sb_scene_new (SbState *state, int width, int height) G_GNUC_WARN_UNUSED_RESULT;
/* Two rows of four and two leaves of 30 mm, 50 mm from middle to middle, in three shapes; settled.
 */
SbScene *sb_scene_new_rows (void) G_GNUC_WARN_UNUSED_RESULT;
void sb_scene_free (SbScene *scene);

/* Runs the main loop until nothing is decoded, baked or checked any more; fails after 20 s. */
void sb_scene_settle (SbScene *scene);

/* Runs the main loop for a while. */
void sb_scene_run (guint ms);

/* Real pointer and key events: a line of xdotool's commands in window px, as "mousemove 10 20". The
 * window lies at the screen's top left. Returns when the server has had the events and the main
 * loop has run on them. */
void sb_scene_do (SbScene *scene, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Presses keys ("Tab", or "ctrl+a Delete") and waits a moment. */
void sb_scene_press (SbScene *scene, const char *keys);

/* Presses at (x0, y0), moves to (x1, y1) in steps and, with `release`, lets go; waits until all of
 * it has arrived. `keys` (as "ctrl" or "shift+alt") are held meanwhile; NULL for none. */
void sb_scene_drag (SbScene *scene, double x0, double y0, double x1, double y1, const char *keys,
                    gboolean release);

/* The place of a piece in the window, px. */
gboolean sb_scene_find_piece (SbScene *scene, guint piece_id, double *x, double *y);

const SbPiece *sb_scene_get_piece (SbScene *scene, guint index);
/* As it is now; it must be there. */
SbPiece sb_scene_find (SbScene *scene, guint piece_id);
guint sb_scene_count_pieces (SbScene *scene);

G_END_DECLS
