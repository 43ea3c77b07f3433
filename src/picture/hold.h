/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Work on pictures that need not be done again: those that several things are made of at a time, as
 * the paintings of one scan are, and those that look like one that is there. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

/* From now on what `picture` was made of (or it itself) is decoded once at the most, and its pixels
 * are kept until as many releases. From any thread. */
void sb_picture_hold (SbPicture *picture);
void sb_picture_release (SbPicture *picture);

/* `picture`, cleaned from the same pixels to the same coverage as `like`, has what was told of that
 * (sb_picture_get_clean_result) as its own until it is cleaned itself. */
void sb_picture_share_clean_result (SbPicture *picture, SbPicture *like);

G_END_DECLS
