/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "batch/laying.h"

#define FRONT_PT 18
#define BACK_PT 9

typedef struct {
  char *bag, *folded, *inside, *edge, *lane, *hole, *zone, *background, *front, *back;
  int count, weight;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->bag);
  g_free (wishes->folded);
  g_free (wishes->inside);
  g_free (wishes->edge);
  g_free (wishes->lane);
  g_free (wishes->hole);
  g_free (wishes->zone);
  g_free (wishes->background);
  g_free (wishes->front);
  g_free (wishes->back);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
set_header (SbLaying *laying, const char *name, const Wishes *wishes)
{
  sb_um width = laying->layout != NULL ? laying->layout->width : 0;
  sb_um folded = laying->layout != NULL ? laying->layout->height / 2 : 38100;
  if (!sb_laying_read ("--bag", wishes->bag, SB_LAYOUT_LEAST, SB_LAYOUT_MOST, &width) ||
      !sb_laying_read ("--folded", wishes->folded, SB_LAYOUT_LEAST / 2, SB_LAYOUT_MOST / 2,
                       &folded))
    return FALSE;
  if (laying->layout == NULL)
    laying->layout = sb_layout_new_header (name, width, folded);
  laying->layout->width = width;
  laying->layout->height = 2 * folded;
  return TRUE;
}

static gboolean
set_backing (SbLaying *laying, const char *name, const char *inside)
{
  g_autofree char *paper = NULL;
  g_autoptr (GError) error = NULL;
  sb_um width, height;
  if (!sb_paper_parse (inside, &paper, &width, &height, &error)) {
    sb_command_fail ("--inside", error);
    return FALSE;
  }
  g_autoptr (SbLayout) card =
      sb_layout_new_backing (name, width, height, SB_BACKING_LESS_WIDE, SB_BACKING_LESS_HIGH);
  if (laying->layout == NULL) {
    laying->layout = g_steal_pointer (&card);
    return TRUE;
  }
  laying->layout->width = card->width;
  laying->layout->height = card->height;
  return TRUE;
}

static gboolean
set_size (SbLaying *laying, const char *name, const Wishes *wishes)
{
  gboolean header = wishes->bag != NULL || wishes->folded != NULL;
  SbLayoutKind kind = wishes->inside != NULL ? SB_LAYOUT_BACKING : SB_LAYOUT_HEADER;
  if (header && wishes->inside != NULL)
    sb_command_misuse ("--inside", _ ("it is for backing cards, --bag and --folded for headers"));
  else if (laying->layout == NULL && wishes->bag == NULL && wishes->inside == NULL)
    sb_command_misuse ("--bag", _ ("a new header card needs the width of its bag, such as "
                                   "--bag=3.25in; a backing card its inside: --inside=3x4in"));
  else if (laying->layout != NULL && (header || wishes->inside != NULL) &&
           laying->layout->kind != kind)
    sb_command_misuse (laying->layout->name, _ ("it is a card of the other kind"));
  else if (wishes->inside != NULL)
    return set_backing (laying, name, wishes->inside);
  else
    return !header || set_header (laying, name, wishes);
  return FALSE;
}

/* "#ffeedd", or "none". */
static gboolean
read_background (const char *text, int *rgb)
{
  if (text == NULL)
    return TRUE;
  *rgb = -1;
  if (g_str_equal (text, "none"))
    return TRUE;
  guint64 value;
  if (text[0] == '#' && strlen (text) == 7 &&
      g_ascii_string_to_unsigned (text + 1, 16, 0, 0xffffff, &value, NULL)) {
    *rgb = (int)value;
    return TRUE;
  }
  sb_command_misuse ("--background", _ ("“%s” is neither none nor a colour such as #fff4d6"), text);
  return FALSE;
}

static gboolean
set_measures (SbLayout *card, const Wishes *wishes)
{
  if (wishes->count >= 0)
    card->wanted = MIN (wishes->count, SB_WANTED_MOST);
  if (wishes->weight >= 0)
    card->weight = wishes->weight;
  return sb_laying_read ("--edge", wishes->edge, 0, SB_LAYOUT_EDGE_MOST, &card->edge) &&
         sb_laying_read ("--lane", wishes->lane, 0, SB_LAYOUT_LANE_MOST, &card->lane) &&
         sb_laying_read ("--hole", wishes->hole, 0, SB_LAYOUT_HOLE_MOST, &card->hole) &&
         sb_laying_read ("--zone", wishes->zone, 0, SB_LAYOUT_ZONE_MOST, &card->zone) &&
         read_background (wishes->background, &card->background);
}

/* Between the hole and the zone of a half, in the middle. */
static sb_um
get_text_middle (const SbLayout *card)
{
  sb_um half = card->height / 2;
  sb_um from = card->hole > 0 ? card->hole_at + (card->hole + SB_LAYOUT_HOLE_MORE) / 2 : card->edge;
  return (from + half - MAX (card->zone, card->edge)) / 2;
}

static gboolean
add_lines (SbLaying *laying, const Wishes *wishes)
{
  const SbLayout *card = laying->layout;
  sb_um middle = card->width / 2;
  if (card->kind == SB_LAYOUT_BACKING)
    return sb_laying_add_text (laying, "--front", wishes->front, FRONT_PT,
                               (SbIPoint){middle, card->height / 2}, 0);
  sb_um fold = sb_layout_get_fold (card), from_fold = get_text_middle (card);
  return sb_laying_add_text (laying, "--front", wishes->front, FRONT_PT,
                             (SbIPoint){middle, fold + from_fold}, 0) &&
         sb_laying_add_text (laying, "--back", wishes->back, BACK_PT,
                             (SbIPoint){middle, fold - from_fold}, 180000);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_auto (Wishes) wishes = {.count = -1, .weight = -1};
  const GOptionEntry entries[] = {
      {"bag", 0, 0, G_OPTION_ARG_STRING, &wishes.bag,
       N_ ("Header card: the bag's width, measured on the bag"), N_ ("LENGTH")},
      {"folded", 0, 0, G_OPTION_ARG_STRING, &wishes.folded,
       N_ ("Header card: its height when folded (1.5in)"), N_ ("LENGTH")},
      {"inside", 0, 0, G_OPTION_ARG_STRING, &wishes.inside,
       N_ ("Backing card: the inside of the bag; the card is 5 mm narrower and 10 mm shorter"),
       N_ ("WxH")},
      {"count", 0, 0, G_OPTION_ARG_INT, &wishes.count, N_ ("Cards wanted (1)"), N_ ("N")},
      {"front", 0, 0, G_OPTION_ARG_STRING, &wishes.front, N_ ("A line on the front"), N_ ("TEXT")},
      {"back", 0, 0, G_OPTION_ARG_STRING, &wishes.back,
       N_ ("A small line on the back of a header card, upright when it is folded"), N_ ("TEXT")},
      {"background", 0, 0, G_OPTION_ARG_STRING, &wishes.background,
       N_ ("Colour of the whole card, or none (none)"), N_ ("#RRGGBB")},
      {"weight", 0, 0, G_OPTION_ARG_INT, &wishes.weight,
       N_ ("Of the card, in g/m² (200 for headers, 300 for backing)"), N_ ("N")},
      {"hole", 0, 0, G_OPTION_ARG_STRING, &wishes.hole,
       N_ ("Header card: the hanging hole, or 0 for none (6mm)"), N_ ("LENGTH")},
      {"zone", 0, 0, G_OPTION_ARG_STRING, &wishes.zone,
       N_ ("Header card: what staples or the seal take at its open end (12mm)"), N_ ("LENGTH")},
      {"edge", 0, 0, G_OPTION_ARG_STRING, &wishes.edge,
       N_ ("What text keeps from edges and fold (4mm)"), N_ ("LENGTH")},
      {"lane", 0, 0, G_OPTION_ARG_STRING, &wishes.lane,
       N_ ("Between cards on a page: 0, one cut for both, or 3.2mm and more (0)"), N_ ("LENGTH")},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  g_auto (SbLaying) laying = {NULL, NULL};
  if (!sb_laying_begin (&laying, argv[0], argv[1],
                        1u << SB_LAYOUT_HEADER | 1u << SB_LAYOUT_BACKING) ||
      !set_size (&laying, argv[1], &wishes) || !set_measures (laying.layout, &wishes) ||
      !add_lines (&laying, &wishes))
    return SB_EXIT_USE;
  return sb_laying_end (&laying, argv[0], wishes.json);
}

const SbCommand sb_command_card = {
    .name = "card",
    .arguments = N_ ("JOB NAME"),
    .summary = N_ ("Make or change a header or backing card and lay it on pages"),
    .description = N_ ("A header card is printed flat and folded over the mouth of a bag: its back "
                       "is turned by 180 degrees, so that it reads upright behind the fold."),
    .run = run,
};
