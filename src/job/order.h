/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a job is to sell: packs with their recipes, singles, what is in hand already, how often each
 * page is printed, and the rates that money and time are reckoned with. An immutable,
 * reference-counted value in SbState: make a copy, change the copy, put it in with
 * sb_edit_set_order. What follows from it is reckoned in the room order/.
 *
 * Items are designs and layouts, by id. An id is never used twice in a job, so that of an item or
 * page that is gone stays without effect. */
#pragma once

#include <json-glib/json-glib.h>

#include "job/order-rates.h"

G_BEGIN_DECLS

#define SB_ORDER_MOST_COUNT 9999
#define SB_ORDER_MOST_PACKS 200
#define SB_ORDER_MOST_LINES 5000
#define SB_ORDER_MOST_TEXT 2000 /* characters */
#define SB_OVERS_USUAL (-1)     /* by the handbook's rule: see order/counts.h */
#define SB_OVERS_MOST 100       /* percent */

/* How many of an item a pack holds. */
typedef struct {
  guint item_id;
  int count; /* 1..SB_ORDER_MOST_COUNT */
} SbRecipeLine;

typedef struct {
  char *name;
  int wanted;        /* packs ordered */
  int in_hand;       /* made packs there are already */
  GArray *lines;     /* SbRecipeLine, each item once */
  JsonObject *extra; /* fields of a newer version; or NULL */
} SbPack;

/* What is said of an item besides packs. */
typedef struct {
  guint item_id;
  int singles; /* sold by the piece */
  int in_hand; /* loose ones there are already */
  int spoiled; /* lost in printing and cutting, as counted by the maker */
} SbOrderItem;

/* How often a page is printed. */
typedef struct {
  guint page_id;
  int times; /* 0..SB_ORDER_MOST_COUNT, 0 where it belongs to no order any more; pages that are not
                named are printed once */
} SbRun;

typedef enum {
  SB_ORDER_TITLE,
  SB_ORDER_NUMBER,
  SB_ORDER_BUYER,
  SB_ORDER_DATE,
  SB_ORDER_BATCH,
  SB_ORDER_MAKER,
  SB_ORDER_CONTACT,
  SB_ORDER_YEAR,
  SB_ORDER_THANKS,
  SB_ORDER_RETURNS,
  SB_ORDER_LICENCE,
  SB_N_ORDER_TEXTS,
} SbOrderText;

typedef struct {
  const char *key;   /* in files and on the command line: "buyer" */
  const char *label; /* untranslated */
} SbOrderTextInfo;

const SbOrderTextInfo *sb_order_text_get_info (SbOrderText text); /* static memory */
gboolean sb_order_text_find (const char *key, SbOrderText *text);

typedef struct _SbOrder SbOrder;
struct _SbOrder {
  /*< read only once it is in a state >*/
  GPtrArray *packs; /* SbPack */
  GArray *items;    /* SbOrderItem, each once */
  GArray *runs;     /* SbRun, each page once */
  int overs;        /* percent, or SB_OVERS_USUAL */
  gboolean covered; /* with clear film before cutting */
  double rates[SB_N_RATES];
  char *texts[SB_N_ORDER_TEXTS]; /* never NULL; empty where nothing is said */
  char *currency;                /* ISO 4217, empty where none is known */
  JsonObject *extra;             /* fields of a newer version; or NULL */
  gatomicrefcount refs;
};

/* Nothing ordered; usual rates; the locale's currency. */
SbOrder *sb_order_new (void) G_GNUC_WARN_UNUSED_RESULT;
SbOrder *sb_order_copy (const SbOrder *order) G_GNUC_WARN_UNUSED_RESULT;
SbOrder *sb_order_ref (SbOrder *order);
void sb_order_unref (SbOrder *order);
gboolean sb_order_equal (const SbOrder *a, const SbOrder *b);
/* Nothing was ever said in it; its currency does not count. */
gboolean sb_order_is_empty (const SbOrder *order);

/* For a copy. Numbers past their range are taken to its end. */
/* Borrowed until the next pack is removed. */
SbPack *sb_order_add_pack (SbOrder *order, const char *name);
SbPack *sb_order_find_pack (const SbOrder *order, const char *name); /* NULL when there is none */
void sb_order_remove_pack (SbOrder *order, guint index);
void sb_pack_set_name (SbPack *pack, const char *name);
/* 0 takes the item out of the recipe. */
void sb_pack_set_line (SbPack *pack, guint item_id, int count);
int sb_pack_get_line (const SbPack *pack, guint item_id);
/* Replaces what is said of item.item_id. */
void sb_order_set_item (SbOrder *order, SbOrderItem item);
SbOrderItem sb_order_get_item (const SbOrder *order, guint item_id);
void sb_order_set_times (SbOrder *order, guint page_id, int times);
int sb_order_get_times (const SbOrder *order, guint page_id);
void sb_order_set_rate (SbOrder *order, SbRate rate, double value);
/* Cleaned to valid UTF-8 of at most SB_ORDER_MOST_TEXT characters. */
void sb_order_set_text (SbOrder *order, SbOrderText text, const char *value);
/* Takes every number to its range and drops recipe lines past their number; what an edit does. */
void sb_order_tidy (SbOrder *order);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbOrder, sb_order_unref)

G_END_DECLS
