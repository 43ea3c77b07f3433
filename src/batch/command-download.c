/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "output/download.h"

#define MOST_SECONDS 3600
#define MOST_COPIES 100
#define MOST_MEGABYTES 4000.0
#define BYTES_PER_MEGABYTE 1e6

static void
print_json (const SbDownload *download, guint64 most_bytes)
{
  JsonArray *files = json_array_new ();
  for (guint i = 0; i < download->files->len; i++) {
    const SbDownloadFile *file = download->files->pdata[i];
    JsonObject *object = json_object_new ();
    json_object_set_string_member (object, "name", file->name);
    json_object_set_int_member (object, "bytes", (gint64)file->bytes);
    json_object_set_boolean_member (object, "over_limit", file->bytes > most_bytes);
    json_array_add_object_element (files, object);
  }
  JsonObject *object = json_object_new ();
  json_object_set_array_member (object, "files", files);
  json_object_set_int_member (object, "bytes", (gint64)download->bytes);
  json_object_set_int_member (object, "too_large", download->too_large);
  sb_command_print_json (object);
}

static void
print_text (const SbDownload *download, guint64 most_bytes)
{
  for (guint i = 0; i < download->files->len; i++) {
    const SbDownloadFile *file = download->files->pdata[i];
    g_autofree char *size = g_format_size (file->bytes);
    g_print ("%s: %s%s\n", file->name, size,
             file->bytes > most_bytes ? _ (", over the limit, and cannot be split") : "");
  }
  g_autofree char *all = g_format_size (download->bytes);
  g_print (_ ("in all: %s\n"), all);
  if (download->too_large > 0)
    g_printerr (ngettext ("stickleback: %u design is too large for the paper and was left out\n",
                          "stickleback: %u designs are too large for the paper and were left out\n",
                          download->too_large),
                download->too_large);
}

/* Both where none is named. */
static gboolean
read_papers (const char *text, SbDownloadParams *params)
{
  params->letter = text == NULL || g_str_equal (text, "letter");
  params->a4 = text == NULL || g_str_equal (text, "a4");
  if (params->letter || params->a4)
    return TRUE;
  sb_command_misuse ("--paper", _ ("%s is neither letter nor a4"), text);
  return FALSE;
}

static gboolean
check_numbers (const SbDownloadParams *params, double megabytes)
{
  if (!(params->seconds >= 0 && params->seconds <= MOST_SECONDS))
    sb_command_misuse ("--seconds", _ ("%g is not between 0 and %d"), params->seconds,
                       MOST_SECONDS);
  else if (params->copies < 1 || params->copies > MOST_COPIES)
    sb_command_misuse ("--copies", _ ("%d is not between 1 and %d"), params->copies, MOST_COPIES);
  else if (!(megabytes >= 1 && megabytes <= MOST_MEGABYTES))
    sb_command_misuse ("--limit", _ ("%g is not between %g and %g"), megabytes, 1.0,
                       MOST_MEGABYTES);
  else
    return TRUE;
  return FALSE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  SbDownloadParams params = {.copies = 1, .seconds = 5};
  gboolean json = FALSE, no_pictures = FALSE;
  double megabytes = SB_DOWNLOAD_USUAL_BYTES / BYTES_PER_MEGABYTE;
  g_autofree char *paper = NULL;
  const GOptionEntry entries[] = {
      {"paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_ ("Only letter or only a4 (both)"),
       N_ ("PAPER")},
      {"copies", 0, 0, G_OPTION_ARG_INT, &params.copies, N_ ("Copies of each design (1)"),
       N_ ("N")},
      {"fill", 0, 0, G_OPTION_ARG_NONE, &params.fill, N_ ("Put freebies into the gaps"), NULL},
      {"no-pictures", 0, 0, G_OPTION_ARG_NONE, &no_pictures, N_ ("PDFs only, no PNGs"), NULL},
      {"limit", 0, 0, G_OPTION_ARG_DOUBLE, &megabytes,
       N_ ("Split what is larger than so many megabytes (20)"), N_ ("MB")},
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &params.seconds, N_ ("How long to look for better"),
       N_ ("S")},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2) || !read_papers (paper, &params) ||
      !check_numbers (&params, megabytes))
    return SB_EXIT_USE;
  if (!g_file_test (argv[1], G_FILE_TEST_IS_DIR))
    return sb_command_misuse (argv[1], _ ("there is no such folder"));
  g_autoptr (SbState) state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  params.folder = argv[1];
  params.pictures = !no_pictures;
  params.most_bytes = (guint64)(megabytes * BYTES_PER_MEGABYTE);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDownload) download = sb_download_make (state, &params, NULL, NULL, NULL, &error);
  if (download == NULL)
    return sb_command_fail (argv[0], error);
  if (json)
    print_json (download, params.most_bytes);
  else
    print_text (download, params.most_bytes);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_download = {
    .name = "download",
    .arguments = N_ ("JOB FOLDER"),
    .summary = N_ ("Write the files that customers print at home, for Letter and A4"),
    .description = N_ ("Title, maker and licence are those of the order: see “order --text”. Files "
                       "of the same names are replaced."),
    .run = run,
};
