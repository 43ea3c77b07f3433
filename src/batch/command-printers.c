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

/* The papers with their margins; NULL when the printer cannot be asked just now. */
static GPtrArray *
ask_papers (const SbPrinter *printer)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *papers = sb_printer_get_papers (printer->name, &error);
  if (papers == NULL)
    sb_command_fail (printer->name, error);
  return papers;
}

static JsonArray *
describe_papers (GPtrArray *papers)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < papers->len; i++) {
    const SbPrinterPaper *paper = papers->pdata[i];
    JsonObject *object = json_object_new ();
    json_object_set_string_member (object, "name", paper->name);
    json_object_set_double_member (object, "width_mm", sb_um_to_mm (paper->width));
    json_object_set_double_member (object, "height_mm", sb_um_to_mm (paper->height));
    json_object_set_double_member (object, "top_mm", sb_um_to_mm (paper->margins.top));
    json_object_set_double_member (object, "right_mm", sb_um_to_mm (paper->margins.right));
    json_object_set_double_member (object, "bottom_mm", sb_um_to_mm (paper->margins.bottom));
    json_object_set_double_member (object, "left_mm", sb_um_to_mm (paper->margins.left));
    json_object_set_boolean_member (object, "borderless", paper->borderless);
    json_array_add_object_element (array, object);
  }
  return array;
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
  g_autoptr (GPtrArray) papers = ask_papers (printer);
  if (papers != NULL)
    json_object_set_array_member (object, "papers", describe_papers (papers));
  else
    json_object_set_null_member (object, "papers");
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
print_paper (const SbPrinterPaper *paper, SbUnit unit)
{
  g_autofree char *size =
      sb_length_format_size (sb_um_to_mm (paper->width), sb_um_to_mm (paper->height), unit);
  if (paper->borderless) {
    /* Translators: a media name and a size */
    g_print (_ ("  %s (%s): borderless, not true size\n"), paper->name, size);
    return;
  }
  g_autofree char *top = sb_length_format_fine (sb_um_to_mm (paper->margins.top), unit);
  g_autofree char *right = sb_length_format_fine (sb_um_to_mm (paper->margins.right), unit);
  g_autofree char *bottom = sb_length_format_fine (sb_um_to_mm (paper->margins.bottom), unit);
  g_autofree char *left = sb_length_format_fine (sb_um_to_mm (paper->margins.left), unit);
  /* Translators: a media name, a size and the margins clockwise from the top */
  g_print (_ ("  %s (%s): margins %s, %s, %s, %s\n"), paper->name, size, top, right, bottom, left);
}

static void
print_papers (const SbPrinter *printer)
{
  g_autoptr (GPtrArray) papers = ask_papers (printer);
  for (guint i = 0; papers != NULL && i < papers->len; i++)
    print_paper (papers->pdata[i], sb_unit_from_locale ());
  if (papers != NULL && papers->len == 0)
    g_print (_ ("  papers and margins unknown\n"));
}

static void
print_text (GPtrArray *printers)
{
  for (guint i = 0; i < printers->len; i++) {
    const SbPrinter *printer = printers->pdata[i];
    g_print ("%s: %s, %s%s%s%s\n", printer->name, printer->label, get_status_word (printer->status),
             *printer->reason != '\0' ? ", " : "", printer->reason,
             printer->is_default ? _ (" (default)") : "");
    print_papers (printer);
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
    .summary = N_ ("List the printers, their papers and what of each they cannot reach"),
    .run = run,
};
