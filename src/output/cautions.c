/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/cautions.h"

#include <glib/gi18n.h>

const char *
sb_caution_get_text (SbCaution caution)
{
  switch (caution) {
  case SB_CAUTION_NOT_FOOD:
    return _ ("Not for food, skin or mouth: labels and their adhesive are not made for it.");
  case SB_CAUTION_SPRAYS:
    return _ ("Use sprays and solvents outdoors or with strong airflow, away from flames and as "
              "the can says; let them dry fully before you pack or hand out anything.");
  case SB_CAUTION_FILM:
    return _ ("Film and vinyl can melt in the hot fuser of a laser printer and damage it: use only "
              "stock that its maker rates for your kind of printer. Never feed a label sheet "
              "through a laser printer twice, nor one that stickers were taken off.");
  case SB_CAUTION_SMALL_PARTS:
    return _ ("Small parts: not for children under three, who can choke on them. Goods for "
              "children may have to be tested and marked.");
  case SB_CAUTION_STAPLES:
    return _ ("Staples are loose sharp metal: for packs that young children may open use tape, a "
              "sticker or glue instead.");
  case SB_CAUTION_KNIFE:
    return _ ("Knife: a sharp blade, a cutting mat and a metal ruler; light strokes, never towards "
              "you, your other hand behind the blade. Adults do the knife work. Blades go into a "
              "closed, puncture-proof container.");
  case SB_CAUTION_BAGS:
    return _ ("Keep bags away from babies and small children.");
  case SB_CAUTION_LOCAL_RULES:
  default:
    return _ ("Rules differ by place: those of yours, and what the makers of paper and printer "
              "say, have the last word.");
  }
}
