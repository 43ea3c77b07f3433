/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Typed lengths, papers and margins, and the outlines of a job: what is read must be within its
 * range and be written and read again as the same; what is not must say so in valid text. */
#include "fuzz.h"

#include <math.h>

#include "geometry/outline.h"
#include "measure/paper.h"

static void
check_error (gboolean read, GError *error)
{
  if (read ? error != NULL : error == NULL || !g_utf8_validate (error->message, -1, NULL))
    g_error ("a reader must either read or say why not");
}

static void
try_length (const char *text)
{
  g_autoptr (GError) error = NULL;
  double mm;
  SbUnit unit = SB_UNIT_INCH;
  gboolean read = sb_length_parse_with_unit (text, &unit, &mm, &error);
  check_error (read, error);
  if (!read)
    return;
  g_autofree char *written = sb_length_format (mm, unit);
  double again;
  if (!(fabs (mm) <= 10000) || !sb_length_parse (written, SB_UNIT_MM, &again, NULL) ||
      fabs (mm - again) > 0.13) /* half of 0.01 in */
    g_error ("\"%s\" became \"%s\"", text, written);
}

static void
try_paper (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL, *again = NULL;
  sb_um width, height, upright_width, upright_height;
  gboolean read = sb_paper_parse (text, &name, &width, &height, &error);
  check_error (read, error);
  if (read &&
      (!sb_paper_parse (name, &again, &upright_width, &upright_height, NULL) ||
       !g_str_equal (name, again) || MIN (width, height) < 20000 || MAX (width, height) > 1500000))
    g_error ("\"%s\" became \"%s\"", text, name);
}

static void
try_margins (const char *text)
{
  g_autoptr (GError) error = NULL;
  SbMargins m;
  gboolean read = sb_margins_parse (text, SB_UNIT_MM, &m, &error);
  check_error (read, error);
  if (read && MIN (MIN (m.top, m.right), MIN (m.bottom, m.left)) < 0)
    g_error ("\"%s\" gave a negative margin", text);
}

static void
try_outline (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbOutline) outline = sb_outline_from_svg (text, &error);
  check_error (outline != NULL, error);
  if (outline == NULL)
    return;
  g_autofree char *written = sb_outline_to_svg (outline);
  g_autoptr (SbOutline) again = sb_outline_from_svg (written, NULL);
  if (again == NULL)
    g_error ("cannot read \"%s\"", written);
  /* Rounding to 0.1 um may flatten a ring to nothing once, and then no more. */
  g_autofree char *twice = sb_outline_to_svg (again);
  g_autoptr (SbOutline) third = sb_outline_from_svg (twice, NULL);
  g_autofree char *thrice = sb_outline_to_svg (third);
  if (!g_str_equal (twice, thrice))
    g_error ("\"%s\" is no fixed point", twice);
  g_autoptr (SbPolygon) polygon = sb_outline_flatten (outline, SB_TRANSFORM_IDENTITY, 10);
  if (!isfinite (sb_polygon_get_area_mm2 (polygon)) ||
      !isfinite (sb_outline_get_perimeter_mm (outline)))
    g_error ("\"%s\" has no measure", text);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autofree char *text = g_strndup ((const char *)data, size);
  try_length (text);
  try_paper (text);
  try_margins (text);
  try_outline (text);
  return 0;
}

#ifndef SB_FUZZER
static GBytes *
make_seed (int which)
{
  static const char *const seeds[] = {
      "1 1/2 in",
      "50,8 mm",
      "½\"",
      "-0.25pt",
      "8.5x11in",
      "custom_180x250mm_180x250mm",
      "na_letter_8.5x11in",
      "4in × 6in",
      "3.05, 3.05, 12.7, 3.05",
      "3,05; 3,05; 12,7; 3,05in",
      "M 0.0000,0.0000 L 10.0000,0.5000 C 10.0000,5.0000 5.0000,10.0000 0.0000,10.0000 Z",
      "M 1,1 C 20,1 20,20 1,20 Z M 3,3 L 3,5 L 5,5 Z",
  };
  return which < (int)G_N_ELEMENTS (seeds)
             ? g_bytes_new_static (seeds[which], strlen (seeds[which]))
             : NULL;
}

int
main (int argc, char **argv)
{
  return sb_fuzz_main (argc, argv, make_seed, NULL);
}
#endif
