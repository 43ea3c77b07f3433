/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/printing/print-setup.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define SAME_PAPER_MM 0.3
#define BORDERLESS ".Borderless" /* how CUPS names the second choice of a size */

static GtkPaperSize *
paper_of (sb_um width, sb_um height, gboolean borderless)
{
  const SbPaper *known = sb_paper_find_size (width, height);

  if (!known || g_str_has_prefix (known->name, "custom_"))
    return gtk_paper_size_new_custom ("custom", _ ("The Job's Paper"), sb_um_to_mm (width),
                                      sb_um_to_mm (height), GTK_UNIT_MM);
  /* GTK knows papers by the PWG name without the measures. By the whole name it makes another paper
   * of the same size, for which CUPS may pick the borderless choice of a printer. */
  g_autofree char *stem =
      g_strndup (known->name, (gsize)(strrchr (known->name, '_') - known->name));
  g_autoptr (GtkPaperSize) paper = gtk_paper_size_new (stem);
  const char *ppd = gtk_paper_size_get_ppd_name (paper);
  if (!borderless || !ppd)
    return g_steal_pointer (&paper);
  g_autofree char *name = g_strconcat (ppd, BORDERLESS, NULL);
  return gtk_paper_size_new_from_ppd (name, gtk_paper_size_get_display_name (paper),
                                      sb_um_to_pt (width), sb_um_to_pt (height));
}

GtkPageSetup *
sb_print_setup_new (const SbState *state)
{
  GtkPageSetup *setup = gtk_page_setup_new ();
  g_autoptr (GtkPaperSize) paper =
      paper_of (MIN (state->page_width, state->page_height),
                MAX (state->page_width, state->page_height), state->overshoot > 0);

  gtk_page_setup_set_paper_size_and_default_margins (setup, paper);
  gtk_page_setup_set_orientation (setup, state->page_width > state->page_height
                                             ? GTK_PAGE_ORIENTATION_LANDSCAPE
                                             : GTK_PAGE_ORIENTATION_PORTRAIT);
  return setup;
}

gboolean
sb_print_setup_fits (GtkPageSetup *setup, const SbState *state)
{
  double width = sb_um_to_mm (MIN (state->page_width, state->page_height));
  double height = sb_um_to_mm (MAX (state->page_width, state->page_height));
  GtkPaperSize *paper = gtk_page_setup_get_paper_size (setup);

  return fabs (gtk_paper_size_get_width (paper, GTK_UNIT_MM) - width) <= SAME_PAPER_MM &&
         fabs (gtk_paper_size_get_height (paper, GTK_UNIT_MM) - height) <= SAME_PAPER_MM;
}

gboolean
sb_print_setup_is_borderless (GtkPageSetup *setup)
{
  const char *ppd = gtk_paper_size_get_ppd_name (gtk_page_setup_get_paper_size (setup));
  return ppd && g_str_has_suffix (ppd, BORDERLESS);
}

static gboolean
is_in_ranges (const GtkPageRange *ranges, int n, int page)
{
  for (int i = 0; i < n; i++)
    if (page >= ranges[i].start && page <= ranges[i].end)
      return TRUE;
  return FALSE;
}

GArray *
sb_print_setup_choose_pages (GtkPrintSettings *settings, int n_pages)
{
  GArray *pages = g_array_new (FALSE, FALSE, sizeof (guint));
  GtkPageSet set = gtk_print_settings_get_page_set (settings);
  int n_ranges = 0;
  g_autofree GtkPageRange *ranges = NULL;

  if (gtk_print_settings_get_print_pages (settings) == GTK_PRINT_PAGES_RANGES)
    ranges = gtk_print_settings_get_page_ranges (settings, &n_ranges);
  for (int page = 0; page < n_pages; page++) {
    gboolean odd = page % 2 == 0; /* the first page is page 1 */
    if ((ranges && !is_in_ranges (ranges, n_ranges, page)) || (set == GTK_PAGE_SET_EVEN && odd) ||
        (set == GTK_PAGE_SET_ODD && !odd))
      continue;
    guint number = (guint)page;
    g_array_append_val (pages, number);
  }
  return pages;
}
