/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "order/bill.h"

#include <glib/gi18n.h>
#include <math.h>

#include "order/cutting.h"
#include "order/reckoning.h"

#define A4_MM2 (210.0 * 297.0)
/* The pages that yields are measured with cover 5 % a colour, 20 % in all (handbook 7.2). */
#define YIELD_COVERAGE_PERCENT 20.0
/* How far an estimate from coverage can be off (handbook 7.2). */
#define INK_DOUBT 0.5
#define HOUR 3600.0

void
sb_bill_free (SbBill *bill)
{
  g_ptr_array_unref (bill->figures);
  g_ptr_array_unref (bill->missing);
  g_free (bill->currency);
  g_free (bill);
}

const SbFigure *
sb_bill_get (const SbBill *bill, const char *key)
{
  for (guint i = 0; i < bill->figures->len; i++) {
    const SbFigure *figure = bill->figures->pdata[i];
    if (g_str_equal (figure->key, key))
      return figure;
  }
  return NULL;
}

/* Materials */

static void
reckon_paper (SbReckoning *r)
{
  double tests = r->sheets > 0 ? r->rates[SB_RATE_TEST_SHEETS] : 0;
  double in_pack = r->rates[SB_RATE_STOCK_SHEETS];
  double price = sb_reckon_price (r, SB_RATE_STOCK_PRICE), each = price / in_pack;
  r->paper = (r->sheets + tests) * each;
  SbFigure *figure =
      sb_reckon_add (r, "paper", sb_stock_get_label (&r->state->stock), SB_FIGURE_MONEY, r->paper);
  sb_figure_explain (figure, _ ("%s a pack ÷ %g sheets in it = %s a sheet"),
                     sb_reckon_money (r, price), in_pack, sb_reckon_fine (r, each));
  sb_figure_explain (figure, _ ("%u sheets for the pages + %g for tests = %g"), r->sheets, tests,
                     r->sheets + tests);
  sb_figure_explain (figure, _ ("%g × %s = %s"), r->sheets + tests, sb_reckon_fine (r, each),
                     sb_reckon_money (r, r->paper));
}

static void
reckon_card (SbReckoning *r)
{
  if (r->cards == 0)
    return;
  double in_pack = r->rates[SB_RATE_CARD_SHEETS], price = sb_reckon_price (r, SB_RATE_CARD_PRICE);
  double each = price / in_pack;
  r->card = r->cards * each;
  SbFigure *figure = sb_reckon_add (r, "card", _ ("Card"), SB_FIGURE_MONEY, r->card);
  sb_figure_explain (figure, _ ("%s a pack ÷ %g sheets in it = %s a sheet"),
                     sb_reckon_money (r, price), in_pack, sb_reckon_fine (r, each));
  sb_figure_explain (figure, _ ("%u sheets × %s = %s"), r->cards, sb_reckon_fine (r, each),
                     sb_reckon_money (r, r->card));
}

static int
times_of (const SbReckoning *r, guint index)
{
  return sb_order_count_prints (r->state, index);
}

static void
reckon_coverage (SbReckoning *r)
{
  double sum = 0;
  for (guint k = 0; k < r->state->pages->len; k++)
    sum += r->coverage[k] * times_of (r, k);
  double all = r->sheets + r->cards, mean = all > 0 ? sum / all : 0;
  SbFigure *figure =
      sb_reckon_add (r, "coverage", _ ("Ink coverage, C+M+Y+K"), SB_FIGURE_PERCENT, mean);
  for (guint k = 0; k < r->state->pages->len; k++)
    if (times_of (r, k) > 0)
      sb_figure_explain (figure, _ ("page %u: %.1f %% of the sheet, printed %d times"), k + 1,
                         r->coverage[k], times_of (r, k));
  sb_figure_explain (figure, _ ("The mean over the pages as painted, 100 %% being a sheet covered "
                                "with one colour; a printer's own colours differ from it."));
}

static void
reckon_ink_by_count (SbReckoning *r, double price)
{
  double lasted = r->rates[SB_RATE_INK_LASTED];
  guint sheets = r->sheets + r->cards;
  r->ink = price / lasted * sheets;
  r->card_ink = price / lasted * r->cards;
  SbFigure *figure = sb_reckon_add (r, "ink", _ ("Ink or toner"), SB_FIGURE_MONEY, r->ink);
  sb_figure_explain (figure, _ ("%s a set ÷ %g sheets that it lasted by your own count = %s"),
                     sb_reckon_money (r, price), lasted, sb_reckon_fine (r, price / lasted));
  sb_figure_explain (figure, _ ("%s × %u sheets = %s"), sb_reckon_fine (r, price / lasted), sheets,
                     sb_reckon_money (r, r->ink));
}

static void
reckon_ink_by_coverage (SbReckoning *r, double price)
{
  double yield = sb_reckon_price (r, SB_RATE_INK_YIELD);
  double quality = r->rates[SB_RATE_INK_QUALITY];
  double area = sb_um_to_mm (r->state->page_width) * sb_um_to_mm (r->state->page_height) / A4_MM2;
  double per_page = yield > 0 ? price / yield : 0;
  SbFigure *figure = sb_reckon_add (r, "ink", _ ("Ink or toner"), SB_FIGURE_MONEY, 0);
  sb_figure_explain (figure, _ ("%s a set ÷ %g pages = %s a page that is covered by 20 %%"),
                     sb_reckon_money (r, price), yield, sb_reckon_fine (r, per_page));
  for (guint k = 0; k < r->state->pages->len; k++) {
    double each = per_page * r->coverage[k] / YIELD_COVERAGE_PERCENT * area * quality;
    if (times_of (r, k) == 0)
      continue;
    sb_figure_explain (
        figure, _ ("page %u: %s × %.1f %% ÷ 20 %% × %.3f of A4 × %g for quality = %s, × %d = %s"),
        k + 1, sb_reckon_fine (r, per_page), r->coverage[k], area, quality,
        sb_reckon_fine (r, each), times_of (r, k), sb_reckon_money (r, each * times_of (r, k)));
    r->ink += each * times_of (r, k);
    r->card_ink += sb_order_is_card_page (r->state, k) ? each * times_of (r, k) : 0;
  }
  figure->value = r->ink;
  r->ink_spread = INK_DOUBT * r->ink;
  figure->low = r->ink - r->ink_spread;
  figure->high = r->ink + r->ink_spread;
  sb_figure_explain (figure, _ ("An estimate from coverage is good to 50 %% either way. Enter how "
                                "many sheets a set lasted, and your own count takes its place."));
}

static void
reckon_film (SbReckoning *r)
{
  if (!r->state->order->covered)
    return;
  double price = sb_reckon_price (r, SB_RATE_FILM_PRICE), each_s = r->rates[SB_RATE_FILM];
  r->film = r->sheets * price;
  SbFigure *figure = sb_reckon_add (r, "film", _ ("Cover film"), SB_FIGURE_MONEY, r->film);
  sb_figure_explain (figure, _ ("%u sheets × %s = %s"), r->sheets, sb_reckon_money (r, price),
                     sb_reckon_money (r, r->film));
  r->covering_s = r->sheets * each_s;
}

static void
reckon_packing_materials (SbReckoning *r)
{
  if (r->packs == 0)
    return;
  double bag = sb_reckon_price (r, SB_RATE_BAG_PRICE), label = r->rates[SB_RATE_LABEL_PRICE];
  double staples = r->rates[SB_RATE_STAPLES], staple = r->rates[SB_RATE_STAPLE_PRICE];
  double each = bag + label + staples * staple;
  r->packing = r->packs * each;
  SbFigure *figure = sb_reckon_add (r, "packing-materials", _ ("Bags, labels and staples"),
                                    SB_FIGURE_MONEY, r->packing);
  sb_figure_explain (figure, _ ("bag %s + label %s + %g staples × %s = %s a pack"),
                     sb_reckon_money (r, bag), sb_reckon_money (r, label), staples,
                     sb_reckon_fine (r, staple), sb_reckon_fine (r, each));
  sb_figure_explain (figure, _ ("%d packs × %s = %s"), r->packs, sb_reckon_fine (r, each),
                     sb_reckon_money (r, r->packing));
}

static void
reckon_materials (SbReckoning *r)
{
  r->materials = r->paper + r->card + r->ink + r->film + r->packing;
  SbFigure *figure = sb_reckon_add (r, "materials", _ ("Materials"), SB_FIGURE_MONEY, r->materials);
  sb_figure_explain (figure,
                     _ ("stock %s + card %s + ink %s + film %s + bags, labels and staples %s = %s"),
                     sb_reckon_money (r, r->paper), sb_reckon_money (r, r->card),
                     sb_reckon_money (r, r->ink), sb_reckon_money (r, r->film),
                     sb_reckon_money (r, r->packing), sb_reckon_money (r, r->materials));
}

/* Work */

static void
explain_cutting (SbReckoning *r, SbFigure *figure, const SbCount *count, const SbCutting *cutting)
{
  const double *rates = r->rates;
  const char *each = sb_reckon_duration (r, cutting->seconds);
  const char *all = sb_reckon_duration (r, cutting->seconds * count->printed);
  if (cutting->straight)
    sb_figure_explain (figure, _ ("%s: 4 straight cuts × %g s = %s, × %d = %s"), count->name,
                       rates[SB_RATE_STRAIGHT_CUT], each, count->printed, all);
  else
    sb_figure_explain (
        figure, _ ("%s: %g s + outline %.1f mm ÷ %g mm/s + notches %u × %g s = %s, × %d = %s"),
        count->name, rates[cutting->by_knife ? SB_RATE_KNIFE : SB_RATE_SCISSORS],
        cutting->perimeter_mm, rates[cutting->by_knife ? SB_RATE_KNIFE_WAY : SB_RATE_SCISSORS_WAY],
        cutting->notches, rates[SB_RATE_NOTCH], each, count->printed, all);
}

static void
reckon_design (SbReckoning *r, SbFigure *figure, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  const SbDesign *design = sb_state_get_design (r->state, count->item_id);
  SbCutting cutting = sb_cutting_of (design, r->state->order);
  r->cut_s[i] = cutting.seconds;
  r->area_mm2[i] = count->printed * sb_outline_get_area_mm2 (sb_design_get_outline (design));
  r->all_area_mm2 += r->area_mm2[i];
  explain_cutting (r, figure, count, &cutting);
}

static void
reckon_layout (SbReckoning *r, SbFigure *figure, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  const SbLayout *layout = count->layout;
  double kiss_cut_s, straight_s = SB_LAYOUT_CUTS * r->rates[SB_RATE_STRAIGHT_CUT];
  r->cut_s[i] = sb_cutting_of_layout (r->state, layout, &kiss_cut_s);
  r->area_mm2[i] = count->printed * sb_um_to_mm (layout->width) * sb_um_to_mm (layout->height);
  *(sb_layout_is_card (layout) ? &r->card_area_mm2 : &r->all_area_mm2) += r->area_mm2[i];
  sb_figure_explain (figure, _ ("%s: straight cuts %s + kiss cut %s + fold %s = %s, × %d = %s"),
                     count->name, sb_reckon_duration (r, straight_s),
                     sb_reckon_duration (r, kiss_cut_s),
                     sb_reckon_duration (r, r->cut_s[i] - straight_s - kiss_cut_s),
                     sb_reckon_duration (r, r->cut_s[i]), count->printed,
                     sb_reckon_duration (r, r->cut_s[i] * count->printed));
}

static void
reckon_cutting (SbReckoning *r)
{
  SbFigure *figure = sb_reckon_add (r, "cutting", _ ("Cutting"), SB_FIGURE_SECONDS, 0);
  for (guint i = 0; i < r->counts->len; i++) {
    const SbCount *count = &g_array_index (r->counts, SbCount, i);
    if (count->printed == 0)
      continue;
    if (count->layout != NULL)
      reckon_layout (r, figure, i);
    else
      reckon_design (r, figure, i);
    r->cutting_s += r->cut_s[i] * count->printed;
  }
  figure->value = figure->low = figure->high = r->cutting_s;
}

static void
reckon_other_work (SbReckoning *r)
{
  if (r->covering_s > 0) {
    SbFigure *figure =
        sb_reckon_add (r, "covering", _ ("Covering with film"), SB_FIGURE_SECONDS, r->covering_s);
    sb_figure_explain (figure, _ ("%u sheets × %g s = %s"), r->sheets, r->rates[SB_RATE_FILM],
                       sb_reckon_duration (r, r->covering_s));
  }
  r->packing_s = r->packs * r->rates[SB_RATE_PACK];
  if (r->packs > 0) {
    SbFigure *figure = sb_reckon_add (r, "packing", _ ("Filling and closing packs"),
                                      SB_FIGURE_SECONDS, r->packing_s);
    sb_figure_explain (figure, _ ("%d packs × %g s = %s"), r->packs, r->rates[SB_RATE_PACK],
                       sb_reckon_duration (r, r->packing_s));
  }
}

static void
reckon_labour (SbReckoning *r)
{
  r->seconds = r->cutting_s + r->covering_s + r->packing_s;
  SbFigure *time = sb_reckon_add (r, "time", _ ("Your time"), SB_FIGURE_SECONDS, r->seconds);
  sb_figure_explain (time, _ ("cutting %s + covering %s + packs %s = %s"),
                     sb_reckon_duration (r, r->cutting_s), sb_reckon_duration (r, r->covering_s),
                     sb_reckon_duration (r, r->packing_s), sb_reckon_duration (r, r->seconds));
  sb_figure_explain (time, _ ("Time yourself and replace the rates: they are only a beginning."));
  double wage = sb_reckon_price (r, SB_RATE_WAGE);
  r->labour = r->seconds / HOUR * wage;
  SbFigure *labour = sb_reckon_add (r, "labour", _ ("Labour"), SB_FIGURE_MONEY, r->labour);
  sb_figure_explain (labour, _ ("%.2f h × %s an hour = %s"), r->seconds / HOUR,
                     sb_reckon_money (r, wage), sb_reckon_money (r, r->labour));
}

static void
reckon_cost (SbReckoning *r)
{
  double percent = r->rates[SB_RATE_OVERHEAD];
  r->overhead = percent / 100 * (r->materials + r->labour);
  SbFigure *overhead = sb_reckon_add (r, "overhead", _ ("Overhead"), SB_FIGURE_MONEY, r->overhead);
  sb_figure_explain (overhead, _ ("%g %% of (materials %s + labour %s) = %s"), percent,
                     sb_reckon_money (r, r->materials), sb_reckon_money (r, r->labour),
                     sb_reckon_money (r, r->overhead));
  r->cost = r->materials + r->labour + r->overhead;
  SbFigure *cost = sb_reckon_add (r, "cost", _ ("The order costs"), SB_FIGURE_MONEY, r->cost);
  cost->low = r->cost - r->ink_spread * (1 + percent / 100);
  cost->high = r->cost + r->ink_spread * (1 + percent / 100);
  sb_figure_explain (cost, _ ("materials %s + labour %s + overhead %s = %s"),
                     sb_reckon_money (r, r->materials), sb_reckon_money (r, r->labour),
                     sb_reckon_money (r, r->overhead), sb_reckon_money (r, r->cost));
}

/* Sheets of card, or of the stock. */
static guint
count_sheets (const SbState *state, gboolean card)
{
  guint sheets = 0;
  for (guint k = 0; k < state->pages->len; k++)
    if (!sb_order_is_card_page (state, k) == !card)
      sheets += (guint)sb_order_count_prints (state, k);
  return sheets;
}

static int
count_packs (const SbOrder *order)
{
  int n = 0;
  for (guint i = 0; i < order->packs->len; i++)
    n += sb_pack_get_to_make (order->packs->pdata[i]);
  return n;
}

SbBill *
sb_bill_new (const SbState *state, const double *coverage)
{
  SbBill *bill = g_new0 (SbBill, 1);
  bill->figures = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_figure_free);
  bill->missing = g_ptr_array_new_with_free_func (g_free);
  bill->currency = g_strdup (state->order->currency);
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) counts = sb_order_count (state);
  g_autofree double *cut_s = g_new0 (double, counts->len);
  g_autofree double *area_mm2 = g_new0 (double, counts->len);
  SbReckoning r = {
      .state = state,
      .rates = state->order->rates,
      .coverage = coverage,
      .bill = bill,
      .words = words,
      .counts = counts,
      .cut_s = cut_s,
      .area_mm2 = area_mm2,
      .sheets = count_sheets (state, FALSE),
      .cards = count_sheets (state, TRUE),
      .packs = count_packs (state->order),
  };
  reckon_paper (&r);
  reckon_card (&r);
  reckon_coverage (&r);
  double ink = sb_reckon_price (&r, SB_RATE_INK_PRICE);
  if (r.rates[SB_RATE_INK_LASTED] > 0)
    reckon_ink_by_count (&r, ink);
  else
    reckon_ink_by_coverage (&r, ink);
  reckon_film (&r);
  reckon_packing_materials (&r);
  reckon_materials (&r);
  reckon_cutting (&r);
  reckon_other_work (&r);
  reckon_labour (&r);
  reckon_cost (&r);
  sb_reckon_prices (&r);
  return bill;
}
