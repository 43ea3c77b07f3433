/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole document at one moment: an immutable, reference-counted value. Edits (job/edit.h) make
 * a new state that shares everything unchanged with the old one; undo keeps old states; threads
 * work on a state they hold a reference to, whatever the maker does meanwhile. */
#pragma once

#include "job/layout.h"
#include "job/order.h"
#include "measure/overshoot.h"
#include "measure/paper.h"

G_BEGIN_DECLS

typedef struct _SbPage SbPage;
struct _SbPage {
  /*< read only >*/
  guint id;
  guint n_pieces;
  SbPiece *pieces; /* in drawing order, lowest first */
  guint layout_id; /* the layout that is laid on it, or 0; never dangling */
  guint n_placements;
  SbPlacement *placements;
  JsonObject *extra;
  gatomicrefcount refs;
};

SbPage *sb_page_new (guint id, const SbPiece *pieces, guint n_pieces) G_GNUC_WARN_UNUSED_RESULT;
/* A page of copies of a layout. */
SbPage *sb_page_new_laid (guint id, guint layout_id, const SbPlacement *placements,
                          guint n_placements) G_GNUC_WARN_UNUSED_RESULT;
/* The same page (id, placements, fields of a newer version) with other pieces. */
SbPage *sb_page_with_pieces (const SbPage *page, const SbPiece *pieces,
                             guint n_pieces) G_GNUC_WARN_UNUSED_RESULT;
SbPage *sb_page_ref (SbPage *page);
void sb_page_unref (SbPage *page);
gboolean sb_page_equal (const SbPage *a, const SbPage *b);

/* Where the margins of the job come from. */
typedef enum {
  SB_MARGINS_FALLBACK, /* nothing known: 6.35 mm */
  SB_MARGINS_PRINTER,  /* what the chosen printer reports for this paper */
  SB_MARGINS_TYPED,    /* the maker's own, which win */
} SbMarginsSource;

#define SB_DRYING_MOST_HOURS 1000.0
#define SB_STOCK_WHITE 0xffffff

/* What the pages are made of. */
typedef struct {
  char *name; /* "Matte sticker paper": one of ours in English, or the maker's own */
  gboolean inkjet_ok, laser_ok;
  gboolean film;       /* vinyl, polypropylene, PET */
  double drying_hours; /* 0..SB_DRYING_MOST_HOURS */
  guint32 rgb;         /* of the sheet, 0xRRGGBB: artwork is looked at on it; never printed */
} SbStock;

gboolean sb_margins_equal (const SbMargins *a, const SbMargins *b);
/* The name in the maker's language. Borrowed. */
const char *sb_stock_get_label (const SbStock *stock);
gboolean sb_stock_equal (const SbStock *a, const SbStock *b);

/* Ranges of the sheet, um: a side of the page and each margin; the gap. */
#define SB_PAGE_LEAST 20000
#define SB_PAGE_MOST 1500000
#define SB_GAP_MOST 1000000

typedef struct _SbState SbState;
struct _SbState {
  /*< read only >*/
  char *paper_name;              /* PWG name */
  sb_um page_width, page_height; /* as laid: width > height is landscape */
  SbMargins margins;             /* of the page as laid */
  SbMarginsSource margins_source;
  sb_um overshoot; /* above 0: printed borderless, enlarged until it passes each edge of the paper
                      by this; the margins are then what that takes away, from the printer */
  char *printer;   /* queue the job is proofed for, or NULL */
  sb_um gap;       /* least distance between outlines; 4 mm (handbook 4.3) */
  SbStock stock;
  gboolean check_bar;      /* the 100 mm / 4 in bar on each page that has room for it */
  GPtrArray *designs;      /* SbDesign, in drawer order */
  GPtrArray *pages;        /* SbPage, at least one */
  GPtrArray *layouts;      /* SbLayout, in the order of their list */
  SbLayout *view;          /* the layout that this state shows from inside, as one page of its
                              finished size (job/layout-view.h); NULL: a whole job */
  guint next_id;           /* the next free id of designs, pieces and pages */
  SbOrder *order;          /* what is to be sold; never NULL */
  GHashTable *piece_extra; /* piece id -> JsonObject: what a newer version says of it; or NULL */
  JsonObject *extra;       /* what a newer version says of the job; or NULL */
  gatomicrefcount refs;
};

/* An empty job: one page of `paper` (portrait), fallback margins, gap 4 mm. */
SbState *sb_state_new (const char *paper_name, sb_um width, sb_um height) G_GNUC_WARN_UNUSED_RESULT;

/* A shallow copy to change before it is published; used by job/edit.c and job/file.c. */
SbState *sb_state_copy (const SbState *state) G_GNUC_WARN_UNUSED_RESULT;
SbState *sb_state_ref (SbState *state);
void sb_state_unref (SbState *state);

/* Equal as documents: every field, designs and pages by value, pictures by hash. */
gboolean sb_state_equal (const SbState *a, const SbState *b);

/* Look-ups; NULL (or -1) where there is none. Borrowed. */
SbDesign *sb_state_get_design (const SbState *state, guint design_id);
SbDesign *sb_state_find_design (const SbState *state, const char *name);
SbPage *sb_state_get_page (const SbState *state, guint index);
SbLayout *sb_state_get_layout (const SbState *state, guint layout_id);
SbLayout *sb_state_find_layout (const SbState *state, const char *name);
const SbPiece *sb_state_get_piece (const SbState *state, guint piece_id, guint *page_index);

/* How many copies of the design lie on all pages, apart from those in layouts. */
int sb_state_count_placed (const SbState *state, guint design_id);
/* How many copies of the layout lie on all pages. */
int sb_state_count_laid (const SbState *state, guint layout_id);

/* The part of a page that the printer reaches; never empty: margins that eat the page are cut to
 * leave 1 um. */
SbIBox sb_state_get_printable_box (const SbState *state);

/* "Radish, piece 2": the design's name and the piece's place among its copies. New. */
char *sb_piece_get_label (const SbState *state, guint piece_id) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbPage, sb_page_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbState, sb_state_unref)

G_END_DECLS
