/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The format: PKWARE's APPNOTE.TXT 6.3, sections 4.3.7 (local header), 4.3.12 (central directory)
 * and 4.3.16 (end of it). All numbers are little-endian. */
#include "config.h"

#include "job/zip-writer.h"

#include <string.h>
#include <zlib.h>

#define VERSION_NEEDED 10 /* 1.0: stored entries */
#define MADE_BY_UNIX (3 << 8 | 30)
#define FLAG_UTF8 (1 << 11)
#define DOS_DATE_1980 (1 << 5 | 1)
#define UNIX_PLAIN_FILE (0100644u << 16)

struct _SbZipWriter {
  SbSafeFile *file;
  GByteArray *directory;
  guint64 offset;
  guint n_entries;
};

static void
put16 (GByteArray *to, guint value)
{
  guint8 bytes[2] = {(guint8)value, (guint8)(value >> 8)};
  g_byte_array_append (to, bytes, sizeof bytes);
}

static void
put32 (GByteArray *to, guint32 value)
{
  put16 (to, value & 0xffff);
  put16 (to, value >> 16);
}

/* What the local header and the directory say alike. */
static void
put_facts (GByteArray *to, const char *name, guint32 crc, guint32 length)
{
  put16 (to, VERSION_NEEDED);
  put16 (to, FLAG_UTF8);
  put16 (to, 0); /* stored */
  put16 (to, 0); /* midnight */
  put16 (to, DOS_DATE_1980);
  put32 (to, crc);
  put32 (to, length); /* as stored */
  put32 (to, length); /* as it was */
  put16 (to, (guint)strlen (name));
  put16 (to, 0); /* no extra field */
}

static void
put_name (GByteArray *to, const char *name)
{
  g_byte_array_append (to, (const guint8 *)name, (guint)strlen (name));
}

static void
write_out (SbZipWriter *zip, const void *data, gsize length)
{
  zip->offset += length;
  sb_safe_file_write (zip->file, data, length);
}

SbZipWriter *
sb_zip_writer_new (SbSafeFile *file)
{
  SbZipWriter *zip = g_new0 (SbZipWriter, 1);
  zip->file = file;
  zip->directory = g_byte_array_new ();
  return zip;
}

void
sb_zip_writer_add (SbZipWriter *zip, const char *name, const void *data, gsize length)
{
  g_return_if_fail (zip->offset + length < G_MAXUINT32 && zip->n_entries < G_MAXUINT16);

  guint32 crc = (guint32)crc32_z (crc32_z (0, NULL, 0), data, length);
  put32 (zip->directory, 0x02014b50);
  put16 (zip->directory, MADE_BY_UNIX);
  put_facts (zip->directory, name, crc, (guint32)length);
  put16 (zip->directory, 0); /* no comment */
  put16 (zip->directory, 0); /* first disk */
  put16 (zip->directory, 0); /* no hint of its contents */
  put32 (zip->directory, UNIX_PLAIN_FILE);
  put32 (zip->directory, (guint32)zip->offset);
  put_name (zip->directory, name);
  zip->n_entries++;

  g_autoptr (GByteArray) header = g_byte_array_new ();
  put32 (header, 0x04034b50);
  put_facts (header, name, crc, (guint32)length);
  put_name (header, name);
  write_out (zip, header->data, header->len);
  write_out (zip, data, length);
}

void
sb_zip_writer_end (SbZipWriter *zip)
{
  guint32 start = (guint32)zip->offset;
  guint32 length = zip->directory->len;
  GByteArray *end = zip->directory;
  put32 (end, 0x06054b50);
  put16 (end, 0); /* this disk */
  put16 (end, 0); /* the directory's disk */
  put16 (end, zip->n_entries);
  put16 (end, zip->n_entries);
  put32 (end, length);
  put32 (end, start);
  put16 (end, 0); /* no comment */
  write_out (zip, end->data, end->len);
  g_byte_array_unref (end);
  g_free (zip);
}
