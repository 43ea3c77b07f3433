/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The order's part of job.json. */
#pragma once

#include "job/json-reader.h"
#include "job/order.h"

G_BEGIN_DECLS

/* New; without the order's own leftover. */
JsonObject *sb_order_write (const SbOrder *order) G_GNUC_WARN_UNUSED_RESULT;

/* Ids must be below `next_id`, so that none can come to mean what is made later. NULL only where
 * `object` is. A first error is kept by `json`. */
SbOrder *sb_order_read (SbJsonReader *json, JsonObject *object,
                        guint next_id) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
