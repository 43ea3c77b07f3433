/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "batch/laying.h"
#include "job/edit.h"
#include "job/layout-view.h"
#include "packing/arrange.h"
#include "packing/impose.h"
#include "packing/layout.h"

#define SIZE_DEFAULT "10x15"
#define MOST_OF_ONE 500
#define ARRANGE_SECONDS 3
#define TITLE_PT 14
#define MAKER_PT 7

typedef struct {
  char *size, *edge, *gap, *corner, *lane, *title, *maker;
  char **with;
  int count;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->size);
  g_free (wishes->edge);
  g_free (wishes->gap);
  g_free (wishes->corner);
  g_free (wishes->lane);
  g_free (wishes->title);
  g_free (wishes->maker);
  g_strfreev (wishes->with);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
set_size (SbLaying *laying, const char *name, const char *size)
{
  if (size == NULL && laying->layout != NULL)
    return TRUE;
  g_autofree char *paper = NULL;
  g_autoptr (GError) error = NULL;
  sb_um width, height;
  if (!sb_paper_parse (size != NULL ? size : SIZE_DEFAULT, &paper, &width, &height, &error)) {
    sb_command_fail ("--size", error);
    return FALSE;
  }
  if (laying->layout == NULL) {
    laying->layout = sb_layout_new (SB_LAYOUT_SHEET, name, width, height);
    laying->layout->edge = sb_impose_get_usual_edge (laying->state, laying->layout);
  }
  laying->layout->width = width;
  laying->layout->height = height;
  return TRUE;
}

static gboolean
set_measures (SbLayout *sheet, const Wishes *wishes)
{
  if (wishes->count >= 0)
    sheet->wanted = MIN (wishes->count, SB_WANTED_MOST);
  return sb_laying_read ("--edge", wishes->edge, 0, SB_LAYOUT_EDGE_MOST, &sheet->edge) &&
         sb_laying_read ("--gap", wishes->gap, 0, SB_LAYOUT_GAP_MOST, &sheet->gap) &&
         sb_laying_read ("--corner", wishes->corner, 0, SB_LAYOUT_CORNER_MOST, &sheet->corner) &&
         sb_laying_read ("--lane", wishes->lane, 0, SB_LAYOUT_LANE_MOST, &sheet->lane);
}

/* "Radish=3": adds copies of a design to the sheet, wherever. */
static gboolean
add_copies (SbLaying *laying, const char *text, GArray *pieces)
{
  g_autofree char *name = g_strdup (text);
  char *sign = strrchr (name, '=');
  gint64 n = 1;
  if (sign != NULL) {
    *sign = '\0';
    if (!g_ascii_string_to_signed (sign + 1, 10, 1, MOST_OF_ONE, &n, NULL)) {
      sb_command_misuse ("--with", _ ("“%s” is not a number of copies from 1 to %d"), sign + 1,
                         MOST_OF_ONE);
      return FALSE;
    }
  }
  g_autofree char *clean = sb_name_clean (name);
  const SbDesign *design = sb_state_find_design (laying->state, clean);
  if (design == NULL) {
    sb_command_misuse ("--with", _ ("there is no design called “%s”"), clean);
    return FALSE;
  }
  SbPiece piece = {.design_id = design->id};
  for (gint64 i = 0; i < n; i++)
    g_array_append_val (pieces, piece);
  return TRUE;
}

/* What arranging leaves where it is on the sheet, with the copies that are asked for. */
static GArray *
list_pieces (SbLaying *laying, char **with)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  for (guint i = 0; i < laying->layout->n_pieces; i++) {
    const SbPiece *piece = &laying->layout->pieces[i];
    const SbDesign *design = sb_state_get_design (laying->state, piece->design_id);
    if (sb_piece_is_fixed (design, piece))
      g_array_append_vals (pieces, piece, 1);
  }
  for (; *with != NULL; with++)
    if (!add_copies (laying, *with, pieces))
      return NULL;
  return g_steal_pointer (&pieces);
}

/* Arranges `pieces` on the sheet: a job of that one layout is all that the arranging sees. */
static gboolean
arrange_pieces (SbLaying *laying, const GArray *pieces)
{
  SbLayout *trial = sb_layout_copy (laying->layout);
  guint id = trial->id;
  trial->id = 0;
  sb_layout_set_pieces (trial, (const SbPiece *)(gpointer)pieces->data, pieces->len);
  for (guint i = 0; i < trial->n_pieces; i++)
    trial->pieces[i].id = 0;
  g_autoptr (SbState) with_trial = sb_edit_add_layout (laying->state, trial, &id);
  g_autoptr (SbState) view = sb_layout_to_state (with_trial, id);
  SbArrangeParams params = sb_arrange_params_default ();
  params.seconds = ARRANGE_SECONDS;
  SbArrangeReport report;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbState) arranged = sb_arrange (view, &params, NULL, NULL, NULL, &report, &error);
  if (arranged == NULL || arranged->pages->len > 1 || report.unplaced > 0) {
    sb_command_misuse ("--with", _ ("so many stickers do not fit on “%s”"), laying->layout->name);
    return FALSE;
  }
  const SbPage *page = sb_state_get_page (arranged, 0);
  sb_layout_set_pieces (laying->layout, page->pieces, page->n_pieces);
  for (guint i = 0; i < laying->layout->n_pieces; i++)
    laying->layout->pieces[i].id = 0;
  return TRUE;
}

static gboolean
set_pieces (SbLaying *laying, char **with)
{
  if (with == NULL)
    return TRUE;
  g_autoptr (GArray) pieces = list_pieces (laying, with);
  return pieces != NULL && arrange_pieces (laying, pieces);
}

static gboolean
add_lines (SbLaying *laying, const Wishes *wishes)
{
  const SbLayout *sheet = laying->layout;
  sb_um middle = sheet->width / 2;
  sb_um title = sheet->edge + sb_um_from_mm (TITLE_PT * SB_MM_PER_PT / 2);
  sb_um maker = sheet->height - sheet->edge - sb_um_from_mm (MAKER_PT * SB_MM_PER_PT / 2);
  return sb_laying_add_text (laying, "--title", wishes->title, TITLE_PT, (SbIPoint){middle, title},
                             0) &&
         sb_laying_add_text (laying, "--maker", wishes->maker, MAKER_PT, (SbIPoint){middle, maker},
                             0);
}

static int
run (const SbCommand *command, int argc, char **argv)
{
  g_auto (Wishes) wishes = {.count = -1};
  const GOptionEntry entries[] = {
      {"size", 0, 0, G_OPTION_ARG_STRING, &wishes.size,
       N_ ("Finished size: 10x15, 4x6, a6, 5x7, quarter-letter or its width and height (10x15)"),
       N_ ("SIZE")},
      {"count", 0, 0, G_OPTION_ARG_INT, &wishes.count, N_ ("Sheets wanted (1)"), N_ ("N")},
      {"with", 0, 0, G_OPTION_ARG_STRING_ARRAY, &wishes.with,
       N_ ("A design and how many of it are on the sheet; arranges them anew. May be repeated"),
       N_ ("DESIGN=N")},
      {"title", 0, 0, G_OPTION_ARG_STRING, &wishes.title, N_ ("A line at the top"), N_ ("TEXT")},
      {"maker", 0, 0, G_OPTION_ARG_STRING, &wishes.maker, N_ ("A small line at the foot"),
       N_ ("TEXT")},
      {"edge", 0, 0, G_OPTION_ARG_STRING, &wishes.edge,
       N_ ("What stickers keep from the sheet's edge (5mm, or the printer's margin)"),
       N_ ("LENGTH")},
      {"gap", 0, 0, G_OPTION_ARG_STRING, &wishes.gap, N_ ("Between stickers (3mm)"), N_ ("LENGTH")},
      {"corner", 0, 0, G_OPTION_ARG_STRING, &wishes.corner,
       N_ ("Radius of the sheet's corners (0)"), N_ ("LENGTH")},
      {"lane", 0, 0, G_OPTION_ARG_STRING, &wishes.lane,
       N_ ("Between sheets on a page: 0, one cut for both, or 3.2mm and more (0)"), N_ ("LENGTH")},
      {"json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("For programs"), NULL},
      G_OPTION_ENTRY_NULL,
  };
  if (!sb_command_parse (command, entries, &argc, &argv, 2, 2))
    return SB_EXIT_USE;
  g_auto (SbLaying) laying = {NULL, NULL};
  if (!sb_laying_begin (&laying, argv[0], argv[1], 1u << SB_LAYOUT_SHEET) ||
      !set_size (&laying, argv[1], wishes.size) || !set_measures (laying.layout, &wishes) ||
      !add_lines (&laying, &wishes) || !set_pieces (&laying, wishes.with))
    return SB_EXIT_USE;
  return sb_laying_end (&laying, argv[0], wishes.json);
}

const SbCommand sb_command_sheet = {
    .name = "sheet",
    .arguments = N_ ("JOB NAME"),
    .summary = N_ ("Make or change a sticker sheet and lay it on pages"),
    .description =
        N_ ("A sheet that is there keeps what no option changes. Its wanted copies are laid on as "
            "few pages as they need, with straight cuts between them."),
    .run = run,
};
