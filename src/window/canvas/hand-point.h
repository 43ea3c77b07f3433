/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A point of an outline that can be taken hold of: drawn as a small square, large enough for a
 * finger, with a name for screen readers. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_HAND_POINT (sb_hand_point_get_type ())
G_DECLARE_FINAL_TYPE (SbHandPointView, sb_hand_point, SB, HAND_POINT, GtkWidget)

#define SB_HAND_POINT_PX 24 /* across, its middle is the point (WCAG 2.2, SC 2.5.8) */

GtkWidget *sb_hand_point_new (void);

/* `changed`: somebody has moved or added it; drawn filled. */
void sb_hand_point_set_changed (SbHandPointView *self, gboolean changed);
void sb_hand_point_set_label (SbHandPointView *self, const char *label);

G_END_DECLS
