/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What writing a page and a sticker as PNG have in common. Private to the room. */
#pragma once

#include <glib.h>
#include <png.h>

G_BEGIN_DECLS

/* A writer that hands its bytes to `append` (which finds `sink` by png_get_io_ptr) and reports
 * nothing on the terminal: after an error it jumps back to png_jmpbuf. Destroy it with
 * png_destroy_write_struct. */
png_structp sb_png_writer_new (gpointer sink, png_rw_ptr append);

/* Size, kind of pixels (PNG_COLOR_TYPE_RGB or _RGBA, 8 bits a channel in sRGB) and resolution; rows
 * follow. */
void sb_png_writer_begin (png_structp png, png_infop info, int width, int height, int colour_type,
                          double dpi);

G_END_DECLS
