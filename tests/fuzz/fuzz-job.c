/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Job files: bytes that begin like a container are loaded as a file, others are read as its JSON. A
 * job that is read must be written and read again as an equal one; what is not must say why in one
 * valid line. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <unistd.h>

#include "job/edit.h"
#include "job/file.h"
#include "job/job-json.h"

static char *path; /* the file that is loaded */

static SbPicture *
get_picture (void)
{
  static const char svg[] = "<svg xmlns='http://www.w3.org/2000/svg' width='4mm' height='3mm'>"
                            "<rect width='100%' height='100%' fill='#834020'/></svg>";
  static SbPicture *picture;
  if (picture == NULL) {
    g_autoptr (GBytes) bytes = g_bytes_new_static (svg, strlen (svg));
    picture = sb_picture_new (bytes, "rue.svg", NULL);
  }
  return picture;
}

/* SbArtworkFind: any name of the right form will do, so that changed names get further. */
static SbPicture *
find_any (const char *name, gpointer data, GError **error)
{
  return sb_picture_ref (get_picture ());
}

static void
check_error (const GError *error)
{
  if (error == NULL || !g_utf8_validate (error->message, -1, NULL) ||
      strchr (error->message, '\n') != NULL)
    g_error ("a reader must say why not, in a line: %s", error ? error->message : "");
}

/* Writing and reading again gives the same job, and the same text. */
static void
check_fixed_point (const SbState *state)
{
  gsize length, again_length;
  g_autofree char *text = sb_job_json_write (state, &length);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) again = sb_job_json_read (text, length, find_any, NULL, &error);
  if (again == NULL)
    g_error ("cannot read again: %s: %s", error->message, text);
  g_autofree char *again_text = sb_job_json_write (again, &again_length);
  if (!sb_state_equal (state, again) || !g_str_equal (text, again_text))
    g_error ("not the same: %s\n%s", text, again_text);
}

static void
read_json (const guint8 *data, gsize size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) state = sb_job_json_read ((const char *)data, size, find_any, NULL, &error);
  if (state != NULL)
    check_fixed_point (state);
  else
    check_error (error);
}

static void
load_file (const guint8 *data, gsize size)
{
  g_autoptr (GError) error = NULL;
  if (path == NULL)
    path = g_strdup_printf ("%s/stickleback-fuzz-%d.stickleback", g_get_tmp_dir (), getpid ());
  if (!g_file_set_contents (path, (const char *)data, (gssize)size, &error))
    g_error ("%s", error->message);
  g_autoptr (SbState) state = sb_job_file_load (path, NULL, &error);
  g_unlink (path);
  if (state != NULL)
    check_fixed_point (state);
  else
    check_error (error);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  if (size >= 2 && memcmp (data, "PK", 2) == 0)
    load_file (data, size);
  else
    read_json (data, size);
  return 0;
}

#ifndef SB_FUZZER
static SbState *
make_job (void)
{
  SbDesign *design = sb_design_new (get_picture (), "rue");
  if (!sb_design_prepare (design, NULL, NULL))
    g_error ("the seed's border does not grow");
  guint id;
  g_autoptr (SbState) empty = sb_state_new ("iso_a6_105x148mm", 105000, 148000);
  g_autoptr (SbState) with_design = sb_edit_add_design (empty, design, &id);
  SbPiece pieces[] = {{.design_id = id, .at = {20000, 20000}},
                      {.design_id = id, .at = {40000, 20000}, .turn = 45000, .pinned = TRUE}};
  g_autoptr (SbPage) page = sb_page_new (0, pieces, G_N_ELEMENTS (pieces));
  g_autoptr (SbState) with_page = sb_edit_set_pages (with_design, &page, 1);
  return sb_edit_set_printer (with_page, "shed");
}

/* As a newer version might write it. */
static GBytes *
make_newer (const char *json)
{
  g_autoptr (GString) text = g_string_new (json);
  g_string_replace (text, "\"pinned\":", "\"new\":[{\"a\":null}],\"pinned\":", 0);
  g_string_replace (text, "\"border\":{", "\"border\":{\"new\":{\"deep\":-0.5},", 0);
  return g_bytes_new (text->str, text->len);
}

/* Number 0 is a whole file; most are its JSON, where the checks are. */
static GBytes *
make_seed (int which)
{
  if (which > 4)
    return NULL;
  g_autoptr (SbState) state = make_job ();
  gsize length;
  g_autofree char *json = sb_job_json_write (state, &length);
  if (which == 4)
    return make_newer (json);
  if (which > 0)
    return g_bytes_new (json, length);

  g_autofree char *file = g_strdup_printf ("%s/stickleback-seed-%d", g_get_tmp_dir (), getpid ());
  char *contents;
  if (!sb_job_file_save (state, file, NULL, NULL) ||
      !g_file_get_contents (file, &contents, &length, NULL))
    g_error ("cannot write a seed");
  g_unlink (file);
  return g_bytes_new_take (contents, length);
}

int
main (int argc, char **argv)
{
  return sb_fuzz_main (argc, argv, make_seed, NULL);
}
#endif
