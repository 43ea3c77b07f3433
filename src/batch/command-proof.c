/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "batch/findings.h"
#include "job/layout-view.h"
#include "printing/run.h"

int
sb_findings_get_status (GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    if (((SbFinding *)findings->pdata[i])->severity == SB_SEVERITY_STOP)
      return SB_EXIT_STOPS;
  return SB_EXIT_DONE;
}

static const char *
get_severity_word (SbSeverity severity)
{
  switch (severity) {
  case SB_SEVERITY_STOP:
    return _ ("stop");
  case SB_SEVERITY_CAUTION:
    return _ ("caution");
  case SB_SEVERITY_NOTE:
    return _ ("note");
  default:
    g_return_val_if_reached ("");
  }
}

void
sb_findings_print (GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    /* Translators: "stop: page 2: …" */
    g_print (_ ("%s: page %u: %s\n"), get_severity_word (finding->severity),
             finding->page_index + 1, finding->message);
  }
  if (findings->len == 0)
    g_print (_ ("nothing found\n"));
}

/* A piece of the job or of one of its layouts; "" for none. */
static char *
get_label (const SbState *state, const SbFinding *finding, guint piece_id)
{
  if (piece_id == 0)
    return g_strdup ("");
  if (finding->layout_id == 0)
    return sb_piece_get_label (state, piece_id);
  g_autoptr (SbState) view = sb_layout_to_state (state, finding->layout_id);
  return sb_piece_get_label (view, piece_id);
}

static JsonObject *
describe (const SbState *state, const SbFinding *finding)
{
  JsonObject *object = json_object_new ();
  g_autofree char *piece = get_label (state, finding, finding->piece_id);
  json_object_set_string_member (object, "severity", sb_severity_get_key (finding->severity));
  json_object_set_string_member (object, "rule", sb_rule_get_key (finding->rule));
  json_object_set_int_member (object, "page", finding->page_index + 1);
  json_object_set_string_member (object, "piece", piece);
  if (finding->layout_id != 0) {
    const SbLayout *layout = sb_state_get_layout (state, finding->layout_id);
    json_object_set_string_member (object, "layout", layout->name);
  }
  if (finding->other_id != 0) {
    g_autofree char *other = get_label (state, finding, finding->other_id);
    json_object_set_string_member (object, "other", other);
  }
  json_object_set_string_member (object, "edge", sb_edge_get_key (finding->edge));
  json_object_set_double_member (object, "lost_mm", finding->lost_mm);
  json_object_set_string_member (object, "message", finding->message);
  return object;
}

static void
print_json (const SbState *state, GPtrArray *findings)
{
  JsonArray *array = json_array_new ();
  for (guint i = 0; i < findings->len; i++)
    json_array_add_object_element (array, describe (state, findings->pdata[i]));
  JsonObject *object = json_object_new ();
  json_object_set_array_member (object, "findings", array);
  sb_command_print_json (object);
}

/* The job as `printer` (NULL: the job's own) prints it; a status when there is none. */
static int
prove (const char *path, const char *printer, gboolean json)
{
  g_autoptr (SbState) state = sb_command_load (path);
  if (state == NULL)
    return SB_EXIT_USE;
  if (printer != NULL) {
    g_autoptr (GError) error = NULL;
    SbState *suited = sb_print_suit (state, printer, NULL, &error);
    if (suited == NULL)
      return sb_command_fail (printer, error);
    sb_state_unref (state);
    state = suited;
  }
  g_autoptr (GPtrArray) findings = sb_proof_run (state, sb_unit_from_locale ());
  if (json)
    print_json (state, findings);
  else
    sb_findings_print (findings);
  return sb_findings_get_status (findings);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  gboolean json = FALSE;
  g_autofree char *printer = NULL;
  const GOptionEntry entries[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("For programs"), NULL},
      {"printer", 0, 0, G_OPTION_ARG_STRING, &printer,
       N_ ("For this printer's own margins, in the place of the job's; typed ones stay"),
       N_ ("NAME")},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;
  return prove (argv[0], printer, json);
}

const SbCommand sb_command_proof = {
    .name = "proof",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Check what the printer would take away"),
    .description = N_ ("Exit status 1 says that artwork would be lost or that stickers overlap."),
    .run = run,
};
