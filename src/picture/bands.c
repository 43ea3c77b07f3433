/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/bands.h"

#define MOST_BANDS 8
/* Below this a thread costs more than it brings. */
#define LEAST_ROWS 64

typedef struct {
  int first, end;
  SbBandFunc func;
  gpointer data;
} Band;

static gpointer
run_band (gpointer data)
{
  const Band *band = data;
  band->func (band->first, band->end, band->data);
  return NULL;
}

void
sb_bands_run (int height, SbBandFunc func, gpointer data)
{
  int n = CLAMP (height / LEAST_ROWS, 1, (int)MIN (g_get_num_processors (), MOST_BANDS));
  Band bands[MOST_BANDS];
  GThread *threads[MOST_BANDS];

  for (int i = 0; i < n; i++) {
    bands[i] =
        (Band){(int)((gint64)height * i / n), (int)((gint64)height * (i + 1) / n), func, data};
    threads[i] = i > 0 ? g_thread_new ("band", run_band, &bands[i]) : NULL;
  }
  run_band (&bands[0]);
  for (int i = 1; i < n; i++)
    g_thread_join (threads[i]);
}
