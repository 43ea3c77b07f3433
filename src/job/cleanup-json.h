/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The recipe of a clean-up in `job.json`. */
#pragma once

#include "job/json-reader.h"
#include "picture/picture.h"

G_BEGIN_DECLS

/* A new object. */
JsonObject *sb_cleanup_json_write (const SbCleanup *recipe) G_GNUC_WARN_UNUSED_RESULT;

/* The recipe for `picture`; its strokes are a new reference (or NULL). Errors are the reader's. */
SbCleanup sb_cleanup_json_read (SbJsonReader *json, JsonObject *object, SbPicture *picture);

G_END_DECLS
