/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * JSON as people read it: 3.05, where json-glib writes 3.0499999999999998. */
#pragma once

#include <json-glib/json-glib.h>

/* `root` on one line, every number with the fewest digits that read back as the same double (15 to
 * 17). `length`, which may be NULL, is its bytes without the closing zero. Free with g_free. Any
 * thread, while nothing changes `root`. */
char *sb_json_to_text (JsonNode *root, gsize *length);
