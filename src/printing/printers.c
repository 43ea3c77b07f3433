/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/printers.h"

#include <glib/gi18n.h>
#include <string.h>

#include "printing/cups-link.h"
#include "printing/store.h"

static const char *
get_option (const cups_dest_t *dest, const char *name)
{
  const char *value = cupsGetOption (name, dest->num_options, dest->options);
  return value != NULL ? value : "";
}

void
sb_printer_free (SbPrinter *printer)
{
  g_free (printer->name);
  g_free (printer->label);
  g_free (printer->model);
  g_free (printer->reason);
  g_free (printer);
}

const char *
sb_printer_status_get_key (SbPrinterStatus status)
{
  static const char *const keys[] = {"idle", "busy", "stopped", "rejecting"};
  return keys[status];
}

const char *
sb_printer_kind_get_key (SbPrinterKind kind)
{
  static const char *const keys[] = {"unknown", "inkjet", "laser"};
  return keys[kind];
}

static gboolean
mentions (const char *text, const char *word)
{
  g_autofree char *low = g_ascii_strdown (text, -1);
  return strstr (low, word) != NULL;
}

/* The supplies tell for sure (prtMarkerSuppliesType of RFC 3805: a fuser, toner or drum against
 * ink); without them the model's name may. */
static SbPrinterKind
guess_kind (const cups_dest_t *dest)
{
  const char *supplies = get_option (dest, "marker-types");
  const char *model = get_option (dest, "printer-make-and-model");
  const char *label = get_option (dest, "printer-info");
  if (mentions (supplies, "toner") || mentions (supplies, "fuser") || mentions (supplies, "opc"))
    return SB_PRINTER_LASER;
  if (mentions (supplies, "ink"))
    return SB_PRINTER_INKJET;
  if (mentions (model, "laser") || mentions (label, "laser"))
    return SB_PRINTER_LASER;
  if (mentions (model, "inkjet") || mentions (model, "ink jet") || mentions (label, "inkjet"))
    return SB_PRINTER_INKJET;
  return SB_PRINTER_KIND_UNKNOWN;
}

/* What the maker said of a printer that does not say it itself. */
static SbPrinterKind
load_kind (const char *name)
{
  g_autoptr (GKeyFile) store = sb_store_load ();
  g_autofree char *group = sb_store_make_group (name, NULL);
  g_autofree char *key = g_key_file_get_string (store, group, "kind", NULL);
  for (SbPrinterKind kind = SB_PRINTER_INKJET; kind <= SB_PRINTER_LASER; kind++)
    if (g_strcmp0 (key, sb_printer_kind_get_key (kind)) == 0)
      return kind;
  return SB_PRINTER_KIND_UNKNOWN;
}

gboolean
sb_printer_remember_kind (const char *name, SbPrinterKind kind, GError **error)
{
  g_autoptr (GKeyFile) store = sb_store_load ();
  g_autofree char *group = sb_store_make_group (name, NULL);
  if (kind == SB_PRINTER_KIND_UNKNOWN)
    g_key_file_remove_group (store, group, NULL);
  else
    g_key_file_set_string (store, group, "kind", sb_printer_kind_get_key (kind));
  return sb_store_save (store, error);
}

static SbPrinterStatus
get_status (const cups_dest_t *dest)
{
  if (strcmp (get_option (dest, "printer-is-accepting-jobs"), "false") == 0)
    return SB_PRINTER_REJECTING;
  switch (atoi (get_option (dest, "printer-state"))) {
  case IPP_PSTATE_STOPPED:
    return SB_PRINTER_STOPPED;
  case IPP_PSTATE_PROCESSING:
    return SB_PRINTER_BUSY;
  default:
    return SB_PRINTER_IDLE;
  }
}

/* "it is paused; it is out of paper" */
static char *
put_reasons (const cups_dest_t *dest, SbPrinterStatus status)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) keywords = g_strsplit (get_option (dest, "printer-state-reasons"), ",", -1);
  for (char **k = keywords; *k != NULL; k++) {
    char *word = sb_cups_reason_in_words (g_strstrip (*k));
    if (word != NULL)
      g_ptr_array_add (words, word);
  }
  if (words->len == 0 && status == SB_PRINTER_REJECTING)
    g_ptr_array_add (words, g_strdup (_ ("it was told to refuse them")));
  if (words->len == 0 && status == SB_PRINTER_STOPPED)
    g_ptr_array_add (words, g_strdup (_ ("it is stopped")));
  g_ptr_array_add (words, NULL);
  return g_strjoinv ("; ", (char **)words->pdata);
}

static SbPrinter *
printer_from_dest (const cups_dest_t *dest)
{
  SbPrinter *printer = g_new0 (SbPrinter, 1);
  const char *label = get_option (dest, "printer-info");
  printer->name = g_strdup (dest->name);
  printer->label = g_strdup (*label != '\0' ? label : dest->name);
  printer->model = g_strdup (get_option (dest, "printer-make-and-model"));
  printer->status = get_status (dest);
  printer->kind = guess_kind (dest);
  if (printer->kind == SB_PRINTER_KIND_UNKNOWN)
    printer->kind = load_kind (dest->name);
  printer->reason = put_reasons (dest, printer->status);
  printer->is_default = dest->is_default != 0;
  return printer;
}

static gboolean
on_listed (cups_dest_t *dest, gpointer data)
{
  GPtrArray *printers = data;
  for (guint i = 0; i < printers->len; i++)
    if (strcmp (((SbPrinter *)printers->pdata[i])->name, dest->name) == 0)
      return TRUE; /* announced again while it was looked for */
  g_ptr_array_add (printers, printer_from_dest (dest));
  return TRUE;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  const SbPrinter *first = *(SbPrinter *const *)a, *second = *(SbPrinter *const *)b;
  return strcmp (first->name, second->name);
}

GPtrArray *
sb_printers_list (GError **error)
{
  g_autoptr (GPtrArray) printers = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_printer_free);
  if (!sb_cups_enumerate (on_listed, printers, error))
    return NULL;
  g_ptr_array_sort (printers, by_name);
  return g_steal_pointer (&printers);
}

SbPrinter *
sb_printer_find (const char *name, GError **error)
{
  g_autoptr (SbCupsLink) link = sb_cups_link_new (name, error);
  return link != NULL ? printer_from_dest (link->dest) : NULL;
}
