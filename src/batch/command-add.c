/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/command.h"

#include <glib/gi18n.h>

#include "job/edit.h"

#define UNSTATED G_MININT

typedef struct {
  char *size, *border, *nook, *guide, *shape, *bleed;
  double threshold; /* percent; below 0: not given */
  SbCommandCleanup cleanup;
  int count;
  gboolean freebie;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->size);
  g_free (wishes->border);
  g_free (wishes->nook);
  g_free (wishes->guide);
  g_free (wishes->shape);
  g_free (wishes->bleed);
  sb_command_cleanup_clear (&wishes->cleanup);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
read_guide (const char *text, SbGuide *guide)
{
  static const char *const keys[] = {"scissors", "knife", "ticks", "off"};
  if (text == NULL)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    if (g_str_equal (text, keys[i])) {
      *guide = sb_guide_for_style ((SbGuideStyle)i);
      return TRUE;
    }
  }
  sb_command_misuse ("--guide", _ ("%s is none of scissors, knife, ticks and off"), text);
  return FALSE;
}

static gboolean
read_shape (const char *text, SbBorderShape *shape)
{
  static const char *const keys[] = {"grown", "box", "round", "ellipse", "hull"};
  if (text == NULL)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    if (g_str_equal (text, keys[i])) {
      *shape = (SbBorderShape)i;
      return TRUE;
    }
  }
  sb_command_misuse ("--shape", _ ("%s is none of grown, box, round, ellipse and hull"), text);
  return FALSE;
}

static gboolean
read_threshold (double percent, double *threshold)
{
  if (percent < 0)
    return TRUE;
  if (percent < 1 || percent > 100) {
    sb_command_misuse ("--coverage", _ ("%g is not between 1 and 100"), percent);
    return FALSE;
  }
  *threshold = percent / 100;
  return TRUE;
}

static gboolean
apply (const Wishes *wishes, SbDesign *design)
{
  SbBorderParams border = design->border;
  SbCleanup recipe = design->cleanup;
  SbSilhouetteParams silhouette = design->silhouette_params;
  if (wishes->bleed != NULL) /* instead of a border, unless both are asked for */
    border.width_mm = 0;
  if (!sb_command_read_length ("--border", wishes->border, 0, SB_BORDER_MOST_MM,
                               &border.width_mm) ||
      !sb_command_read_length ("--nook", wishes->nook, 0, SB_BORDER_MOST_MM, &border.nook_mm) ||
      !sb_command_read_length ("--bleed", wishes->bleed, 0, SB_BLEED_MOST_MM, &design->bleed_mm) ||
      !read_shape (wishes->shape, &border.shape) ||
      !read_threshold (wishes->threshold, &silhouette.threshold) ||
      !read_guide (wishes->guide, &design->guide) ||
      !sb_command_read_cleanup (&wishes->cleanup, design->picture, &recipe))
    return FALSE;
  sb_design_set_cleanup (design, &recipe);
  sb_design_set_silhouette_params (design, &silhouette);
  sb_design_set_border (design, &border);
  design->freebie = wishes->freebie;
  design->wanted = wishes->count;
  return TRUE;
}

/* The design of one picture, prepared; NULL once the reason is printed. */
static SbDesign *
make_design (const char *path, const Wishes *wishes)
{
  double width_mm, height_mm;
  g_autoptr (SbPicture) picture =
      sb_command_read_picture (path, wishes->size, &width_mm, &height_mm);
  if (picture == NULL)
    return NULL;
  g_autofree char *name = sb_command_get_name (path);
  g_autoptr (SbDesign) design = sb_design_new (picture, name);
  sb_design_set_size (design, width_mm, height_mm);
  if (!apply (wishes, design))
    return NULL;
  g_autoptr (GError) error = NULL;
  if (!sb_design_prepare (design, NULL, &error)) {
    sb_command_fail (path, error);
    return NULL;
  }
  return g_steal_pointer (&design);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_auto (Wishes) wishes = {.count = UNSTATED, .threshold = -1};
  const GOptionEntry entries[] = {
      {"size", 0, 0, G_OPTION_ARG_STRING, &wishes.size,
       N_ ("Longest side of the whole picture, its clear rim included (what the file says)"),
       N_ ("LENGTH")},
      {"border", 0, 0, G_OPTION_ARG_STRING, &wishes.border, N_ ("Border around the artwork (3mm)"),
       N_ ("LENGTH")},
      {"nook", 0, 0, G_OPTION_ARG_STRING, &wishes.nook,
       N_ ("Tightest inward bend of the outline, as a radius (3mm)"), N_ ("LENGTH")},
      {"shape", 0, 0, G_OPTION_ARG_STRING, &wishes.shape,
       N_ ("Border's shape: grown, box, round, ellipse or hull (grown)"), N_ ("SHAPE")},
      {"bleed", 0, 0, G_OPTION_ARG_STRING, &wishes.bleed,
       N_ ("No border: repeat the artwork's edge so far past the cut (2 to 3 mm are usual)"),
       N_ ("LENGTH")},
      {"coverage", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.threshold,
       N_ ("What is fainter than this is no artwork, such as a soft shadow (50)"), N_ ("PERCENT")},
      {"guide", 0, 0, G_OPTION_ARG_STRING, &wishes.guide,
       N_ ("Cut guide: scissors, knife, ticks or off (scissors)"), N_ ("STYLE")},
      SB_COMMAND_CLEANUP_ENTRIES (wishes.cleanup),
      {"count", 0, 0, G_OPTION_ARG_INT, &wishes.count,
       N_ ("Copies wanted (1; freebies: as many as fit)"), N_ ("N")},
      {"freebie", 0, 0, G_OPTION_ARG_NONE, &wishes.freebie,
       N_ ("A freebie: only fills space that is left"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, G_MAXINT))
    return SB_EXIT_USE;
  if (wishes.count == UNSTATED)
    wishes.count = wishes.freebie ? 0 : 1;
  if (wishes.count < 0 || wishes.count > SB_WANTED_MOST)
    return sb_command_misuse ("--count", _ ("%d is not between 0 and %d"), wishes.count,
                              SB_WANTED_MOST);

  g_autoptr (SbState) state = sb_command_load (argv[0]);
  if (state == NULL)
    return SB_EXIT_USE;
  for (int i = 1; i < argc; i++) {
    SbDesign *design = make_design (argv[i], &wishes);
    if (design == NULL)
      return SB_EXIT_USE;
    SbState *next = sb_edit_add_design (state, design, NULL);
    sb_state_unref (state);
    state = next;
  }
  int status = sb_command_save (state, argv[0]);
  if (status != SB_EXIT_DONE)
    return status;
  for (guint i = state->designs->len - (guint)(argc - 1); i < state->designs->len; i++)
    sb_command_print_design (state->designs->pdata[i]);
  return SB_EXIT_DONE;
}

const SbCommand sb_command_add = {
    .name = "add",
    .arguments = N_ ("JOB PICTURE…"),
    .summary = N_ ("Add pictures to a job as designs"),
    .description = N_ ("A design is named after its picture's file. Either all pictures are added "
                       "or none."),
    .run = run,
};
