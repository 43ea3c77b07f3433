/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the queues of with-queues.sh say, as the program understands it. Margins are those that the
 * virtual printers were told to have (PWG 5100.7 media-col-database, 1/100 mm). */
#include "suite.h"

#include <string.h>

#include "make-sheet.h"
#include "printing/run.h"

#define LETTER 215900, 279400
#define A4 210000, 297000

static void
check_margins (const char *printer, sb_um width, sb_um height, SbMarginsAnswer want, SbMargins m)
{
  g_autoptr (GError) error = NULL;
  SbPaperAnswer paper;
  ck_assert_msg (sb_printer_ask_paper (printer, width, height, &paper, &error), "%s",
                 error ? error->message : "");
  ck_assert_int_eq (paper.answer, want);
  const SbMargins *got = &paper.margins;
  ck_assert_msg (memcmp (got, &m, sizeof m) == 0, "%s: %d %d %d %d", printer, got->top, got->right,
                 got->bottom, got->left);
}

START_TEST (all_are_listed)
{
  static const char *const names[] = {"edge", "ink", "mixed", "raw", "tail"};
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) printers = sb_printers_list (&error);
  ck_assert_msg (printers != NULL, "%s", error ? error->message : "");
  ck_assert_uint_eq (printers->len, G_N_ELEMENTS (names));
  for (guint i = 0; i < printers->len; i++) {
    const SbPrinter *printer = printers->pdata[i];
    ck_assert_str_eq (printer->name, names[i]);
    ck_assert_int_eq (printer->status, SB_PRINTER_IDLE);
    ck_assert_int_eq (printer->is_default, strcmp (printer->name, "ink") == 0);
  }
}
END_TEST

START_TEST (margins_by_size)
{
  check_margins ("ink", LETTER, SB_MARGINS_KNOWN, (SbMargins){3050, 3050, 3050, 3050});
  check_margins ("tail", A4, SB_MARGINS_KNOWN, (SbMargins){4200, 4200, 12700, 4200});
  check_margins ("mixed", A4, SB_MARGINS_KNOWN, (SbMargins){3050, 3400, 3050, 3400});
  /* Two entries of one size: the widest, whichever the queue will take. */
  check_margins ("mixed", LETTER, SB_MARGINS_KNOWN, (SbMargins){3050, 6350, 12700, 6350});
  /* Offered with margins and without: the true-size one. */
  check_margins ("edge", LETTER, SB_MARGINS_KNOWN, (SbMargins){3050, 3050, 3050, 3050});
  /* A size of the maker's own, in the range that tail takes. */
  check_margins ("tail", 180000, 250000, SB_MARGINS_KNOWN, (SbMargins){4200, 4200, 12700, 4200});
}
END_TEST

START_TEST (unknown_is_an_answer)
{
  SbMargins fallback = sb_margins_fallback ();
  check_margins ("ink", 180000, 250000, SB_MARGINS_UNKNOWN, fallback);
  check_margins ("raw", LETTER, SB_MARGINS_UNKNOWN, fallback);
}
END_TEST

START_TEST (borderless_papers_are_told_apart)
{
  g_autoptr (GPtrArray) papers = sb_printer_get_papers ("edge", NULL);
  guint borderless = 0;
  for (guint i = 0; i < papers->len; i++)
    borderless += ((SbPrinterPaper *)papers->pdata[i])->borderless;
  ck_assert_uint_eq (papers->len, 4);
  ck_assert_uint_eq (borderless, 2);

  SbPaperAnswer paper;
  ck_assert (sb_printer_ask_paper ("edge", LETTER, &paper, NULL));
  ck_assert (paper.offered && paper.borderless_too && paper.names_papers);
  ck_assert (sb_printer_ask_paper ("ink", LETTER, &paper, NULL));
  ck_assert (paper.offered && !paper.borderless_too);
  ck_assert (sb_printer_ask_paper ("ink", 180000, 250000, &paper, NULL));
  ck_assert (!paper.offered && paper.names_papers);
  ck_assert (sb_printer_ask_paper ("raw", LETTER, &paper, NULL));
  ck_assert (!paper.offered && !paper.names_papers);

  /* Chosen by the job and offered: stays; else the paper with margins. */
  g_autoptr (SbState) state = sb_state_new ("na_letter_8.5x11in", LETTER);
  g_autoptr (SbState) wish = sb_edit_set_borderless (state, 2500);
  g_autoptr (SbState) can = sb_print_suit (wish, "edge", NULL, NULL);
  ck_assert_int_eq (can->overshoot, 2500);
  g_autoptr (SbState) cannot = sb_print_suit (wish, "ink", NULL, NULL);
  ck_assert_int_eq (cannot->overshoot, 0);
  ck_assert_int_eq (cannot->margins.left, 3050);
}
END_TEST

START_TEST (job_follows_the_printer)
{
  /* A landscape page: the sheet's foot is at the page's right. */
  g_autoptr (SbState) wide = sb_state_new ("na_letter_8.5x11in", 279400, 215900);
  SbPaperAnswer paper;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) suited = sb_print_suit (wide, "tail", &paper, &error);
  ck_assert_msg (suited != NULL, "%s", error ? error->message : "");
  ck_assert_int_eq (paper.answer, SB_MARGINS_KNOWN);
  ck_assert_int_eq (suited->margins_source, SB_MARGINS_PRINTER);
  ck_assert_int_eq (suited->margins.right, 12700);
  ck_assert_int_eq (suited->margins.bottom, 4200);
  ck_assert_str_eq (suited->printer, "tail");

  /* Typed margins win. */
  SbMargins typed = {10000, 11000, 12000, 13000};
  g_autoptr (SbState) own = sb_edit_set_margins (wide, typed, SB_MARGINS_TYPED);
  g_autoptr (SbState) kept = sb_print_suit (own, "tail", NULL, &error);
  ck_assert (memcmp (&kept->margins, &typed, sizeof typed) == 0);

  g_autoptr (SbState) unknown = sb_print_suit (wide, "raw", &paper, &error);
  ck_assert_int_eq (paper.answer, SB_MARGINS_UNKNOWN);
  ck_assert_int_eq (unknown->margins_source, SB_MARGINS_FALLBACK);
  ck_assert_ptr_null (sb_print_suit (wide, "nobody", NULL, &error));
  ck_assert (g_error_matches (error, SB_PRINT_ERROR, SB_PRINT_ERROR_NO_PRINTER));
}
END_TEST

START_TEST (kind_is_remembered)
{
  g_autoptr (SbPrinter) before = sb_printer_find ("mixed", NULL);
  ck_assert_int_eq (before->kind, SB_PRINTER_KIND_UNKNOWN);
  ck_assert (sb_printer_remember_kind ("mixed", SB_PRINTER_INKJET, NULL));
  g_autoptr (SbPrinter) after = sb_printer_find ("mixed", NULL);
  ck_assert_int_eq (after->kind, SB_PRINTER_INKJET);
  ck_assert (sb_printer_remember_kind ("mixed", SB_PRINTER_KIND_UNKNOWN, NULL));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("printers");
  TCase *tc = tcase_create ("printers");
  tcase_set_timeout (tc, 60);
  tcase_add_test (tc, all_are_listed);
  tcase_add_test (tc, margins_by_size);
  tcase_add_test (tc, unknown_is_an_answer);
  tcase_add_test (tc, borderless_papers_are_told_apart);
  tcase_add_test (tc, job_follows_the_printer);
  tcase_add_test (tc, kind_is_remembered);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
