/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <string.h>

#include "printing/media.h"
#include "printing/run.h"
#include "printing/send.h"

static SbStock film = {.name = "Clear film", .inkjet_ok = TRUE, .film = TRUE, .drying_hours = 24};
static SbStock matte = {.name = "Matte", .inkjet_ok = TRUE};
static SbStock office = {.name = "Office labels", .inkjet_ok = TRUE, .laser_ok = TRUE};
static SbStock toner = {.name = "Toner only", .laser_ok = TRUE};

static void
check (const SbStock *stock, SbPrinterKind kind, gboolean part_used, SbMediaVerdict want,
       const char *word)
{
  g_autofree char *message = NULL;
  ck_assert_int_eq (sb_media_check (stock, kind, part_used, &message), want);
  ck_assert_int_eq (message != NULL, want != SB_MEDIA_FINE);
  ck_assert_msg (word == NULL || strstr (message, word) != NULL, "%s", message);
}

START_TEST (the_gate)
{
  check (&film, SB_PRINTER_LASER, FALSE, SB_MEDIA_REFUSED, "fumes");
  check (&matte, SB_PRINTER_LASER, FALSE, SB_MEDIA_REFUSED, "fumes");
  check (&office, SB_PRINTER_LASER, FALSE, SB_MEDIA_FINE, NULL);
  check (&office, SB_PRINTER_LASER, TRUE, SB_MEDIA_REFUSED, "taken off");
  check (&office, SB_PRINTER_INKJET, TRUE, SB_MEDIA_CAUTION, "jam");
  check (&toner, SB_PRINTER_INKJET, FALSE, SB_MEDIA_CAUTION, "smear");
  check (&matte, SB_PRINTER_INKJET, FALSE, SB_MEDIA_FINE, NULL);
  check (&matte, SB_PRINTER_KIND_UNKNOWN, FALSE, SB_MEDIA_CAUTION, "makers of printer and paper");
  check (&office, SB_PRINTER_KIND_UNKNOWN, FALSE, SB_MEDIA_FINE, NULL);
  check (&office, SB_PRINTER_KIND_UNKNOWN, TRUE, SB_MEDIA_CAUTION, NULL);
}
END_TEST

START_TEST (advice_tells_of_drying_and_defers)
{
  g_autofree char *ink = sb_media_advice (&film, SB_PRINTER_INKJET);
  ck_assert (strstr (ink, "24 hours") != NULL && strstr (ink, "makers of printer") != NULL);
  g_autofree char *laser = sb_media_advice (&office, SB_PRINTER_LASER);
  ck_assert (strstr (laser, "dry") == NULL && strstr (laser, "fuser") != NULL);
}
END_TEST

/* PWG 5101.1: self-describing names. */
START_TEST (media_keywords)
{
  g_autofree char *letter = sb_media_keyword (215900, 279400);
  ck_assert_str_eq (letter, "na_letter_8.5x11in");
  g_autofree char *own = sb_media_keyword (180000, 250000);
  ck_assert_str_eq (own, "custom_180x250mm_180x250mm");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("media");
  TCase *tc = tcase_create ("media");
  tcase_add_test (tc, the_gate);
  tcase_add_test (tc, advice_tells_of_drying_and_defers);
  tcase_add_test (tc, media_keywords);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
