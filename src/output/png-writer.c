/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/png-writer.h"

#include <math.h>

#include "measure/length.h"

/* libpng's own reports on the terminal say nothing to a maker; a failure is told by the caller. */
static void
jump_back (png_structp png, png_const_charp message)
{
  png_longjmp (png, 1);
}

static void
keep_silent (png_structp png, png_const_charp message)
{
}

static void
flush (png_structp png)
{
}

png_structp
sb_png_writer_new (gpointer sink, png_rw_ptr append)
{
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, jump_back, keep_silent);
  png_set_write_fn (png, sink, append, flush);
  return png;
}

void
sb_png_writer_begin (png_structp png, png_infop info, int width, int height, int colour_type,
                     double dpi)
{
  png_set_IHDR (png, info, (png_uint_32)width, (png_uint_32)height, 8, colour_type,
                PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  /* PNG specification, 11.3.5.3: whole pixels a metre; 600 dpi is 23622. */
  png_uint_32 per_metre = (png_uint_32)lround (dpi / (SB_MM_PER_INCH / 1000));
  png_set_pHYs (png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
  png_set_sRGB (png, info, PNG_sRGB_INTENT_RELATIVE);
  png_write_info (png, info);
}
