/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/pictures/painting.h"

typedef struct _Wish Wish;

struct _SbPainting {
  GtkWidget *widget; /* NULL once the painting was let go */
  SbPaintingPaint paint;
  GDestroyNotify free_what;
  SbPixels *pixels; /* or NULL */
  gboolean running;
  Wish *next; /* wished while another is painted; or NULL */
};

struct _Wish {
  SbPainting *painting; /* a reference */
  gpointer what;
  int width, height;
};

static void
painting_clear (gpointer data)
{
  SbPainting *painting = data;

  g_clear_pointer (&painting->pixels, sb_pixels_unref);
}

/* A task may let go of its wish in its own thread: the references are atomic. */
static void
wish_free (gpointer data)
{
  Wish *wish = data;

  wish->painting->free_what (wish->what);
  g_atomic_rc_box_release_full (wish->painting, painting_clear);
  g_free (wish);
}

static void
paint_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Wish *wish = data;
  cairo_surface_t *surface =
      cairo_image_surface_create (CAIRO_FORMAT_ARGB32, wish->width, wish->height);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  wish->painting->paint (cr, wish->width, wish->height, wish->what);
  cairo_destroy (cr);
  g_task_return_pointer (task, sb_pixels_new (surface), (GDestroyNotify)sb_pixels_unref);
}

static void run (Wish *wish);

static void
painted_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Wish *wish = g_task_get_task_data (G_TASK (result));
  SbPainting *painting = wish->painting;

  painting->running = FALSE;
  if (!painting->widget)
    return;
  g_clear_pointer (&painting->pixels, sb_pixels_unref);
  painting->pixels = g_task_propagate_pointer (G_TASK (result), NULL);
  gtk_widget_queue_draw (painting->widget);
  if (painting->next)
    run (g_steal_pointer (&painting->next));
}

static void
run (Wish *wish)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, painted_cb, NULL);

  wish->painting->running = TRUE;
  g_task_set_task_data (task, wish, wish_free);
  g_task_run_in_thread (task, paint_in_thread);
}

SbPainting *
sb_painting_new (GtkWidget *widget, SbPaintingPaint paint, GDestroyNotify free_what)
{
  SbPainting *painting = g_atomic_rc_box_new0 (SbPainting);

  painting->widget = widget;
  painting->paint = paint;
  painting->free_what = free_what;
  return painting;
}

void
sb_painting_free (SbPainting *painting)
{
  painting->widget = NULL;
  g_clear_pointer (&painting->next, wish_free);
  g_atomic_rc_box_release_full (painting, painting_clear);
}

void
sb_painting_start (SbPainting *painting, int width, int height, gpointer what)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->painting = g_atomic_rc_box_acquire (painting);
  wish->what = what;
  wish->width = width;
  wish->height = height;
  if (!painting->running) {
    run (wish);
    return;
  }
  g_clear_pointer (&painting->next, wish_free);
  painting->next = wish;
}

SbPixels *
sb_painting_get_pixels (SbPainting *painting)
{
  return painting->pixels;
}
