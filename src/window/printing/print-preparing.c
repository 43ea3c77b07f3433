/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/printing/print-preparing.h"

#include <glib/gi18n.h>

#include "printing/send.h"
#include "proof/proof.h"

#define FINDINGS_SHOWN 4

char *
sb_print_list_stops (const SbState *state, SbUnit unit, guint *n)
{
  g_autoptr (GPtrArray) findings = sb_proof_run (state, unit);
  g_autoptr (GString) text = g_string_new (NULL);

  *n = 0;
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (finding->severity != SB_SEVERITY_STOP)
      break; /* worst first */
    if (++*n <= FINDINGS_SHOWN)
      g_string_append_printf (text, "• %s\n", finding->message);
  }
  if (*n > FINDINGS_SHOWN) {
    guint more = *n - FINDINGS_SHOWN;
    g_string_append_printf (text, ngettext ("… and %u more.\n", "… and %u more.\n", more), more);
  }
  return *n > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

/* The job as the chosen printer will print it. A printer that libcups does not know (a file) leaves
 * the job's own margins. */
static SbState *
suit (const SbPrintPreparing *preparing, SbPrinterKind *kind, GError **error)
{
  const char *name = preparing->printer_name;
  g_autoptr (SbPrinter) printer = NULL;

  *kind = SB_PRINTER_KIND_UNKNOWN;
  if (preparing->to_file)
    return sb_state_ref (preparing->state);
  printer = sb_printer_find (name, error);
  if (!printer || !sb_print_check_printer (printer, error))
    return NULL;
  *kind = printer->kind;
  SbPaperAnswer paper;
  g_autoptr (SbState) suited = sb_print_suit (preparing->state, name, &paper, error);
  if (!suited || !sb_print_check_paper (suited, name, &paper, error))
    return NULL;
  return g_steal_pointer (&suited);
}

/* What the maker has not said yes to yet: stops, and a caution (consumed) about the stock. */
static char *
make_question (const SbPrintPreparing *preparing, const SbState *suited, char *caution)
{
  guint n;
  g_autofree char *cautious = caution;
  g_autofree char *stops = sb_print_list_stops (suited, preparing->unit, &n);

  if (n <= preparing->stops_allowed)
    return g_steal_pointer (&cautious);
  return caution ? g_strconcat (stops, "\n", caution, NULL) : g_steal_pointer (&stops);
}

gboolean
sb_print_prepare (SbPrintPreparing *preparing, GCancellable *cancellable, GError **error)
{
  const char *name = preparing->printer_name;
  g_autofree char *caution = NULL;
  SbPrinterKind kind;
  g_autoptr (SbState) suited = suit (preparing, &kind, error);

  if (!suited || (!preparing->to_file &&
                  !sb_print_check_stock (suited, kind, &preparing->request, &caution, error)))
    return FALSE;
  preparing->pdf = sb_print_make_pdf (suited, name, &preparing->request, cancellable, error);
  if (!preparing->pdf)
    return FALSE;
  preparing->last_job = preparing->to_file ? -1 : sb_printer_get_last_job (name);
  preparing->kind_missing = kind == SB_PRINTER_KIND_UNKNOWN && caution && !preparing->to_file;
  preparing->question = make_question (preparing, suited, g_steal_pointer (&caution));
  return TRUE;
}

void
sb_print_preparing_clear (SbPrintPreparing *preparing)
{
  g_clear_pointer (&preparing->pdf, g_bytes_unref);
  g_clear_pointer (&preparing->question, g_free);
}
