/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the commands of the command line share. A command is one constant of this kind in a file of
 * its own. */
#pragma once

#include <gio/gio.h>
#include <json-glib/json-glib.h>

#include "job/state.h"

G_BEGIN_DECLS

typedef enum {
  SB_EXIT_DONE = 0,
  SB_EXIT_STOPS = 1, /* the proof stops */
  SB_EXIT_USE = 2,   /* wrong use or unreadable input */
  SB_EXIT_WRITE = 3, /* could not write */
} SbExit;

typedef struct _SbCommand SbCommand;
struct _SbCommand {
  const char *name;
  const char *arguments;   /* "JOB PICTURE…", translatable */
  const char *summary;     /* one line, translatable */
  const char *description; /* what the options' own texts do not say, translatable; or NULL */
  int (*run) (const SbCommand *command, int argc, char **argv);
};

extern const SbCommand sb_command_new;
extern const SbCommand sb_command_add;
extern const SbCommand sb_command_split;
extern const SbCommand sb_command_place;
extern const SbCommand sb_command_arrange, sb_command_what_if;
extern const SbCommand sb_command_proof;
extern const SbCommand sb_command_figures;
extern const SbCommand sb_command_export;
extern const SbCommand sb_command_order;
extern const SbCommand sb_command_download;
extern const SbCommand sb_command_outline;
extern const SbCommand sb_command_printers;
extern const SbCommand sb_command_print;
extern const SbCommand sb_command_calibrate;
extern const SbCommand sb_command_sheet;
extern const SbCommand sb_command_card;

/* Reads the options; `*argc` and `*argv` keep the arguments after the command's name, `least` to
 * `most` of them. Prints what is wrong and gives FALSE: the exit status is then SB_EXIT_USE. */
gboolean sb_command_parse (const SbCommand *command, const GOptionEntry *entries, int *argc,
                           char ***argv, int least, int most);

/* Prints the one line that says what went wrong with `path` (or an option's name) and gives the
 * exit status of the error. */
int sb_command_fail (const char *path, const GError *error);
/* The same for a wrong use. */
int sb_command_misuse (const char *path, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Reads a length within its range (mm). `text` NULL leaves `*mm` as it is. Prints what is wrong. */
gboolean sb_command_read_length (const char *option, const char *text, double least_mm,
                                 double most_mm, double *mm);

/* Reads a picture and how large it will be printed: `size` is the longest side, or NULL for what
 * the file says; a file that says nothing is an error that asks for --size. NULL once printed. */
SbPicture *sb_command_read_picture (const char *path, const char *size, double *width_mm,
                                    double *height_mm);

/* A design is named after its picture's file, without folder and ending. */
char *sb_command_get_name (const char *path) G_GNUC_WARN_UNUSED_RESULT;

/* The options of a clean-up as they are given; what is not given stays as the recipe has it. */
typedef struct {
  char *paper, *tolerance, *specks, *white_point, *black_point;
  gboolean hard_edges;
} SbCommandCleanup;

/* clang-format off */
#define SB_COMMAND_CLEANUP_ENTRIES(cleanup)                                                        \
  {"paper", 0, 0, G_OPTION_ARG_STRING, &(cleanup).paper,                                           \
   N_ ("Paper around the artwork: remove; keep, evened out and white; or leave the picture as it " \
       "came in (remove, from pictures that are opaque)"),                                         \
   N_ ("WAY")},                                                                                    \
  {"tolerance", 0, 0, G_OPTION_ARG_STRING, &(cleanup).tolerance,                                   \
   N_ ("How far from the paper's colour still counts as paper, 1 to 60 (8)"), N_ ("N")},           \
  {"specks", 0, 0, G_OPTION_ARG_STRING, &(cleanup).specks,                                         \
   N_ ("Dust on the paper up to this size goes too (0.5mm)"), N_ ("LENGTH")},                       \
  {"white-point", 0, 0, G_OPTION_ARG_STRING, &(cleanup).white_point,                               \
   N_ ("So much darker than the paper still becomes white, outside and near the artwork, 0 to 40 " \
       "of lightness (1, where paper is kept)"),                                                   \
   N_ ("N")},                                                                                      \
  {"black-point", 0, 0, G_OPTION_ARG_STRING, &(cleanup).black_point,                               \
   N_ ("What has this lightness or less becomes black there, 0 to 40 (0)"), N_ ("N")},             \
  {"hard-edges", 0, 0, G_OPTION_ARG_NONE, &(cleanup).hard_edges,                                   \
   N_ ("Pixel art: enlarged in whole steps, without softening"), NULL}
/* clang-format on */
void sb_command_cleanup_clear (SbCommandCleanup *cleanup);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbCommandCleanup, sb_command_cleanup_clear)

/* For `picture`, cleaned already or not. Prints what is wrong. */
gboolean sb_command_read_cleanup (const SbCommandCleanup *cleanup, SbPicture *picture,
                                  SbCleanup *recipe);

/* Name, size and resolution on a line. */
void sb_command_print_design (const SbDesign *design);

/* NULL once the reason is printed. */
SbState *sb_command_load (const char *path);
/* The exit status. */
int sb_command_save (const SbState *state, const char *path);

/* Prints `object` (consumed) as one line of JSON. */
void sb_command_print_json (JsonObject *object);

G_END_DECLS
