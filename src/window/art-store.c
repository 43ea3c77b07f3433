/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/art-store.h"

struct _SbArtStore {
  GObject parent_instance;
};

G_DEFINE_FINAL_TYPE (SbArtStore, sb_art_store, G_TYPE_OBJECT)

static void
sb_art_store_class_init (SbArtStoreClass *klass)
{
  g_signal_new ("ready", SB_TYPE_ART_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                G_TYPE_UINT);
  g_signal_new ("failed", SB_TYPE_ART_STORE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                G_TYPE_UINT, G_TYPE_STRING);
}

static void
sb_art_store_init (SbArtStore *self)
{
}

SbArtStore *
sb_art_store_new (void)
{
  return g_object_new (SB_TYPE_ART_STORE, NULL);
}

GdkPaintable *
sb_art_store_get_thumbnail (SbArtStore *self, SbDesign *design, int px, int scale)
{
  return gdk_paintable_new_empty (px, px);
}

cairo_surface_t *
sb_art_store_get_level (SbArtStore *self, SbDesign *design, int px)
{
  return NULL;
}

gsize
sb_art_store_get_bytes (SbArtStore *self)
{
  return 0;
}

gboolean
sb_art_store_is_busy (SbArtStore *self)
{
  return FALSE;
}
