/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suite.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

#include "output/jpeg.h"

/* A JPEG by libjpeg, 40 x 30. */
static GByteArray *
make_jpeg (void)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 40, 30);
  gdk_pixbuf_fill (pixbuf, 0xc02040ff);
  char *data;
  gsize length;
  ck_assert (gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, "jpeg", NULL, NULL));
  GByteArray *jpeg = g_byte_array_new ();
  g_byte_array_append (jpeg, (guint8 *)data, (guint)length);
  g_free (data);
  return jpeg;
}

/* With a segment put in after the start mark. */
static GBytes *
with_segment (guint8 marker, const void *body, guint length)
{
  g_autoptr (GByteArray) jpeg = make_jpeg ();
  GByteArray *out = g_byte_array_new ();
  guint8 head[] = {0xff, marker, (guint8)((length + 2) >> 8), (guint8)(length + 2)};
  g_byte_array_append (out, jpeg->data, 2);
  g_byte_array_append (out, head, 4);
  g_byte_array_append (out, body, length);
  g_byte_array_append (out, jpeg->data + 2, jpeg->len - 2);
  return g_byte_array_free_to_bytes (out);
}

static gboolean
holds (GBytes *bytes, const char *text)
{
  gsize length;
  const void *data = g_bytes_get_data (bytes, &length);
  return memmem (data, length, text, strlen (text)) != NULL;
}

START_TEST (private_data_goes)
{
  g_autoptr (GBytes) jpeg = with_segment (0xe1, "http://ns.adobe.com/xap/1.0/ secret place", 41);
  g_autoptr (GBytes) comment = with_segment (0xfe, "secret comment", 14);
  g_autoptr (GBytes) stripped = sb_jpeg_strip (jpeg, 40, 30);
  ck_assert_ptr_nonnull (stripped);
  ck_assert (holds (jpeg, "secret"));
  ck_assert (!holds (stripped, "secret"));
  g_autoptr (GBytes) uncommented = sb_jpeg_strip (comment, 40, 30);
  ck_assert_ptr_nonnull (uncommented);
  ck_assert (!holds (uncommented, "secret"));

  /* What is left decodes to the same picture. */
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_bytes (stripped);
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new_from_stream (stream, NULL, NULL);
  ck_assert_ptr_nonnull (pixbuf);
  ck_assert_int_eq (gdk_pixbuf_get_width (pixbuf), 40);
}
END_TEST

START_TEST (profile_and_other_size_are_refused)
{
  g_autoptr (GBytes) profiled = with_segment (0xe2, "ICC_PROFILE\0\1\1 bytes", 20);
  ck_assert_ptr_null (sb_jpeg_strip (profiled, 40, 30));
  g_autoptr (GBytes) plain = g_byte_array_free_to_bytes (make_jpeg ());
  ck_assert_ptr_null (sb_jpeg_strip (plain, 30, 40));
  g_autoptr (GBytes) stripped = sb_jpeg_strip (plain, 40, 30);
  ck_assert_ptr_nonnull (stripped);
}
END_TEST

/* EXIF in both byte orders with orientation 6 (a quarter turn) and 1 (upright). */
START_TEST (turned_is_refused)
{
  guint8 big[] = {'E', 'x',  'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1,
                  1,   0x12, 0,   3,   0, 0, 0,   1,   0, 6,  0, 0, 0, 0, 0, 0};
  guint8 little[] = {'E',  'x', 'i', 'f', 0, 0, 'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0,
                     0x12, 1,   3,   0,   1, 0, 0,   0,   6,  0, 0, 0, 0, 0, 0, 0};
  for (int upright = 0; upright < 2; upright++) {
    if (upright) {
      big[25] = 1;
      little[24] = 1;
    }
    g_autoptr (GBytes) a = with_segment (0xe1, big, sizeof big);
    g_autoptr (GBytes) b = with_segment (0xe1, little, sizeof little);
    g_autoptr (GBytes) a_stripped = sb_jpeg_strip (a, 40, 30);
    g_autoptr (GBytes) b_stripped = sb_jpeg_strip (b, 40, 30);
    ck_assert_int_eq (a_stripped != NULL, upright);
    ck_assert_int_eq (b_stripped != NULL, upright);
  }
}
END_TEST

/* Cut anywhere, or with any byte changed, it is taken or refused, never read past its end. */
START_TEST (damaged_is_no_danger)
{
  g_autoptr (GByteArray) jpeg = make_jpeg ();
  for (guint length = 0; length < jpeg->len; length++) {
    /* An own block, so that the address sanitizer sees the end. */
    g_autoptr (GBytes) cut = g_bytes_new_take (g_memdup2 (jpeg->data, length), length);
    GBytes *out = sb_jpeg_strip (cut, 40, 30);
    if (out != NULL)
      g_bytes_unref (out);
  }
  for (guint i = 0; i < MIN (jpeg->len, 700); i++)
    for (int bit = 0; bit < 8; bit++) {
      jpeg->data[i] ^= (guint8)(1 << bit);
      g_autoptr (GBytes) bytes = g_bytes_new (jpeg->data, jpeg->len);
      g_autoptr (GBytes) out = sb_jpeg_strip (bytes, 40, 30);
      jpeg->data[i] ^= (guint8)(1 << bit);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("jpeg");
  TCase *tc = tcase_create ("jpeg");
  tcase_add_test (tc, private_data_goes);
  tcase_add_test (tc, profile_and_other_size_are_refused);
  tcase_add_test (tc, turned_is_refused);
  tcase_add_test (tc, damaged_is_no_danger);
  suite_add_tcase (suite, tc);
  return sb_run_suite (suite);
}
