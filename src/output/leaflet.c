/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/leaflet.h"

#include "measure/length.h"
#include "output/pdf.h"
#include "output/text.h"

#define PT_PER_MM (SB_PT_PER_INCH / SB_MM_PER_INCH)
#define TITLE_MM 7.0
#define HEADING_MM 4.6
#define TEXT_MM 3.6
#define BOX_MM 3.6
#define INDENT_MM 6.0
#define RULE_MM 70.0 /* to write on */
#define LINE_MM 0.2

typedef enum {
  TITLE,
  HEADING,
  TEXT,
  TICK,
  FIELD,
} BlockKind;

typedef struct {
  BlockKind kind;
  char *words, *value;   /* value may be NULL */
  double height, before; /* mm; `before` is left out at the head of a page */
  guint page;
  double y;
} Block;

struct _SbLeaflet {
  double width, height, margin; /* mm */
  GArray *blocks;
  cairo_t *measure;
  guint n_pages; /* 0 until it is laid out */
};

static const struct {
  double size_mm, before_mm;
} looks[] = {
    [TITLE] = {TITLE_MM, 0}, [HEADING] = {HEADING_MM, 4.5}, [TEXT] = {TEXT_MM, 1.5},
    [TICK] = {TEXT_MM, 1.8}, [FIELD] = {TEXT_MM, 1.5},
};

static void
block_clear (Block *block)
{
  g_free (block->words);
  g_free (block->value);
}

SbLeaflet *
sb_leaflet_new (double width_mm, double height_mm, double margin_mm)
{
  SbLeaflet *leaflet = g_new0 (SbLeaflet, 1);
  leaflet->width = width_mm;
  leaflet->height = height_mm;
  leaflet->margin = margin_mm;
  leaflet->blocks = g_array_new (FALSE, FALSE, sizeof (Block));
  g_array_set_clear_func (leaflet->blocks, (GDestroyNotify)block_clear);
  cairo_surface_t *nothing = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  leaflet->measure = cairo_create (nothing);
  cairo_surface_destroy (nothing);
  return leaflet;
}

void
sb_leaflet_free (SbLeaflet *leaflet)
{
  g_array_unref (leaflet->blocks);
  cairo_destroy (leaflet->measure);
  g_free (leaflet);
}

static double
indent_of (const Block *block)
{
  return block->kind == TICK ? INDENT_MM : 0;
}

/* How wide the words may run: what the value at the end of the line leaves. */
static double
room_for_words (const SbLeaflet *leaflet, const Block *block)
{
  double room = leaflet->width - 2 * leaflet->margin - indent_of (block);
  if (block->value == NULL)
    return room;
  double value = *block->value == '\0'
                     ? RULE_MM
                     : sb_text_measure (leaflet->measure, TEXT_MM, block->value) + 2 * TEXT_MM;
  return MAX (room - value, room / 3);
}

static void
add (SbLeaflet *leaflet, BlockKind kind, const char *words, const char *value)
{
  Block block = {.kind = kind, .words = g_strdup (words), .value = g_strdup (value)};
  block.before = looks[kind].before_mm;
  block.height = sb_text_draw_wrapped (leaflet->measure, 0, 0, room_for_words (leaflet, &block),
                                       looks[kind].size_mm, words);
  g_array_append_val (leaflet->blocks, block);
}

void
sb_leaflet_add_title (SbLeaflet *leaflet, const char *text)
{
  add (leaflet, TITLE, text, NULL);
}

void
sb_leaflet_add_heading (SbLeaflet *leaflet, const char *text)
{
  add (leaflet, HEADING, text, NULL);
}

void
sb_leaflet_add_text (SbLeaflet *leaflet, const char *text)
{
  add (leaflet, TEXT, text, NULL);
}

void
sb_leaflet_add_tick (SbLeaflet *leaflet, const char *words, const char *value)
{
  add (leaflet, TICK, words, value);
}

void
sb_leaflet_add_field (SbLeaflet *leaflet, const char *words, const char *value)
{
  add (leaflet, FIELD, words, value);
}

/* Where each block lies. A heading stays with what follows it. */
static void
lay_out (SbLeaflet *leaflet)
{
  double foot = leaflet->height - leaflet->margin, y = leaflet->margin;
  leaflet->n_pages = 1;
  for (guint i = 0; i < leaflet->blocks->len; i++) {
    Block *block = &g_array_index (leaflet->blocks, Block, i);
    double need = block->height;
    if (block->kind == HEADING && i + 1 < leaflet->blocks->len)
      need += block[1].before + block[1].height;
    double before = y > leaflet->margin ? block->before : 0;
    if (y > leaflet->margin && y + before + need > foot) {
      leaflet->n_pages++;
      y = leaflet->margin;
      before = 0;
    }
    block->page = leaflet->n_pages - 1;
    block->y = y + before;
    y = block->y + block->height;
  }
}

guint
sb_leaflet_get_n_pages (SbLeaflet *leaflet)
{
  if (leaflet->n_pages == 0)
    lay_out (leaflet);
  return leaflet->n_pages;
}

static void
draw_value (const SbLeaflet *leaflet, cairo_t *cr, const Block *block)
{
  double end = leaflet->width - leaflet->margin, line = looks[block->kind].size_mm * 1.3;
  if (*block->value != '\0') {
    sb_text_draw (cr, end, block->y + line / 2, 1, TEXT_MM, block->value);
    return;
  }
  cairo_move_to (cr, end - RULE_MM, block->y + line);
  cairo_line_to (cr, end, block->y + line);
  cairo_stroke (cr);
}

static void
draw_block (const SbLeaflet *leaflet, cairo_t *cr, const Block *block)
{
  double x = leaflet->margin;
  if (block->kind == TICK) {
    cairo_rectangle (cr, x, block->y + 0.4, BOX_MM, BOX_MM);
    cairo_stroke (cr);
  }
  sb_text_draw_wrapped (cr, x + indent_of (block), block->y, room_for_words (leaflet, block),
                        looks[block->kind].size_mm, block->words);
  if (block->value != NULL)
    draw_value (leaflet, cr, block);
}

void
sb_leaflet_draw (SbLeaflet *leaflet, cairo_t *cr, guint page)
{
  g_return_if_fail (page < sb_leaflet_get_n_pages (leaflet));
  cairo_save (cr);
  cairo_scale (cr, PT_PER_MM, PT_PER_MM);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, LINE_MM);
  for (guint i = 0; i < leaflet->blocks->len; i++) {
    const Block *block = &g_array_index (leaflet->blocks, Block, i);
    if (block->page == page)
      draw_block (leaflet, cr, block);
  }
  cairo_restore (cr);
}

static gboolean
draw_page (cairo_t *cr, guint index, gpointer data, GCancellable *cancellable, GError **error)
{
  sb_leaflet_draw (data, cr, index);
  return TRUE;
}

GBytes *
sb_leaflet_to_pdf (SbLeaflet *leaflet, const char *title, GError **error)
{
  return sb_pdf_build (leaflet->width * PT_PER_MM, leaflet->height * PT_PER_MM, title,
                       sb_leaflet_get_n_pages (leaflet), draw_page, leaflet, NULL, error);
}
