/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a photo's file tells of the place it was taken at, of the camera and of its owner goes into
 * nothing that is exported. */
#include "suite.h"

#include <glib/gstdio.h>
#include <lcms2.h>
#include <zlib.h>

#include "make-job.h"
#include "make-photo.h"
#include "make-picture.h"
#include "output/export.h"

#define SECRET "PLOT7-51.4769N"

/* A JPEG with an APP1 segment (EXIF, or XMP) and a comment that hold the secret. */
static SbPicture *
make_photo (const char *heading, gsize heading_size)
{
  g_autoptr (GdkPixbuf) pixbuf = sb_make_quadrants (64, 48);
  g_autoptr (GBytes) plain = sb_make_with_pixbuf (pixbuf, "jpeg", NULL, NULL);
  gsize size;
  const guint8 *data = g_bytes_get_data (plain, &size);
  GByteArray *out = g_byte_array_new ();
  guint length = (guint)(2 + heading_size + strlen (SECRET));
  const guint8 app[4] = {0xff, 0xe1, (guint8)(length >> 8), (guint8)length};
  const guint8 comment[4] = {0xff, 0xfe, 0, (guint8)(2 + strlen (SECRET))};

  g_byte_array_append (out, data, 2);
  g_byte_array_append (out, app, 4);
  g_byte_array_append (out, (const guint8 *)heading, (guint)heading_size);
  g_byte_array_append (out, (const guint8 *)SECRET, (guint)strlen (SECRET));
  g_byte_array_append (out, comment, 4);
  g_byte_array_append (out, (const guint8 *)SECRET, (guint)strlen (SECRET));
  g_byte_array_append (out, data + 2, (guint)size - 2);
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (out);
  g_autoptr (GError) error = NULL;
  SbPicture *picture = sb_picture_new (bytes, "plot.jpg", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  return picture;
}

/* A PNG whose profile names the device, with a text beside it. */
static SbPicture *
make_scan (void)
{
  cmsHPROFILE profile = cmsCreate_sRGBProfile ();
  cmsMLU *device = cmsMLUalloc (NULL, 1);
  cmsUInt32Number size = 0;
  cmsSetProfileVersion (profile, 2.1); /* whose texts are ASCII */
  cmsMLUsetASCII (device, "en", "US", SECRET);
  cmsWriteTag (profile, cmsSigDeviceModelDescTag, device);
  cmsWriteTag (profile, cmsSigProfileDescriptionTag, device);
  cmsSaveProfileToMem (profile, NULL, &size);
  g_autofree guint8 *data = g_malloc (size);
  ck_assert (cmsSaveProfileToMem (profile, data, &size));
  cmsMLUfree (device);
  cmsCloseProfile (profile);
  const SbMakePng make = {.width = 64,
                          .height = 48,
                          .depth = 8,
                          .colour = PNG_COLOR_TYPE_RGB,
                          .profile = data,
                          .profile_size = size};
  g_autoptr (GBytes) bytes = sb_make_png (&make);
  g_autoptr (GError) error = NULL;
  SbPicture *picture = sb_picture_new (bytes, "plot.png", &error);
  ck_assert_msg (picture != NULL, "%s", error ? error->message : "");
  return picture;
}

static gboolean
holds (const guint8 *data, gsize size)
{
  return memmem (data, size, SECRET, strlen (SECRET)) != NULL;
}

/* SVG holds pictures as base64. */
static gboolean
holds_in_base64 (const char *text)
{
  for (const char *at = strstr (text, ";base64,"); at != NULL; at = strstr (at, ";base64,")) {
    at += strlen (";base64,");
    gsize length = strcspn (at, "\"'"), size;
    g_autofree char *packed = g_strndup (at, length);
    g_autofree guint8 *data = g_base64_decode (packed, &size);
    if (holds (data, size))
      return TRUE;
  }
  return FALSE;
}

/* PDF and PNG hold some of their parts packed by zlib: any that opens is looked into. */
static gboolean
holds_in_streams (const guint8 *data, gsize size)
{
  g_autofree guint8 *open = g_malloc (1 << 20);
  for (gsize i = 0; i + 2 < size; i++) {
    uLongf length = 1 << 20;
    if ((data[i] & 0x8f) != 8 || (data[i] << 8 | data[i + 1]) % 31 != 0)
      continue;
    z_stream stream = {.next_in = (Bytef *)data + i,
                       .avail_in = (uInt)(size - i),
                       .next_out = open,
                       .avail_out = (uInt)length};
    if (inflateInit (&stream) != Z_OK)
      continue;
    inflate (&stream, Z_FINISH);
    gsize got = stream.total_out;
    inflateEnd (&stream);
    if (holds (open, got))
      return TRUE;
  }
  return FALSE;
}

/* That there is something to be silent about. */
static void
assert_told (SbPicture *picture)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (sb_picture_get_bytes (picture), &size);
  ck_assert (holds (data, size) || holds_in_streams (data, size));
}

static void
assert_silent (const SbState *state, const char *path)
{
  g_autoptr (GError) error = NULL;
  SbExportOptions options = sb_export_options_default ();
  char *data;
  gsize size;

  ck_assert_msg (sb_export (state, path, &options, NULL, &error), "%s",
                 error ? error->message : "");
  ck_assert (g_file_get_contents (path, &data, &size, NULL));
  ck_assert_msg (!holds ((guint8 *)data, size) && !holds_in_base64 (data) &&
                     !holds_in_streams ((guint8 *)data, size),
                 "%s tells the place", path);
  g_free (data);
  g_unlink (path);
}

START_TEST (test_nothing_private_is_exported)
{
  static const char *const endings[] = {"pdf", "png", "svg"};
  static const char exif[] = "Exif\0", xmp[] = "http://ns.adobe.com/xap/1.0/";
  g_autofree char *dir = g_dir_make_tmp ("sb-private-XXXXXX", NULL);

  for (int i = 0; i < 6; i++) {
    g_autoptr (SbPicture) photo = i / 2 == 0   ? make_photo (exif, sizeof exif)
                                  : i / 2 == 1 ? make_photo (xmp, sizeof xmp)
                                               : make_scan ();
    assert_told (photo);
    SbDesign *design = sb_design_new (photo, "plot");
    SbCleanup recipe = i % 2 ? sb_cleanup_none () : sb_cleanup_default ();
    sb_design_set_cleanup (design, &recipe);
    ck_assert (sb_design_prepare (design, NULL, NULL));
    guint id;
    SbState *state = sb_make_job (0);
    sb_take (&state, sb_edit_add_design (state, design, &id));
    sb_make_piece (&state, id, 100, 100);
    for (gsize k = 0; k < G_N_ELEMENTS (endings); k++) {
      g_autofree char *file = g_strconcat ("page.", endings[k], NULL);
      g_autofree char *path = g_build_filename (dir, file, NULL);
      assert_silent (state, path);
    }
    sb_state_unref (state);
  }
  g_rmdir (dir);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("private");
  TCase *tcase = tcase_create ("private");
  tcase_add_test (tcase, test_nothing_private_is_exported);
  suite_add_tcase (suite, tcase);
  return sb_run_suite (suite);
}
