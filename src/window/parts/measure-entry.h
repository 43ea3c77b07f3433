/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * An entry for a measure, typed freely: "2 in", "51mm", "1/4\"". Shows the value with its unit.
 * Enter or leaving the entry takes what was typed; Up and Down step it; Escape puts the old value
 * back. What cannot be read is marked and told in the tooltip, and is put back on leaving.
 *
 * Signal "committed" (double value) when the maker has changed the value, never when the program
 * has. Properties: "angle" (boolean: degrees instead of a length), "lower", "upper",
 * "label" (what screen readers call it). */
#pragma once

#include <gtk/gtk.h>

#include "measure/length.h"

G_BEGIN_DECLS

#define SB_TYPE_MEASURE_ENTRY (sb_measure_entry_get_type ())
G_DECLARE_FINAL_TYPE (SbMeasureEntry, sb_measure_entry, SB, MEASURE_ENTRY, GtkWidget)

/* The unit that is shown, and that is meant when none is typed. */
void sb_measure_entry_set_unit (SbMeasureEntry *self, SbUnit unit);

/* Lengths in mm, angles in degrees. Leaves alone what is being typed. */
void sb_measure_entry_set_value (SbMeasureEntry *self, double value);
double sb_measure_entry_get_value (SbMeasureEntry *self);

/* Shows nothing: several things with different values. */
void sb_measure_entry_set_mixed (SbMeasureEntry *self);

/* What is typed beyond it is not taken, and told why; mm or degrees. */
void sb_measure_entry_set_range (SbMeasureEntry *self, double lower, double upper);

G_END_DECLS
