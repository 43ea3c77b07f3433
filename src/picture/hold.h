/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pictures that several things are made of at a time, as the paintings of one scan are, need not be
 * decoded for each. */
#pragma once

#include "picture/picture.h"

G_BEGIN_DECLS

/* From now on what `picture` was made of (or it itself) is decoded once at the most, and its pixels
 * are kept until as many releases. From any thread. */
void sb_picture_hold (SbPicture *picture);
void sb_picture_release (SbPicture *picture);

G_END_DECLS
