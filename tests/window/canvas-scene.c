/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "canvas-scene.h"
#include "job/edit.h"
#include "window/canvas/canvas-private.h"

static cairo_status_t
write_cb (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* A leaf of `i`'s own shape and colour, transparent around it. */
static GBytes *
paint_leaf (guint i, int px)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, px, px);
  cairo_t *cr = cairo_create (surface);
  GByteArray *bytes = g_byte_array_new ();
  guint lobes = 3 + i % 5;

  cairo_scale (cr, px, px);
  for (int step = 0; step <= 240; step++) {
    double angle = step * G_PI / 120;
    double radius = 0.36 + 0.07 * sin (angle * lobes + i) + 0.03 * cos (angle * 2 + i);
    cairo_line_to (cr, 0.5 + radius * cos (angle), 0.5 + 0.85 * radius * sin (angle));
  }
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, 0.35 + 0.5 * fabs (sin (i * 1.3)), 0.3 + 0.4 * fabs (sin (i * 2.1)),
                        0.25 + 0.4 * fabs (cos (i * 1.7)));
  cairo_fill (cr);
  cairo_set_source_rgba (cr, 1, 1, 1, 0.5);
  cairo_set_line_width (cr, 0.02);
  cairo_move_to (cr, 0.3, 0.6);
  cairo_curve_to (cr, 0.4, 0.7, 0.5, 0.7, 0.6, 0.6);
  cairo_stroke (cr);
  cairo_destroy (cr);
  cairo_surface_write_to_png_stream (surface, write_cb, bytes);
  cairo_surface_destroy (surface);
  return g_byte_array_free_to_bytes (bytes);
}

static SbDesign *
make_design (guint i, const SbSceneParams *params)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = g_strdup_printf ("leaf %u", i + 1);
  g_autoptr (GBytes) bytes = paint_leaf (i, params->picture_px);
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, name, &error);

  g_assert_no_error (error);
  SbDesign *design = sb_design_new (picture, name);
  sb_design_set_size (design, params->size_mm, params->size_mm);
  sb_design_prepare (design, NULL, &error);
  g_assert_no_error (error);
  return design;
}

static SbState *
take (SbState *state, SbState *next)
{
  sb_state_unref (state);
  return next;
}

static SbState *
add_pieces (SbState *state, const guint *design_ids, const SbSceneParams *params)
{
  guint columns = (guint)((state->page_width - 12000) / params->spread);
  guint rows = (guint)((state->page_height - 12000) / params->spread);

  for (guint i = 0; i < params->pieces; i++) {
    guint cell = i % (columns * rows), page = i / (columns * rows), id;
    SbPiece piece = {
        .design_id = design_ids[i % params->designs],
        .at = {6000 + params->spread / 2 + (sb_um)(cell % columns) * params->spread,
               6000 + params->spread / 2 + (sb_um)(cell / columns) * params->spread},
        .turn = params->turned && i % 2 ? (gint32)(i * 7000 % 360000) : 0,
    };
    if (page == state->pages->len)
      state = take (state, sb_edit_add_page (state, page));
    state = take (state, sb_edit_add_piece (state, page, piece, &id));
  }
  return state;
}

SbState *
sb_scene_make_state (const SbSceneParams *params)
{
  SbState *state = sb_state_new ("na_letter_8.5x11in", 215900, 279400);
  g_autofree guint *ids = g_new (guint, params->designs);

  for (guint i = 0; i < params->designs; i++)
    state = take (state, sb_edit_add_design (state, make_design (i, params), &ids[i]));
  return add_pieces (state, ids, params);
}

SbScene *
sb_scene_new (SbState *state, int width, int height)
{
  SbScene *scene = g_new0 (SbScene, 1);

  scene->job = sb_job_new (state);
  sb_state_unref (state);
  scene->store = sb_art_store_new ();
  scene->selection = sb_selection_new ();
  sb_selection_set_job (scene->selection, scene->job);
  scene->checker = sb_checker_new (scene->job, SB_UNIT_MM);
  scene->canvas = SB_CANVAS (sb_canvas_new (scene->store, scene->selection));
  sb_canvas_set_job (scene->canvas, scene->job);
  sb_canvas_set_checker (scene->canvas, scene->checker);
  scene->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (scene->window), width, height);
  gtk_window_set_decorated (GTK_WINDOW (scene->window), FALSE);
  gtk_window_set_child (GTK_WINDOW (scene->window), GTK_WIDGET (scene->canvas));
  gtk_window_present (GTK_WINDOW (scene->window));
  return scene;
}

SbScene *
sb_scene_new_rows (void)
{
  SbSceneParams params = {
      .designs = 3, .pieces = 6, .picture_px = 160, .size_mm = 30, .spread = 50000};
  SbScene *scene = sb_scene_new (sb_scene_make_state (&params), 1100, 850);

  sb_scene_settle (scene);
  return scene;
}

void
sb_scene_free (SbScene *scene)
{
  if (scene->hand) {
    g_subprocess_force_exit (scene->hand);
    g_object_unref (scene->answers);
    g_object_unref (scene->hand);
  }
  gtk_window_destroy (GTK_WINDOW (scene->window));
  sb_scene_run (20);
  g_object_unref (scene->checker);
  g_object_unref (scene->selection);
  g_object_unref (scene->store);
  g_object_unref (scene->job);
  g_free (scene);
}

void
sb_scene_run (guint ms)
{
  gint64 end = g_get_monotonic_time () + ms * G_TIME_SPAN_MILLISECOND;

  while (g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (500);
}

void
sb_scene_settle (SbScene *scene)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  int quiet = 0;

  /* A few quiet turns in a row: a frame may ask for more. */
  while (quiet < 5) {
    g_assert_cmpint (g_get_monotonic_time (), <, end);
    sb_scene_run (20);
    gboolean busy = sb_pages_view_is_busy (pages) || sb_checker_is_behind (scene->checker);
    quiet = busy ? 0 : quiet + 1;
  }
}

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree char *line =
      g_data_input_stream_read_line_finish (G_DATA_INPUT_STREAM (source), result, NULL, NULL);

  g_assert_nonnull (line);
  *(gboolean *)data = TRUE;
}

/* Where the pointer is, is asked after each command: the answer comes when all before it is done.
 */
static void
wait_for_hand (SbScene *scene)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;
  gboolean answered = FALSE;

  g_data_input_stream_read_line_async (scene->answers, G_PRIORITY_DEFAULT, NULL, answered_cb,
                                       &answered);
  while (!answered) {
    g_assert_cmpint (g_get_monotonic_time (), <, end);
    sb_scene_run (2);
  }
}

static void
open_hand (SbScene *scene)
{
  g_autoptr (GError) error = NULL;

  scene->hand = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE,
                                  &error, "xdotool", "-", NULL);
  g_assert_no_error (error);
  scene->answers = g_data_input_stream_new (g_subprocess_get_stdout_pipe (scene->hand));
}

void
sb_scene_do (SbScene *scene, const char *format, ...)
{
  g_autoptr (GError) error = NULL;
  va_list args;

  if (!scene->hand)
    open_hand (scene);
  va_start (args, format);
  g_autofree char *command = g_strdup_vprintf (format, args);
  va_end (args);
  g_autofree char *lines = g_strconcat (command, "\ngetdisplaygeometry\n", NULL);
  g_output_stream_write_all (g_subprocess_get_stdin_pipe (scene->hand), lines, strlen (lines), NULL,
                             NULL, &error);
  g_assert_no_error (error);
  wait_for_hand (scene);
  sb_scene_run (20);
}

void
sb_scene_press (SbScene *scene, const char *keys)
{
  sb_scene_do (scene, "key %s", keys);
  sb_scene_run (60);
}

void
sb_scene_drag (SbScene *scene, double x0, double y0, double x1, double y1, const char *keys,
               gboolean release)
{
  const int steps = 8;

  sb_scene_do (scene, "mousemove %d %d", (int)x0, (int)y0);
  if (keys)
    sb_scene_do (scene, "keydown %s", keys);
  sb_scene_do (scene, "mousedown 1");
  for (int i = 1; i <= steps; i++)
    sb_scene_do (scene, "mousemove %d %d", (int)(x0 + (x1 - x0) * i / steps),
                 (int)(y0 + (y1 - y0) * i / steps));
  sb_scene_run (100);
  if (release) {
    sb_scene_do (scene, "mouseup 1");
    if (keys)
      sb_scene_do (scene, "keyup %s", keys);
    sb_scene_run (100);
  }
}

gboolean
sb_scene_find_piece (SbScene *scene, guint piece_id, double *x, double *y)
{
  SbPagesView *pages = sb_canvas_get_pages_view (scene->canvas);
  SbPieceView *view = sb_pages_view_find (pages, piece_id);

  if (!view)
    return FALSE;
  const SbPiece *piece = sb_piece_view_get_piece (view);
  SbPoint at = sb_pages_layout_to_view (sb_pages_view_get_layout (pages),
                                        sb_piece_view_get_page (view), piece->at.x, piece->at.y);
  return gtk_widget_translate_coordinates (GTK_WIDGET (pages), scene->window, at.x, at.y, x, y);
}

const SbPiece *
sb_scene_get_piece (SbScene *scene, guint index)
{
  SbState *state = sb_job_get_state (scene->job);

  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    if (index < page->n_pieces)
      return &page->pieces[index];
    index -= page->n_pieces;
  }
  return NULL;
}

SbPiece
sb_scene_find (SbScene *scene, guint piece_id)
{
  return *sb_state_get_piece (sb_job_get_state (scene->job), piece_id, NULL);
}

guint
sb_scene_count_pieces (SbScene *scene)
{
  SbState *state = sb_job_get_state (scene->job);
  guint n = 0;

  for (guint i = 0; i < state->pages->len; i++)
    n += ((SbPage *)state->pages->pdata[i])->n_pieces;
  return n;
}
