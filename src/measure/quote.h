/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

/* What somebody typed, fit for a message: valid UTF-8, and not a screenful. Free with g_free. */
char *sb_quote (const char *text) G_GNUC_WARN_UNUSED_RESULT;
