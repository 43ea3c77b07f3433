/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-fields.h"

const SbCleanupField sb_cleanup_fields[SB_CLEANUP_N_FIELDS] = {
    [SB_CLEANUP_FIELD_TOLERANCE] = {N_ ("Tolerance"),
                                    N_ ("How far from the paper’s colour still counts as paper"),
                                    N_ ("Tolerance of %s"), G_STRUCT_OFFSET (SbCleanup, tolerance),
                                    SB_CLEANUP_TOLERANCE_LEAST, SB_CLEANUP_TOLERANCE_MOST, 0.5,
                                    FALSE},
    [SB_CLEANUP_FIELD_SMOOTHNESS] = {N_ ("Smoothness"),
                                     N_ ("Over how far colours are averaged before they are "
                                         "compared: more for coarse paper"),
                                     N_ ("Smoothness of %s"),
                                     G_STRUCT_OFFSET (SbCleanup, smoothness_mm), 0,
                                     SB_CLEANUP_SMOOTHNESS_MOST_MM, 0.01, TRUE},
    [SB_CLEANUP_FIELD_SPECKS] = {N_ ("Dust up to"),
                                 N_ ("Specks outside the artwork that are not larger go away"),
                                 N_ ("Dust Size of %s"), G_STRUCT_OFFSET (SbCleanup, speck_mm), 0,
                                 SB_CLEANUP_SPECK_MOST_MM, 0.05, TRUE},
    [SB_CLEANUP_FIELD_HAIRS] = {N_ ("Hairs thinner than"),
                                N_ ("Long thin marks outside the artwork go away"),
                                N_ ("Hair Width of %s"), G_STRUCT_OFFSET (SbCleanup, hair_mm), 0,
                                SB_CLEANUP_HAIR_MOST_MM, 0.01, TRUE},
    [SB_CLEANUP_FIELD_PINHOLES] = {N_ ("Pinholes up to"),
                                   N_ ("Smaller holes in the artwork are filled"),
                                   N_ ("Pinhole Size of %s"),
                                   G_STRUCT_OFFSET (SbCleanup, pinhole_mm), 0,
                                   SB_CLEANUP_SPECK_MOST_MM, 0.05, TRUE},
    [SB_CLEANUP_FIELD_WHITE_POINT] = {N_ ("White point"),
                                      N_ ("How much darker than the paper still becomes white"),
                                      N_ ("White Point of %s"),
                                      G_STRUCT_OFFSET (SbCleanup, white_point), 0,
                                      SB_CLEANUP_POINT_MOST, 0.5, FALSE},
    [SB_CLEANUP_FIELD_BLACK_POINT] = {N_ ("Black point"),
                                      N_ ("How light may be what becomes black"),
                                      N_ ("Black Point of %s"),
                                      G_STRUCT_OFFSET (SbCleanup, black_point), 0,
                                      SB_CLEANUP_POINT_MOST, 0.5, FALSE},
    [SB_CLEANUP_FIELD_BRIGHTNESS] = {N_ ("Brightness"), NULL, N_ ("Brightness of %s"),
                                     G_STRUCT_OFFSET (SbCleanup, adjust.brightness), -100, 100, 1,
                                     FALSE},
    [SB_CLEANUP_FIELD_CONTRAST] = {N_ ("Contrast"), NULL, N_ ("Contrast of %s"),
                                   G_STRUCT_OFFSET (SbCleanup, adjust.contrast), -100, 100, 1,
                                   FALSE},
    [SB_CLEANUP_FIELD_WARMTH] = {N_ ("Warmth"), NULL, N_ ("Warmth of %s"),
                                 G_STRUCT_OFFSET (SbCleanup, adjust.warmth), -100, 100, 1, FALSE},
    [SB_CLEANUP_FIELD_SATURATION] = {N_ ("Saturation"), NULL, N_ ("Saturation of %s"),
                                     G_STRUCT_OFFSET (SbCleanup, adjust.saturation), -100, 100, 1,
                                     FALSE},
};

const SbCleanupToggle sb_cleanup_toggles[SB_CLEANUP_N_TOGGLES] = {
    [SB_CLEANUP_TOGGLE_REMOVE_PAPER] = {N_ ("Take the paper away"),
                                        N_ ("From the picture’s edge inwards"), N_ ("Paper of %s"),
                                        G_STRUCT_OFFSET (SbCleanup, remove_paper)},
    [SB_CLEANUP_TOGGLE_EVEN_LIGHT] = {N_ ("Even out the light"),
                                      N_ ("As if all of the paper were equally bright"),
                                      N_ ("Even Light of %s"),
                                      G_STRUCT_OFFSET (SbCleanup, even_light)},
    [SB_CLEANUP_TOGGLE_OPEN_ENCLOSED] =
        {N_ ("Enclosed paper too"),
         N_ ("Paper that the artwork encloses goes too. Single places are clicked "
             "away with a tool instead."),
         N_ ("Enclosed Paper of %s"), G_STRUCT_OFFSET (SbCleanup, open_enclosed)},
    [SB_CLEANUP_TOGGLE_WHITEN] =
        {N_ ("Whiten the paper"),
         N_ ("Paper that stays becomes white, and so does what is left of it at the "
             "artwork’s edge. Pale washes inside stay as they are."),
         N_ ("White Paper of %s"), G_STRUCT_OFFSET (SbCleanup, whiten)},
    [SB_CLEANUP_TOGGLE_CRISP] = {N_ ("Hard-edged pixels"),
                                 N_ ("For pixel art: enlarged in whole steps, without softening"),
                                 N_ ("Hard Edges of %s"), G_STRUCT_OFFSET (SbCleanup, crisp)},
};

gboolean
sb_cleanup_field_counts (const SbCleanup *recipe, guint i)
{
  switch (i) {
  case SB_CLEANUP_FIELD_TOLERANCE:
  case SB_CLEANUP_FIELD_SMOOTHNESS:
  case SB_CLEANUP_FIELD_SPECKS:
  case SB_CLEANUP_FIELD_HAIRS:
    return recipe->remove_paper || recipe->whiten;
  case SB_CLEANUP_FIELD_PINHOLES:
    return recipe->remove_paper ? recipe->open_enclosed : recipe->whiten;
  case SB_CLEANUP_FIELD_WHITE_POINT:
  case SB_CLEANUP_FIELD_BLACK_POINT:
    return recipe->whiten;
  default:
    return TRUE;
  }
}
