/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/order-options.h"

#include <glib/gi18n.h>
#include <string.h>

#include "batch/command.h"
#include "job/edit.h"
#include "measure/money.h"

void
sb_order_options_clear (SbOrderOptions *options)
{
  char **lists[] = {options->packs,   options->singles, options->in_hand,
                    options->spoiled, options->rates,   options->texts};
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    g_strfreev (lists[i]);
  g_free (options->overs);
  g_free (options->film);
  g_free (options->currency);
}

typedef struct {
  const SbState *state;
  SbOrder *order;
} Change;

/* Takes one entry of a list; prints what is wrong with it. */
typedef gboolean (*Take) (Change *change, const char *option, const char *name, const char *value);

/* "NAME=VALUE", cut at the last or first sign. */
static gboolean
take_each (Change *change, const char *option, char **list, gboolean last, Take take)
{
  for (char **entry = list; entry != NULL && *entry != NULL; entry++) {
    const char *sign = last ? strrchr (*entry, '=') : strchr (*entry, '=');
    if (sign == NULL) {
      sb_command_misuse (option, _ ("“%s” has no ="), *entry);
      return FALSE;
    }
    g_autofree char *name = g_strndup (*entry, (gsize)(sign - *entry));
    if (!take (change, option, name, sign + 1))
      return FALSE;
  }
  return TRUE;
}

static gboolean
read_count (const char *option, const char *text, int *count)
{
  double number;
  if (sb_number_parse (text, &number) && number >= 0 && number <= SB_ORDER_MOST_COUNT &&
      number == (int)number) {
    *count = (int)number;
    return TRUE;
  }
  sb_command_misuse (option, _ ("%s is not a whole number from 0 to %d"), text,
                     SB_ORDER_MOST_COUNT);
  return FALSE;
}

/* The id of a design, sheet or card; 0 once it is printed that there is none. */
static guint
find_item (const Change *change, const char *option, const char *name)
{
  const SbDesign *design = sb_state_find_design (change->state, name);
  const SbLayout *layout = sb_state_find_layout (change->state, name);
  if (design == NULL && layout == NULL)
    sb_command_misuse (option, _ ("the job has no design, sheet or card “%s”"), name);
  /* A sheet often bears the words of its own title, which is a design too. */
  return layout != NULL ? layout->id : design != NULL ? design->id : 0;
}

static gboolean
take_single (Change *change, const char *option, const char *name, const char *value)
{
  guint id = find_item (change, option, name);
  if (id == 0)
    return FALSE;
  SbOrderItem item = sb_order_get_item (change->order, id);
  if (!read_count (option, value, &item.singles))
    return FALSE;
  sb_order_set_item (change->order, item);
  return TRUE;
}

static gboolean
take_in_hand (Change *change, const char *option, const char *name, const char *value)
{
  SbPack *pack = sb_order_find_pack (change->order, name);
  if (pack != NULL)
    return read_count (option, value, &pack->in_hand);
  guint id = find_item (change, option, name);
  if (id == 0)
    return FALSE;
  SbOrderItem item = sb_order_get_item (change->order, id);
  if (!read_count (option, value, &item.in_hand))
    return FALSE;
  sb_order_set_item (change->order, item);
  return TRUE;
}

static gboolean
take_spoiled (Change *change, const char *option, const char *name, const char *value)
{
  guint id = find_item (change, option, name);
  if (id == 0)
    return FALSE;
  SbOrderItem item = sb_order_get_item (change->order, id);
  if (!read_count (option, value, &item.spoiled))
    return FALSE;
  sb_order_set_item (change->order, item);
  return TRUE;
}

/* "radish*2,rue" */
static gboolean
take_recipe (Change *change, const char *option, SbPack *pack, const char *recipe)
{
  g_auto (GStrv) lines = g_strsplit (recipe, ",", -1);
  g_array_set_size (pack->lines, 0);
  for (char **line = lines; *line != NULL; line++) {
    int count = 1;
    char *star = strrchr (*line, '*');
    if (star != NULL) {
      *star = '\0';
      if (!read_count (option, star + 1, &count))
        return FALSE;
    }
    guint id = find_item (change, option, g_strstrip (*line));
    if (id == 0)
      return FALSE;
    sb_pack_set_line (pack, id, sb_pack_get_line (pack, id) + count);
  }
  return TRUE;
}

static void
remove_pack (SbOrder *order, const SbPack *pack)
{
  guint index;
  if (g_ptr_array_find (order->packs, pack, &index))
    sb_order_remove_pack (order, index);
}

/* "40:radish*2,rue"; without a recipe the pack keeps the one it has. */
static gboolean
take_pack (Change *change, const char *option, const char *name, const char *value)
{
  SbPack *pack = sb_order_find_pack (change->order, name);
  const char *colon = strchr (value, ':');
  g_autofree char *count =
      colon != NULL ? g_strndup (value, (gsize)(colon - value)) : g_strdup (value);
  int wanted;
  if (!read_count (option, count, &wanted))
    return FALSE;
  if (colon == NULL && (wanted == 0 || pack == NULL)) {
    if (wanted > 0)
      sb_command_misuse (option, _ ("what is in “%s”? Say it as NAME=COUNT:DESIGN,DESIGN"), name);
    else if (pack != NULL)
      remove_pack (change->order, pack);
    return wanted == 0;
  }
  if (pack == NULL) {
    if (change->order->packs->len == SB_ORDER_MOST_PACKS) {
      sb_command_misuse (option, _ ("an order has at most %d packs"), SB_ORDER_MOST_PACKS);
      return FALSE;
    }
    pack = sb_order_add_pack (change->order, name);
  }
  pack->wanted = wanted;
  return colon == NULL || take_recipe (change, option, pack, colon + 1);
}

static void
list_rates (const char *option, const char *key)
{
  g_autoptr (GString) keys = g_string_new (NULL);
  for (int i = 0; i < SB_N_RATES; i++)
    g_string_append_printf (keys, " %s", sb_rate_get_info ((SbRate)i)->key);
  sb_command_misuse (option, _ ("there is no “%s”; there are%s"), key, keys->str);
}

static gboolean
take_rate (Change *change, const char *option, const char *key, const char *value)
{
  SbRate rate;
  double number;
  if (!sb_rate_find (key, &rate)) {
    list_rates (option, key);
    return FALSE;
  }
  const SbRateInfo *info = sb_rate_get_info (rate);
  if (!sb_number_parse (value, &number) || number < info->least || number > info->most) {
    sb_command_misuse (option, _ ("%s: %s is not a number from %g to %g"), key, value, info->least,
                       info->most);
    return FALSE;
  }
  sb_order_set_rate (change->order, rate, number);
  return TRUE;
}

static gboolean
take_text (Change *change, const char *option, const char *key, const char *value)
{
  SbOrderText text;
  if (sb_order_text_find (key, &text)) {
    sb_order_set_text (change->order, text, value);
    return TRUE;
  }
  g_autoptr (GString) keys = g_string_new (NULL);
  for (int i = 0; i < SB_N_ORDER_TEXTS; i++)
    g_string_append_printf (keys, " %s", sb_order_text_get_info ((SbOrderText)i)->key);
  sb_command_misuse (option, _ ("there is no “%s”; there are%s"), key, keys->str);
  return FALSE;
}

static gboolean
take_overs (Change *change, const char *text)
{
  double percent;
  if (text == NULL)
    return TRUE;
  if (g_str_equal (text, "usual")) {
    change->order->overs = SB_OVERS_USUAL;
    return TRUE;
  }
  if (sb_number_parse (text, &percent) && percent >= 0 && percent <= SB_OVERS_MOST &&
      percent == (int)percent) {
    change->order->overs = (int)percent;
    return TRUE;
  }
  sb_command_misuse ("--overs", _ ("%s is neither usual nor a whole number from 0 to %d"), text,
                     SB_OVERS_MOST);
  return FALSE;
}

static gboolean
take_film (Change *change, const char *text)
{
  if (text == NULL)
    return TRUE;
  change->order->covered = g_str_equal (text, "yes");
  if (change->order->covered || g_str_equal (text, "no"))
    return TRUE;
  sb_command_misuse ("--film", _ ("%s is neither yes nor no"), text);
  return FALSE;
}

static gboolean
take_currency (Change *change, const char *code)
{
  if (code == NULL)
    return TRUE;
  if (strlen (code) == 3 && strspn (code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3) {
    g_free (change->order->currency);
    change->order->currency = g_strdup (code);
    return TRUE;
  }
  sb_command_misuse ("--currency", _ ("%s is not a code such as USD or EUR"), code);
  return FALSE;
}

SbState *
sb_order_options_apply (const SbOrderOptions *options, const SbState *state)
{
  g_autoptr (SbOrder) order = sb_order_copy (state->order);
  Change change = {state, order};
  /* Packs before stock, which may name a pack. */
  if (take_each (&change, "--pack", options->packs, FALSE, take_pack) &&
      take_each (&change, "--single", options->singles, TRUE, take_single) &&
      take_each (&change, "--in-hand", options->in_hand, TRUE, take_in_hand) &&
      take_each (&change, "--spoiled", options->spoiled, TRUE, take_spoiled) &&
      take_each (&change, "--rate", options->rates, FALSE, take_rate) &&
      take_each (&change, "--text", options->texts, FALSE, take_text) &&
      take_overs (&change, options->overs) && take_film (&change, options->film) &&
      take_currency (&change, options->currency))
    return sb_edit_set_order (state, g_steal_pointer (&order));
  return NULL;
}
