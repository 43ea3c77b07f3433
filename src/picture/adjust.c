/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/adjust.h"

#include <lcms2.h>
#include <math.h>

#define TABLE_POINTS 33
#define MOST_LIGHTER 25.0
#define MOST_WARMER_B 20.0
#define MOST_WARMER_A 5.0
/* Of the slope at the ends; at 1 full contrast would be flat there. */
#define CONTRAST_STRENGTH 0.8

gboolean
sb_adjust_is_none (const SbAdjust *adjust)
{
  return adjust->brightness == 0 && adjust->contrast == 0 && adjust->warmth == 0 &&
         adjust->saturation == 0;
}

/* Black and white stay what they are, so that no tint is printed on paper that was white. */
static void
adjust_lab (const SbAdjust *adjust, cmsCIELab *lab)
{
  double t = CLAMP (lab->L / 100, 0, 1);

  t += adjust->brightness / 100 * MOST_LIGHTER / 100 * 4 * t * (1 - t);
  t -= adjust->contrast / 100 * CONTRAST_STRENGTH * sin (2 * G_PI * t) / (2 * G_PI);
  t = CLAMP (t, 0, 1);
  double middle = sin (G_PI * t), chroma = 1 + adjust->saturation / 100;
  lab->L = 100 * t;
  lab->a = lab->a * chroma + adjust->warmth / 100 * MOST_WARMER_A * middle;
  lab->b = lab->b * chroma + adjust->warmth / 100 * MOST_WARMER_B * middle;
}

static cmsInt32Number
sample_table (const cmsUInt16Number in[], cmsUInt16Number out[], void *data)
{
  cmsCIELab lab;

  cmsLabEncoded2Float (&lab, in);
  adjust_lab (data, &lab);
  cmsFloat2LabEncoded (out, &lab);
  return TRUE;
}

/* A profile from Lab to Lab, as ICC.1 has for effects. */
static cmsHPROFILE
abstract_profile (const SbAdjust *adjust)
{
  cmsHPROFILE profile = cmsCreateProfilePlaceholder (NULL);
  cmsPipeline *pipeline = cmsPipelineAlloc (NULL, 3, 3);
  cmsStage *table = cmsStageAllocCLut16bit (NULL, TABLE_POINTS, 3, 3, NULL);

  cmsSetProfileVersion (profile, 4.3);
  cmsSetDeviceClass (profile, cmsSigAbstractClass);
  cmsSetColorSpace (profile, cmsSigLabData);
  cmsSetPCS (profile, cmsSigLabData);
  cmsStageSampleCLut16bit (table, sample_table, (void *)adjust, 0);
  cmsPipelineInsertStage (pipeline, cmsAT_END, table);
  cmsWriteTag (profile, cmsSigMediaWhitePointTag, cmsD50_XYZ ());
  cmsWriteTag (profile, cmsSigAToB0Tag, pipeline);
  cmsPipelineFree (pipeline);
  return profile;
}

SbColour *
sb_adjust_new (const SbAdjust *adjust)
{
  if (sb_adjust_is_none (adjust))
    return NULL;

  cmsHPROFILE srgb = cmsCreate_sRGBProfile (), change = abstract_profile (adjust);
  cmsHPROFILE chain[3] = {srgb, change, srgb};
  cmsHTRANSFORM transform = cmsCreateMultiprofileTransform (
      chain, 3, TYPE_RGBA_8, TYPE_RGBA_8, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOCACHE);

  cmsCloseProfile (srgb);
  cmsCloseProfile (change);
  return sb_colour_take (transform);
}
