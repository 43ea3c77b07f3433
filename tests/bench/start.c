/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long the program takes until its first frame, from opening a job until its pages
 * are shown and until every picture on them is drawn, and how much memory a job of many pictures
 * takes. Prints `name value unit` a line: the least of several runs, each in a process of its own,
 * of the wall clock and (-cpu) of processor time. `cold` is without outlines kept from an earlier
 * opening, `warm` with them.
 *
 *   start JOB */
#include "config.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "canvas-scene.h"
#include "clock.h"
#include "job/file.h"
#include "trouble.h"
#include "window/canvas/canvas-private.h"
#include "window/parts/renderer.h"
#include "window/shell/app-window.h"

#define RUNS 5
#define NO_CACHE "/dev/null/cache" /* no folder can be made there */
#define PICTURES 100

typedef struct {
  const char *path; /* a job to open, or NULL */
  double begun;     /* wall clock, ms */
  double cpu_begun;
  gboolean asked, shown, told;
} Run;

static void
tell_memory (const char *name)
{
  g_autofree char *status = NULL;
  const char *line;

  if (g_file_get_contents ("/proc/self/status", &status, NULL, NULL) &&
      (line = strstr (status, name)))
    g_print ("memory-%s %ld MiB\n", name, strtol (line + strlen (name) + 1, NULL, 10) / 1024);
}

static gboolean
tell (Run *run, const char *name)
{
  g_print ("%s %.0f ms\n", name, read_ms (CLOCK_MONOTONIC) - run->begun);
  g_print ("%s-cpu %.0f ms\n", name, read_cpu_ms () - run->cpu_begun);
  return TRUE;
}

static void
open_job (Run *run, SbAppWindow *window)
{
  g_autoptr (GFile) file = g_file_new_for_path (run->path);

  run->begun = read_ms (CLOCK_MONOTONIC);
  run->cpu_begun = read_cpu_ms ();
  run->asked = TRUE;
  sb_app_window_open_job (window, file);
}

static SbPagesView *
find_pages (SbAppWindow *window)
{
  SbCanvas *canvas = sb_app_window_get_canvas (window);
  SbPagesView *pages = canvas ? sb_canvas_get_pages_view (canvas) : NULL;
  gboolean is_there =
      pages && sb_pages_view_get_job (pages) && gtk_widget_get_width (GTK_WIDGET (pages)) > 1;

  return is_there ? pages : NULL;
}

static void
look_at_job (Run *run, SbAppWindow *window)
{
  SbPagesView *pages = find_pages (window);

  if (pages && !run->shown)
    tell (run, "open");
  run->shown = pages != NULL;
  if (!pages || run->told || sb_pages_view_is_busy (pages))
    return;
  tell (run, "drawn");
  tell_memory ("VmHWM");
  tell_memory ("VmRSS");
  run->told = TRUE;
}

/* A painted frame of the one window. */
static void
painted_cb (GdkFrameClock *clock, Run *run)
{
  GList *windows = gtk_application_get_windows (GTK_APPLICATION (g_application_get_default ()));
  SbAppWindow *window = windows->data;

  if (run->path && !run->asked)
    open_job (run, window);
  else if (run->path)
    look_at_job (run, window);
  else if (!run->told)
    run->told = tell (run, "start");
}

static gboolean
again_cb (gpointer data)
{
  Run *run = data;
  GList *windows = gtk_application_get_windows (GTK_APPLICATION (g_application_get_default ()));

  if (run->told) {
    g_application_quit (g_application_get_default ());
    return G_SOURCE_REMOVE;
  }
  /* That the last picture is there is looked at in a frame of its own. */
  if (windows && run->shown && !sb_pages_view_is_busy (find_pages (windows->data)))
    gtk_widget_queue_draw (windows->data);
  return G_SOURCE_CONTINUE;
}

static void
realized_cb (GtkWidget *window, Run *run)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted_cb),
                    run);
}

static void
window_added_cb (GtkApplication *application, GtkWindow *window, Run *run)
{
  if (gtk_widget_get_realized (GTK_WIDGET (window)))
    realized_cb (GTK_WIDGET (window), run);
  else
    g_signal_connect (window, "realize", G_CALLBACK (realized_cb), run);
  g_timeout_add (4, again_cb, run);
}

static int
run_program (const char *begun, const char *path)
{
  Run run = {.path = path, .begun = g_ascii_strtod (begun, NULL)};

  if (!sb_renderer_init_gtk ())
    return 77;
  g_autoptr (SbApplication) application = g_object_new (
      SB_TYPE_APPLICATION, "application-id", SB_APP_ID, "flags", G_APPLICATION_NON_UNIQUE, NULL);
  g_signal_connect (application, "window-added", G_CALLBACK (window_added_cb), &run);
  return g_application_run (G_APPLICATION (application), 0, NULL);
}

/* Starts this program anew, with a folder for the user's cache, and keeps the least of each figure.
 */
static void
measure (const char *self, const char *path, const char *cache, const char *prefix)
{
  g_auto (GStrv) env = g_environ_setenv (g_get_environ (), "XDG_CACHE_HOME", cache, TRUE);
  g_autoptr (GHashTable) least = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (int i = 0; i < RUNS; i++) {
    g_autofree char *begun = g_strdup_printf ("%.3f", read_ms (CLOCK_MONOTONIC));
    g_autofree char *output = NULL;
    const char *argv[] = {self, "--run", begun, path, NULL};
    g_autoptr (GError) error = NULL;
    if (!g_spawn_sync (NULL, (char **)argv, env, G_SPAWN_DEFAULT, NULL, NULL, &output, NULL, NULL,
                       &error))
      g_error ("%s", error->message);
    g_auto (GStrv) lines = g_strsplit (output, "\n", 0);
    for (char **line = lines; *line && **line; line++) {
      g_auto (GStrv) words = g_strsplit (*line, " ", 3);
      double value = g_ascii_strtod (words[1], NULL);
      double *known = g_hash_table_lookup (least, words[0]);
      if (!known) {
        char *name = g_strdup (words[0]);
        g_ptr_array_add (names, g_strdup_printf ("%s %s", words[0], words[2]));
        g_hash_table_insert (least, name, g_memdup2 (&value, sizeof value));
      } else {
        *known = MIN (*known, value);
      }
    }
  }
  for (guint i = 0; i < names->len; i++) {
    g_auto (GStrv) words = g_strsplit (names->pdata[i], " ", 2);
    g_print ("%s%s %.0f %s\n", prefix, words[0], *(double *)g_hash_table_lookup (least, words[0]),
             words[1]);
    g_free (names->pdata[i]);
  }
}

/* A job of many pictures of 1200 x 1200 px, a piece of each. */
static char *
save_large_job (void)
{
  SbSceneParams params = {
      .designs = PICTURES, .pieces = PICTURES, .picture_px = 1200, .size_mm = 12, .spread = 18000};
  g_autoptr (SbState) state = sb_scene_make_state (&params);
  g_autoptr (GError) error = NULL;
  char *path = g_build_filename (g_get_tmp_dir (), "stickleback-bench-large.stickleback", NULL);

  if (!sb_job_file_save (state, path, NULL, &error))
    g_error ("%s", error->message);
  return path;
}

int
main (int argc, char **argv)
{
  if (argc >= 3 && g_str_equal (argv[1], "--run"))
    return run_program (argv[2], argc > 3 ? argv[3] : NULL);
  if (argc != 2)
    return 2;
  /* As a maker starts it, not as the tests do. */
  g_unsetenv ("GDK_DEBUG");
  g_unsetenv ("GSK_RENDERER");
  g_autofree char *large = save_large_job ();

  char *cache = g_dir_make_tmp ("stickleback-bench-XXXXXX", NULL);
  measure (argv[0], NULL, NO_CACHE, "");
  measure (argv[0], argv[1], NO_CACHE, "demo-cold-");
  measure (argv[0], argv[1], cache, "demo-warm-");
  measure (argv[0], large, NO_CACHE, "large-");
  sb_remove_folder (cache);
  g_unlink (large);
  return 0;
}
