/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * measure-page FILE.pgm|.pwg|.urf: the first page's size and the box of its dark pixels, in pixels:
 *
 *   WIDTH HEIGHT X0 Y0 X1 Y1
 *
 * PWG and Apple raster are read by libcups.
 *
 * measure-page --black SIDE OUT.png and --noise SIDE OUT.png make pictures to print. */
#include <cairo.h>
#include <cups/cups.h>
#include <cups/raster.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct {
  unsigned width, height, x0, y0, x1, y1;
} Box;

static void
take_row (Box *box, unsigned y, const unsigned char *row, unsigned bytes)
{
  for (unsigned x = 0; x < box->width; x++) {
    const unsigned char *pixel = row + (size_t)x * bytes;
    if (pixel[bytes > 1 ? 1 : 0] >= 128)
      continue;
    box->x0 = x < box->x0 ? x : box->x0;
    box->y0 = y < box->y0 ? y : box->y0;
    box->x1 = x + 1 > box->x1 ? x + 1 : box->x1;
    box->y1 = y + 1 > box->y1 ? y + 1 : box->y1;
  }
}

static Box
begin (unsigned width, unsigned height)
{
  return (Box){width, height, width, height, 0, 0};
}

static int
measure_pgm (FILE *file, Box *box)
{
  unsigned width, height;
  if (fscanf (file, "P5 %u %u 255", &width, &height) != 2 || fgetc (file) == EOF)
    return 0;
  *box = begin (width, height);
  unsigned char *row = malloc (width);
  unsigned y = 0;
  for (; y < height && fread (row, 1, width, file) == width; y++)
    take_row (box, y, row, 1);
  free (row);
  return y == height;
}

static int
measure_raster (FILE *file, Box *box)
{
  cups_page_header2_t header;
  cups_raster_t *raster = cupsRasterOpen (fileno (file), CUPS_RASTER_READ);
  if (raster == NULL || !cupsRasterReadHeader2 (raster, &header) || header.cupsBitsPerColor != 8)
    return 0;
  *box = begin (header.cupsWidth, header.cupsHeight);
  unsigned char *row = malloc (header.cupsBytesPerLine);
  unsigned y = 0;
  for (; y < header.cupsHeight &&
         cupsRasterReadPixels (raster, row, header.cupsBytesPerLine) == header.cupsBytesPerLine;
       y++)
    take_row (box, y, row, header.cupsBitsPerPixel / 8);
  free (row);
  cupsRasterClose (raster);
  return y == header.cupsHeight;
}

static int
make_picture (int noise, int side, const char *path)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, side, side);
  unsigned char *data = cairo_image_surface_get_data (surface);
  size_t n = (size_t)side * (size_t)cairo_image_surface_get_stride (surface);
  unsigned random = 1;
  for (size_t i = 0; noise && i < n; i++) {
    random = random * 1664525u + 1013904223u;
    data[i] = (unsigned char)(random >> 24);
  }
  cairo_surface_mark_dirty (surface);
  int made = cairo_surface_write_to_png (surface, path) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (surface);
  return made;
}

int
main (int argc, char **argv)
{
  if (argc == 4)
    return !make_picture (strcmp (argv[1], "--noise") == 0, atoi (argv[2]), argv[3]);
  FILE *file = argc == 2 ? fopen (argv[1], "rb") : NULL;
  Box box;
  if (file == NULL)
    return 2;
  size_t length = strlen (argv[1]);
  int pgm = length > 4 && strcmp (argv[1] + length - 4, ".pgm") == 0;
  if (!(pgm ? measure_pgm (file, &box) : measure_raster (file, &box))) {
    fprintf (stderr, "%s: not a page\n", argv[1]);
    return 1;
  }
  fclose (file);
  printf ("%u %u %u %u %u %u\n", box.width, box.height, box.x0, box.y0, box.x1, box.y1);
  return 0;
}
