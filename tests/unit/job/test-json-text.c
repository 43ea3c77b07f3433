/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/json-text.h"

#include <math.h>
#include <string.h>

#include "suite.h"

static char *
write_number (double number)
{
  g_autoptr (JsonNode) node = json_node_alloc ();
  json_node_init_double (node, number);
  return sb_json_to_text (node, NULL);
}

START_TEST (test_numbers_are_short)
{
  const struct {
    double number;
    const char *text;
  } cases[] = {
      {3.05, "3.05"},
      {0, "0.0"},
      {-12.7, "-12.7"},
      {0.1 + 0.2, "0.30000000000000004"},
      {1e-7, "1e-07"},
      {25.4 / 600, NULL},
      {1.0 / 3, NULL},
      {4e15 / 3, NULL},
      {-5e-324, NULL},
      {M_PI * 1e200, NULL},
      {59.999999999999993, NULL},
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *text = write_number (cases[i].number);
    if (cases[i].text != NULL)
      ck_assert_str_eq (text, cases[i].text);
    ck_assert_msg (g_ascii_strtod (text, NULL) == cases[i].number, "%s", text);
  }
}
END_TEST

/* Only numbers are written anew, never what looks like one inside a text. */
START_TEST (test_texts_stay)
{
  const char *json = "{\"3.0499999999999998\":[\"a \\\"3.0499999999999998\\\\\",3.0499999999999998,"
                     "true,null,123456789012345678,{}]}";
  g_autoptr (JsonNode) root = json_from_string (json, NULL);
  ck_assert_ptr_nonnull (root);
  gsize length;
  g_autofree char *text = sb_json_to_text (root, &length);
  ck_assert_str_eq (text, "{\"3.0499999999999998\":[\"a \\\"3.0499999999999998\\\\\",3.05,"
                          "true,null,123456789012345678,{}]}");
  ck_assert_uint_eq (length, strlen (text));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("json-text");
  TCase *tcase = tcase_create ("json-text");
  tcase_add_test (tcase, test_numbers_are_short);
  tcase_add_test (tcase, test_texts_stay);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
