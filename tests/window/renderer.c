/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Who draws the windows. The screen of the tests has no graphics card, whatever the machine has, so
 * that OpenGL on it is software. GTK chooses once in a process, so that each answer comes from a
 * new one: this program with a question. */
#include "config.h"

#include "suite.h"
#include "window/parts/renderer.h"

static char *self;

static void
tell_renderer (void)
{
  g_assert_true (sb_renderer_init_gtk ());
  GtkWidget *window = gtk_window_new ();
  gtk_window_present (GTK_WINDOW (window));
  g_print ("%s", G_OBJECT_TYPE_NAME (gtk_native_get_renderer (GTK_NATIVE (window))));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
tell_software (void)
{
  g_assert_true (gtk_init_check ());
  gboolean is_software = sb_renderer_is_gl_software (gdk_display_get_default ());
  g_print ("%s", is_software ? "software" : "none");
}

/* The answer; what is NULL is not set. Free with g_free. */
static char *
ask (const char *question, const char *gsk_renderer, const char *gdk_debug)
{
  const char *argv[] = {self, question, NULL};
  g_auto (GStrv) environment = g_get_environ ();
  g_autoptr (GError) error = NULL;
  char *answer = NULL;
  int status;

  environment = g_environ_unsetenv (environment, "GSK_RENDERER");
  environment = g_environ_unsetenv (environment, "GDK_DEBUG");
  if (gsk_renderer)
    environment = g_environ_setenv (environment, "GSK_RENDERER", gsk_renderer, TRUE);
  if (gdk_debug)
    environment = g_environ_setenv (environment, "GDK_DEBUG", gdk_debug, TRUE);
  /* OpenGL's drivers leak a little of their own. */
  environment = g_environ_setenv (environment, "ASAN_OPTIONS", "detect_leaks=0", TRUE);
  ck_assert_msg (g_spawn_sync (NULL, (char **)argv, environment, G_SPAWN_DEFAULT, NULL, NULL,
                               &answer, NULL, &status, &error),
                 "%s", error ? error->message : "");
  ck_assert_int_eq (status, 0);
  return answer;
}

START_TEST (cairo_takes_the_place_of_software)
{
  g_autofree char *answer = ask ("renderer", NULL, NULL);

  ck_assert_str_eq (answer, "GskCairoRenderer");
}
END_TEST

START_TEST (what_is_asked_for_is_taken)
{
  g_autofree char *answer = ask ("renderer", "gl", NULL);

  ck_assert_str_eq (answer, "GskGLRenderer");
}
END_TEST

START_TEST (software_is_known)
{
  g_autofree char *answer = ask ("software", NULL, NULL);

  ck_assert_str_eq (answer, "software");
}
END_TEST

START_TEST (no_opengl_is_not_software)
{
  g_autofree char *answer = ask ("software", NULL, "gl-disable");

  ck_assert_str_eq (answer, "none");
}
END_TEST

int
main (int argc, char **argv)
{
  self = argv[0];
  if (argc > 1) {
    if (g_str_equal (argv[1], "renderer"))
      tell_renderer ();
    else
      tell_software ();
    return 0;
  }
  Suite *suite = suite_create ("renderer");
  TCase *tcase = tcase_create ("renderer");

  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, cairo_takes_the_place_of_software);
  tcase_add_test (tcase, what_is_asked_for_is_taken);
  tcase_add_test (tcase, software_is_known);
  tcase_add_test (tcase, no_opengl_is_not_software);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
