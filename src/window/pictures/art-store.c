/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A picture's levels are halvings of one decoded size, largest first. What is asked for is rounded
 * up to a power of two, so that a slow zoom decodes a handful of times; bitmaps are never decoded
 * past their own pixels. */
#include "config.h"

#include "window/pictures/art-store.h"
#include "window/pictures/bake.h"

#define SMALL_PX 320 /* levels up to this side stay */
#define LEAST_PX 32
#define MOST_PX 4096
#define BUDGET (128 * 1024 * 1024) /* bytes of the larger levels together */

typedef struct {
  SbPicture *picture;
  GPtrArray *levels;  /* cairo_surface_t, largest first */
  GArray *design_ids; /* who asked */
  int asked_px;       /* being decoded; 0 when not */
  gboolean failed;
  gint64 used;
} Art;

typedef struct {
  SbArtStore *store;
  SbPicture *picture;
  int px;
  GPtrArray *levels;
  GError *error;
} Work;

struct _SbArtStore {
  GObject parent_instance;

  GHashTable *arts; /* Art by key */
  GThreadPool *pool;
  gsize bytes;
  gint64 clock;
  guint n_busy;
};

G_DEFINE_FINAL_TYPE (SbArtStore, sb_art_store, G_TYPE_OBJECT)

enum {
  READY,
  FAILED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
art_free (Art *art)
{
  sb_picture_unref (art->picture);
  g_ptr_array_unref (art->levels);
  g_array_unref (art->design_ids);
  g_free (art);
}

static void
work_free (Work *work)
{
  g_object_unref (work->store);
  sb_picture_unref (work->picture);
  g_clear_pointer (&work->levels, g_ptr_array_unref);
  g_clear_error (&work->error);
  g_free (work);
}

static int
longest_side (cairo_surface_t *level)
{
  return MAX (cairo_image_surface_get_width (level), cairo_image_surface_get_height (level));
}

static gsize
level_bytes (cairo_surface_t *level)
{
  return (gsize)cairo_image_surface_get_stride (level) *
         (gsize)cairo_image_surface_get_height (level);
}

static int
level_px (const SbPicture *picture, int px)
{
  int own = MAX (sb_picture_get_width (picture), sb_picture_get_height (picture));
  int side = LEAST_PX;

  while (side < px && side < MOST_PX)
    side *= 2;
  return sb_picture_get_kind (picture) == SB_PICTURE_BITMAP ? MIN (side, own) : side;
}

/* The mean of each 2 x 2 pixels, premultiplied, so edges stay clean; an odd last row or column is
 * averaged with itself. */
static cairo_surface_t *
halve (cairo_surface_t *from)
{
  int width = cairo_image_surface_get_width (from), height = cairo_image_surface_get_height (from);
  int w = MAX ((width + 1) / 2, 1), h = MAX ((height + 1) / 2, 1);
  cairo_surface_t *to = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w, h);
  int from_row = cairo_image_surface_get_stride (from),
      to_row = cairo_image_surface_get_stride (to);
  const guchar *source = cairo_image_surface_get_data (from);
  guchar *target = cairo_image_surface_get_data (to);

  for (int y = 0; y < h; y++) {
    const guchar *a = source + (gsize)(2 * y) * (gsize)from_row;
    const guchar *b = 2 * y + 1 < height ? a + from_row : a;
    guchar *out = target + (gsize)y * (gsize)to_row;

    for (int x = 0; x < w; x++) {
      int left = 8 * x, right = 2 * x + 1 < width ? left + 4 : left;
      for (int i = 0; i < 4; i++)
        out[4 * x + i] =
            (guchar)((a[left + i] + a[right + i] + b[left + i] + b[right + i] + 2) / 4);
    }
  }
  cairo_surface_mark_dirty (to);
  return to;
}

/* Sum of the levels that count against the budget. */
static gsize
large_bytes (const Art *art)
{
  gsize bytes = 0;

  for (guint i = 0; i < art->levels->len; i++)
    if (longest_side (art->levels->pdata[i]) > SMALL_PX)
      bytes += level_bytes (art->levels->pdata[i]);
  return bytes;
}

static void
drop_largest (SbArtStore *self, Art *art)
{
  self->bytes -= level_bytes (art->levels->pdata[0]);
  g_ptr_array_remove_index (art->levels, 0);
}

/* Takes the largest level of the longest unused picture until the large ones fit the budget; the
 * picture `keep` was just asked for. */
static void
make_room (SbArtStore *self, const Art *keep)
{
  for (;;) {
    GHashTableIter iter;
    Art *art, *oldest = NULL;
    gsize bytes = 0;

    g_hash_table_iter_init (&iter, self->arts);
    while (g_hash_table_iter_next (&iter, NULL, (gpointer *)&art)) {
      gsize large = large_bytes (art);
      bytes += large;
      if (large > 0 && art != keep && (!oldest || art->used < oldest->used))
        oldest = art;
    }
    if (bytes <= BUDGET || !oldest)
      return;
    drop_largest (self, oldest);
  }
}

static void
take_levels (SbArtStore *self, Art *art, GPtrArray *levels)
{
  for (guint i = 0; i < art->levels->len; i++)
    self->bytes -= level_bytes (art->levels->pdata[i]);
  for (guint i = 0; i < levels->len; i++)
    self->bytes += level_bytes (levels->pdata[i]);
  g_ptr_array_unref (art->levels);
  art->levels = g_ptr_array_ref (levels);
  make_room (self, art);
}

static gboolean
work_done_cb (gpointer data)
{
  Work *work = data;
  SbArtStore *self = work->store;
  Art *art = g_hash_table_lookup (self->arts, sb_picture_get_key (work->picture));

  self->n_busy--;
  art->asked_px = 0;
  if (work->levels) {
    if (art->levels->len == 0 ||
        longest_side (work->levels->pdata[0]) > longest_side (art->levels->pdata[0]))
      take_levels (self, art, work->levels);
  } else {
    art->failed = TRUE;
  }

  g_autoptr (GArray) ids = g_array_copy (art->design_ids);
  for (guint i = 0; i < ids->len; i++) {
    guint id = g_array_index (ids, guint, i);
    if (art->failed)
      g_signal_emit (self, signals[FAILED], 0, id, work->error->message);
    else
      g_signal_emit (self, signals[READY], 0, id);
  }
  work_free (work);
  return G_SOURCE_REMOVE;
}

static void
work_cb (gpointer data, gpointer user_data)
{
  Work *work = data;
  int own_width = sb_picture_get_width (work->picture);
  int own_height = sb_picture_get_height (work->picture);
  double factor = (double)work->px / MAX (own_width, own_height);
  int width = CLAMP ((int)(own_width * factor + 0.5), 1, work->px);
  int height = CLAMP ((int)(own_height * factor + 0.5), 1, work->px);
  cairo_surface_t *level = sb_picture_render (work->picture, width, height, NULL, &work->error);

  if (level) {
    work->levels = g_ptr_array_new_with_free_func ((GDestroyNotify)cairo_surface_destroy);
    g_ptr_array_add (work->levels, level);
    while (longest_side (level) / 2 >= LEAST_PX) {
      level = halve (level);
      g_ptr_array_add (work->levels, level);
    }
  }
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, work_done_cb, work, NULL);
}

static void
sb_art_store_finalize (GObject *object)
{
  SbArtStore *self = SB_ART_STORE (object);

  /* Work on its way holds a reference, so the pool is idle here. */
  g_thread_pool_free (self->pool, TRUE, FALSE);
  g_hash_table_unref (self->arts);
  G_OBJECT_CLASS (sb_art_store_parent_class)->finalize (object);
}

static void
sb_art_store_class_init (SbArtStoreClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_art_store_finalize;

  signals[READY] = g_signal_new ("ready", SB_TYPE_ART_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[FAILED] = g_signal_new ("failed", SB_TYPE_ART_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_STRING);
}

static void
sb_art_store_init (SbArtStore *self)
{
  self->arts = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify)art_free);
  self->pool = g_thread_pool_new (work_cb, NULL, 2, FALSE, NULL);
}

SbArtStore *
sb_art_store_new (void)
{
  return g_object_new (SB_TYPE_ART_STORE, NULL);
}

static Art *
find_or_add (SbArtStore *self, SbDesign *design)
{
  const char *key = sb_picture_get_key (design->picture);
  Art *art = g_hash_table_lookup (self->arts, key);

  if (!art) {
    art = g_new0 (Art, 1);
    art->picture = sb_picture_ref (design->picture);
    art->levels = g_ptr_array_new_with_free_func ((GDestroyNotify)cairo_surface_destroy);
    art->design_ids = g_array_new (FALSE, FALSE, sizeof (guint));
    g_hash_table_insert (self->arts, (gpointer)sb_picture_get_key (art->picture), art);
  }
  art->used = ++self->clock;
  for (guint i = 0; i < art->design_ids->len; i++)
    if (g_array_index (art->design_ids, guint, i) == design->id)
      return art;
  g_array_append_val (art->design_ids, design->id);
  return art;
}

static void
decode (SbArtStore *self, Art *art, int px)
{
  Work *work = g_new0 (Work, 1);

  work->store = g_object_ref (self);
  work->picture = sb_picture_ref (art->picture);
  work->px = px;
  art->asked_px = px;
  self->n_busy++;
  g_thread_pool_push (self->pool, work, NULL);
}

cairo_surface_t *
sb_art_store_get_level (SbArtStore *self, SbDesign *design, int px)
{
  g_return_val_if_fail (SB_IS_ART_STORE (self), NULL);

  Art *art = find_or_add (self, design);
  int wanted = level_px (art->picture, px);
  cairo_surface_t *best = NULL;

  for (guint i = 0; i < art->levels->len; i++) {
    cairo_surface_t *level = art->levels->pdata[i];
    if (!best || longest_side (level) >= MIN (px, wanted))
      best = level;
  }
  if (!art->failed && art->asked_px == 0 && (!best || longest_side (best) < MIN (px, wanted)))
    decode (self, art, wanted);
  return best ? cairo_surface_reference (best) : NULL;
}

int
sb_art_store_get_final_px (SbArtStore *self, SbDesign *design, int px)
{
  g_return_val_if_fail (SB_IS_ART_STORE (self), 0);

  Art *art = find_or_add (self, design);
  return art->failed ? 0 : MIN (px, level_px (art->picture, px));
}

GdkPaintable *
sb_art_store_get_thumbnail (SbArtStore *self, SbDesign *design, int px, int scale)
{
  g_return_val_if_fail (SB_IS_ART_STORE (self), NULL);

  SbBakeKey key = {.design = design, .px_a_mm = px * scale / 100.0, .stretch = 1};
  SbBox box = sb_bake_get_box (&key);
  double longest = MAX (box.x1 - box.x0, box.y1 - box.y0);
  int left, top;

  key.px_a_mm = MAX (px * scale - 4, 1) / longest;
  cairo_surface_t *art = sb_art_store_get_level (self, design, sb_bake_get_art_px (&key));
  g_autoptr (SbPixels) pixels =
      sb_bake (&key, art, sb_palette_get_for (FALSE), &left, &top, &key.px_a_mm);
  g_clear_pointer (&art, cairo_surface_destroy);

  /* The texture has device pixels; the paintable's own size is in logical ones. */
  graphene_rect_t rect =
      GRAPHENE_RECT_INIT (0, 0, (float)sb_pixels_get_width (pixels) / (float)scale,
                          (float)sb_pixels_get_height (pixels) / (float)scale);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  gtk_snapshot_append_texture (snapshot, sb_pixels_get_texture (pixels), &rect);
  return gtk_snapshot_free_to_paintable (snapshot, &rect.size);
}

gsize
sb_art_store_get_bytes (SbArtStore *self)
{
  g_return_val_if_fail (SB_IS_ART_STORE (self), 0);
  return self->bytes;
}

gboolean
sb_art_store_is_busy (SbArtStore *self)
{
  g_return_val_if_fail (SB_IS_ART_STORE (self), FALSE);
  return self->n_busy > 0;
}
