/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sticker for other programs, by drag or clipboard: a PNG at true size as it looks cut out, and
 * the same as a file for those that take only files (it lies in the user's runtime folder, which
 * goes with the session). Painted in a thread, when somebody asks. */
#pragma once

#include <gdk/gdk.h>

#include "job/state.h"

G_BEGIN_DECLS

GdkContentProvider *sb_sticker_provider_new (SbDesign *design) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
