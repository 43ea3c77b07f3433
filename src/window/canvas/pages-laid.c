/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pages that carry a layout: a picture of each, painted by the one painter, lies below the loose
 * pieces. It is painted anew only when what it shows is another. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/canvas/page-preview.h"
#include "window/canvas/pages-view-private.h"

typedef struct {
  GtkWidget *preview;
  SbState *state;      /* that it shows */
  const SbPage *shown; /* of it */
  guint index;
} LaidPage;

static void
laid_page_free (gpointer data)
{
  LaidPage *laid = data;

  gtk_widget_unparent (laid->preview);
  g_clear_pointer (&laid->state, sb_state_unref);
  g_free (laid);
}

GHashTable *
sb_laid_pages_new (void)
{
  return g_hash_table_new_full (NULL, NULL, NULL, laid_page_free);
}

static gboolean
shows_the_same (const SbState *a, const SbState *b, guint layout_id)
{
  if (a == b)
    return TRUE;
  if (sb_state_get_layout (a, layout_id) != sb_state_get_layout (b, layout_id) ||
      a->designs->len != b->designs->len || !sb_margins_equal (&a->margins, &b->margins) ||
      a->page_width != b->page_width || a->page_height != b->page_height)
    return FALSE;
  for (guint i = 0; i < a->designs->len; i++)
    if (a->designs->pdata[i] != b->designs->pdata[i])
      return FALSE;
  return TRUE;
}

static LaidPage *
ensure_page (SbPagesView *self, const SbPage *page)
{
  LaidPage *laid = g_hash_table_lookup (self->laid, GUINT_TO_POINTER (page->id));

  if (laid)
    return laid;
  laid = g_new0 (LaidPage, 1);
  laid->preview = g_object_new (SB_TYPE_PAGE_PREVIEW, "can-target", FALSE, NULL);
  gtk_widget_insert_before (laid->preview, GTK_WIDGET (self), self->marks);
  g_hash_table_insert (self->laid, GUINT_TO_POINTER (page->id), laid);
  return laid;
}

static void
name_page (LaidPage *laid, const SbState *state, const SbPage *page)
{
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  /* Translators: a page for screen readers: its number, how many copies of which layout */
  g_autofree char *label = g_strdup_printf (_ ("Page %u: %u copies of %s"), laid->index + 1,
                                            page->n_placements, layout->name);

  gtk_accessible_update_property (GTK_ACCESSIBLE (laid->preview), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  label, -1);
}

static void
show_page (SbPagesView *self, SbState *state, guint index)
{
  const SbPage *page = sb_state_get_page (state, index);
  LaidPage *laid = ensure_page (self, page);

  laid->index = index;
  if (laid->state && laid->shown == page && shows_the_same (laid->state, state, page->layout_id))
    return;
  sb_state_ref (state);
  g_clear_pointer (&laid->state, sb_state_unref);
  laid->state = state;
  laid->shown = page;
  sb_page_preview_show (SB_PAGE_PREVIEW (laid->preview), state, index);
  name_page (laid, state, page);
}

static gboolean
is_gone (gpointer id, gpointer data, gpointer user_data)
{
  const SbState *state = user_data;

  for (guint i = 0; state && i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    if (page->id == GPOINTER_TO_UINT (id))
      return page->layout_id == 0;
  }
  return TRUE;
}

void
sb_pages_view_sync_laid (SbPagesView *self, SbState *state)
{
  g_hash_table_foreach_remove (self->laid, is_gone, state);
  for (guint i = 0; state && i < state->pages->len; i++)
    if (sb_state_get_page (state, i)->layout_id != 0)
      show_page (self, state, i);
}

void
sb_pages_view_allocate_laid (SbPagesView *self)
{
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, self->laid);
  while (g_hash_table_iter_next (&iter, NULL, &value)) {
    LaidPage *laid = value;
    SbPoint a = sb_pages_layout_to_view (&self->layout, laid->index, 0, 0);
    SbPoint b = sb_pages_layout_to_view (&self->layout, laid->index, laid->state->page_width,
                                         laid->state->page_height);
    int width = MAX (1, (int)lround (b.x - a.x)), height = MAX (1, (int)lround (b.y - a.y));
    gtk_widget_measure (laid->preview, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
    gtk_widget_allocate (
        laid->preview, width, height, -1,
        gsk_transform_translate (
            NULL, &GRAPHENE_POINT_INIT ((float)floor (a.x + 0.5), (float)floor (a.y + 0.5))));
  }
}

void
sb_pages_view_snapshot_laid (SbPagesView *self, GtkSnapshot *snapshot)
{
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, self->laid);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    gtk_widget_snapshot_child (GTK_WIDGET (self), ((LaidPage *)value)->preview, snapshot);
}
