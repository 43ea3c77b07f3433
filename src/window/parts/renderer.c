/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <epoxy/gl.h>

#include "window/parts/renderer.h"

/* What a driver of a graphics card has to open: the kernel's own, NVIDIA's, and that of Windows'
 * subsystem. A card that is missing here is not used, which is slower only where it is a fast one.
 */
static gboolean
has_graphics_card (void)
{
  static const char *const devices[] = {"/dev/dri", "/dev/nvidiactl", "/dev/dxg"};

  for (guint i = 0; i < G_N_ELEMENTS (devices); i++)
    if (g_file_test (devices[i], G_FILE_TEST_EXISTS))
      return TRUE;
  return FALSE;
}

static void
take_cairo (void)
{
  g_setenv ("GSK_RENDERER", "cairo", FALSE);
}

/* On X11 GTK loads OpenGL with the display, be it used or not: 0.2 s for one without a card. */
static void
leave_gl_unloaded (void)
{
  if (gtk_check_version (4, 16, 0) == NULL)
    g_setenv ("GDK_DISABLE", "gl", FALSE);
  else
    g_setenv ("GDK_DEBUG", "gl-disable", FALSE);
}

gboolean
sb_renderer_is_gl_software (GdkDisplay *display)
{
  g_autoptr (GdkGLContext) context = gdk_display_create_gl_context (display, NULL);

  if (!context || !gdk_gl_context_realize (context, NULL))
    return FALSE;
  gdk_gl_context_make_current (context);
  const char *name = (const char *)glGetString (GL_RENDERER);
  gboolean is_software = name && (strstr (name, "llvmpipe") || strstr (name, "softpipe"));
  gdk_gl_context_clear_current ();
  return is_software;
}

gboolean
sb_renderer_init_gtk (void)
{
  gboolean is_wanted = g_getenv ("GSK_RENDERER") != NULL;

  if (!is_wanted && !has_graphics_card ()) {
    take_cairo ();
    leave_gl_unloaded ();
    return gtk_init_check ();
  }
  if (!gtk_init_check ())
    return FALSE;
  /* There may be a card that this OpenGL does not know, as in a virtual machine. */
  if (!is_wanted && sb_renderer_is_gl_software (gdk_display_get_default ()))
    take_cairo ();
  return TRUE;
}

gboolean
sb_renderer_is_cairo (GtkWidget *widget)
{
  GtkNative *native = gtk_widget_get_native (widget);
  GskRenderer *renderer = native ? gtk_native_get_renderer (native) : NULL;

  return renderer && G_TYPE_CHECK_INSTANCE_TYPE (renderer, GSK_TYPE_CAIRO_RENDERER);
}
