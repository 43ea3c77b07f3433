/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What lies still while something else moves. OpenGL may have to draw the whole window in each
 * frame; so nodes that stayed the same for a frame are drawn once into a texture, which then stands
 * for all of them. Where a few become others, small textures are laid over it. For OpenGL only:
 * cairo does not draw what stays. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct _SbStill SbStill;

SbStill *sb_still_new (void) G_GNUC_WARN_UNUSED_RESULT;
void sb_still_free (SbStill *still);

/* Forgets the textures; to be called before the widget loses its renderer. */
void sb_still_clear (SbStill *still);

/* Appends `nodes` (GskRenderNode, lowest first, NULL where one is empty; with a free function), or
 * what stands for them. `opaque` is where the lowest covers all below it: what changes elsewhere
 * has all drawn anew, since it would show through. `widget` is the one whose snapshot this is;
 * nothing beyond it is drawn. */
void sb_still_append (SbStill *still, GtkWidget *widget, GtkSnapshot *snapshot, GPtrArray *nodes,
                      const cairo_region_t *opaque);

G_END_DECLS
