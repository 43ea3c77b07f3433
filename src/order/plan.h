/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Copies onto pages: the fewest sheets that are found, and among those the fewest different pages,
 * each printed so many times. */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

typedef struct {
  guint64 seed;
  double seconds; /* after which no further way is tried */
  gboolean fill;  /* freebies into the gaps afterwards; they never cause a sheet */
} SbPlanParams;

SbPlanParams sb_plan_params_default (void);

/* The ways to lay an order that are tried. */
typedef enum {
  SB_PLAN_EQUAL,     /* one mixed page, printed n times */
  SB_PLAN_ONE_EACH,  /* a page for each design */
  SB_PLAN_FULL_REST, /* full pages of one design, then mixed ones for what is left */
  SB_PLAN_MIXED,     /* all copies arranged at once, in small orders */
  SB_N_PLANS,
} SbPlanWay;

typedef struct {
  SbState *state;              /* the job with the pages laid, how often each is printed, and the
                                  copies on them as what each design wants */
  guint sheets;                /* through the printer */
  guint pages;                 /* different ones */
  guint too_large;             /* designs that no page has room for */
  SbPlanWay way;               /* that was taken */
  guint sheets_by[SB_N_PLANS]; /* what each way would take; 0 where it was not found */
} SbPlan;

/* Lays what the order asks for (order/counts.h) on new pages, layouts on pages of their own; what
 * lies on the job's pages now is not kept, pinned or not. Slow: run in a thread. Cancelling gives
 * G_IO_ERROR_CANCELLED; an order of nothing SB_ORDER_ERROR_EMPTY. */
SbPlan *sb_order_plan (const SbState *state, const SbPlanParams *params, GCancellable *cancellable,
                       GError **error) G_GNUC_WARN_UNUSED_RESULT;
void sb_plan_free (SbPlan *plan);

#define SB_ORDER_ERROR (sb_order_error_quark ())
GQuark sb_order_error_quark (void);
typedef enum {
  SB_ORDER_ERROR_EMPTY, /* nothing has to be printed */
} SbOrderError;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPlan, sb_plan_free)

G_END_DECLS
