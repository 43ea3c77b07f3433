/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The options that say what an order is. */
#pragma once

#include "job/state.h"

G_BEGIN_DECLS

/* As they are given; each list may be NULL. */
typedef struct {
  char **packs, **singles, **in_hand, **spoiled, **rates, **texts;
  char *overs, *film, *currency;
} SbOrderOptions;

/* clang-format off */
#define SB_ORDER_OPTION_ENTRIES(options)                                                           \
  {"pack", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).packs,                                      \
   N_ ("A pack, how many, and what is in each; count 0 without designs takes it out"),             \
   N_ ("NAME=COUNT:DESIGN[*N],…")},                                                                \
  {"single", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).singles,                                  \
   N_ ("How many of a design are sold by the piece"), N_ ("DESIGN=N")},                            \
  {"in-hand", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).in_hand,                                 \
   N_ ("How many of a design, or made packs, are there already"), N_ ("NAME=N")},                  \
  {"spoiled", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).spoiled,                                 \
   N_ ("How many of a design were lost in printing and cutting"), N_ ("DESIGN=N")},                \
  {"overs", 0, 0, G_OPTION_ARG_STRING, &(options).overs,                                           \
   N_ ("Spares to print, in percent, or usual"), N_ ("PERCENT")},                                  \
  {"film", 0, 0, G_OPTION_ARG_STRING, &(options).film,                                             \
   N_ ("Whether sheets are covered with clear film: yes or no"), N_ ("ANSWER")},                   \
  {"rate", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).rates,                                      \
   N_ ("A price, a time or a fee"), N_ ("KEY=NUMBER")},                                            \
  {"text", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(options).texts,                                      \
   N_ ("Buyer, batch, maker and the like"), N_ ("KEY=TEXT")},                                      \
  {"currency", 0, 0, G_OPTION_ARG_STRING, &(options).currency,                                     \
   N_ ("Three letters (the locale's)"), N_ ("CODE")}
/* clang-format on */

void sb_order_options_clear (SbOrderOptions *options);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbOrderOptions, sb_order_options_clear)

/* The state with the order changed, new; NULL once it is printed what is wrong. */
SbState *sb_order_options_apply (const SbOrderOptions *options,
                                 const SbState *state) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
