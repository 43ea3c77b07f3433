/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any bytes as a picture: it opens and decodes, or an error says why; never a crash, a critical, an
 * error without a name, or a surface of another size than the header says. */
#include "fuzz.h"

#include "make-photo.h"
#include "make-picture.h"
#include "picture/picture.h"

/* Keeps one input from taking the whole time: what is larger is opened but not decoded. */
#define MOST_PIXELS (1 << 20)

static void
check_error (const GError *error)
{
  g_assert (error != NULL);
  g_assert (error->domain == SB_PICTURE_ERROR || error->domain == G_IO_ERROR);
  g_assert (strstr (error->message, "kale") != NULL);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPicture) picture = sb_picture_new (bytes, "kale", &error);

  if (picture == NULL) {
    check_error (error);
    return 0;
  }
  int width = sb_picture_get_width (picture), height = sb_picture_get_height (picture);
  double w_mm, h_mm;
  g_assert (width > 0 && height > 0);
  if (sb_picture_get_size_mm (picture, &w_mm, &h_mm))
    g_assert (w_mm > 0 && h_mm > 0);
  if ((gint64)width * height > MOST_PIXELS)
    return 0;

  cairo_surface_t *surface = sb_picture_decode (picture, NULL, &error);
  if (surface == NULL) {
    check_error (error);
    return 0;
  }
  g_assert (cairo_image_surface_get_width (surface) == width);
  g_assert (cairo_image_surface_get_height (surface) == height);
  cairo_surface_destroy (surface);
  return 0;
}

#ifndef SB_FUZZER
static GBytes *
make_seed (int which)
{
  static const char svg[] =
      "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='12Q' viewBox='0 0 9 9'>"
      "<defs><linearGradient id='g'><stop offset='1' stop-color='red'/></linearGradient></defs>"
      "<g transform='rotate(9)'><path d='M0 0C1 2 3 4 5 6z' fill='url(#g)'/></g>"
      "<use href='#g'/></svg>";
  SbMakePng png = {.width = 13, .height = 11, .depth = 8, .colour = PNG_COLOR_TYPE_RGBA};
  SbMakeTiff tags = {.orientation = 6, .x_above = 300, .y_above = 300, .below = 1, .unit = 2};
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (16, 12);

  switch (which) {
  case 0:
    return sb_make_png (&png);
  case 1:
    png.interlaced = png.transparent = TRUE;
    png.colour = PNG_COLOR_TYPE_PALETTE;
    png.depth = 4;
    png.x_per_metre = png.y_per_metre = 11811;
    png.physical_unit = PNG_RESOLUTION_METER;
    return sb_make_png (&png);
  case 2:
    png.depth = 16;
    png.gamma = 1;
    png.colour = PNG_COLOR_TYPE_RGB;
    return sb_make_png (&png);
  case 3:
    return g_bytes_new_static (svg, sizeof svg - 1);
  case 4:
    return sb_make_exif_jpeg (16, 12, &tags);
  case 5:
    tags.width = 8;
    tags.height = 6;
    tags.alpha = TRUE;
    return sb_make_tiff (&tags);
  case 6:
    return sb_make_with_pixbuf (pixbuf, "bmp", NULL, NULL);
  case 7:
    return sb_make_with_pixbuf (pixbuf, "tiff", NULL, NULL);
  default:
    return NULL;
  }
}

/* Gives the chunks of a PNG their right checksums, or all changes would end there. */
static void
repair_png (GByteArray *bytes)
{
  if (bytes->len < 8 || png_sig_cmp (bytes->data, 0, 8) != 0)
    return;
  for (gsize at = 8; at + 12 <= bytes->len;) {
    guint32 length;
    memcpy (&length, bytes->data + at, 4);
    length = GUINT32_FROM_BE (length);
    if (length > bytes->len - at - 12)
      return;
    sb_make_put32 (bytes->data + at + 8 + length,
                   sb_make_crc (bytes->data + at + 4, 4 + (gsize)length));
    at += 12 + (gsize)length;
  }
}

int
main (int argc, char **argv)
{
  return sb_fuzz_main (argc, argv, make_seed, repair_png);
}
#endif
