/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long a frame of the canvas takes, from the frame clock: from the start of its update phase to
 * the end of its painting, while real pointer events drag a piece, pan and zoom. Prints
 * `name value unit` a line; medians and 95th percentiles in ms, of the wall clock and (-cpu) of the
 * main thread's own time, which other work on the machine disturbs less. The renderer is
 * GSK_RENDERER's.
 *
 *   canvas [PIECES]...      20, 200 and 500 without arguments */
#include "config.h"

#include <math.h>
#include <stdlib.h>
#include <time.h>

#include "canvas-scene.h"
#include "window/canvas-private.h"

#define WIDTH 1600
#define HEIGHT 1000
#define FRAMES 120

typedef struct {
  gint64 start, cpu_start;
  GArray *ms; /* double, one a frame */
  GArray *cpu_ms;
} Clock;

static gint64
cpu_time (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return t.tv_sec * G_TIME_SPAN_SECOND + t.tv_nsec / 1000;
}

static void
before_cb (GdkFrameClock *frame_clock, Clock *clock)
{
  clock->start = g_get_monotonic_time ();
  clock->cpu_start = cpu_time ();
}

static void
after_cb (GdkFrameClock *frame_clock, Clock *clock)
{
  double ms = (double)(g_get_monotonic_time () - clock->start) / 1000;

  double cpu_ms = (double)(cpu_time () - clock->cpu_start) / 1000;

  g_array_append_val (clock->ms, ms);
  g_array_append_val (clock->cpu_ms, cpu_ms);
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
  g_array_set_size (clock->ms, 0);
  g_array_set_size (clock->cpu_ms, 0);
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
  tell_one (name, "", pieces, clock->ms);
  tell_one (name, "-cpu", pieces, clock->cpu_ms);
  forget (clock);
}

/* One event, then its frame. */
static void
wait_for_frame (Clock *clock, guint before)
{
  gint64 end = g_get_monotonic_time () + 200 * G_TIME_SPAN_MILLISECOND;

  while (clock->ms->len <= before && g_get_monotonic_time () < end)
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
    guint before = clock->ms->len;
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
    guint before = clock->ms->len;
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
    guint before = clock->ms->len;
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
  Clock clock = {
      .ms = g_array_new (FALSE, FALSE, sizeof (double)),
      .cpu_ms = g_array_new (FALSE, FALSE, sizeof (double)),
  };
  gint64 start = g_get_monotonic_time ();
  SbScene *scene = sb_scene_new (sb_scene_make_state (&params), WIDTH, HEIGHT);

  g_print ("scene-%u %.0f ms\n", pieces, (double)(g_get_monotonic_time () - start) / 1000);
  g_object_set (scene->canvas, "overlay", SB_OVERLAY_STRIP | SB_OVERLAY_WASTE, NULL);
  sb_scene_settle (scene);
  GdkFrameClock *frame_clock = gtk_widget_get_frame_clock (scene->window);
  gulong before = g_signal_connect (frame_clock, "before-paint", G_CALLBACK (before_cb), &clock);
  gulong after = g_signal_connect (frame_clock, "after-paint", G_CALLBACK (after_cb), &clock);

  drag (scene, &clock, pieces / 2, pieces, "drag");
  drag (scene, &clock, pieces / 2 | 1, pieces, "drag-turned");
  pan (scene, &clock, pieces);
  zoom (scene, &clock, pieces);
  g_print ("art-%u %.1f MiB\n", pieces,
           (double)sb_art_store_get_bytes (scene->store) / (1024 * 1024));

  g_signal_handler_disconnect (frame_clock, before);
  g_signal_handler_disconnect (frame_clock, after);
  sb_scene_free (scene);
  g_array_unref (clock.ms);
  g_array_unref (clock.cpu_ms);
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
