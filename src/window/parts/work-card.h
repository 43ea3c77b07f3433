/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slow work under way: what it is, how far, and a button that stops it. Shows itself after half a
 * second, so that quick work never flickers. CSS node: box.work-card. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SB_TYPE_WORK_CARD (sb_work_card_get_type ())
G_DECLARE_FINAL_TYPE (SbWorkCard, sb_work_card, SB, WORK_CARD, GtkBox)

/* Appends a card to `area`, a box. *Cancel* cancels `cancellable`. Borrowed: it lives until
 * sb_work_card_done or until the area goes. */
SbWorkCard *sb_work_card_new (GtkBox *area, const char *title, GCancellable *cancellable);

/* What is being done now, in the place of the title. */
void sb_work_card_set_text (SbWorkCard *self, const char *text);

/* 0..1; a negative fraction pulses: how far is not known. */
void sb_work_card_set_fraction (SbWorkCard *self, double fraction);

/* Adds *Enough*, which takes the best that is there so far; emits "enough". */
void sb_work_card_offer_enough (SbWorkCard *self, const char *tooltip);

/* Takes the card away. */
void sb_work_card_done (SbWorkCard *self);

G_END_DECLS
