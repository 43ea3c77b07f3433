/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "printing/printers.h"

static const char *
get_status_word (SbPrinterStatus status)
{
  switch (status) {
  case SB_PRINTER_IDLE:
    return _ ("idle");
  case SB_PRINTER_BUSY:
    return _ ("busy");
  case SB_PRINTER_STOPPED:
    return _ ("stopped");
  case SB_PRINTER_REJECTING:
    return _ ("rejecting jobs");
  default:
    g_return_val_if_reached ("");
  }
}

static JsonObject *
describe (const SbPrinter *printer)
{
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "name", printer->name);
  json_object_set_string_member (object, "label", printer->label);
  json_object_set_string_member (object, "model", printer->model);
  json_object_set_string_member (object, "status", sb_printer_status_get_key (printer->status));
  json_object_set_string_member (object, "kind", sb_printer_kind_get_key (printer->kind));
  json_object_set_string_member (object, "reason", printer->reason);
  json_object_set_boolean_member (object, "default", printer->is_default);
  return object;
}

static void
print_json (GPtrArray *printers)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < printers->len; i++)
    json_array_add_object_element (array, describe (printers->pdata[i]));
  JsonObject *object = json_object_new ();
  json_object_set_array_member (object, "printers", array);
  sb_command_print_json (object);
}

static void
print_text (GPtrArray *printers)
{
  for (guint i = 0; i < printers->len; i++) {
    const SbPrinter *printer = printers->pdata[i];
    g_print ("%s: %s, %s%s%s%s\n", printer->name, printer->label, get_status_word (printer->status),
             *printer->reason != '\0' ? ", " : "", printer->reason,
             printer->is_default ? _ (" (default)") : "");
  }
  if (printers->len == 0)
    g_print (_ ("there is no printer\n"));
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 0, 0))
    return SB_EXIT_USE;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) printers = sb_printers_list (&error);
  if (printers == NULL)
    return sb_command_fail (command->name, error);
  if (json)
    print_json (printers);
  else
    print_text (printers);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_printers = {
    .name = "printers",
    .arguments = "",
    .summary = N_ ("List the printers"),
    .run = run,
};
