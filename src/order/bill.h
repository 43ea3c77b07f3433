/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Money and time of an order, from what lies on the pages and how often each is printed. Every
 * figure keeps how it came (order/figure.h); formulas are those of the handbook's section 7.
 * Immutable; made in any thread. */
#pragma once

#include "job/state.h"
#include "order/figure.h"

G_BEGIN_DECLS

typedef struct {
  GPtrArray *figures; /* SbFigure, as a maker reads them */
  GPtrArray *missing; /* char: labels of prices that are needed and not known, translated */
  char *currency;
} SbBill;

/* `coverage`: the mean share of C+M+Y+K of each page, percent (output/coverage.h). */
SbBill *sb_bill_new (const SbState *state, const double *coverage) G_GNUC_WARN_UNUSED_RESULT;
void sb_bill_free (SbBill *bill);

/* NULL when there is no such figure. Keys: coverage, paper, ink, film, packing-materials,
 * materials, cutting, covering, packing, time, labour, overhead, cost, sheet, sticker,
 * sticker:NAME, pack:NAME (what it costs: the floor), wholesale:NAME, retail:NAME,
 * wholesale and retail (of the mean sticker), income, fees, earned, hourly. */
const SbFigure *sb_bill_get (const SbBill *bill, const char *key);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbBill, sb_bill_free)

G_END_DECLS
