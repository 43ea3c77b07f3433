/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What bill.c and prices.c share while a bill is drawn up. */
#pragma once

#include "order/bill.h"
#include "order/counts.h"

G_BEGIN_DECLS

typedef struct {
  const SbState *state;
  const double *rates;
  const double *coverage;
  SbBill *bill;
  GPtrArray *words;    /* what was put in words, until the end */
  GArray *counts;      /* SbCount */
  double *cut_s;       /* one piece of each count, s */
  double *area_mm2;    /* all printed pieces of each count */
  double all_area_mm2; /* of stickers and sheets */
  double card_area_mm2;
  guint sheets; /* of the stock */
  guint cards;  /* sheets of card */
  int packs;    /* to be made */
  double paper, card, ink, card_ink, ink_spread, film,
      packing;    /* money; ink: that of the cards too */
  double seconds; /* all work */
  double cutting_s, covering_s, packing_s;
  double materials, labour, overhead, cost;
} SbReckoning;

/* Adds the figure and gives it back, to be explained. */
SbFigure *sb_reckon_add (SbReckoning *r, const char *key, const char *label, SbFigureKind kind,
                         double value);
/* An amount in words, that of one piece with more digits, and a time. Borrowed until the end. */
const char *sb_reckon_money (SbReckoning *r, double amount);
const char *sb_reckon_fine (SbReckoning *r, double amount);
const char *sb_reckon_duration (SbReckoning *r, double seconds);
/* A price that is needed; notes it when it is not known. */
double sb_reckon_price (SbReckoning *r, SbRate rate);

/* prices.c: what one sticker, sheet and pack costs, what to ask for it, what is earned. */
void sb_reckon_prices (SbReckoning *r);

G_END_DECLS
