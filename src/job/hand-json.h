/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Changes of an outline by hand in the job's JSON. Private to the room. */
#pragma once

#include "border/hand.h"
#include "job/json-reader.h"

G_BEGIN_DECLS

JsonArray *sb_hand_write (const SbHand *hand) G_GNUC_WARN_UNUSED_RESULT;

/* NULL where there is no change, or after an error. */
SbHand *sb_hand_read (SbJsonReader *json, JsonObject *object,
                      const char *member) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
