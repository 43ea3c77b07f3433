/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A design: artwork + finished size + border + guide, what one sticker looks like.
 * Reference-counted, and immutable once it is in a state: make a copy, change the copy, prepare it,
 * then put it in with an edit. */
#pragma once

#include <json-glib/json-glib.h>

#include "border/border.h"
#include "picture/lettering.h"

G_BEGIN_DECLS

/* How far the arranging may turn copies of a design. */
typedef enum {
  SB_TURNING_UPRIGHT,
  SB_TURNING_QUARTERS,
  SB_TURNING_ANY,
} SbTurning;

typedef enum {
  SB_GUIDE_SCISSORS, /* 0.5 pt, 35 % grey: through cut (handbook 4.4) */
  SB_GUIDE_KNIFE,    /* 0.35 pt, 18 % grey: kiss cut */
  SB_GUIDE_TICKS,    /* corner ticks only, for rectangles */
  SB_GUIDE_OFF,
} SbGuideStyle;

typedef struct {
  SbGuideStyle style;
  double line_pt; /* line width in points, 0.25..2 */
  double grey;    /* 0 white .. 1 black */
} SbGuide;

/* The handbook's line and tone for a style. */
SbGuide sb_guide_for_style (SbGuideStyle style);
gboolean sb_guide_equal (const SbGuide *a, const SbGuide *b);

/* The guide is stroked wholly outside the outline, this far from it (handbook 4.4), so that a cut
 * along its inner edge leaves nothing on the sticker. */
#define SB_GUIDE_CLEARANCE_MM 0.1

/* What filling may make of a freebie. */
typedef struct {
  double least_mm, greatest_mm; /* longer side of the finished size, least <= greatest; 0, 0: only
                                   as large as the design is */
  int share;                    /* laid for each one of the other freebies, 1..SB_SHARE_MOST */
  guint size_of;                /* filling made this design as another size of that one; or 0 */
} SbFilling;

#define SB_SHARE_MOST 20

#define SB_NAME_MOST 120 /* characters */

/* `name` as a design may bear it: valid composed UTF-8 without control characters or blanks at its
 * ends, at most SB_NAME_MOST characters, "Unnamed" where nothing is left. */
char *sb_name_clean (const char *name) G_GNUC_WARN_UNUSED_RESULT;

/* Ranges of what a maker sets. */
#define SB_DESIGN_LEAST_MM 0.5 /* a side of the artwork */
#define SB_DESIGN_MOST_MM 1500.0
#define SB_BORDER_MOST_MM 25.0 /* width, nook and spike */
#define SB_CORNER_MOST_MM 750.0
#define SB_TOLERANCE_LEAST_UM 0.1
#define SB_TOLERANCE_MOST_UM 1000.0
#define SB_SPECK_MOST_MM 100.0
#define SB_BLEED_MOST_MM 5.0 /* 2 to 3 mm are usual (handbook 4.1) */
#define SB_GUIDE_LEAST_PT 0.25
#define SB_GUIDE_MOST_PT 2.0
#define SB_WANTED_MOST 9999

typedef struct _SbDesign SbDesign;
struct _SbDesign {
  /*< read only >*/
  guint id;                             /* unique in its job, never 0 */
  char *name;                           /* unique in its job */
  SbPicture *picture;                   /* cleaned by the recipe */
  SbLettering *lettering;               /* what the picture was made of, for a text; else NULL */
  SbCleanup cleanup;                    /* holds a reference to its strokes */
  double width_mm, height_mm;           /* the artwork's printed size, transparent rim included */
  SbSilhouetteParams silhouette_params; /* its paper tolerance is the recipe's */
  SbBorderParams border;
  SbHand *hand;    /* what was changed of the outline by hand; or NULL */
  double bleed_mm; /* the artwork's edge is repeated so far past the cut; 0 for none */
  SbGuide guide;
  SbTurning turning;
  int wanted; /* copies ordered, 0..SB_WANTED_MOST; freebies: at most that many, 0 = as many as fit
               */
  gboolean freebie; /* only fills space */
  SbFilling filling;

  /*< private: made by sb_design_prepare >*/
  SbSilhouette *silhouette;
  SbGrowth *growth;
  JsonObject *extra; /* fields of a newer version, kept for the round trip; or NULL */
  gatomicrefcount refs;
};

/* A design of `picture` with default border and guide at the picture's own size (at 300 dpi when it
 * states none). Not prepared, id 0: sb_edit_add_design gives the id. */
SbDesign *sb_design_new (SbPicture *picture, const char *name) G_GNUC_WARN_UNUSED_RESULT;

/* A text: its outlines as the picture, at their size, without border and guide, and none wanted
 * loose on pages. Called by its first line. NULL when there is nothing to print. */
SbDesign *sb_design_new_text (const SbLettering *lettering,
                              GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* A copy to change before it is published. Shares what did not change. After changing picture,
 * clean-up, size, silhouette_params or border call sb_design_prepare. */
SbDesign *sb_design_copy (const SbDesign *design) G_GNUC_WARN_UNUSED_RESULT;
SbDesign *sb_design_ref (SbDesign *design);
void sb_design_unref (SbDesign *design);

/* Equal as documents: every field but what prepare measures, the picture by its hash. */
gboolean sb_design_equal (const SbDesign *a, const SbDesign *b);
/* Whether fields of a newer version are equal; either may be NULL. */
gboolean sb_extra_equal (JsonObject *a, JsonObject *b);

/* What a picture starts with: paper is removed from those without alpha. */
SbCleanup sb_cleanup_for_picture (const SbPicture *picture);

/* Setters for a copy: they drop exactly what has to be measured again. Parameters past their range
 * are taken to its end; a size past it is refused by sb_design_prepare. */
void sb_design_set_name (SbDesign *design, const char *name);
/* The recipe's settings stay; its frame and strokes only where it is the same file's picture. */
void sb_design_set_picture (SbDesign *design, SbPicture *picture);
/* Writes the text anew, with its size. FALSE, and nothing changed, when there is nothing to print.
 */
gboolean sb_design_set_lettering (SbDesign *design, const SbLettering *lettering, GError **error);
/* Takes a reference to the recipe's strokes. Where its frame has other pixels than before, the size
 * follows, so that what is seen keeps its scale. */
void sb_design_set_cleanup (SbDesign *design, const SbCleanup *cleanup);
/* Pixel art whose edges stay hard comes in whole steps, as near as they lie: a pixel is as wide as
 * a whole number of 300ths of an inch, which printers have dots for. Only below one it is as asked.
 */
void sb_design_set_size (SbDesign *design, double width_mm, double height_mm);
void sb_design_set_silhouette_params (SbDesign *design, const SbSilhouetteParams *params);
void sb_design_set_border (SbDesign *design, const SbBorderParams *border);
/* NULL takes all changes back. A prepared design stays prepared. Another frame of the recipe takes
 * them back too. */
void sb_design_set_hand (SbDesign *design, SbHand *hand);

/* How many 300ths of an inch a pixel of hard-edged pixel art is wide; 0 for all else. */
int sb_design_get_steps (const SbDesign *design);
/* Whether it has too few pixels to print sharply at its size. */
gboolean sb_design_is_coarse (const SbDesign *design);

/* Pixels of the picture to a printed millimetre, across. */
double sb_design_get_px_per_mm (const SbDesign *design);
/* Resizes so that what lies between two places of the (cleaned) picture, in its px, prints at `mm`:
 * a known length of a photo. FALSE, and nothing changes, when that is no size a design may have. */
gboolean sb_design_set_known_length (SbDesign *design, SbPoint from, SbPoint to, double mm);

/* Measures what is missing (decodes, grows). Slow: run it in a thread for the window. A design in a
 * state is always prepared. */
gboolean sb_design_prepare (SbDesign *design, GCancellable *cancellable, GError **error);

/* The cut line and the visible artwork, in the artwork's frame. Borrowed; the design must be
 * prepared. */
SbOutline *sb_design_get_outline (const SbDesign *design);
SbOutline *sb_design_get_artwork (const SbDesign *design);

/* Size of the outline's box: the finished size a maker quotes (handbook 3.2). */
void sb_design_get_finished_size (const SbDesign *design, double *width_mm, double *height_mm);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbDesign, sb_design_unref)

G_END_DECLS
