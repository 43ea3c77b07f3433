/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What cairo's PDF lacks is put in through libqpdf, because
 * - cairo has no call for /ViewerPreferences; an incremental update written by hand would have to
 *   know whether cairo wrote a table or a stream of cross references (it depends on its version),
 *   and qpdf knows both;
 * - cairo packs pixels without a predictor, which makes photos half as large again as PNG does. */
#include "config.h"

#include "output/writers.h"

#include <glib/gi18n.h>
#include <qpdf/qpdf-c.h>
#include <string.h>

#include "job/file.h"
#include "output/predictor.h"

/* PDF counts objects with at most ten digits; a damaged /Size must not become an endless loop. */
#define MOST_OBJECTS 10000000
/* GByteArray and zlib's one-call form hold less than 4 GiB; larger pictures stay as cairo wrote
 * them. */
#define MOST_PIXEL_BYTES (1024 * 1024 * 1024)

typedef struct {
  int width, height;
  int components;
} ImageShape;

static void
qpdf_free (qpdf_data qpdf)
{
  qpdf_cleanup (&qpdf);
}
G_DEFINE_AUTO_CLEANUP_FREE_FUNC (qpdf_data, qpdf_free, NULL)

static int
get_int (qpdf_data qpdf, qpdf_oh dict, const char *key)
{
  int value = 0;
  qpdf_oh_get_value_as_int (qpdf, qpdf_oh_get_key_if_dict (qpdf, dict, key), &value);
  return value;
}

static gboolean
key_is (qpdf_data qpdf, qpdf_oh dict, const char *key, const char *name)
{
  return qpdf_oh_is_name_and_equals (qpdf, qpdf_oh_get_key_if_dict (qpdf, dict, key), name);
}

/* Whether this object is a picture of 8 bits a sample that cairo deflated without a predictor. */
static gboolean
is_plain_image (qpdf_data qpdf, qpdf_oh object, ImageShape *shape)
{
  if (!qpdf_oh_is_stream (qpdf, object))
    return FALSE;
  qpdf_oh dict = qpdf_oh_get_dict (qpdf, object);
  if (!key_is (qpdf, dict, "/Subtype", "/Image") ||
      !key_is (qpdf, dict, "/Filter", "/FlateDecode") ||
      qpdf_oh_has_key (qpdf, dict, "/DecodeParms") ||
      get_int (qpdf, dict, "/BitsPerComponent") != 8)
    return FALSE;
  if (key_is (qpdf, dict, "/ColorSpace", "/DeviceRGB"))
    shape->components = 3;
  else if (key_is (qpdf, dict, "/ColorSpace", "/DeviceGray"))
    shape->components = 1;
  else
    return FALSE;
  shape->width = get_int (qpdf, dict, "/Width");
  shape->height = get_int (qpdf, dict, "/Height");
  return shape->width > 0 && shape->height > 0 &&
         (gint64)shape->width * shape->height * shape->components <= MOST_PIXEL_BYTES;
}

static void
repack_image (qpdf_data qpdf, qpdf_oh object, const ImageShape *shape)
{
  QPDF_BOOL decoded = QPDF_FALSE;
  unsigned char *pixels = NULL;
  size_t length = 0;
  gsize row_bytes = (gsize)shape->width * (gsize)shape->components;
  if (qpdf_oh_get_stream_data (qpdf, object, qpdf_dl_generalized, &decoded, &pixels, &length) &
      QPDF_ERRORS)
    return;
  if (decoded && length == row_bytes * (gsize)shape->height) {
    g_autoptr (GByteArray) packed =
        sb_predictor_pack (pixels, row_bytes, (gsize)shape->height, (guint)shape->components);
    g_autofree char *parms =
        g_strdup_printf ("<< /Predictor 15 /Colors %d /BitsPerComponent 8 /Columns %d >>",
                         shape->components, shape->width);
    qpdf_oh_replace_stream_data (qpdf, object, packed->data, packed->len,
                                 qpdf_oh_new_name (qpdf, "/FlateDecode"),
                                 qpdf_oh_parse (qpdf, parms));
  }
  free (pixels);
}

static gboolean
repack_images (qpdf_data qpdf, GCancellable *cancellable, GError **error)
{
  int n = get_int (qpdf, qpdf_get_trailer (qpdf), "/Size");
  for (int id = 1; id < MIN (n, MOST_OBJECTS); id++) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
    ImageShape shape;
    qpdf_oh object = qpdf_get_object_by_id (qpdf, id, 0);
    if (is_plain_image (qpdf, object, &shape))
      repack_image (qpdf, object, &shape);
    qpdf_oh_release_all (qpdf);
  }
  return TRUE;
}

static gboolean
take_qpdf_error (qpdf_data qpdf, GError **error)
{
  if (!qpdf_has_error (qpdf))
    return FALSE;
  g_set_error (error, SB_FILE_ERROR, SB_FILE_ERROR_WRITE, _ ("The PDF could not be finished: %s"),
               qpdf_get_error_full_text (qpdf, qpdf_get_error (qpdf)));
  return TRUE;
}

GBytes *
sb_pdf_finish (GByteArray *pdf, GCancellable *cancellable, GError **error)
{
  g_auto (qpdf_data) qpdf = qpdf_init ();
  qpdf_silence_errors (qpdf);
  /* cairo lists a picture once for every copy in the resources of a page; qpdf mends that. */
  qpdf_set_suppress_warnings (qpdf, QPDF_TRUE);
  if (qpdf_read_memory (qpdf, "page", (const char *)pdf->data, pdf->len, NULL) & QPDF_ERRORS) {
    take_qpdf_error (qpdf, error);
    return NULL;
  }
  if (!repack_images (qpdf, cancellable, error))
    return NULL;

  qpdf_oh_replace_key (qpdf, qpdf_get_root (qpdf), "/ViewerPreferences",
                       qpdf_oh_parse (qpdf, "<< /PrintScaling /None >>"));
  qpdf_set_info_key (qpdf, "/CreationDate", NULL);
  qpdf_set_info_key (qpdf, "/Producer", "Stickleback");

  if (qpdf_init_write_memory (qpdf) & QPDF_ERRORS) {
    take_qpdf_error (qpdf, error);
    return NULL;
  }
  /* Otherwise qpdf unpacks what was just packed and deflates it its own way. */
  qpdf_set_stream_data_mode (qpdf, qpdf_s_preserve);
  qpdf_set_deterministic_ID (qpdf, QPDF_TRUE);
  qpdf_set_suppress_original_object_IDs (qpdf, QPDF_TRUE);
  qpdf_write (qpdf);
  if (take_qpdf_error (qpdf, error))
    return NULL;
  return g_bytes_new (qpdf_get_buffer (qpdf), qpdf_get_buffer_length (qpdf));
}
