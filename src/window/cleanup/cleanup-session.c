/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/cleanup/cleanup-session.h"

#define PREVIEW_PX 1000 /* the longest side */
#define PICK_PX 2       /* a colour is the mean of a square of this far each way */

struct _SbCleanupSession {
  GObject parent_instance;

  SbDesk *desk;
  guint design_id;
  SbDesign *design; /* the newest settings */

  SbCleanPreview *preview; /* owned by the thread while `running`; NULL until it is decoded */
  char *picture_hash;      /* what it was decoded from */
  GCancellable *running;   /* of the work under way, or NULL */
  gboolean stale;          /* `design` is newer than what is worked on */

  SbCleanResult *result;
  SbCleanResult *full; /* at full resolution, without pixels; or NULL */
  char *result_key;    /* of the cleaned picture that the result is a preview of */
  SbPixels *whole, *before, *after;
  SbPixels *before_level, *after_level; /* the same with more pixels, or NULL */
};

G_DEFINE_FINAL_TYPE (SbCleanupSession, sb_cleanup_session, G_TYPE_OBJECT)

enum {
  CHANGED,
  PIXELS,
  GONE,
  FAILED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

/* What the thread works on. */
typedef struct {
  SbCleanPreview *preview; /* or NULL: still to be decoded */
  SbPicture *picture;
  SbCleanup recipe;
  SbStrokes *strokes; /* the recipe's */
  double px_per_mm;
  SbCleanResult *result;
  cairo_surface_t *before; /* in the frame of the recipe */
} Work;

static void
work_free (Work *work)
{
  g_clear_pointer (&work->preview, sb_clean_preview_free);
  sb_picture_unref (work->picture);
  sb_strokes_unref (work->strokes);
  g_clear_pointer (&work->result, sb_clean_result_unref);
  g_clear_pointer (&work->before, cairo_surface_destroy);
  g_free (work);
}

/* The picture as it came in, in the frame it is cleaned in. */
static cairo_surface_t *
frame_before (Work *work, GCancellable *cancellable)
{
  cairo_surface_t *whole = sb_clean_preview_get_before (work->preview);
  const SbQuad *frame = sb_cleanup_get_frame (&work->recipe);

  if (!frame->set)
    return cairo_surface_reference (whole);
  cairo_surface_t *before = cairo_image_surface_create (
      CAIRO_FORMAT_ARGB32, cairo_image_surface_get_width (work->result->surface),
      cairo_image_surface_get_height (work->result->surface));
  if (cairo_surface_status (before) != CAIRO_STATUS_SUCCESS ||
      !sb_quad_fill (frame, whole, before, cancellable, NULL))
    g_clear_pointer (&before, cairo_surface_destroy);
  return before;
}

static void
work_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  GError *error = NULL;

  if (!work->preview)
    work->preview = sb_clean_preview_new (work->picture, PREVIEW_PX, cancellable, &error);
  if (work->preview)
    work->result = sb_clean_preview_run (work->preview, &work->recipe, work->px_per_mm, NULL, NULL,
                                         cancellable, &error);
  if (work->result)
    work->before = frame_before (work, cancellable);
  if (work->result)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
take_pixels (SbPixels **place, cairo_surface_t *surface)
{
  g_clear_pointer (place, sb_pixels_unref);
  if (surface)
    *place = sb_pixels_new (cairo_surface_reference (surface));
}

static void
take_result (SbCleanupSession *self, Work *work)
{
  g_clear_pointer (&self->result, sb_clean_result_unref);
  self->result = g_steal_pointer (&work->result);
  g_free (self->result_key);
  self->result_key = g_strdup (sb_picture_get_key (work->picture));
  take_pixels (&self->after, self->result->surface);
  take_pixels (&self->before, work->before);
  take_pixels (&self->whole, sb_clean_preview_get_before (work->preview));
  g_clear_pointer (&self->before_level, sb_pixels_unref);
  g_clear_pointer (&self->after_level, sb_pixels_unref);
}

static void work (SbCleanupSession *self);

static void
worked_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbCleanupSession *self = SB_CLEANUP_SESSION (source);
  Work *done = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean worked = g_task_propagate_boolean (G_TASK (result), &error);

  g_clear_object (&self->running);
  if (!self->desk)
    return;
  if (worked)
    take_result (self, done);
  self->preview = g_steal_pointer (&done->preview);
  if (self->stale)
    work (self);
  else if (!worked && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_signal_emit (self, signals[FAILED], 0, error->message);
  g_signal_emit (self, signals[PIXELS], 0);
}

static void
work (SbCleanupSession *self)
{
  SbDesign *design = self->design;
  Work *data = g_new0 (Work, 1);

  self->stale = FALSE;
  if (g_strcmp0 (self->picture_hash, sb_picture_get_sha256 (design->picture)) != 0) {
    g_clear_pointer (&self->preview, sb_clean_preview_free);
    g_free (self->picture_hash);
    self->picture_hash = g_strdup (sb_picture_get_sha256 (design->picture));
  }
  data->preview = g_steal_pointer (&self->preview);
  data->picture = sb_picture_ref (design->picture);
  data->recipe = design->cleanup;
  data->strokes = sb_strokes_ref (design->cleanup.strokes);
  data->px_per_mm = sb_design_get_px_per_mm (design);
  self->running = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->running, worked_cb, NULL);
  g_task_set_task_data (task, data, (GDestroyNotify)work_free);
  g_task_run_in_thread (task, work_in_thread);
}

/* Whether there is something new about the newest recipe at full resolution. */
static gboolean
take_full (SbCleanupSession *self)
{
  SbDesign *settled = sb_state_get_design (sb_desk_get_settled (self->desk), self->design_id);
  g_autoptr (SbCleanResult) full =
      settled && g_str_equal (sb_picture_get_key (settled->picture),
                              sb_picture_get_key (self->design->picture))
          ? sb_picture_get_clean_result (settled->picture)
          : NULL;

  if (full == self->full)
    return FALSE;
  g_clear_pointer (&self->full, sb_clean_result_unref);
  self->full = g_steal_pointer (&full);
  return TRUE;
}

/* The newest settings may be others: by the maker, an undo, a file read again. */
static void
update (SbCleanupSession *self)
{
  g_autoptr (SbDesign) newest =
      sb_design_changer_begin (sb_desk_get_changer (self->desk), self->design_id);

  if (!newest) {
    g_signal_emit (self, signals[GONE], 0);
    return;
  }
  if (self->design && sb_design_equal (self->design, newest)) {
    if (take_full (self))
      g_signal_emit (self, signals[PIXELS], 0);
    return;
  }
  gboolean other = !self->design || !g_str_equal (sb_picture_get_key (self->design->picture),
                                                  sb_picture_get_key (newest->picture));
  g_clear_pointer (&self->design, sb_design_unref);
  self->design = g_steal_pointer (&newest);
  take_full (self);
  if (other && self->running)
    self->stale = TRUE;
  else if (other)
    work (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
ready_cb (SbCleanupSession *self, guint design_id)
{
  if (design_id == self->design_id)
    g_signal_emit (self, signals[PIXELS], 0);
}

static void
sb_cleanup_session_dispose (GObject *object)
{
  SbCleanupSession *self = SB_CLEANUP_SESSION (object);

  if (self->running)
    g_cancellable_cancel (self->running);
  if (self->desk) {
    g_signal_handlers_disconnect_by_data (sb_desk_get_changer (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_job (self->desk), self);
    g_signal_handlers_disconnect_by_data (sb_desk_get_art (self->desk), self);
  }
  g_clear_object (&self->desk);
  g_clear_pointer (&self->design, sb_design_unref);
  g_clear_pointer (&self->preview, sb_clean_preview_free);
  g_clear_pointer (&self->picture_hash, g_free);
  g_clear_pointer (&self->result, sb_clean_result_unref);
  g_clear_pointer (&self->full, sb_clean_result_unref);
  g_clear_pointer (&self->result_key, g_free);
  g_clear_pointer (&self->whole, sb_pixels_unref);
  g_clear_pointer (&self->before, sb_pixels_unref);
  g_clear_pointer (&self->after, sb_pixels_unref);
  g_clear_pointer (&self->before_level, sb_pixels_unref);
  g_clear_pointer (&self->after_level, sb_pixels_unref);
  G_OBJECT_CLASS (sb_cleanup_session_parent_class)->dispose (object);
}

static void
sb_cleanup_session_class_init (SbCleanupSessionClass *klass)
{
  GType type = SB_TYPE_CLEANUP_SESSION;

  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_session_dispose;
  signals[CHANGED] =
      g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PIXELS] =
      g_signal_new ("pixels", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[GONE] =
      g_signal_new ("gone", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FAILED] = g_signal_new ("failed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
sb_cleanup_session_init (SbCleanupSession *self)
{
}

SbCleanupSession *
sb_cleanup_session_new (SbDesk *desk, guint design_id)
{
  SbCleanupSession *self = g_object_new (SB_TYPE_CLEANUP_SESSION, NULL);

  self->desk = g_object_ref (desk);
  self->design_id = design_id;
  g_signal_connect_swapped (sb_desk_get_changer (desk), "taken", G_CALLBACK (update), self);
  g_signal_connect_swapped (sb_desk_get_changer (desk), "failed", G_CALLBACK (update), self);
  g_signal_connect_swapped (sb_desk_get_job (desk), "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (sb_desk_get_art (desk), "ready", G_CALLBACK (ready_cb), self);
  update (self);
  return self;
}

SbDesk *
sb_cleanup_session_get_desk (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return self->desk;
}

guint
sb_cleanup_session_get_design_id (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), 0);
  return self->design_id;
}

SbDesign *
sb_cleanup_session_get_design (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return self->design;
}

SbDesign *
sb_cleanup_session_begin (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return sb_design_copy (self->design);
}

void
sb_cleanup_session_end (SbCleanupSession *self, SbDesign *copy, const char *format,
                        gboolean own_step)
{
  g_return_if_fail (SB_IS_CLEANUP_SESSION (self));

  if (sb_design_equal (copy, self->design)) {
    sb_design_unref (copy);
    return;
  }
  sb_design_changer_end_slow (sb_desk_get_changer (self->desk), copy, format, own_step);
}

void
sb_cleanup_session_set_recipe (SbCleanupSession *self, const SbCleanup *recipe, const char *format,
                               gboolean own_step)
{
  SbDesign *copy = sb_cleanup_session_begin (self);

  sb_design_set_cleanup (copy, recipe);
  sb_cleanup_session_end (self, copy, format, own_step);
}

SbCleanResult *
sb_cleanup_session_get_result (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return self->result;
}

SbCleanResult *
sb_cleanup_session_get_specks (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return self->full ? self->full : self->result;
}

/* A level of the window's own store, where it has more pixels than `least`; else `least`. `kept` is
 * the one before. */
static SbPixels *
get_level (SbCleanupSession *self, SbDesign *design, int px, SbPixels *least, SbPixels **kept)
{
  cairo_surface_t *level = sb_art_store_get_level (sb_desk_get_art (self->desk), design, px);
  int width = level ? cairo_image_surface_get_width (level) : 0;

  if (width > sb_pixels_get_width (*kept ? *kept : least))
    take_pixels (kept, level);
  g_clear_pointer (&level, cairo_surface_destroy);
  return *kept ? *kept : least;
}

SbPixels *
sb_cleanup_session_get_after (SbCleanupSession *self, int px)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);

  SbDesign *settled = sb_state_get_design (sb_desk_get_settled (self->desk), self->design_id);
  if (!self->after ||
      px <= MAX (sb_pixels_get_width (self->after), sb_pixels_get_height (self->after)))
    return self->after;
  /* Not while the job is behind. */
  if (!settled || g_strcmp0 (self->result_key, sb_picture_get_key (settled->picture)) != 0 ||
      sb_cleanup_session_is_busy (self))
    return self->after;
  return get_level (self, settled, px, self->after, &self->after_level);
}

SbPixels *
sb_cleanup_session_get_before (SbCleanupSession *self, int px)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);

  if (!self->before ||
      px <= MAX (sb_pixels_get_width (self->before), sb_pixels_get_height (self->before)))
    return self->before;
  /* Nothing but its frame. */
  SbCleanup none = sb_cleanup_none ();
  none.frame = self->design->cleanup.frame;
  none.sheet = self->design->cleanup.sheet;
  g_autoptr (SbDesign) plain = sb_design_copy (self->design);
  sb_design_set_cleanup (plain, &none);
  return get_level (self, plain, px, self->before, &self->before_level);
}

SbPixels *
sb_cleanup_session_get_whole (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), NULL);
  return self->whole;
}

gboolean
sb_cleanup_session_pick (SbCleanupSession *self, double x, double y, guint8 colour[3])
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), FALSE);

  if (!self->before)
    return FALSE;
  cairo_surface_t *surface = sb_pixels_get_surface (self->before);
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  int column = CLAMP ((int)(x * width), 0, width - 1);
  int row = CLAMP ((int)(y * width), 0, height - 1);
  const guint8 *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint sum[3] = {0}, n = 0;

  for (int j = MAX (row - PICK_PX, 0); j <= MIN (row + PICK_PX, height - 1); j++)
    for (int i = MAX (column - PICK_PX, 0); i <= MIN (column + PICK_PX, width - 1); i++, n++) {
      guint32 pixel = ((const guint32 *)(const void *)(data + (gsize)j * (gsize)stride))[i];
      guint32 white = 255 - (pixel >> 24); /* what is clear counts as white */
      for (int c = 0; c < 3; c++)
        sum[c] += (pixel >> (16 - 8 * c) & 0xff) + white;
    }
  for (int c = 0; c < 3; c++)
    colour[c] = (guint8)(sum[c] / n);
  return TRUE;
}

gboolean
sb_cleanup_session_is_busy (SbCleanupSession *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_SESSION (self), FALSE);
  return self->running != NULL;
}
