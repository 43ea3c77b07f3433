/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Runs the real program as a shell would: without a display, with an empty home. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <string.h>

#include "trouble.h"

static char *folder; /* a new one for each test, where the program runs */
static char *home;

static inline void
setup (void)
{
  folder = sb_make_folder ();
  home = sb_make_folder ();
}

/* The program leaves nothing in its user's home but for its cache, which tests go without, and
 * nothing beside what it was asked to write. */
static inline void
teardown (void)
{
  ck_assert_msg (sb_count_files (home) == 0, "something was written into the home folder");
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name (dir)) != NULL)
    ck_assert_msg (!g_str_has_prefix (name, ".stickleback"), "%s was left behind", name);
  sb_remove_folder (folder);
  sb_remove_folder (home);
}

static inline char *
in_folder (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

typedef struct {
  int status;
  char *out, *err;
} Result;

static inline void
result_clear (Result *result)
{
  g_free (result->out);
  g_free (result->err);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Result, result_clear)

/* `line` is cut at blanks; %s stand for one word each. */
static inline GPtrArray *
split_words (const char *line, va_list args)
{
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) parts = g_strsplit (line, " ", -1);
  g_ptr_array_add (words, g_strdup (g_getenv ("SB_TEST_PROGRAM")));
  for (int i = 0; parts[i] != NULL; i++)
    g_ptr_array_add (words, g_str_equal (parts[i], "%s") ? g_strdup (va_arg (args, char *))
                                                         : g_strdup (parts[i]));
  g_ptr_array_add (words, NULL);
  return words;
}

static inline Result
run (const char *line, ...)
{
  va_list args;
  va_start (args, line);
  g_autoptr (GPtrArray) words = split_words (line, args);
  va_end (args);
  static const char *const unset[] = {"DISPLAY",       "WAYLAND_DISPLAY", "XDG_CONFIG_HOME",
                                      "XDG_DATA_HOME", "XDG_STATE_HOME",  "XDG_RUNTIME_DIR"};
  char **env = g_environ_setenv (g_get_environ (), "HOME", home, TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (unset); i++)
    env = g_environ_unsetenv (env, unset[i]);

  /* Not GSubprocess, whose thread is not there in the children of trouble.h. */
  g_autoptr (GError) error = NULL;
  Result result = {0};
  int status = 0;
  gboolean ran = g_spawn_sync (folder, (char **)words->pdata, env, 0, NULL, NULL, &result.out,
                               &result.err, &status, &error);
  g_strfreev (env);
  ck_assert_msg (ran, "%s", error ? error->message : "");
  ck_assert_msg (WIFEXITED (status), "“%s” died: %s", line, result.err);
  result.status = WEXITSTATUS (status);
  return result;
}

#define expect_done(...)                                                                           \
  G_STMT_START                                                                                     \
  {                                                                                                \
    g_auto (Result) result_ = run (__VA_ARGS__);                                                   \
    ck_assert_msg (result_.status == 0, "exit status %d: %s", result_.status, result_.err);        \
    ck_assert_str_eq (result_.err, "");                                                            \
  }                                                                                                \
  G_STMT_END

/* One line on standard error that begins with the program's name and the file's and says `why`. */
static inline void
expect_one_line (const Result *result, int status, const char *file, const char *why)
{
  ck_assert_msg (result->status == status, "exit status %d, not %d, for %s “%s”: %s",
                 result->status, status, file, why, result->err);
  g_autofree char *start = g_strconcat ("stickleback: ", file, ": ", NULL);
  ck_assert_msg (g_str_has_prefix (result->err, start), "“%s” does not name %s", result->err, file);
  gboolean says_why = strstr (result->err, why) != NULL;
  ck_assert_msg (says_why, "“%s” does not say “%s”", result->err, why);
  const char *end = strchr (result->err, '\n');
  ck_assert_msg (end != NULL && end[1] == '\0', "“%s” is not one line", result->err);
}

#define expect_failure(status, file, why, ...)                                                     \
  G_STMT_START                                                                                     \
  {                                                                                                \
    g_auto (Result) result_ = run (__VA_ARGS__);                                                   \
    expect_one_line (&result_, status, file, why);                                                 \
  }                                                                                                \
  G_STMT_END

/* What the program prints, as JSON. */
static inline JsonNode *
read_json (const Result *result)
{
  g_autoptr (GError) error = NULL;
  JsonNode *node = json_from_string (result->out, &error);
  ck_assert_msg (node != NULL, "%s: %s", error ? error->message : "empty", result->out);
  return node;
}

/* Pictures to work with */

/* A disk of `mm` across that fills its picture and states its size. */
static inline void
draw_disk (const char *name, double mm)
{
  g_autofree char *svg = g_strdup_printf (
      "<svg xmlns='http://www.w3.org/2000/svg' width='%.2fmm' height='%.2fmm' viewBox='0 0 2 2'>"
      "<circle cx='1' cy='1' r='1' fill='#834'/></svg>",
      mm, mm);
  g_autofree char *path = in_folder (name);
  ck_assert (g_file_set_contents (path, svg, -1, NULL));
}

/* A black rectangle as a PNG that says nothing of its size; its first row is clear. */
static inline void
draw_sizeless (const char *name, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_paint (cr);
  cairo_surface_flush (surface);
  memset (cairo_image_surface_get_data (surface), 0, 4 * (gsize)width);
  cairo_surface_mark_dirty (surface);
  g_autofree char *path = in_folder (name);
  ck_assert_int_eq (cairo_surface_write_to_png (surface, path), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}
