/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The cover of a download: what is in it, how to print and cut, licence and cautions. */
#pragma once

#include "job/state.h"
#include "output/leaflet.h"

G_BEGIN_DECLS

/* For the pages of `home`, leaving its foot free for the check bar. */
SbLeaflet *sb_download_make_cover (const SbState *home) G_GNUC_WARN_UNUSED_RESULT;

/* The title that the order gives the set, or one of ours. */
const char *sb_download_get_title (const SbState *state);

G_END_DECLS
