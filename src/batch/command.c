/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>
#include <string.h>

#include "job/file.h"
#include "job/json-text.h"
#include "output/export.h"
#include "printing/printers.h"

#define THUMBNAIL_SIDE 256 /* px: "large" of the freedesktop.org thumbnail specification */

/* gettext answers an empty text with the catalogue's header. */
static const char *
translate (const char *text)
{
  return *text != '\0' ? _ (text) : text;
}

gboolean
sb_command_parse (const SbCommand *command, const GOptionEntry *entries, int *argc, char ***argv,
                  int least, int most)
{
  g_autofree char *called = g_strdup_printf ("stickleback %s", command->name);
  g_set_prgname (called);
  g_autoptr (GOptionContext) context = g_option_context_new (translate (command->arguments));
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_summary (context, _ (command->summary));
  if (command->description != NULL)
    g_option_context_set_description (context, _ (command->description));
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);

  g_autoptr (GError) error = NULL;
  if (!g_option_context_parse (context, argc, argv, &error)) {
    sb_command_misuse (command->name, "%s", error->message);
    return FALSE;
  }
  ++*argv;
  --*argc;
  if (*argc >= least && *argc <= most)
    return TRUE;
  sb_command_misuse (command->name, _ ("expected: %s %s"), called, translate (command->arguments));
  return FALSE;
}

static int
get_status (const GError *error)
{
  /* What does not get to the printer was not written either. */
  gboolean write = g_error_matches (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE) ||
                   g_error_matches (error, SB_PRINT_ERROR, SB_PRINT_ERROR_NO_SERVICE) ||
                   g_error_matches (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED) ||
                   g_error_matches (error, SB_PRINT_ERROR, SB_PRINT_ERROR_SEND);
  return write ? SB_EXIT_WRITE : SB_EXIT_USE;
}

/* The message without the file's name, where it begins with that. */
static const char *
skip_name (const char *message, const char *name)
{
  gsize n = strlen (name);
  if (strncmp (message, name, n) != 0)
    return message;
  if (g_str_has_prefix (message + n, ": "))
    return message + n + 2;
  return message[n] == ' ' ? message + n + 1 : message;
}

/* One line, whatever the message holds; the file is named once. */
static void
print_reason (const char *path, const char *message)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_autofree char *base = g_filename_display_basename (path);
  g_autofree char *line = g_strdup (skip_name (skip_name (message, shown), base));
  g_strdelimit (line, "\r\n", ' ');
  g_printerr ("stickleback: %s: %s\n", shown, line);
}

int
sb_command_fail (const char *path, const GError *error)
{
  print_reason (path, error->message);
  return get_status (error);
}

int
sb_command_misuse (const char *path, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *message = g_strdup_vprintf (format, args);
  va_end (args);
  print_reason (path, message);
  return SB_EXIT_USE;
}

gboolean
sb_command_read_length (const char *option, const char *text, double least_mm, double most_mm,
                        double *mm)
{
  if (text == NULL)
    return TRUE;
  g_autoptr (GError) error = NULL;
  if (!sb_length_parse (text, SB_UNIT_MM, mm, &error)) {
    sb_command_fail (option, error);
    return FALSE;
  }
  if (*mm >= least_mm && *mm <= most_mm)
    return TRUE;
  sb_command_misuse (option, _ ("%s is not between %g mm and %g mm"), text, least_mm, most_mm);
  return FALSE;
}

SbPicture *
sb_command_read_picture (const char *path, const char *size, double *width_mm, double *height_mm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_load (path, &error);
  if (picture == NULL) {
    sb_command_fail (path, error);
    return NULL;
  }
  gboolean stated = sb_picture_get_size_mm (picture, width_mm, height_mm);
  if (!stated && size == NULL) {
    sb_command_misuse (path, _ ("it does not say how large it is to be printed; "
                                "give its longest side with --size, such as --size=2in"));
    return NULL;
  }
  if (!stated) {
    *width_mm = sb_picture_get_width (picture);
    *height_mm = sb_picture_get_height (picture);
  }
  double longest = MAX (*width_mm, *height_mm);
  double wanted = longest;
  if (!sb_command_read_length ("--size", size, SB_DESIGN_LEAST_MM, SB_DESIGN_MOST_MM, &wanted))
    return NULL;
  *width_mm *= wanted / longest;
  *height_mm *= wanted / longest;
  return g_steal_pointer (&picture);
}

char *
sb_command_get_name (const char *path)
{
  g_autofree char *base = g_path_get_basename (path);
  char *name = g_filename_display_name (base);
  char *dot = strrchr (name, '.');
  if (dot != NULL && dot != name)
    *dot = '\0';
  return name;
}

void
sb_command_cleanup_clear (SbCommandCleanup *cleanup)
{
  g_free (cleanup->paper);
  g_free (cleanup->tolerance);
  g_free (cleanup->specks);
  g_free (cleanup->white_point);
  g_free (cleanup->black_point);
}

static gboolean
read_paper (const char *text, const SbPicture *picture, SbCleanup *recipe)
{
  if (text == NULL)
    return TRUE;
  gboolean keep = g_str_equal (text, "keep");
  recipe->remove_paper = g_str_equal (text, "remove");
  recipe->even_light = recipe->remove_paper || keep;
  recipe->whiten = keep;
  if (keep && sb_picture_has_alpha (picture)) /* has none to keep */
    recipe->even_light = recipe->whiten = FALSE;
  if (recipe->remove_paper || keep || g_str_equal (text, "leave"))
    return TRUE;
  sb_command_misuse ("--paper", _ ("%s is none of remove, keep and leave"), text);
  return FALSE;
}

static gboolean
read_number (const char *option, const char *text, double least, double most, double *value)
{
  if (text == NULL)
    return TRUE;
  char *end;
  *value = g_ascii_strtod (text, &end);
  if (end != text && *end == '\0' && *value >= least && *value <= most)
    return TRUE;
  sb_command_misuse (option, _ ("%s is not between %g and %g"), text, least, most);
  return FALSE;
}

/* A point that is given is also meant. */
static gboolean
read_points (const SbCommandCleanup *cleanup, SbCleanup *recipe)
{
  recipe->whiten |= cleanup->white_point != NULL || cleanup->black_point != NULL;
  return read_number ("--white-point", cleanup->white_point, 0, SB_CLEANUP_POINT_MOST,
                      &recipe->white_point) &&
         read_number ("--black-point", cleanup->black_point, 0, SB_CLEANUP_POINT_MOST,
                      &recipe->black_point);
}

gboolean
sb_command_read_cleanup (const SbCommandCleanup *cleanup, SbPicture *picture, SbCleanup *recipe)
{
  g_autoptr (SbPicture) origin = sb_picture_get_origin (picture);

  recipe->crisp |= cleanup->hard_edges;
  return read_paper (cleanup->paper, origin, recipe) && read_points (cleanup, recipe) &&
         read_number ("--tolerance", cleanup->tolerance, SB_CLEANUP_TOLERANCE_LEAST,
                      SB_CLEANUP_TOLERANCE_MOST, &recipe->tolerance) &&
         sb_command_read_length ("--specks", cleanup->specks, 0, SB_CLEANUP_SPECK_MOST_MM,
                                 &recipe->speck_mm);
}

void
sb_command_print_design (const SbDesign *design)
{
  g_autofree char *size =
      sb_length_format_size (design->width_mm, design->height_mm, sb_unit_from_locale ());
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);
  if (dpi > 0)
    g_print (_ ("%s: %s, %d dpi\n"), design->name, size, dpi);
  else
    g_print ("%s: %s\n", design->name, size);
}

SbState *
sb_command_load (const char *path)
{
  g_autoptr (GError) error = NULL;
  SbState *state = sb_job_file_load (path, NULL, &error);
  if (state == NULL)
    sb_command_fail (path, error);
  return state;
}

int
sb_command_save (const SbState *state, const char *path)
{
  g_autoptr (GError) error = NULL;
  /* A job without its thumbnail is still the whole job. */
  g_autoptr (GBytes) thumbnail = sb_export_thumbnail (state, THUMBNAIL_SIDE, NULL);
  if (!sb_job_file_save (state, path, thumbnail, &error))
    return sb_command_fail (path, error);
  return SB_EXIT_DONE;
}

void
sb_command_print_json (JsonObject *object)
{
  g_autoptr (JsonNode) root = json_node_init_object (json_node_alloc (), object);
  json_object_unref (object);
  g_autofree char *text = sb_json_to_text (root, NULL);
  g_print ("%s\n", text);
}
