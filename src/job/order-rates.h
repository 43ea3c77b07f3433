/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the sums of an order are made of: prices, fees, and how fast the maker works. One table of
 * them serves the job file, the command line and the window. The usual times are seeds for the
 * maker's own stopwatch (handbook 7.3: no source found); prices have no usual value but 0, which
 * means "not known". */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  /* materials */
  SB_RATE_STOCK_PRICE, /* a pack of the job's stock */
  SB_RATE_STOCK_SHEETS,
  SB_RATE_CARD_PRICE, /* a pack of card, for headers and backing cards */
  SB_RATE_CARD_SHEETS,
  SB_RATE_INK_PRICE,   /* a set of ink or toner */
  SB_RATE_INK_YIELD,   /* pages its maker promises: 5 % a colour, 20 % in all (handbook 7.2) */
  SB_RATE_INK_QUALITY, /* how much more photo quality lays */
  SB_RATE_INK_LASTED,  /* sheets a set really printed, by the maker's own count; 0 not counted */
  SB_RATE_FILM_PRICE,  /* cover film for a sheet */
  SB_RATE_TEST_SHEETS, /* of the stock, before the run */
  SB_RATE_BAG_PRICE,
  SB_RATE_LABEL_PRICE,
  SB_RATE_STAPLE_PRICE,
  SB_RATE_STAPLES, /* for a pack */
  /* time */
  SB_RATE_WAGE,         /* an hour of the maker's */
  SB_RATE_SCISSORS,     /* s, to take up and put down a sticker */
  SB_RATE_SCISSORS_WAY, /* mm/s along the outline */
  SB_RATE_NOTCH,        /* s, for each */
  SB_RATE_KNIFE,        /* s, kiss cut */
  SB_RATE_KNIFE_WAY,    /* mm/s */
  SB_RATE_STRAIGHT_CUT, /* s, by ruler or trimmer */
  SB_RATE_FOLD,         /* s, score and fold a header card */
  SB_RATE_PACK,         /* s, fill, close and label a pack */
  SB_RATE_FILM,         /* s, cover a sheet with film */
  /* fees */
  SB_RATE_OVERHEAD,   /* % of materials and labour */
  SB_RATE_STALL,      /* for the day */
  SB_RATE_MARKET_FEE, /* % of the price */
  SB_RATE_CARD_FEE,   /* % of the price */
  SB_RATE_PAYMENT_FEE,
  SB_RATE_PAYMENTS, /* how many payments the order is sold in */
  SB_RATE_POSTAGE,  /* for the order */
  /* prices asked */
  SB_RATE_PACK_ASKED,
  SB_RATE_SINGLE_ASKED,
  SB_RATE_SHEET_ASKED,
  SB_RATE_COIN, /* prices are rounded up to whole ones of it */
  SB_N_RATES,
} SbRate;

typedef enum {
  SB_RATE_IS_MONEY,
  SB_RATE_IS_COUNT,
  SB_RATE_IS_PERCENT,
  SB_RATE_IS_SECONDS,
  SB_RATE_IS_SPEED,
  SB_RATE_IS_FACTOR,
} SbRateKind;

typedef enum {
  SB_RATES_MATERIALS,
  SB_RATES_TIME,
  SB_RATES_FEES,
  SB_RATES_PRICES,
  SB_N_RATE_GROUPS,
} SbRateGroup;

typedef struct {
  const char *key;   /* in files and on the command line: "stock-price" */
  const char *label; /* for people, untranslated (pass through _()) */
  SbRateGroup group;
  SbRateKind kind;
  double usual, least, most;
} SbRateInfo;

/* Static memory. */
const SbRateInfo *sb_rate_get_info (SbRate rate);

/* FALSE when no rate has this key. */
gboolean sb_rate_find (const char *key, SbRate *rate);

G_END_DECLS
