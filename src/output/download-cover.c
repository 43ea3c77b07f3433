/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "output/download-cover.h"

#include <glib/gi18n.h>

#include "order/print-at-home.h"
#include "output/cautions.h"

const char *
sb_download_get_title (const SbState *state)
{
  const char *title = state->order->texts[SB_ORDER_TITLE];
  return *title != '\0' ? title : _ ("Stickers to print at home");
}

static guint
count_stickers (const SbState *home)
{
  guint n = 0;
  for (guint k = 0; k < home->pages->len; k++)
    n += sb_state_get_page (home, k)->n_pieces;
  return n;
}

static void
add_contents (SbLeaflet *cover, const SbState *home)
{
  const SbPaper *paper = sb_paper_find (home->paper_name);
  guint stickers = count_stickers (home), pages = home->pages->len;
  g_autofree char *how_many =
      g_strdup_printf (ngettext ("%u sticker", "%u stickers", stickers), stickers);
  g_autofree char *on = g_strdup_printf (
      ngettext ("%s on %u page of %s paper.", "%s on %u pages of %s paper.", pages), how_many,
      pages, _ (paper->label));
  sb_leaflet_add_title (cover, sb_download_get_title (home));
  sb_leaflet_add_text (cover, on);
}

static void
add_printing (SbLeaflet *cover)
{
  sb_leaflet_add_heading (cover, _ ("Paper"));
  sb_leaflet_add_text (cover,
                       _ ("Sticker paper that its maker rates for your kind of printer: for "
                          "inkjet or for laser. Matte paper dries within minutes, gloss and "
                          "film can take a day. Set the paper type that matches its coating."));
  sb_leaflet_add_heading (cover, _ ("Print"));
  sb_leaflet_add_text (
      cover,
      _ ("Choose 100 % or “actual size”: not “fit”, not “borderless”. Print one page on plain "
         "paper first and measure the bar at its foot: 100 mm must measure 99 to 101 mm. Else "
         "look for a setting that scales. Then feed the sticker paper sheet by sheet."));
}

static void
add_cutting (SbLeaflet *cover)
{
  sb_leaflet_add_heading (cover, _ ("Cut"));
  sb_leaflet_add_tick (cover, _ ("Cut the sheet roughly into pieces you can turn in one hand."),
                       NULL);
  sb_leaflet_add_tick (cover, _ ("Small pieces and inward bends come first."), NULL);
  sb_leaflet_add_tick (cover,
                       _ ("Cut along the inner edge of the grey line, so that none of it "
                          "stays: hold the scissors still and turn the paper."),
                       NULL);
}

static void
add_licence (SbLeaflet *cover, const SbState *home)
{
  char *const *texts = home->order->texts;
  const char *licence = texts[SB_ORDER_LICENCE];
  sb_leaflet_add_heading (cover, _ ("What you may do"));
  sb_leaflet_add_text (cover,
                       *licence != '\0'
                           ? licence
                           : _ ("Personal use only. You may print as many copies as you need for "
                                "yourself, your family or one class. Please do not sell, share or "
                                "upload the files or prints."));
  g_autofree char *maker =
      g_strjoin ("  ", texts[SB_ORDER_MAKER], texts[SB_ORDER_YEAR], texts[SB_ORDER_CONTACT], NULL);
  if (*g_strstrip (maker) != '\0')
    sb_leaflet_add_text (cover, maker);
}

static void
add_cautions (SbLeaflet *cover)
{
  static const SbCaution cautions[] = {SB_CAUTION_NOT_FOOD, SB_CAUTION_SMALL_PARTS, SB_CAUTION_FILM,
                                       SB_CAUTION_SPRAYS, SB_CAUTION_LOCAL_RULES};
  sb_leaflet_add_heading (cover, _ ("Take care"));
  for (guint i = 0; i < G_N_ELEMENTS (cautions); i++)
    sb_leaflet_add_text (cover, sb_caution_get_text (cautions[i]));
  sb_leaflet_add_text (cover, _ ("Children use blunt scissors and are not left alone with them."));
}

SbLeaflet *
sb_download_make_cover (const SbState *home)
{
  SbLeaflet *cover = sb_leaflet_new (sb_um_to_mm (home->page_width),
                                     sb_um_to_mm (home->page_height - SB_AT_HOME_BAR_UM),
                                     sb_um_to_mm (SB_AT_HOME_MARGIN_UM));
  add_contents (cover, home);
  add_printing (cover);
  add_cutting (cover);
  add_licence (cover, home);
  add_cautions (cover);
  return cover;
}
