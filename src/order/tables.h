/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * An order's counts and bill for other programs. */
#pragma once

#include <json-glib/json-glib.h>

#include "order/bill.h"

G_BEGIN_DECLS

/* Comma-separated values (RFC 4180) in UTF-8: the counts of every item, an empty line, then the
 * figures as key, label, value. Numbers have a decimal point whatever the locale. A cell that a
 * spreadsheet would take for a formula gets an apostrophe before it. Free with g_free. */
char *sb_order_to_csv (const SbState *state, const SbBill *bill) G_GNUC_WARN_UNUSED_RESULT;

/* {"currency", "items": [...], "packs": [...], "pages": [...], "sheets", "figures": [{"key",
 * "label", "value", "low", "high", "how": [...]}], "missing": [...]}. */
JsonObject *sb_order_to_json (const SbState *state, const SbBill *bill) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
