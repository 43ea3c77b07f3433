/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a strip leaves is a smaller room for the same question, so the best count is a recursion
 * over rooms; most strips lead to rooms that were met before. For every pair of the sheets, cards
 * and papers of the handbook it finds as many as any pattern of straight cuts (tests/unit/packing).
 */
#include "config.h"

#include "packing/impose.h"

#include "job/edit.h"

/* Rooms that are remembered; past it only plain grids are looked at. Reached by cards of 2 cm on
 * paper of more than a metre. */
#define MOST_ROOMS 100000
/* Around sheets, for their corner ticks. */
#define TICKS_UM 4000

typedef enum {
  CUT_NONE,
  CUT_COLUMN,        /* upright, off the left */
  CUT_ROW,           /* upright, off the top */
  CUT_TURNED_COLUMN, /* turned */
  CUT_TURNED_ROW,
} Cut;

typedef struct {
  guint count;
  Cut cut;
} Best;

/* Sizes with the lane added: so there are none between copies. */
typedef struct {
  gint64 width, height;
  GHashTable *rooms; /* gint64 of a room's sides -> Best */
} Search;

static gboolean
is_turned (Cut cut)
{
  return cut >= CUT_TURNED_COLUMN;
}

static gboolean
is_column (Cut cut)
{
  return cut == CUT_COLUMN || cut == CUT_TURNED_COLUMN;
}

static gint64
across (const Search *search, Cut cut)
{
  return is_turned (cut) ? search->height : search->width;
}

static gint64
down (const Search *search, Cut cut)
{
  return is_turned (cut) ? search->width : search->height;
}

static Best search_room (Search *search, gint64 width, gint64 height);

/* How many copies the room takes when its first strip is `cut`; 0 when that does not fit. */
static guint
count_with (Search *search, gint64 width, gint64 height, Cut cut)
{
  gint64 copy_width = across (search, cut), copy_height = down (search, cut);
  if (width < copy_width || height < copy_height)
    return 0;
  gint64 columns = width / copy_width, rows = height / copy_height;
  if (g_hash_table_size (search->rooms) >= MOST_ROOMS)
    return (guint)(columns * rows);
  if (is_column (cut))
    return (guint)rows + search_room (search, width - copy_width, height).count;
  return (guint)columns + search_room (search, width, height - copy_height).count;
}

static Best
search_room (Search *search, gint64 width, gint64 height)
{
  gint64 key = width << 32 | height;
  const Best *known = g_hash_table_lookup (search->rooms, &key);
  if (known != NULL)
    return *known;
  Best best = {0, CUT_NONE};
  gint64 most = width * height / (search->width * search->height);
  for (Cut cut = CUT_COLUMN; cut <= CUT_TURNED_ROW && best.count < most; cut++) {
    guint count = count_with (search, width, height, cut);
    if (count > best.count)
      best = (Best){count, cut};
  }
  g_hash_table_insert (search->rooms, g_memdup2 (&key, sizeof key), g_memdup2 (&best, sizeof best));
  return best;
}

/* The strips of the best pattern as placements from 0,0; the last of one kind need no search. */
static void
lay_strips (Search *search, gint64 width, gint64 height, GArray *placements)
{
  gint64 x = 0, y = 0;
  for (;;) {
    Cut cut = search_room (search, width, height).cut;
    if (cut == CUT_NONE)
      return;
    gint64 copy_width = across (search, cut), copy_height = down (search, cut);
    gint64 n = is_column (cut) ? height / copy_height : width / copy_width;
    for (gint64 i = 0; i < n; i++) {
      gint64 dx = is_column (cut) ? 0 : i * copy_width, dy = is_column (cut) ? i * copy_height : 0;
      SbPlacement placement = {{(sb_um)(x + dx), (sb_um)(y + dy)}, is_turned (cut)};
      g_array_append_val (placements, placement);
    }
    if (is_column (cut)) {
      x += copy_width;
      width -= copy_width;
    } else {
      y += copy_height;
      height -= copy_height;
    }
  }
}

/* Moves what lies from 0,0 to the middle of the room. */
static void
centre (GArray *placements, SbIBox room, sb_um width, sb_um height)
{
  sb_um right = 0, bottom = 0;
  for (guint i = 0; i < placements->len; i++) {
    const SbPlacement *p = &g_array_index (placements, SbPlacement, i);
    right = MAX (right, p->at.x + (p->turned ? height : width));
    bottom = MAX (bottom, p->at.y + (p->turned ? width : height));
  }
  sb_um dx = room.x0 + (room.x1 - room.x0 - right) / 2;
  sb_um dy = room.y0 + (room.y1 - room.y0 - bottom) / 2;
  for (guint i = 0; i < placements->len; i++) {
    SbPlacement *p = &g_array_index (placements, SbPlacement, i);
    p->at.x += dx;
    p->at.y += dy;
  }
}

GArray *
sb_impose (SbIBox room, sb_um width, sb_um height, sb_um lane)
{
  GArray *placements = g_array_new (FALSE, FALSE, sizeof (SbPlacement));
  Search search = {(gint64)width + lane, (gint64)height + lane, NULL};
  if (room.x1 <= room.x0 || room.y1 <= room.y0)
    return placements;
  search.rooms = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  lay_strips (&search, (gint64)room.x1 - room.x0 + lane, (gint64)room.y1 - room.y0 + lane,
              placements);
  g_hash_table_unref (search.rooms);
  centre (placements, room, width, height);
  return placements;
}

SbIBox
sb_impose_get_room (const SbState *state, const SbLayout *layout)
{
  SbIBox room = sb_state_get_printable_box (state);
  sb_um bare = layout->background < 0 ? layout->edge : 0;
  return (SbIBox){MAX (0, room.x0 - bare), MAX (0, room.y0 - bare),
                  MIN (state->page_width, room.x1 + bare),
                  MIN (state->page_height, room.y1 + bare)};
}

sb_um
sb_impose_get_usual_edge (const SbState *state, const SbLayout *sheet)
{
  const SbMargins *m = &state->margins;
  return MAX (sheet->edge, MIN (MIN (m->top, m->bottom), MIN (m->left, m->right)));
}

guint
sb_impose_count (const SbState *state, const SbLayout *layout)
{
  g_autoptr (GArray) placements =
      sb_impose (sb_impose_get_room (state, layout), layout->width, layout->height, layout->lane);
  return placements->len;
}

static gboolean
is_spare (const SbPage *page)
{
  return page->layout_id == 0 && page->n_pieces == 0;
}

/* The pages of the job that do not carry the layout; those that do are added to `before`, and so is
 * an only page that is empty. */
static GPtrArray *
take_others (const SbState *state, guint layout_id, GPtrArray *before)
{
  GPtrArray *others = g_ptr_array_new ();
  gboolean spare = state->pages->len == 1 && is_spare (state->pages->pdata[0]);
  for (guint i = 0; i < state->pages->len; i++) {
    SbPage *page = state->pages->pdata[i];
    g_ptr_array_add (spare || page->layout_id == layout_id ? before : others, page);
  }
  return others;
}

/* The `index`th page of the layout: that which was there, with its loose pieces, or a new one. */
static SbPage *
lay_page (const GPtrArray *before, guint index, guint layout_id, const GArray *placements, guint n)
{
  const SbPage *old = index < before->len ? before->pdata[index] : NULL;
  SbPage *page = sb_page_new_laid (old != NULL ? old->id : 0, layout_id,
                                   (const SbPlacement *)(gpointer)placements->data, n);
  if (old == NULL)
    return page;
  if (old->extra != NULL)
    page->extra = json_object_ref (old->extra);
  SbPage *kept = sb_page_with_pieces (page, old->pieces, old->n_pieces);
  sb_page_unref (page);
  return kept;
}

SbState *
sb_impose_layout (const SbState *state, guint layout_id)
{
  const SbLayout *layout = sb_state_get_layout (state, layout_id);
  g_return_val_if_fail (layout != NULL, sb_state_ref ((SbState *)state));

  g_autoptr (GArray) placements =
      sb_impose (sb_impose_get_room (state, layout), layout->width, layout->height, layout->lane);
  guint n_wanted = placements->len > 0 ? (guint)layout->wanted : 0;
  g_autoptr (GPtrArray) before = g_ptr_array_new ();
  g_autoptr (GPtrArray) pages = take_others (state, layout_id, before);
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_page_unref);
  for (guint laid = 0; laid < n_wanted; laid += placements->len) {
    guint n = MIN (placements->len, n_wanted - laid);
    g_ptr_array_add (made, lay_page (before, made->len, layout_id, placements, n));
    g_ptr_array_add (pages, made->pdata[made->len - 1]);
  }
  if (pages->len == 0) {
    g_ptr_array_add (made, sb_page_new (0, NULL, 0));
    g_ptr_array_add (pages, made->pdata[0]);
  }
  return sb_edit_set_pages (state, (SbPage *const *)pages->pdata, pages->len);
}

static gboolean
is_laid (const SbState *state, guint layout_id)
{
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    if (page->n_placements > 0 && page->layout_id == layout_id)
      return TRUE;
  }
  return FALSE;
}

SbState *
sb_impose_all (const SbState *state)
{
  SbState *next = sb_state_ref ((SbState *)state);

  for (guint i = 0; i < state->layouts->len; i++) {
    const SbLayout *layout = state->layouts->pdata[i];
    if (!is_laid (state, layout->id))
      continue;
    SbState *laid = sb_impose_layout (next, layout->id);
    sb_state_unref (next);
    next = laid;
  }
  return next;
}

/* The test corner */

static gboolean
is_free (const SbLayout *layout, const SbPage *page, SbIBox spot)
{
  for (guint i = 0; i < page->n_placements; i++) {
    SbIBox box = sb_placement_get_box (layout, &page->placements[i]);
    if (spot.x0 < box.x1 + TICKS_UM && box.x0 - TICKS_UM < spot.x1 && spot.y0 < box.y1 + TICKS_UM &&
        box.y0 - TICKS_UM < spot.y1)
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_impose_find_test_corner (const SbState *state, guint page_index, SbIBox *corner)
{
  const SbPage *page = sb_state_get_page (state, page_index);
  const SbLayout *layout = sb_state_get_layout (state, page->layout_id);
  if (layout == NULL || layout->kind != SB_LAYOUT_SHEET || page->n_pieces > 0)
    return FALSE;
  const sb_um side = SB_TEST_CORNER_UM, step = SB_TEST_CORNER_UM / 4;
  SbIBox room = sb_state_get_printable_box (state);
  /* From the bottom right upwards, where a page ends; within the block as well, as a last one may
   * carry fewer copies. */
  for (sb_um y = room.y1 - side; y >= room.y0; y -= step) {
    for (sb_um x = room.x1 - side; x >= room.x0; x -= step) {
      SbIBox spot = {x, y, x + side, y + side};
      if (!is_free (layout, page, spot))
        continue;
      *corner = spot;
      return TRUE;
    }
  }
  return FALSE;
}
