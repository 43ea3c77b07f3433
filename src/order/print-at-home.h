/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The job laid anew for customers who print it themselves, on a paper of theirs: stickers keep
 * their size, nothing is scaled (handbook section 11). */
#pragma once

#include <gio/gio.h>

#include "job/state.h"

G_BEGIN_DECLS

#define SB_AT_HOME_MARGIN_UM 12700 /* for printers nobody knows (handbook 5.1 and 11) */
#define SB_AT_HOME_NOOK_MM 4.0     /* bends that anybody's scissors follow */
#define SB_AT_HOME_GUIDE_PT 0.75   /* a visible mid grey (handbook 4.4) */
#define SB_AT_HOME_GUIDE_GREY 0.5
/* Kept free along the foot of every page for the check bar of output/check-bar.h and a gap. */
#define SB_AT_HOME_BAR_UM 12000

typedef struct {
  const char *paper; /* PWG name */
  int copies;        /* of each design, 1..100; freebies fill what is left when `fill` is set */
  gboolean fill;
  double seconds; /* to lay it tightly */
} SbAtHomeParams;

/* All designs but freebies, on as many pages as they need. Designs that the paper has no room for
 * are left out and counted. Slow: run in a thread. Errors: cancelled, or
 * SB_ORDER_ERROR_EMPTY where nothing is left. */
SbState *sb_state_print_at_home (const SbState *state, const SbAtHomeParams *params,
                                 guint *too_large, GCancellable *cancellable,
                                 GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
