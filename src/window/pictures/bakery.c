/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "window/pictures/bakery.h"

#define BUDGET (96 * 1024 * 1024)

typedef struct {
  SbBakeKey key; /* holds a reference to its design */
  SbBaked baked;
  gsize bytes;
  int art_px;     /* longest side of the level it was baked from; 0 for none */
  gboolean final; /* its artwork had all the pixels that are of use */
  gboolean asked; /* waits or is being baked */
  gint64 used;    /* counts up */
} Entry;

/* One texture on its way through the thread. */
typedef struct {
  SbBakeKey key;
  cairo_surface_t *art;
  const SbPalette *palette;
  guint generation;
  SbBaked baked;
} Work;

struct _SbBakery {
  GObject parent_instance;

  SbArtStore *store;
  GHashTable *entries; /* Entry by its own key */
  GThreadPool *pool;
  gsize bytes;
  gint64 clock;
  guint n_busy;
  guint told_source;

  /* Shared with the thread. */
  gint generation;
};

G_DEFINE_FINAL_TYPE (SbBakery, sb_bakery, G_TYPE_OBJECT)

enum {
  BAKED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static guint
key_hash (gconstpointer pointer)
{
  const SbBakeKey *key = pointer;
  guint hash = g_direct_hash (key->design);

  hash = hash * 31 + (guint)key->turn;
  hash = hash * 31 + g_double_hash (&key->px_a_mm);
  hash = hash * 31 + g_double_hash (&key->stretch);
  return hash * 31 + key->flags * 2 + (guint)key->strong;
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
  const SbBakeKey *p = a, *q = b;

  return p->design == q->design && p->turn == q->turn && p->px_a_mm == q->px_a_mm &&
         p->stretch == q->stretch && p->flags == q->flags && p->strong == q->strong;
}

static void
entry_free (Entry *entry)
{
  sb_design_unref (entry->key.design);
  sb_baked_clear (&entry->baked);
  g_free (entry);
}

static void
work_free (Work *work)
{
  sb_design_unref (work->key.design);
  g_clear_pointer (&work->art, cairo_surface_destroy);
  sb_baked_clear (&work->baked);
  g_free (work);
}

static gboolean
tell_cb (gpointer data)
{
  SbBakery *self = data;

  self->told_source = 0;
  g_signal_emit (self, signals[BAKED], 0);
  return G_SOURCE_REMOVE;
}

/* Many textures come at once: the canvas is told once a main loop turn. */
static void
tell_soon (SbBakery *self)
{
  if (self->told_source == 0)
    self->told_source = g_idle_add_full (GDK_PRIORITY_REDRAW - 1, tell_cb, self, NULL);
}

static int
longest_side (cairo_surface_t *art)
{
  if (!art)
    return 0;
  return MAX (cairo_image_surface_get_width (art), cairo_image_surface_get_height (art));
}

static void
make_room (SbBakery *self)
{
  while (self->bytes > BUDGET) {
    GHashTableIter iter;
    Entry *entry, *oldest = NULL;

    g_hash_table_iter_init (&iter, self->entries);
    while (g_hash_table_iter_next (&iter, NULL, (gpointer *)&entry))
      if (entry->baked.pixels && (!oldest || entry->used < oldest->used))
        oldest = entry;
    /* What is on the screen was used in the latest round: leave it, however large. */
    if (!oldest || oldest->used + 600 > self->clock)
      return;
    self->bytes -= oldest->bytes;
    g_hash_table_remove (self->entries, &oldest->key);
  }
}

static void
entry_take (SbBakery *self, Entry *entry, SbBaked *baked, int art_px)
{
  self->bytes -= entry->bytes;
  sb_baked_clear (&entry->baked);
  entry->baked = *baked;
  baked->pixels = NULL;
  entry->bytes = (gsize)sb_pixels_get_width (entry->baked.pixels) *
                 (gsize)sb_pixels_get_height (entry->baked.pixels) * 4;
  entry->art_px = art_px;
  self->bytes += entry->bytes;
}

/* Back in the main thread. */
static gboolean
work_done_cb (gpointer data)
{
  gpointer *pair = data;
  SbBakery *self = pair[0];
  Work *work = pair[1];
  Entry *entry = g_hash_table_lookup (self->entries, &work->key);

  self->n_busy--;
  if (entry) {
    entry->asked = FALSE;
    if (work->baked.pixels) {
      entry_take (self, entry, &work->baked, longest_side (work->art));
      make_room (self);
      tell_soon (self);
    } else if (!entry->baked.pixels) {
      g_hash_table_remove (self->entries, &work->key);
    }
  }
  work_free (work);
  g_object_unref (self);
  g_free (pair);
  return G_SOURCE_REMOVE;
}

static void
work_cb (gpointer data, gpointer user_data)
{
  gpointer *pair = data;
  SbBakery *self = pair[0];
  Work *work = pair[1];

  if (work->generation == (guint)g_atomic_int_get (&self->generation))
    work->baked.pixels = sb_bake (&work->key, work->art, work->palette, &work->baked.left,
                                  &work->baked.top, &work->baked.px_a_mm);
  g_idle_add_full (G_PRIORITY_DEFAULT, work_done_cb, pair, NULL);
}

static void
ready_cb (SbBakery *self, guint design_id)
{
  /* Whoever still shows the design asks again and finds its texture not final. */
  tell_soon (self);
}

static void
sb_bakery_dispose (GObject *object)
{
  SbBakery *self = SB_BAKERY (object);

  g_clear_handle_id (&self->told_source, g_source_remove);
  if (self->store)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_clear_object (&self->store);
  g_clear_pointer (&self->entries, g_hash_table_unref);
  G_OBJECT_CLASS (sb_bakery_parent_class)->dispose (object);
}

static void
sb_bakery_finalize (GObject *object)
{
  SbBakery *self = SB_BAKERY (object);

  /* Work on its way holds a reference, so the pool is idle here. */
  g_thread_pool_free (self->pool, TRUE, FALSE);
  G_OBJECT_CLASS (sb_bakery_parent_class)->finalize (object);
}

static void
sb_bakery_class_init (SbBakeryClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_bakery_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_bakery_finalize;
  signals[BAKED] = g_signal_new ("baked", SB_TYPE_BAKERY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
sb_bakery_init (SbBakery *self)
{
  self->entries = g_hash_table_new_full (key_hash, key_equal, NULL, (GDestroyNotify)entry_free);
  self->pool = g_thread_pool_new (work_cb, NULL, 1, FALSE, NULL);
}

SbBakery *
sb_bakery_new (SbArtStore *store)
{
  SbBakery *self = g_object_new (SB_TYPE_BAKERY, NULL);

  self->store = g_object_ref (store);
  g_signal_connect_object (store, "ready", G_CALLBACK (ready_cb), self, G_CONNECT_SWAPPED);
  return self;
}

static Entry *
find_or_add (SbBakery *self, const SbBakeKey *key)
{
  Entry *entry = g_hash_table_lookup (self->entries, key);

  if (!entry) {
    entry = g_new0 (Entry, 1);
    entry->key = *key;
    sb_design_ref (key->design);
    g_hash_table_insert (self->entries, &entry->key, entry);
  }
  entry->used = ++self->clock;
  return entry;
}

static void
send_to_thread (SbBakery *self, Entry *entry, cairo_surface_t *art, const SbPalette *palette)
{
  Work *work = g_new0 (Work, 1);
  gpointer *pair = g_new (gpointer, 2);

  work->key = entry->key;
  sb_design_ref (work->key.design);
  work->art = art ? cairo_surface_reference (art) : NULL;
  work->palette = palette;
  work->generation = (guint)g_atomic_int_get (&self->generation);
  entry->asked = TRUE;
  self->n_busy++;
  pair[0] = g_object_ref (self);
  pair[1] = work;
  g_thread_pool_push (self->pool, pair, NULL);
}

static void
fill_baked (const Entry *entry, SbBaked *baked)
{
  sb_pixels_ref (entry->baked.pixels);
  sb_baked_clear (baked);
  baked->pixels = entry->baked.pixels;
  baked->left = entry->baked.left;
  baked->top = entry->baked.top;
  baked->px_a_mm = entry->baked.px_a_mm;
}

gboolean
sb_bakery_get (SbBakery *self, const SbBakeKey *key, SbBaked *baked)
{
  Entry *entry = find_or_add (self, key);

  if (!entry->final && !entry->asked) {
    int px = sb_bake_get_art_px (key);
    cairo_surface_t *art = sb_art_store_get_level (self->store, key->design, px);

    if (!entry->baked.pixels || longest_side (art) > entry->art_px)
      send_to_thread (self, entry, art, sb_palette_get_for (key->strong));
    else
      entry->final = entry->art_px >= sb_art_store_get_final_px (self->store, key->design, px);
    g_clear_pointer (&art, cairo_surface_destroy);
  }
  if (!entry->baked.pixels)
    return FALSE;
  fill_baked (entry, baked);
  return TRUE;
}

void
sb_bakery_get_now (SbBakery *self, const SbBakeKey *key, SbBaked *baked)
{
  Entry *entry = find_or_add (self, key);

  if (!entry->baked.pixels) {
    int px = sb_bake_get_art_px (key);
    cairo_surface_t *art = sb_art_store_get_level (self->store, key->design, px);
    SbBaked fresh = {0};
    fresh.pixels = sb_bake (key, art, sb_palette_get_for (key->strong), &fresh.left, &fresh.top,
                            &fresh.px_a_mm);
    entry_take (self, entry, &fresh, longest_side (art));
    g_clear_pointer (&art, cairo_surface_destroy);
  }
  fill_baked (entry, baked);
  make_room (self);
}

void
sb_bakery_forget_waiting (SbBakery *self)
{
  g_atomic_int_inc (&self->generation);
}

gsize
sb_bakery_get_bytes (SbBakery *self)
{
  return self->bytes;
}

gboolean
sb_bakery_is_busy (SbBakery *self)
{
  return self->n_busy > 0 || self->told_source != 0 || sb_art_store_is_busy (self->store);
}
