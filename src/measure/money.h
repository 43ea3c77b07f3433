/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Amounts of money for people, in the currency of the locale or of another that a job names by its
 * ISO 4217 code. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The code of the locale's currency ("USD"), empty where the locale has none. Free with g_free. */
char *sb_currency_from_locale (void) G_GNUC_WARN_UNUSED_RESULT;

/* "$1,234.50" where `currency` is the locale's own, else "1234.50 EUR"; digits as the locale's
 * currency has them, 2 for others. Free with g_free. */
char *sb_money_format (double amount, const char *currency) G_GNUC_WARN_UNUSED_RESULT;

/* The same to a hundredth of the smallest coin: what one sticker or one sheet costs. */
char *sb_money_format_fine (double amount, const char *currency) G_GNUC_WARN_UNUSED_RESULT;

/* Reads a typed number with a decimal point or comma; blanks around are ignored. FALSE for anything
 * else, and for what is not finite. */
gboolean sb_number_parse (const char *text, double *number);

G_END_DECLS
