/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Papers and their margins come from the printer attribute media-col-database (PWG 5100.7): one
 * collection a size, tray and media type, in hundredths of a millimetre. libcups's own look-ups by
 * size are not used: asked for a borderless paper they answer with a bordered one, and they do not
 * tell ranges of custom sizes. */
#include "config.h"

#include "printing/printers.h"

#include <cups/cups.h>
#include <glib/gi18n.h>

#include "printing/cups-link.h"

#define UM_PER_UNIT 10
#define SAME_SIZE_UM 200

static void
paper_free (SbPrinterPaper *paper)
{
  g_free (paper->name);
  g_free (paper);
}

/* A whole number member, in um; FALSE when it is missing or negative. */
static gboolean
get_um (ipp_t *collection, const char *name, sb_um *um)
{
  ipp_attribute_t *attribute = ippFindAttribute (collection, name, IPP_TAG_INTEGER);
  if (attribute == NULL)
    return FALSE;
  int value = ippGetInteger (attribute, 0);
  if (value < 0 || value > SB_UM_MOST / UM_PER_UNIT)
    return FALSE;
  *um = value * UM_PER_UNIT;
  return TRUE;
}

static ipp_t *
get_collection (ipp_t *collection, const char *name)
{
  ipp_attribute_t *attribute = ippFindAttribute (collection, name, IPP_TAG_BEGIN_COLLECTION);
  return attribute != NULL ? ippGetCollection (attribute, 0) : NULL;
}

static gboolean
read_paper (ipp_t *entry, SbPrinterPaper *paper)
{
  ipp_t *size = get_collection (entry, "media-size");
  if (size == NULL || !get_um (size, "x-dimension", &paper->width) ||
      !get_um (size, "y-dimension", &paper->height) ||
      !get_um (entry, "media-top-margin", &paper->margins.top) ||
      !get_um (entry, "media-right-margin", &paper->margins.right) ||
      !get_um (entry, "media-bottom-margin", &paper->margins.bottom) ||
      !get_um (entry, "media-left-margin", &paper->margins.left))
    return FALSE;
  const SbMargins *m = &paper->margins;
  paper->borderless = m->top == 0 && m->right == 0 && m->bottom == 0 && m->left == 0;
  /* Margins that leave nothing are no answer. */
  return m->left + m->right < paper->width && m->top + m->bottom < paper->height;
}

static gboolean
is_size (const SbPrinterPaper *paper, sb_um width, sb_um height)
{
  return ABS (paper->width - width) <= SAME_SIZE_UM && ABS (paper->height - height) <= SAME_SIZE_UM;
}

static void
widen (SbMargins *margins, const SbMargins *by)
{
  margins->top = MAX (margins->top, by->top);
  margins->right = MAX (margins->right, by->right);
  margins->bottom = MAX (margins->bottom, by->bottom);
  margins->left = MAX (margins->left, by->left);
}

static void
add_paper (GPtrArray *papers, const SbPrinterPaper *paper)
{
  for (guint i = 0; i < papers->len; i++) {
    SbPrinterPaper *known = papers->pdata[i];
    if (is_size (known, paper->width, paper->height) && known->borderless == paper->borderless) {
      widen (&known->margins, &paper->margins);
      return;
    }
  }
  SbPrinterPaper *copy = g_memdup2 (paper, sizeof *paper);
  pwg_media_t *media = pwgMediaForSize (paper->width / UM_PER_UNIT, paper->height / UM_PER_UNIT);
  copy->name = g_strdup (media != NULL && media->pwg != NULL ? media->pwg : "");
  g_ptr_array_add (papers, copy);
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  const SbPrinterPaper *first = *(SbPrinterPaper *const *)a, *second = *(SbPrinterPaper *const *)b;
  if (first->width != second->width)
    return first->width - second->width;
  if (first->height != second->height)
    return first->height - second->height;
  return first->borderless - second->borderless;
}

static GPtrArray *
read_papers (ipp_t *answer)
{
  GPtrArray *papers = g_ptr_array_new_with_free_func ((GDestroyNotify)paper_free);
  ipp_attribute_t *database =
      ippFindAttribute (answer, "media-col-database", IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; database != NULL && i < ippGetCount (database); i++) {
    SbPrinterPaper paper = {0};
    if (read_paper (ippGetCollection (database, i), &paper))
      add_paper (papers, &paper);
  }
  g_ptr_array_sort (papers, by_size);
  return papers;
}

static ipp_t *
ask (const char *printer, GError **error)
{
  static const char *const attributes[] = {"media-col-database", "media-size-supported"};
  g_autoptr (SbCupsLink) link = sb_cups_link_new (printer, error);
  if (link == NULL)
    return NULL;
  ipp_t *answer = sb_cups_link_ask (link, attributes, G_N_ELEMENTS (attributes));
  if (answer == NULL)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED,
                 _ ("%s does not tell its papers: %s"), link->dest->name, cupsLastErrorString ());
  return answer;
}

GPtrArray *
sb_printer_get_papers (const char *printer, GError **error)
{
  ipp_t *answer = ask (printer, error);
  if (answer == NULL)
    return NULL;
  GPtrArray *papers = read_papers (answer);
  ippDelete (answer);
  return papers;
}

/* Whether width x height lies in a range of custom sizes. */
static gboolean
takes_custom (ipp_t *answer, sb_um width, sb_um height)
{
  ipp_attribute_t *sizes =
      ippFindAttribute (answer, "media-size-supported", IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; sizes != NULL && i < ippGetCount (sizes); i++) {
    ipp_t *size = ippGetCollection (sizes, i);
    ipp_attribute_t *x = ippFindAttribute (size, "x-dimension", IPP_TAG_RANGE);
    ipp_attribute_t *y = ippFindAttribute (size, "y-dimension", IPP_TAG_RANGE);
    if (x == NULL || y == NULL)
      continue;
    int x_most, y_most, x_least = ippGetRange (x, 0, &x_most),
                        y_least = ippGetRange (y, 0, &y_most);
    if (width / UM_PER_UNIT >= x_least && width / UM_PER_UNIT <= x_most &&
        height / UM_PER_UNIT >= y_least && height / UM_PER_UNIT <= y_most)
      return TRUE;
  }
  return FALSE;
}

static void
look_up (ipp_t *answer, sb_um width, sb_um height, SbPaperAnswer *found)
{
  g_autoptr (GPtrArray) papers = read_papers (answer);
  SbMargins widest = {0};
  found->names_papers = papers->len > 0;
  for (guint i = 0; i < papers->len; i++) {
    const SbPrinterPaper *paper = papers->pdata[i];
    widen (&widest, &paper->margins);
    if (!is_size (paper, width, height))
      continue;
    /* Sorted: the bordered entry of a size comes first and is the true-size one. */
    found->borderless_too = found->offered && paper->borderless;
    if (found->offered)
      continue;
    found->offered = TRUE;
    found->answer = paper->borderless ? SB_MARGINS_BORDERLESS : SB_MARGINS_KNOWN;
    found->margins = paper->margins;
  }
  /* A size of the maker's own has no entry; it gets the widest margins of all that have. */
  if (!found->offered && takes_custom (answer, width, height)) {
    found->offered = TRUE;
    if (widest.top + widest.right + widest.bottom + widest.left > 0) {
      found->margins = widest;
      found->answer = SB_MARGINS_KNOWN;
    }
  }
}

gboolean
sb_printer_ask_paper (const char *printer, sb_um width, sb_um height, SbPaperAnswer *paper,
                      GError **error)
{
  *paper = (SbPaperAnswer){.answer = SB_MARGINS_UNKNOWN, .margins = sb_margins_fallback ()};
  ipp_t *answer = ask (printer, error);
  if (answer == NULL)
    return FALSE;
  look_up (answer, width, height, paper);
  ippDelete (answer);
  return TRUE;
}
