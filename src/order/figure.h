/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A figure of an order that can say how it came: its value and the lines that lead to it. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  SB_FIGURE_COUNT,
  SB_FIGURE_MONEY,
  SB_FIGURE_FINE_MONEY, /* of one piece: more digits */
  SB_FIGURE_SECONDS,
  SB_FIGURE_PERCENT,
} SbFigureKind;

typedef struct {
  char *key;   /* for programs: "ink" */
  char *label; /* for people, translated */
  SbFigureKind kind;
  double value;
  double low, high; /* where it is only an estimate; else both are the value */
  GPtrArray *lines; /* char: how it came, translated */
} SbFigure;

/* A figure without lines yet, both its range's ends at the value; the strings are copied. */
SbFigure *sb_figure_new (const char *key, const char *label, SbFigureKind kind, double value);
void sb_figure_free (SbFigure *figure);

/* Adds a line of its derivation; `format` is translated. */
void sb_figure_explain (SbFigure *figure, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* "$12.50", "44", "1 h 20 min"; an estimate with its range behind it. Free with g_free. */
char *sb_figure_format (const SbFigure *figure, const char *currency) G_GNUC_WARN_UNUSED_RESULT;

/* "26 s", "14 min", "3 h 20 min". Free with g_free. */
char *sb_duration_format (double seconds) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbFigure, sb_figure_free)

G_END_DECLS
