/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>
#include <string.h>

#include "batch/order-options.h"
#include "job/edit.h"
#include "job/safe-file.h"
#include "measure/money.h"
#include "order/counts.h"
#include "order/finish.h"
#include "order/forced.h"
#include "order/plan.h"
#include "order/tables.h"
#include "output/coverage.h"
#include "output/order-papers.h"

#define MOST_SECONDS 3600

typedef struct {
  gboolean lay, fill, done, json, how;
  double seconds;
  gint64 seed;
  char *csv, *tick_list, *slip;
} Wishes;

static void
print_counts (const SbState *state)
{
  g_autoptr (GArray) counts = sb_order_count (state);
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    g_print (_ ("%s: %d for packs + %d singles − %d in hand = %d, with %d %% overs %d; printed %d"),
             count->name, count->from_packs, count->singles, count->in_hand, count->to_print,
             count->overs_percent, count->copies, count->printed);
    if (count->printed > 0 && count->left >= 0)
      g_print (_ (", left %d"), count->left);
    else if (count->printed > 0)
      g_print (_ (", short %d"), -count->left);
    g_print ("\n");
  }
}

static void
print_pages (const SbState *state)
{
  for (guint k = 0; k < state->pages->len; k++) {
    const SbPage *page = sb_state_get_page (state, k);
    int times = sb_order_count_prints (state, k);
    if (times > 0)
      g_print (_ ("page %u: %u pieces, printed %d times\n"), k + 1,
               page->n_pieces + page->n_placements, times);
  }
  g_print (_ ("sheets: %u\n"), sb_order_count_sheets (state));
}

static void
print_bill (const SbBill *bill, gboolean how)
{
  for (guint i = 0; i < bill->figures->len; i++) {
    const SbFigure *figure = bill->figures->pdata[i];
    g_autofree char *value = sb_figure_format (figure, bill->currency);
    g_print ("%s: %s\n", figure->label, value);
    for (guint k = 0; how && k < figure->lines->len; k++)
      g_print ("    %s\n", (const char *)figure->lines->pdata[k]);
  }
  for (guint i = 0; i < bill->missing->len; i++)
    g_print (_ ("not known, so not counted: %s\n"), (const char *)bill->missing->pdata[i]);
}

static void
print_forced (const SbForced *forced)
{
  g_print (ngettext ("%u piece forces sheet %u: shrink, drop or fill?\n",
                     "%u pieces force sheet %u: shrink, drop or fill?\n", forced->pieces),
           forced->pieces, forced->sheet);
  if (forced->shrink_percent > 0)
    g_print (_ ("  shrink: stickers smaller by %g %% need one sheet less\n"),
             forced->shrink_percent);
  for (guint i = 0; i < forced->missing->len; i++) {
    const SbMissing *missing = &g_array_index (forced->missing, SbMissing, i);
    g_print (_ ("  drop: %d of %s\n"), missing->missing, missing->name);
  }
  if (forced->needed > 0)
    g_print (_ ("  drop: the order itself would be short of %u\n"), forced->needed);
  else
    g_print (_ ("  drop: only overs would be missing\n"));
  g_print (_ ("  fill: the gaps have room for %u more, for stock\n"), forced->extra);
}

static void
describe_forced (JsonObject *object, const SbForced *forced)
{
  JsonObject *told = json_object_new ();
  json_object_set_int_member (told, "sheet", forced->sheet);
  json_object_set_int_member (told, "pieces", forced->pieces);
  json_object_set_int_member (told, "needed", forced->needed);
  json_object_set_int_member (told, "fill", forced->extra);
  json_object_set_double_member (told, "shrink_percent", forced->shrink_percent);
  json_object_set_object_member (object, "forced", told);
}

static int
write_bytes (const char *path, GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SbSafeFile) file = sb_safe_file_open (path, &error);
  if (file == NULL)
    return sb_command_fail (path, error);
  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);
  sb_safe_file_write (file, data, length);
  if (!sb_safe_file_commit (g_steal_pointer (&file), &error))
    return sb_command_fail (path, error);
  return SB_EXIT_DONE;
}

static int
write_papers (const SbState *state, const SbBill *bill, const Wishes *wishes)
{
  g_autoptr (GError) error = NULL;
  int status = SB_EXIT_DONE;
  if (wishes->csv != NULL) {
    char *csv = sb_order_to_csv (state, bill);
    g_autoptr (GBytes) bytes = g_bytes_new_take (csv, strlen (csv));
    status = write_bytes (wishes->csv, bytes);
  }
  if (status == SB_EXIT_DONE && wishes->tick_list != NULL) {
    g_autoptr (GBytes) pdf = sb_order_make_tick_list (state, &error);
    status = pdf != NULL ? write_bytes (wishes->tick_list, pdf)
                         : sb_command_fail (wishes->tick_list, error);
  }
  if (status == SB_EXIT_DONE && wishes->slip != NULL) {
    g_autoptr (GBytes) pdf = sb_order_make_packing_slip (state, &error);
    status = pdf != NULL ? write_bytes (wishes->slip, pdf) : sb_command_fail (wishes->slip, error);
  }
  return status;
}

static int
report (const SbState *state, const char *path, const SbForced *forced, const Wishes *wishes)
{
  g_autoptr (GError) error = NULL;
  g_autofree double *coverage = sb_coverage_measure (state, NULL, &error);
  if (coverage == NULL)
    return sb_command_fail (path, error);
  g_autoptr (SbBill) bill = sb_bill_new (state, coverage);
  int status = write_papers (state, bill, wishes);
  if (status != SB_EXIT_DONE)
    return status;
  if (wishes->json) {
    JsonObject *object = sb_order_to_json (state, bill);
    if (forced != NULL)
      describe_forced (object, forced);
    sb_command_print_json (object);
    return SB_EXIT_DONE;
  }
  print_counts (state);
  print_pages (state);
  print_bill (bill, wishes->how);
  if (forced != NULL)
    print_forced (forced);
  return SB_EXIT_DONE;
}

/* Consumes `*state` for the job with the order laid. */
static gboolean
lay (SbState **state, const char *path, const Wishes *wishes)
{
  SbPlanParams params = {
      .seed = (guint64)wishes->seed, .seconds = wishes->seconds, .fill = wishes->fill};
  g_autoptr (GError) error = NULL;
  g_autoptr (SbPlan) plan = sb_order_plan (*state, &params, NULL, &error);
  if (plan == NULL) {
    sb_command_fail (path, error);
    return FALSE;
  }
  sb_state_unref (*state);
  *state = sb_state_ref (plan->state);
  if (plan->too_large > 0)
    g_printerr ("stickleback: %s: %s\n", path,
                _ ("some designs are larger than the printable area and were left out"));
  return TRUE;
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_auto (SbOrderOptions) options = {.overs = NULL};
  Wishes wishes = {.seconds = sb_plan_params_default ().seconds, .seed = 1};
  const GOptionEntry entries[] = {
      SB_ORDER_OPTION_ENTRIES (options),
      {"lay", 0, 0, G_OPTION_ARG_NONE, &wishes.lay,
       N_ ("Lay the order on new pages, in the fewest sheets"), NULL},
      {"fill", 0, 0, G_OPTION_ARG_NONE, &wishes.fill, N_ ("Put freebies into the gaps"), NULL},
      {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.seconds, N_ ("How long to look at most"),
       N_ ("S")},
      {"seed", 0, 0, G_OPTION_ARG_INT64, &wishes.seed, N_ ("Another start, another layout"),
       N_ ("N")},
      {"done", 0, 0, G_OPTION_ARG_NONE, &wishes.done,
       N_ ("The order is made: what is left goes to stock"), NULL},
      {"tick-list", 0, 0, G_OPTION_ARG_FILENAME, &wishes.tick_list,
       N_ ("Write what to print, cut and pack, a PDF"), N_ ("FILE")},
      {"slip", 0, 0, G_OPTION_ARG_FILENAME, &wishes.slip, N_ ("Write a packing slip, a PDF"),
       N_ ("FILE")},
      {"csv", 0, 0, G_OPTION_ARG_FILENAME, &wishes.csv, N_ ("Write counts and figures as a table"),
       N_ ("FILE")},
      {"how", 0, 0, G_OPTION_ARG_NONE, &wishes.how, N_ ("Tell how each figure came"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 1, 1))
    return SB_EXIT_USE;
  if (!(wishes.seconds >= 0 && wishes.seconds <= MOST_SECONDS))
    return sb_command_misuse ("--seconds", _ ("%g is not between 0 and %d"), wishes.seconds,
                              MOST_SECONDS);
  g_autoptr (SbState) before = sb_command_load (argv[0]);
  g_autoptr (SbState) state = before != NULL ? sb_order_options_apply (&options, before) : NULL;
  if (state == NULL || (wishes.lay && !lay (&state, argv[0], &wishes)))
    return SB_EXIT_USE;
  g_autoptr (SbForced) forced =
      wishes.lay ? sb_order_find_forced (state, TRUE, wishes.seconds, NULL) : NULL;
  int status = report (state, argv[0], forced, &wishes);
  if (status == SB_EXIT_DONE && wishes.done) {
    SbState *finished = sb_edit_set_order (state, sb_order_finish (state));
    sb_state_unref (state);
    state = finished;
  }
  if (status == SB_EXIT_DONE && !sb_state_equal (before, state))
    status = sb_command_save (state, argv[0]);
  g_free (wishes.csv);
  g_free (wishes.tick_list);
  g_free (wishes.slip);
  return status;
}

const SbCommand sb_command_order = {
    .name = "order",
    .arguments = N_ ("JOB"),
    .summary = N_ ("Tell what an order needs, costs and takes; lay it, write its papers"),
    .description =
        N_ ("What is said of the order stays in the job. Rates are named by their keys, such as "
            "stock-price, ink-yield, wage or pack-asked; a wrong key lists them all."),
    .run = run,
};
