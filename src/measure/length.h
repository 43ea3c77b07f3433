/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths. The core keeps a length as whole micrometres (sb_um) or, where curves need fractions,
 * as a double named _mm. 1 in = 25.4 mm = 72 pt = 96 CSS px (CSS Values and Units, section 6.2). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A length in micrometres. Places on pages and polygon corners stay within +-SB_UM_MOST (10 m), so
 * that a product of two differences always fits an int64. */
typedef gint32 sb_um;

#define SB_UM_MOST 10000000
#define SB_UM_PER_MM 1000
#define SB_UM_PER_INCH 25400
#define SB_MM_PER_INCH 25.4
#define SB_PT_PER_INCH 72.0
#define SB_MM_PER_PT (SB_MM_PER_INCH / SB_PT_PER_INCH)

typedef enum {
  SB_UNIT_MM,
  SB_UNIT_CM,
  SB_UNIT_INCH,
  SB_UNIT_PT,
} SbUnit;

/* How many millimetres one of it has. */
double sb_unit_get_mm (SbUnit unit);

#define SB_MEASURE_ERROR (sb_measure_error_quark ())
GQuark sb_measure_error_quark (void);
typedef enum {
  SB_MEASURE_ERROR_SYNTAX, /* not a number with a known unit */
  SB_MEASURE_ERROR_RANGE,  /* not finite, or past SB_UM_MOST */
  SB_MEASURE_ERROR_PAPER,  /* no such paper size */
} SbMeasureError;

static inline double
sb_um_to_mm (sb_um length)
{
  return length / (double)SB_UM_PER_MM;
}

static inline double
sb_um_to_pt (sb_um length)
{
  return length * SB_PT_PER_INCH / SB_UM_PER_INCH;
}

/* Rounds to the nearest micrometre, halves away from zero. `mm` must lie within +-SB_UM_MOST. */
sb_um sb_um_from_mm (double mm);

/* Reads a typed length: "2in", "2 in", "2\"", "50,8 mm", "51mm", "5cm", "0.5pt", "1/4 in",
 * "1 1/2 in", "12" (in `fallback` unit). Point and comma are both decimal marks; blanks around are
 * ignored. Negative lengths are read; the caller decides whether they make sense. Returns FALSE and
 * sets `error` (SB_MEASURE_ERROR) with a message that quotes the text. Thread-safe. */
gboolean sb_length_parse (const char *text, SbUnit fallback, double *mm, GError **error);

/* As sb_length_parse; `*unit` holds the fallback and gets the unit that the text used, so that a
 * list such as "8.5x11in" can share one unit. */
gboolean sb_length_parse_with_unit (const char *text, SbUnit *unit, double *mm, GError **error);

/* As sb_length_parse, rounded to micrometres. */
gboolean sb_length_parse_um (const char *text, SbUnit fallback, sb_um *length, GError **error);

/* The length for people, in the locale's decimal mark, with a thin space (U+2009) before the unit:
 * "50.8 mm", "2.00 in". Digits after the mark: 1 for mm, 2 for cm and in, 2 for pt. Free the text
 * with g_free. */
char *sb_length_format (double mm, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* As sb_length_format with one digit more where the length has it, for what is measured exactly:
 * "3.05 mm", "3.0 mm". */
char *sb_length_format_fine (double mm, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* A number with `digits` (0 to 6) after the locale's mark, and one more where the value has it. */
char *sb_decimal_format (double value, int digits) G_GNUC_WARN_UNUSED_RESULT;

/* The number alone, as sb_length_format writes it, for an entry whose unit stands beside it. */
char *sb_length_format_number (double mm, SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* "50.8 x 42.0 mm" with a true multiplication sign. Free the text with g_free. */
char *sb_length_format_size (double width_mm, double height_mm,
                             SbUnit unit) G_GNUC_WARN_UNUSED_RESULT;

/* "mm", "cm", "in" or "pt": the symbol, the same in every language. */
const char *sb_unit_symbol (SbUnit unit);

/* Inches where the locale (LC_MEASUREMENT) measures in them, else millimetres. */
SbUnit sb_unit_from_locale (void);

G_END_DECLS
