/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/order-rates.h"

#include <glib/gi18n.h>

#define MONEY SB_RATE_IS_MONEY
#define COUNT SB_RATE_IS_COUNT
#define PERCENT SB_RATE_IS_PERCENT
#define SECONDS SB_RATE_IS_SECONDS
#define SPEED SB_RATE_IS_SPEED
#define FACTOR SB_RATE_IS_FACTOR
#define MOST_MONEY 1000000
#define MOST_COUNT 100000
#define MOST_SECONDS 3600
#define MOST_SPEED 1000

#define MATERIALS SB_RATES_MATERIALS
#define TIME SB_RATES_TIME
#define FEES SB_RATES_FEES
#define PRICES SB_RATES_PRICES

/* Times are the handbook's seeds (7.3), the quality factor lies within its 1.3 to 2 (7.2) and the
 * overhead within its 10 to 15 % (7.4). */
static const SbRateInfo infos[SB_N_RATES] = {
    {"stock-price", N_ ("A pack of sticker stock"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"stock-sheets", N_ ("Sheets in that pack"), MATERIALS, COUNT, 1, 1, MOST_COUNT},
    {"card-price", N_ ("A pack of card"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"card-sheets", N_ ("Sheets in that pack of card"), MATERIALS, COUNT, 1, 1, MOST_COUNT},
    {"ink-price", N_ ("A full set of ink or toner"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"ink-yield", N_ ("Pages it prints, as its maker says"), MATERIALS, COUNT, 0, 0, MOST_COUNT},
    {"ink-quality", N_ ("Photo quality lays more ink by"), MATERIALS, FACTOR, 1.5, 1, 5},
    {"ink-lasted", N_ ("Sheets a set lasted, by your own count"), MATERIALS, COUNT, 0, 0,
     MOST_COUNT},
    {"film-price", N_ ("Cover film for a sheet"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"test-sheets", N_ ("Sheets of stock for tests"), MATERIALS, COUNT, 1, 0, MOST_COUNT},
    {"bag-price", N_ ("A bag"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"label-price", N_ ("A label for the pack"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"staple-price", N_ ("A staple"), MATERIALS, MONEY, 0, 0, MOST_MONEY},
    {"staples", N_ ("Staples in a pack"), MATERIALS, COUNT, 2, 0, MOST_COUNT},
    {"wage", N_ ("An hour of your work"), TIME, MONEY, 0, 0, MOST_MONEY},
    {"scissors", N_ ("Scissors: take up and put down"), TIME, SECONDS, 10, 0, MOST_SECONDS},
    {"scissors-way", N_ ("Scissors: along the outline"), TIME, SPEED, 10, 0.1, MOST_SPEED},
    {"notch", N_ ("Each tight notch"), TIME, SECONDS, 4, 0, MOST_SECONDS},
    {"knife", N_ ("Knife: begin a sticker"), TIME, SECONDS, 8, 0, MOST_SECONDS},
    {"knife-way", N_ ("Knife: along the outline"), TIME, SPEED, 12, 0.1, MOST_SPEED},
    {"straight-cut", N_ ("A cut by ruler or trimmer"), TIME, SECONDS, 8, 0, MOST_SECONDS},
    {"fold", N_ ("Score and fold a header card"), TIME, SECONDS, 15, 0, MOST_SECONDS},
    {"pack", N_ ("Fill, close and label a pack"), TIME, SECONDS, 60, 0, MOST_SECONDS},
    {"film", N_ ("Cover a sheet with film"), TIME, SECONDS, 90, 0, MOST_SECONDS},
    {"overhead", N_ ("Overhead on materials and work"), FEES, PERCENT, 10, 0, 100},
    {"stall", N_ ("Stall fee"), FEES, MONEY, 0, 0, MOST_MONEY},
    {"market-fee", N_ ("Market fee on the price"), FEES, PERCENT, 0, 0, 100},
    {"card-fee", N_ ("Card fee on the price"), FEES, PERCENT, 0, 0, 100},
    {"payment-fee", N_ ("Fee for each payment"), FEES, MONEY, 0, 0, MOST_MONEY},
    {"payments", N_ ("Payments the order is sold in"), FEES, COUNT, 1, 0, MOST_COUNT},
    {"postage", N_ ("Postage for the order"), FEES, MONEY, 0, 0, MOST_MONEY},
    {"pack-asked", N_ ("You ask for a pack"), PRICES, MONEY, 0, 0, MOST_MONEY},
    {"single-asked", N_ ("You ask for a single sticker"), PRICES, MONEY, 0, 0, MOST_MONEY},
    {"sheet-asked", N_ ("You ask for a sticker sheet"), PRICES, MONEY, 0, 0, MOST_MONEY},
    {"coin", N_ ("Round prices up to"), PRICES, MONEY, 0.25, 0.01, MOST_MONEY},
};

const SbRateInfo *
sb_rate_get_info (SbRate rate)
{
  return &infos[rate];
}

gboolean
sb_rate_find (const char *key, SbRate *rate)
{
  for (int i = 0; i < SB_N_RATES; i++)
    if (g_str_equal (infos[i].key, key)) {
      *rate = (SbRate)i;
      return TRUE;
    }
  return FALSE;
}
