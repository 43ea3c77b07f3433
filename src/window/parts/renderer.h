/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Who draws the windows. GTK takes OpenGL wherever it finds some, be it drawn by the processor:
 * then it draws each frame of the window as a whole, where cairo draws what changed, and takes half
 * a second longer to start. So without a graphics card the program takes cairo, unless GSK_RENDERER
 * says what is wanted. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Like gtk_init_check, which it calls, and takes cairo where that is the faster one. To be called
 * before there are threads, since it may set variables of the environment. */
gboolean sb_renderer_init_gtk (void);

/* Whether the display's OpenGL is drawn by the processor. FALSE where there is none. */
gboolean sb_renderer_is_gl_software (GdkDisplay *display);

/* Whether cairo draws the window that the widget is in. */
gboolean sb_renderer_is_cairo (GtkWidget *widget);

G_END_DECLS
