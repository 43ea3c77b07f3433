/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/media.h"

#include <glib/gi18n.h>

/* Label stock for lasers must stand 205 °C for 0.1 to 0.2 s without melting, oozing or fumes: HP
 * LaserJet media guides, by way of the handbook (section 1.2, S2 and S3). */
static SbMediaVerdict
check_laser (const SbStock *stock, gboolean part_used, char **message)
{
  if (part_used) {
    *message = g_strdup (_ ("A sheet with stickers already taken off must not go through a laser "
                            "printer: adhesive softens and labels come loose on the hot fuser. Use "
                            "a new sheet."));
    return SB_MEDIA_REFUSED;
  }
  if (stock->laser_ok)
    return SB_MEDIA_FINE;
  *message = g_strdup_printf (
      stock->film ? _ ("“%s” is film that is not rated for laser printers: it can melt onto the "
                       "hot fuser, and give off fumes. Print it on an inkjet, or use stock that "
                       "its maker rates for laser printers.")
                  : _ ("“%s” is not rated for laser printers: its adhesive can ooze and give off "
                       "fumes at about 200 °C. Use stock that its maker rates for laser "
                       "printers."),
      sb_stock_get_label (stock));
  return SB_MEDIA_REFUSED;
}

SbMediaVerdict
sb_media_check (const SbStock *stock, SbPrinterKind kind, gboolean part_used, char **message)
{
  *message = NULL;
  if (kind == SB_PRINTER_LASER)
    return check_laser (stock, part_used, message);
  if (kind == SB_PRINTER_KIND_UNKNOWN && (!stock->laser_ok || part_used)) {
    *message = g_strdup_printf (
        _ ("This printer does not say whether it is a laser. If it is, do not print on “%s”: heat "
           "can melt it or loosen its adhesive. Follow the makers of printer and paper."),
        sb_stock_get_label (stock));
    return SB_MEDIA_CAUTION;
  }
  if (kind == SB_PRINTER_INKJET && !stock->inkjet_ok) {
    *message = g_strdup_printf (_ ("“%s” is not coated for inkjet: ink may stay wet and smear. Try "
                                   "one sheet first."),
                                sb_stock_get_label (stock));
    return SB_MEDIA_CAUTION;
  }
  if (part_used) {
    *message = g_strdup (_ ("A sheet with stickers taken off may jam. Feed it alone, by the "
                            "straightest path."));
    return SB_MEDIA_CAUTION;
  }
  return SB_MEDIA_FINE;
}

static char *
drying_advice (double hours)
{
  if (hours < 1)
    return g_strdup (_ ("Let the ink dry for some minutes before you touch or stack it."));
  return g_strdup_printf (
      ngettext ("Let the ink dry for about %.0f hour before you touch, stack or cover it.",
                "Let the ink dry for about %.0f hours before you touch, stack or cover it.",
                (gulong)hours),
      hours);
}

char *
sb_media_advice (const SbStock *stock, SbPrinterKind kind)
{
  g_autoptr (GStrvBuilder) lines = g_strv_builder_new ();
  g_strv_builder_add (lines, _ ("Load sheets one at a time, the sticker side as your printer's "
                                "manual says; mark a plain sheet and print it first if unsure."));
  if (kind == SB_PRINTER_LASER) {
    g_strv_builder_add (lines, _ ("Use the straightest paper path, and never send a sheet through "
                                  "twice. At a jam switch off and let the fuser cool."));
  } else {
    g_autofree char *drying = drying_advice (stock->drying_hours);
    g_strv_builder_add (lines, drying);
  }
  g_strv_builder_add (lines, _ ("What the makers of printer and paper say goes before all this."));
  g_auto (GStrv) texts = g_strv_builder_end (lines);
  return g_strjoinv ("\n", texts);
}
