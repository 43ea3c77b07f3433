/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long a frame of the canvas takes, from the frame clock: from the events that come before it
 * to the end of its painting, while real pointer events drag a piece, pan and zoom. Prints `name
 * value unit` a line; medians and 95th percentiles in ms, of the wall clock, of the main thread's
 * own time (-cpu), which other work on the machine disturbs less, and of all threads'
 * (-threads): OpenGL on a software renderer draws in several. The renderer is GSK_RENDERER's.
 *
 *   canvas [PIECES]...      20, 200 and 500 without arguments */
#include "config.h"

#include <math.h>
#include <stdlib.h>

#include "canvas-scene.h"
#include "clock.h"
#include "window/canvas/canvas-private.h"

#define WIDTH 1600
#define HEIGHT 1000
#define FRAMES 120

/* What is measured, and what its lines end in. */
static const struct {
  clockid_t id;
  const char *suffix;
} watches[] = {
    {CLOCK_MONOTONIC, ""},
    {CLOCK_THREAD_CPUTIME_ID, "-cpu"},
    {CLOCK_PROCESS_CPUTIME_ID, "-threads"},
};

typedef struct {
  gboolean running;
  double start[G_N_ELEMENTS (watches)];
  GArray *ms[G_N_ELEMENTS (watches)]; /* double, one a frame */
} Clock;

static void
begin_frame (Clock *clock)
{
  clock->running = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (watches); i++)
    clock->start[i] = read_ms (watches[i].id);
}

/* Ahead of the surface's own handler, which hands the pointer's motion to the widgets. */
static gboolean
flush_hook (GSignalInvocationHint *hint, guint n_values, const GValue *values, gpointer data)
{
  begin_frame (data);
  return TRUE;
}

/* Frames without events before them. */
static void
before_cb (GdkFrameClock *frame_clock, Clock *clock)
{
  if (!clock->running)
    begin_frame (clock);
}

static void
after_cb (GdkFrameClock *frame_clock, Clock *clock)
{
  for (guint i = 0; i < G_N_ELEMENTS (watches); i++) {
    double ms = read_ms (watches[i].id) - clock->start[i];
    g_array_append_val (clock->ms[i], ms);
  }
  clock->running = FALSE;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;

  return p < q ? -1 : p > q;
}

static void
forget (Clock *clock)
{
  for (guint i = 0; i < G_N_ELEMENTS (watches); i++)
    g_array_set_size (clock->ms[i], 0);
}

static void
tell_one (const char *name, const char *kind, guint pieces, GArray *ms)
{
  guint n = ms->len;

  if (n == 0)
    return;
  g_array_sort (ms, compare_doubles);
  g_print ("%s-%u%s-median %.2f ms\n", name, pieces, kind, g_array_index (ms, double, n / 2));
  g_print ("%s-%u%s-p95 %.2f ms\n", name, pieces, kind,
           g_array_index (ms, double, MIN (n * 95 / 100, n - 1)));
}

static void
tell (const char *name, guint pieces, Clock *clock)
{
  for (guint i = 0; i < G_N_ELEMENTS (watches); i++)
    tell_one (name, watches[i].suffix, pieces, clock->ms[i]);
  forget (clock);
}

/* One event, then its frame. */
static void
wait_for_frame (Clock *clock, guint before)
{
  gint64 end = g_get_monotonic_time () + 200 * G_TIME_SPAN_MILLISECOND;

  while (clock->ms[0]->len <= before && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
}

static void
drag (SbScene *scene, Clock *clock, guint index, guint pieces, const char *name)
{
  const SbPiece *piece = sb_scene_get_piece (scene, index);
  double x, y;

  g_assert_true (sb_scene_find_piece (scene, piece->id, &x, &y));
  sb_scene_do (scene, "mousemove %d %d", (int)x, (int)y);
  sb_scene_do (scene, "mousedown 1");
  sb_scene_do (scene, "mousemove %d %d", (int)x + 8, (int)y + 8);
  sb_scene_settle (scene);
  forget (clock);
  for (int i = 0; i < FRAMES; i++) {
    guint before = clock->ms[0]->len;
    sb_scene_do (scene, "mousemove %d %d", (int)(x + 8 + 160 * sin (i * 0.05)),
                 (int)(y + 8 + 120 * (1 - cos (i * 0.04))));
    wait_for_frame (clock, before);
  }
  tell (name, pieces, clock);
  sb_scene_do (scene, "mouseup 1");
  sb_scene_run (100);
  sb_job_undo (scene->job);
  sb_scene_settle (scene);
}

static void
pan (SbScene *scene, Clock *clock, guint pieces)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);

  g_object_set (scene->canvas, "zoom", 1.6, NULL);
  sb_scene_settle (scene);
  forget (clock);
  for (int i = 0; i < FRAMES; i++) {
    guint before = clock->ms[0]->len;
    sb_pages_view_scroll_by (pages, 6 * cos (i * 0.1), i < FRAMES / 2 ? 9 : -9);
    wait_for_frame (clock, before);
  }
  tell ("pan", pieces, clock);
  sb_canvas_zoom_fit (scene->canvas);
  sb_scene_settle (scene);
}

static void
zoom (SbScene *scene, Clock *clock, guint pieces)
{
  forget (clock);
  for (int i = 0; i < FRAMES; i++) {
    guint before = clock->ms[0]->len;
    sb_canvas_zoom_by (scene->canvas, i < FRAMES / 2 ? 1.015 : 1 / 1.015, WIDTH / 2.0,
                       HEIGHT / 2.0);
    wait_for_frame (clock, before);
  }
  tell ("zoom", pieces, clock);
  sb_canvas_zoom_fit (scene->canvas);
  sb_scene_settle (scene);
}

static void
measure (guint pieces)
{
  SbSceneParams params = {
      .designs = 20,
      .pieces = pieces,
      .picture_px = 1200,
      .size_mm = pieces > 250  ? 4
                 : pieces > 50 ? 8
                               : 36,
      .spread = pieces > 250  ? 11000
                : pieces > 50 ? 17000
                              : 48000,
      .turned = TRUE,
  };
  Clock clock = {0};
  gint64 start = g_get_monotonic_time ();
  SbScene *scene = sb_scene_new (sb_scene_make_state (&params), WIDTH, HEIGHT);

  for (guint i = 0; i < G_N_ELEMENTS (watches); i++)
    clock.ms[i] = g_array_new (FALSE, FALSE, sizeof (double));
  g_print ("scene-%u %.0f ms\n", pieces, (double)(g_get_monotonic_time () - start) / 1000);
  g_object_set (scene->canvas, "overlay", SB_OVERLAY_STRIP | SB_OVERLAY_WASTE, NULL);
  sb_scene_settle (scene);
  GdkFrameClock *frame_clock = gtk_widget_get_frame_clock (scene->window);
  guint flush = g_signal_lookup ("flush-events", GDK_TYPE_FRAME_CLOCK);
  gulong hook = g_signal_add_emission_hook (flush, 0, flush_hook, &clock, NULL);
  gulong before = g_signal_connect (frame_clock, "before-paint", G_CALLBACK (before_cb), &clock);
  gulong after = g_signal_connect (frame_clock, "after-paint", G_CALLBACK (after_cb), &clock);

  drag (scene, &clock, pieces / 2, pieces, "drag");
  drag (scene, &clock, pieces / 2 | 1, pieces, "drag-turned");
  pan (scene, &clock, pieces);
  zoom (scene, &clock, pieces);
  g_print ("art-%u %.1f MiB\n", pieces,
           (double)sb_art_store_get_bytes (scene->store) / (1024 * 1024));

  g_signal_remove_emission_hook (flush, hook);
  g_signal_handler_disconnect (frame_clock, before);
  g_signal_handler_disconnect (frame_clock, after);
  sb_scene_free (scene);
  for (guint i = 0; i < G_N_ELEMENTS (watches); i++)
    g_array_unref (clock.ms[i]);
}

int
main (int argc, char **argv)
{
  static const guint usual[] = {20, 200, 500};

  if (!gtk_init_check ()) {
    g_print ("canvas: no screen\n");
    return 77;
  }
  if (argc > 1)
    for (int i = 1; i < argc; i++)
      measure ((guint)atoi (argv[i]));
  else
    for (guint i = 0; i < G_N_ELEMENTS (usual); i++)
      measure (usual[i]);
  return 0;
}
