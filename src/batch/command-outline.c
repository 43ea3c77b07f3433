/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>
#include <string.h>

#include "job/safe-file.h"

static void
append_number (GString *svg, const char *before, double mm, const char *after)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.4f", mm);
  g_string_append_printf (svg, "%s%s%s", before, number, after);
}

/* The user unit is one millimetre and the artwork's top left corner is at 0,0; the view shows the
 * outlines and all of the picture. Holes are filled, so that each ring is an outline. */
static char *
draw (SbOutline *outline, double width_mm, double height_mm)
{
  SbBox picture = {0, 0, width_mm, height_mm};
  SbBox view = sb_box_union (sb_outline_get_box (outline), picture);
  GString *svg = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                               "<svg xmlns=\"http://www.w3.org/2000/svg\"");
  append_number (svg, " width=\"", view.x1 - view.x0, "mm\"");
  append_number (svg, " height=\"", view.y1 - view.y0, "mm\"");
  append_number (svg, " viewBox=\"", view.x0, " ");
  append_number (svg, "", view.y0, " ");
  append_number (svg, "", view.x1 - view.x0, " ");
  append_number (svg, "", view.y1 - view.y0, "\">\n");
  for (guint i = 0; i < sb_outline_get_n_rings (outline); i++) {
    g_autofree char *path = sb_ring_to_svg (sb_outline_get_ring (outline, i));
    g_string_append_printf (
        svg, "<path fill=\"none\" stroke=\"#808080\" stroke-width=\"0.2\" d=\"%s\"/>\n", path);
  }
  g_string_append (svg, "</svg>\n");
  return g_string_free (svg, FALSE);
}

static gboolean
write_text (const char *path, const char *text, GError **error)
{
  SbSafeFile *file = sb_safe_file_open (path, error);
  if (file == NULL)
    return FALSE;
  sb_safe_file_write (file, text, strlen (text));
  return sb_safe_file_commit (file, error);
}

static int
outline_picture (const char *path, const char *out, const char *size, const SbBorderParams *border)
{
  double width_mm, height_mm;
  g_autoptr (SbPicture) picture = sb_command_read_picture (path, size, &width_mm, &height_mm);
  if (picture == NULL)
    return SB_EXIT_USE;
  g_autoptr (SbDesign) design = sb_design_new (picture, path);
  sb_design_set_size (design, width_mm, height_mm);
  sb_design_set_border (design, border);
  g_autoptr (GError) error = NULL;
  if (!sb_design_prepare (design, NULL, &error))
    return sb_command_fail (path, error);
  g_autofree char *svg = draw (sb_design_get_outline (design), width_mm, height_mm);
  if (!write_text (out, svg, &error))
    return sb_command_fail (out, error);
  return SB_EXIT_DONE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_autofree char *size = NULL;
  g_autofree char *width = NULL;
  g_autofree char *nook = NULL;
  const GOptionEntry entries[] = {
      {"size", 0, 0, G_OPTION_ARG_STRING, &size,
       N_ ("Longest side of the whole picture, its clear rim included (what the file says)"),
       N_ ("LENGTH")},
      {"border", 0, 0, G_OPTION_ARG_STRING, &width, N_ ("Border around the artwork (3mm)"),
       N_ ("LENGTH")},
      {"nook", 0, 0, G_OPTION_ARG_STRING, &nook,
       N_ ("Tightest inward bend of the outline, as a radius (3mm)"), N_ ("LENGTH")},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  SbBorderParams border = sb_border_params_default ();
  if (!sb_command_read_length ("--border", width, 0, SB_BORDER_MOST_MM, &border.width_mm) ||
      !sb_command_read_length ("--nook", nook, 0, SB_BORDER_MOST_MM, &border.nook_mm))
    return SB_EXIT_USE;
  return outline_picture (argv[0], argv[1], size, &border);
}

const SbCommand sb_command_outline = {
    .name = "outline",
    .arguments = N_ ("PICTURE OUT.svg"),
    .summary = N_ ("Write the outline of a picture as SVG paths"),
    .description =
        N_ ("One path an outline, in millimetres, the picture's top left corner at 0,0."),
    .run = run,
};
