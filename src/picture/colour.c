/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/colour.h"

#include <lcms2.h>
#include <math.h>
#include <stdlib.h>

struct _SbColour {
  cmsHTRANSFORM transform;
};

/* lcms2 leaves extra channels alone when it works in place, so alpha needs no care. Grey is the
 * first of four channels. */
static cmsUInt32Number
input_format (gboolean grey, int bits)
{
  if (grey)
    return bits == 16 ? COLORSPACE_SH (PT_GRAY) | CHANNELS_SH (1) | EXTRA_SH (3) | BYTES_SH (2)
                      : COLORSPACE_SH (PT_GRAY) | CHANNELS_SH (1) | EXTRA_SH (3) | BYTES_SH (1);
  return bits == 16 ? TYPE_RGBA_16 : TYPE_RGBA_8;
}

/* TRUE when no colour of a coarse grid moves by more than one 8-bit step: the profile says sRGB in
 * other words, and the pixels are better left as they are. */
static gboolean
is_identity (SbColour *colour, int bits)
{
  for (int i = 0; i < 9 * 9 * 9; i++) {
    int rgb[3] = {i % 9 * 255 / 8, i / 9 % 9 * 255 / 8, i / 81 * 255 / 8};
    guint8 row8[4] = {(guint8)rgb[0], (guint8)rgb[1], (guint8)rgb[2], 255};
    guint16 row16[4] = {(guint16)(rgb[0] * 257), (guint16)(rgb[1] * 257), (guint16)(rgb[2] * 257),
                        65535};

    sb_colour_apply (colour, bits == 16 ? (void *)row16 : (void *)row8, 1);
    for (int c = 0; c < 3; c++) {
      int moved = bits == 16 ? abs (row16[c] - rgb[c] * 257) : 257 * abs (row8[c] - rgb[c]);
      if (moved > 257)
        return FALSE;
    }
  }
  return TRUE;
}

SbColour *
sb_colour_take (void *transform)
{
  if (transform == NULL)
    return NULL;
  SbColour *colour = g_new0 (SbColour, 1);
  colour->transform = transform;
  return colour;
}

/* Takes ownership of `profile`. */
static SbColour *
colour_new (cmsHPROFILE profile, gboolean grey, int bits)
{
  cmsHPROFILE srgb = cmsCreate_sRGBProfile ();
  /* The optimiser squeezes 16-bit curves into a table that is too coarse for linear light. */
  cmsUInt32Number flags =
      cmsFLAGS_BLACKPOINTCOMPENSATION | cmsFLAGS_NOCACHE | (bits == 16 ? cmsFLAGS_NOOPTIMIZE : 0);
  cmsHTRANSFORM transform =
      cmsCreateTransform (profile, input_format (grey, bits), srgb, input_format (FALSE, bits),
                          INTENT_RELATIVE_COLORIMETRIC, flags);

  cmsCloseProfile (srgb);
  cmsCloseProfile (profile);

  SbColour *colour = sb_colour_take (transform);
  if (colour != NULL && is_identity (colour, bits))
    g_clear_pointer (&colour, sb_colour_free);
  return colour;
}

SbColour *
sb_colour_new_icc (const void *data, gsize size, int bits)
{
  if (size > G_MAXUINT32)
    return NULL;
  cmsHPROFILE profile = cmsOpenProfileFromMem (data, (cmsUInt32Number)size);
  if (profile == NULL)
    return NULL;

  cmsColorSpaceSignature space = cmsGetColorSpace (profile);
  cmsProfileClassSignature kind = cmsGetDeviceClass (profile);
  gboolean usable = (space == cmsSigRgbData || space == cmsSigGrayData) &&
                    kind != cmsSigLinkClass && kind != cmsSigNamedColorClass &&
                    kind != cmsSigAbstractClass;
  if (!usable) {
    cmsCloseProfile (profile);
    return NULL;
  }
  return colour_new (profile, space == cmsSigGrayData, bits);
}

/* The curve of sRGB (IEC 61966-2-1), as lcms2's parametric type 4. */
static cmsToneCurve *
srgb_curve (void)
{
  const cmsFloat64Number p[5] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
  return cmsBuildParametricToneCurve (NULL, 4, p);
}

static const double srgb_xy[8] = {0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06};

static gboolean
is_srgb_xy (const double xy[8])
{
  for (int i = 0; i < 8; i++)
    if (fabs (xy[i] - srgb_xy[i]) > 0.001)
      return FALSE;
  return TRUE;
}

SbColour *
sb_colour_new_gamma (double file_gamma, const double chromaticities[8], int bits)
{
  const double *xy = chromaticities != NULL ? chromaticities : srgb_xy;
  gboolean no_gamma = file_gamma <= 0;

  if (is_srgb_xy (xy) && (no_gamma || fabs (file_gamma * 2.2 - 1) < 0.01))
    return NULL;

  cmsToneCurve *curve = no_gamma ? srgb_curve () : cmsBuildGamma (NULL, 1 / file_gamma);
  if (curve == NULL)
    return NULL;
  cmsToneCurve *curves[3] = {curve, curve, curve};
  cmsCIExyY white = {xy[0], xy[1], 1};
  cmsCIExyYTRIPLE primaries = {{xy[2], xy[3], 1}, {xy[4], xy[5], 1}, {xy[6], xy[7], 1}};
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);

  cmsFreeToneCurve (curve);
  return profile != NULL ? colour_new (profile, FALSE, bits) : NULL;
}

void
sb_colour_free (SbColour *colour)
{
  if (colour == NULL)
    return;
  cmsDeleteTransform (colour->transform);
  g_free (colour);
}

void
sb_colour_apply (SbColour *colour, void *rgba, gsize n)
{
  cmsDoTransform (colour->transform, rgba, rgba, (cmsUInt32Number)n);
}

/* c * a / 255, rounded, without a division. */
static guint32
times255 (guint32 c, guint32 a)
{
  guint32 t = c * a + 128;
  return (t + (t >> 8)) >> 8;
}

guint32
sb_argb_from_rgba8 (const guint8 rgba[4])
{
  guint32 a = rgba[3];
  return a << 24 | times255 (rgba[0], a) << 16 | times255 (rgba[1], a) << 8 | times255 (rgba[2], a);
}

/* A colour above its alpha is not premultiplied; rounding both apart cannot lead there, because
 * c * a / 65535 <= a. */
static guint32
times65535_to_8 (guint64 c, guint64 a)
{
  const guint64 whole = 65535ull * 257;
  return (guint32)((c * a + whole / 2) / whole);
}

guint32
sb_argb_from_rgba16 (const guint16 rgba[4])
{
  guint32 a = ((guint32)rgba[3] + 128) / 257;
  return a << 24 | times65535_to_8 (rgba[0], rgba[3]) << 16 |
         times65535_to_8 (rgba[1], rgba[3]) << 8 | times65535_to_8 (rgba[2], rgba[3]);
}
