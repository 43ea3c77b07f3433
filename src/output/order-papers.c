/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/order-papers.h"

#include <glib/gi18n.h>

#include "order/counts.h"
#include "output/cautions.h"
#include "output/leaflet.h"

#define MARGIN_MM 12.7
#define A5_WIDTH 148000
#define A4_WIDTH 210000
#define A4_HEIGHT 297000

static SbLeaflet *
leaflet_for (const SbState *state)
{
  sb_um width = MIN (state->page_width, state->page_height);
  sb_um height = MAX (state->page_width, state->page_height);
  if (width < A5_WIDTH) {
    width = A4_WIDTH;
    height = A4_HEIGHT;
  }
  return sb_leaflet_new (sb_um_to_mm (width), sb_um_to_mm (height), MARGIN_MM);
}

static const char *
text_of (const SbState *state, SbOrderText text)
{
  return state->order->texts[text];
}

static void add_line (SbLeaflet *leaflet, gboolean tick, const char *words, const char *format, ...)
    G_GNUC_PRINTF (4, 5);

static void
add_line (SbLeaflet *leaflet, gboolean tick, const char *words, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *value = g_strdup_vprintf (format, args);
  va_end (args);
  if (tick)
    sb_leaflet_add_tick (leaflet, words, value);
  else
    sb_leaflet_add_field (leaflet, words, value);
}

static void
add_titled (SbLeaflet *leaflet, const SbState *state, const char *what)
{
  const char *number = text_of (state, SB_ORDER_NUMBER);
  g_autofree char *title =
      *number != '\0' ? g_strdup_printf ("%s %s", what, number) : g_strdup (what);
  sb_leaflet_add_title (leaflet, title);
}

/* "Buyer    Ana", or a rule to write on. */
static void
add_text_field (SbLeaflet *leaflet, const SbState *state, SbOrderText text)
{
  sb_leaflet_add_field (leaflet, _ (sb_order_text_get_info (text)->label), text_of (state, text));
}

/* Tick list */

static void
add_pages (SbLeaflet *leaflet, const SbState *state)
{
  sb_leaflet_add_heading (leaflet, _ ("Print"));
  sb_leaflet_add_tick (leaflet, _ ("A test on plain paper, held against a sheet of stock"), NULL);
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    int times = sb_order_count_prints (state, k);
    if (times == 0)
      continue;
    g_autofree char *words = g_strdup_printf (
        _ ("Page %u: %u pieces, on %s"), k + 1, page->n_pieces + page->n_placements,
        sb_order_is_card_page (state, k) ? _ ("card") : sb_stock_get_label (&state->stock));
    add_line (leaflet, TRUE, words, ngettext ("%d time", "%d times", (gulong)times), times);
  }
  if (state->stock.drying_hours > 0)
    add_line (leaflet, TRUE, _ ("Let it dry"), _ ("%g h"), state->stock.drying_hours);
  if (state->order->covered)
    add_line (leaflet, TRUE, _ ("Cover with film"), _ ("%u sheets"), sb_order_count_sheets (state));
}

static void
add_cutting (SbLeaflet *leaflet, const SbState *state, GArray *counts)
{
  sb_leaflet_add_heading (leaflet, _ ("Cut"));
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    if (count->printed > 0)
      add_line (leaflet, TRUE, count->name, _ ("%d printed, %d needed"), count->printed,
                count->to_print);
  }
}

static void
add_recipe (SbLeaflet *leaflet, const SbState *state, const SbPack *pack, int packs)
{
  for (guint i = 0; i < pack->lines->len; i++) {
    const SbRecipeLine *line = &g_array_index (pack->lines, SbRecipeLine, i);
    const char *name = sb_order_get_item_name (state, line->item_id);
    if (name != NULL)
      add_line (leaflet, TRUE, name, _ ("%d in each, %d in all"), line->count, line->count * packs);
  }
}

static void
add_packing (SbLeaflet *leaflet, const SbState *state)
{
  for (guint i = 0; i < state->order->packs->len; i++) {
    const SbPack *pack = state->order->packs->pdata[i];
    int packs = sb_pack_get_to_make (pack);
    if (packs == 0)
      continue;
    g_autofree char *heading = g_strdup_printf (_ ("Pack: %s, %d to make"), pack->name, packs);
    sb_leaflet_add_heading (leaflet, heading);
    add_recipe (leaflet, state, pack, packs);
    add_line (leaflet, TRUE, _ ("Bags"), "%d", packs);
    add_line (leaflet, TRUE, _ ("Staples, or tape"), "%g",
              packs * state->order->rates[SB_RATE_STAPLES]);
  }
}

static void
add_cautions (SbLeaflet *leaflet, const SbCaution *cautions, guint n)
{
  sb_leaflet_add_heading (leaflet, _ ("Take care"));
  for (guint i = 0; i < n; i++)
    sb_leaflet_add_text (leaflet, sb_caution_get_text (cautions[i]));
}

GBytes *
sb_order_make_tick_list (const SbState *state, GError **error)
{
  static const SbCaution cautions[] = {SB_CAUTION_KNIFE,       SB_CAUTION_FILM,
                                       SB_CAUTION_SPRAYS,      SB_CAUTION_STAPLES,
                                       SB_CAUTION_SMALL_PARTS, SB_CAUTION_LOCAL_RULES};
  g_autoptr (SbLeaflet) leaflet = leaflet_for (state);
  g_autoptr (GArray) counts = sb_order_count (state);
  add_titled (leaflet, state, _ ("Tick list"));
  add_text_field (leaflet, state, SB_ORDER_BATCH);
  add_pages (leaflet, state);
  add_cutting (leaflet, state, counts);
  add_packing (leaflet, state);
  add_cautions (leaflet, cautions, G_N_ELEMENTS (cautions));
  return sb_leaflet_to_pdf (leaflet, _ ("Tick list"), error);
}

/* Packing slip */

static void
add_sold_pack (SbLeaflet *leaflet, const SbState *state, const SbPack *pack)
{
  if (pack->wanted == 0)
    return;
  add_line (leaflet, TRUE, pack->name, ngettext ("%d pack", "%d packs", (gulong)pack->wanted),
            pack->wanted);
  g_autoptr (GString) inside = g_string_new (NULL);
  for (guint i = 0; i < pack->lines->len; i++) {
    const SbRecipeLine *line = &g_array_index (pack->lines, SbRecipeLine, i);
    const SbDesign *design = sb_state_get_design (state, line->item_id);
    if (design == NULL) /* cards are not what is sold */
      continue;
    /* Translators: how many of a sticker are in a pack */
    g_string_append_printf (inside, _ ("%s%d × %s"), inside->len > 0 ? ", " : "", line->count,
                            design->name);
  }
  if (inside->len > 0)
    sb_leaflet_add_text (leaflet, inside->str);
}

static void
add_sold (SbLeaflet *leaflet, const SbState *state)
{
  sb_leaflet_add_heading (leaflet, _ ("In this parcel"));
  for (guint i = 0; i < state->order->packs->len; i++)
    add_sold_pack (leaflet, state, state->order->packs->pdata[i]);
  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    int singles = sb_order_get_item (state->order, design->id).singles;
    if (singles > 0)
      add_line (leaflet, TRUE, design->name, "%d", singles);
  }
  for (guint i = 0; i < state->layouts->len; i++) {
    const SbLayout *layout = state->layouts->pdata[i];
    int sheets = sb_order_get_item (state->order, layout->id).singles;
    if (sheets > 0)
      add_line (leaflet, TRUE, layout->name, ngettext ("%d sheet", "%d sheets", (gulong)sheets),
                sheets);
  }
}

static void
add_maker (SbLeaflet *leaflet, const SbState *state)
{
  const char *thanks = text_of (state, SB_ORDER_THANKS);
  const char *returns = text_of (state, SB_ORDER_RETURNS);
  sb_leaflet_add_heading (leaflet, _ ("From"));
  add_text_field (leaflet, state, SB_ORDER_MAKER);
  add_text_field (leaflet, state, SB_ORDER_CONTACT);
  sb_leaflet_add_text (leaflet, *thanks != '\0' ? thanks : _ ("Thank you for your order!"));
  if (*returns != '\0')
    sb_leaflet_add_text (leaflet, returns);
}

GBytes *
sb_order_make_packing_slip (const SbState *state, GError **error)
{
  static const SbCaution cautions[] = {SB_CAUTION_NOT_FOOD, SB_CAUTION_SMALL_PARTS, SB_CAUTION_BAGS,
                                       SB_CAUTION_LOCAL_RULES};
  g_autoptr (SbLeaflet) leaflet = leaflet_for (state);
  add_titled (leaflet, state, _ ("Packing slip"));
  add_text_field (leaflet, state, SB_ORDER_BUYER);
  add_text_field (leaflet, state, SB_ORDER_DATE);
  add_text_field (leaflet, state, SB_ORDER_BATCH);
  add_sold (leaflet, state);
  add_maker (leaflet, state);
  add_cautions (leaflet, cautions, G_N_ELEMENTS (cautions));
  return sb_leaflet_to_pdf (leaflet, _ ("Packing slip"), error);
}
