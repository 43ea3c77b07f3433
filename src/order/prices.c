/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pages cost what they cost however many stickers come good: so a sticker's share of stock, ink and
 * film is its share of the printed outlines' area, and it is borne by the good ones alone. */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "order/reckoning.h"

#define HOUR 3600.0
/* (materials + labour) x 2 for shops, x 2 again at the stall: a rule of crafts (handbook 7.4). */
#define MARKUP 2.0

/* Printed pieces that are there to be used: less those counted as spoiled, else less the overs,
 * which are printed because as many will be. */
static int
count_good (const SbCount *count)
{
  int lost = count->spoiled > 0 ? count->spoiled : count->copies - count->to_print;
  return MAX (1, count->printed - lost);
}

static double
hourly (const SbReckoning *r, double seconds)
{
  return seconds / HOUR * r->rates[SB_RATE_WAGE];
}

/* What the pages that an item lies on cost: those of card or those of the stock. */
static double
cost_of_pages (const SbReckoning *r, const SbCount *count)
{
  gboolean card = count->layout != NULL && sb_layout_is_card (count->layout);
  return card ? r->card + r->card_ink : r->paper + r->ink - r->card_ink + r->film;
}

static double
ink_of_pages (const SbReckoning *r, const SbCount *count)
{
  gboolean card = count->layout != NULL && sb_layout_is_card (count->layout);
  return card ? r->card_ink : r->ink - r->card_ink;
}

/* The item's part of these pages. */
static double
share_of_pages (const SbReckoning *r, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  gboolean card = count->layout != NULL && sb_layout_is_card (count->layout);
  return r->area_mm2[i] / (card ? r->card_area_mm2 : r->all_area_mm2);
}

/* Cutting all of an item, and covering its part of the pages. */
static double
work_of (const SbReckoning *r, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  gboolean card = count->layout != NULL && sb_layout_is_card (count->layout);
  double covering_s = card ? 0 : r->covering_s * share_of_pages (r, i);
  return hourly (r, r->cut_s[i] * count->printed + covering_s);
}

/* Stock, ink, film and cutting of one good piece. */
static double
cost_of_piece (const SbReckoning *r, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  if (count->printed == 0)
    return 0;
  return (cost_of_pages (r, count) * share_of_pages (r, i) + work_of (r, i)) / count_good (count);
}

static void
reckon_sheet (SbReckoning *r)
{
  if (r->sheets == 0)
    return;
  double ink = r->ink - r->card_ink, pages = r->paper + ink + r->film, each = pages / r->sheets;
  SbFigure *figure =
      sb_reckon_add (r, "sheet", _ ("A printed sheet costs"), SB_FIGURE_FINE_MONEY, each);
  figure->low = each - r->ink_spread / r->sheets;
  figure->high = each + r->ink_spread / r->sheets;
  sb_figure_explain (figure, _ ("(stock %s + ink %s + film %s) ÷ %u sheets = %s"),
                     sb_reckon_money (r, r->paper), sb_reckon_money (r, ink),
                     sb_reckon_money (r, r->film), r->sheets, sb_reckon_fine (r, each));
}

static void
reckon_piece (SbReckoning *r, guint i)
{
  const SbCount *count = &g_array_index (r->counts, SbCount, i);
  int good = count_good (count);
  double share = share_of_pages (r, i), pages = cost_of_pages (r, count) * share;
  double work = work_of (r, i);
  double spread = r->ink > 0 ? r->ink_spread / r->ink * ink_of_pages (r, count) * share : 0;
  g_autofree char *key = g_strconcat ("sticker:", count->name, NULL);
  g_autofree char *label = g_strdup_printf (_ ("One %s costs"), count->name);
  SbFigure *figure = sb_reckon_add (r, key, label, SB_FIGURE_FINE_MONEY, cost_of_piece (r, i));
  figure->low = figure->value - spread / good;
  figure->high = figure->value + spread / good;
  sb_figure_explain (figure,
                     _ ("%.1f %% of the area of all that is printed on it, of %s for stock, ink "
                        "and film = %s"),
                     100 * share, sb_reckon_money (r, cost_of_pages (r, count)),
                     sb_reckon_money (r, pages));
  sb_figure_explain (figure, _ ("cutting and covering %d of them = %s"), count->printed,
                     sb_reckon_money (r, work));
  sb_figure_explain (figure, _ ("(%s + %s) ÷ %d that come good = %s"), sb_reckon_money (r, pages),
                     sb_reckon_money (r, work), good, sb_reckon_fine (r, figure->value));
}

/* The mean sticker; 0 where nothing is printed. */
static double
reckon_stickers (SbReckoning *r)
{
  double sum = 0, good = 0;
  for (guint i = 0; i < r->counts->len; i++) {
    const SbCount *count = &g_array_index (r->counts, SbCount, i);
    if (count->printed == 0)
      continue;
    reckon_piece (r, i);
    if (count->layout != NULL)
      continue;
    sum += cost_of_piece (r, i) * count_good (count);
    good += count_good (count);
  }
  if (good == 0)
    return 0;
  SbFigure *figure = sb_reckon_add (r, "sticker", _ ("A sticker costs in the mean"),
                                    SB_FIGURE_FINE_MONEY, sum / good);
  sb_figure_explain (figure,
                     _ ("stock, ink, film, cutting and covering %s ÷ %.0f stickers that come "
                        "good = %s"),
                     sb_reckon_money (r, sum), good, sb_reckon_fine (r, figure->value));
  return sum / good;
}

static double
round_up (const SbReckoning *r, double price)
{
  double coin = r->rates[SB_RATE_COIN];
  return ceil (price / coin - 1e-9) * coin;
}

/* Wholesale and retail of something that costs `floor` before overhead. */
static void
reckon_markup (SbReckoning *r, const char *suffix, const char *name, double floor)
{
  double wholesale = round_up (r, MARKUP * floor), retail = round_up (r, MARKUP * wholesale);
  const char *coin = sb_reckon_money (r, r->rates[SB_RATE_COIN]);
  g_autofree char *key = g_strconcat ("wholesale", suffix, NULL);
  g_autofree char *label = g_strdup_printf (_ ("%s: wholesale"), name);
  SbFigure *figure = sb_reckon_add (r, key, label, SB_FIGURE_MONEY, wholesale);
  sb_figure_explain (figure, _ ("(materials + labour) %s × 2, rounded up to %s = %s"),
                     sb_reckon_fine (r, floor), coin, sb_reckon_money (r, wholesale));
  g_autofree char *retail_key = g_strconcat ("retail", suffix, NULL);
  g_autofree char *retail_label = g_strdup_printf (_ ("%s: retail"), name);
  figure = sb_reckon_add (r, retail_key, retail_label, SB_FIGURE_MONEY, retail);
  sb_figure_explain (figure, _ ("wholesale %s × 2, rounded up to %s = %s"),
                     sb_reckon_money (r, wholesale), coin, sb_reckon_money (r, retail));
  sb_figure_explain (figure, _ ("A rule of crafts. For stickers work outweighs materials and it "
                                "can pass what people pay: look at what you earn an hour."));
}

static double
explain_recipe (SbReckoning *r, SbFigure *figure, const SbPack *pack)
{
  double sum = 0;
  for (guint i = 0; i < r->counts->len; i++) {
    const SbCount *count = &g_array_index (r->counts, SbCount, i);
    int n = sb_pack_get_line (pack, count->item_id);
    double each = cost_of_piece (r, i);
    if (n == 0)
      continue;
    sum += n * each;
    sb_figure_explain (figure, _ ("%d × %s, %s each = %s"), n, count->name,
                       sb_reckon_fine (r, each), sb_reckon_fine (r, n * each));
  }
  return sum;
}

static void
reckon_pack (SbReckoning *r, const SbPack *pack)
{
  g_autofree char *suffix = g_strconcat (":", pack->name, NULL);
  g_autofree char *key = g_strconcat ("pack", suffix, NULL);
  g_autofree char *label = g_strdup_printf (_ ("%s: floor"), pack->name);
  SbFigure *figure = sb_reckon_add (r, key, label, SB_FIGURE_FINE_MONEY, 0);
  double pieces = explain_recipe (r, figure, pack);
  double packing = r->packing / r->packs, work = hourly (r, r->rates[SB_RATE_PACK]);
  double floor = pieces + packing + work, percent = r->rates[SB_RATE_OVERHEAD];
  sb_figure_explain (figure, _ ("bag, label and staples %s, %g s of work %s"),
                     sb_reckon_fine (r, packing), r->rates[SB_RATE_PACK], sb_reckon_fine (r, work));
  figure->value = figure->low = figure->high = floor * (1 + percent / 100);
  sb_figure_explain (figure, _ ("together %s, with %g %% overhead %s"), sb_reckon_fine (r, floor),
                     percent, sb_reckon_fine (r, figure->value));
  reckon_markup (r, suffix, pack->name, floor);
}

static void
reckon_sold_sheets (SbReckoning *r)
{
  for (guint i = 0; i < r->counts->len; i++) {
    const SbCount *count = &g_array_index (r->counts, SbCount, i);
    if (count->layout == NULL || count->layout->kind != SB_LAYOUT_SHEET || count->printed == 0)
      continue;
    g_autofree char *suffix = g_strconcat (":", count->name, NULL);
    reckon_markup (r, suffix, count->name, cost_of_piece (r, i));
  }
}

/* What comes in. */

static double
reckon_income (SbReckoning *r)
{
  const SbOrder *order = r->state->order;
  int packs = 0, singles = 0, sheets = 0;
  for (guint i = 0; i < order->packs->len; i++)
    packs += ((SbPack *)order->packs->pdata[i])->wanted;
  for (guint i = 0; i < r->counts->len; i++)
    *(g_array_index (r->counts, SbCount, i).layout != NULL ? &sheets : &singles) +=
        g_array_index (r->counts, SbCount, i).singles;
  double pack = packs > 0 ? sb_reckon_price (r, SB_RATE_PACK_ASKED) : 0;
  double single = singles > 0 ? sb_reckon_price (r, SB_RATE_SINGLE_ASKED) : 0;
  double sheet = sheets > 0 ? sb_reckon_price (r, SB_RATE_SHEET_ASKED) : 0;
  double income = packs * pack + singles * single + sheets * sheet;
  SbFigure *figure = sb_reckon_add (r, "income", _ ("Sold for"), SB_FIGURE_MONEY, income);
  sb_figure_explain (figure, _ ("%d packs × %s + %d singles × %s + %d sheets × %s = %s"), packs,
                     sb_reckon_money (r, pack), singles, sb_reckon_money (r, single), sheets,
                     sb_reckon_money (r, sheet), sb_reckon_money (r, income));
  return income;
}

static double
reckon_fees (SbReckoning *r, double income)
{
  const double *rates = r->rates;
  double percent = rates[SB_RATE_MARKET_FEE] + rates[SB_RATE_CARD_FEE];
  double payments = rates[SB_RATE_PAYMENTS] * rates[SB_RATE_PAYMENT_FEE];
  double fees = rates[SB_RATE_STALL] + income * percent / 100 + payments + rates[SB_RATE_POSTAGE];
  SbFigure *figure = sb_reckon_add (r, "fees", _ ("Fees and postage"), SB_FIGURE_MONEY, fees);
  sb_figure_explain (figure, _ ("stall %s"), sb_reckon_money (r, rates[SB_RATE_STALL]));
  sb_figure_explain (figure, _ ("market %g %% + card %g %% of %s = %s"), rates[SB_RATE_MARKET_FEE],
                     rates[SB_RATE_CARD_FEE], sb_reckon_money (r, income),
                     sb_reckon_money (r, income * percent / 100));
  sb_figure_explain (figure, _ ("%g payments × %s = %s"), rates[SB_RATE_PAYMENTS],
                     sb_reckon_money (r, rates[SB_RATE_PAYMENT_FEE]),
                     sb_reckon_money (r, payments));
  sb_figure_explain (figure, _ ("postage %s"), sb_reckon_money (r, rates[SB_RATE_POSTAGE]));
  return fees;
}

static void
reckon_earned (SbReckoning *r)
{
  double income = reckon_income (r), fees = reckon_fees (r, income);
  double earned = income - fees - r->materials - r->overhead;
  SbFigure *figure = sb_reckon_add (r, "earned", _ ("Left for your work"), SB_FIGURE_MONEY, earned);
  sb_figure_explain (figure, _ ("sold %s − fees %s − materials %s − overhead %s = %s"),
                     sb_reckon_money (r, income), sb_reckon_money (r, fees),
                     sb_reckon_money (r, r->materials), sb_reckon_money (r, r->overhead),
                     sb_reckon_money (r, earned));
  if (r->seconds <= 0)
    return;
  double rate = earned / (r->seconds / HOUR);
  figure = sb_reckon_add (r, "hourly", _ ("Earned an hour"), SB_FIGURE_MONEY, rate);
  sb_figure_explain (figure, _ ("%s ÷ %.2f h = %s"), sb_reckon_money (r, earned), r->seconds / HOUR,
                     sb_reckon_money (r, rate));
}

void
sb_reckon_prices (SbReckoning *r)
{
  reckon_sheet (r);
  double sticker = reckon_stickers (r);
  if (sticker > 0)
    reckon_markup (r, "", _ ("A single"), sticker);
  reckon_sold_sheets (r);
  for (guint i = 0; i < r->state->order->packs->len && r->packs > 0; i++)
    reckon_pack (r, r->state->order->packs->pdata[i]);
  reckon_earned (r);
}
