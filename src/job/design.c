/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/design.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "job/known-growth.h"
#include "picture/hold.h"

/* A picture that states no size is taken at the handbook's good resolution. */
#define UNSTATED_DPI SB_DPI_GOOD

SbGuide
sb_guide_for_style (SbGuideStyle style)
{
  if (style == SB_GUIDE_KNIFE)
    return (SbGuide){style, 0.35, 0.18};
  return (SbGuide){style, 0.5, 0.35};
}

static gboolean
is_unwanted (gunichar c)
{
  gboolean bidi_override = (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069);
  GUnicodeType type = g_unichar_type (c);
  return bidi_override || type == G_UNICODE_CONTROL || type == G_UNICODE_LINE_SEPARATOR ||
         type == G_UNICODE_PARAGRAPH_SEPARATOR;
}

char *
sb_name_clean (const char *name)
{
  g_autofree char *valid = g_utf8_make_valid (name, -1);
  g_autofree char *composed = g_utf8_normalize (valid, -1, G_NORMALIZE_DEFAULT_COMPOSE);
  g_autoptr (GString) clean = g_string_new (NULL);
  for (const char *p = composed; *p != '\0'; p = g_utf8_next_char (p)) {
    gunichar c = g_utf8_get_char (p);
    g_string_append_unichar (clean, is_unwanted (c) ? ' ' : c);
  }
  g_autofree char *cut = g_utf8_substring (g_strstrip (clean->str), 0,
                                           MIN (SB_NAME_MOST, g_utf8_strlen (clean->str, -1)));
  g_strchomp (cut);
  return *cut != '\0' ? g_steal_pointer (&cut) : g_strdup (_ ("Unnamed"));
}

SbCleanup
sb_cleanup_for_picture (const SbPicture *picture)
{
  return sb_picture_has_alpha (picture) ? sb_cleanup_none () : sb_cleanup_default ();
}

double
sb_design_get_px_per_mm (const SbDesign *design)
{
  return sb_picture_get_width (design->picture) / design->width_mm;
}

/* The picture cleaned for the size it has now; the one that came in stays inside it. */
static void
clean_picture (SbDesign *design)
{
  g_autoptr (SbPicture) framed = sb_picture_clean (design->picture, &design->cleanup, 1);
  double px_per_mm = sb_picture_get_width (framed) / design->width_mm;
  SbPicture *cleaned = sb_picture_clean (design->picture, &design->cleanup, px_per_mm);
  sb_picture_unref (design->picture);
  design->picture = cleaned;
}

SbDesign *
sb_design_new (SbPicture *picture, const char *name)
{
  SbDesign *design = g_new0 (SbDesign, 1);
  g_atomic_ref_count_init (&design->refs);
  design->name = sb_name_clean (name);
  design->picture = sb_picture_ref (picture);
  if (!sb_picture_get_size_mm (picture, &design->width_mm, &design->height_mm)) {
    design->width_mm = sb_picture_get_width (picture) * SB_MM_PER_INCH / UNSTATED_DPI;
    design->height_mm = sb_picture_get_height (picture) * SB_MM_PER_INCH / UNSTATED_DPI;
  }
  design->cleanup = sb_cleanup_for_picture (picture);
  clean_picture (design);
  design->silhouette_params = sb_silhouette_params_default ();
  design->silhouette_params.paper_tolerance = design->cleanup.tolerance;
  design->border = sb_border_params_default ();
  design->guide = sb_guide_for_style (SB_GUIDE_SCISSORS);
  design->turning = SB_TURNING_ANY;
  design->wanted = 1;
  design->filling.share = 1;
  return design;
}

/* Text is not cut on its own: its outline is the box around it. */
static SbBorderParams
text_border (void)
{
  SbBorderParams border = sb_border_params_default ();
  border.shape = SB_BORDER_BOX;
  border.width_mm = 0;
  border.nook_mm = 0;
  return border;
}

SbDesign *
sb_design_new_text (const SbLettering *lettering, GError **error)
{
  g_autoptr (SbPicture) picture = sb_lettering_to_picture (lettering, error);
  if (picture == NULL)
    return NULL;
  const char *text = lettering->string + strspn (lettering->string, "\n ");
  g_autofree char *first_line = g_strndup (text, strcspn (text, "\n"));
  SbDesign *design = sb_design_new (picture, first_line);
  design->lettering = sb_lettering_copy (lettering);
  design->border = text_border ();
  design->guide = sb_guide_for_style (SB_GUIDE_OFF);
  design->turning = SB_TURNING_UPRIGHT;
  design->wanted = 0;
  return design;
}

SbDesign *
sb_design_copy (const SbDesign *design)
{
  SbDesign *copy = g_memdup2 (design, sizeof *design);
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (design->name);
  copy->picture = sb_picture_ref (design->picture);
  sb_strokes_ref (copy->cleanup.strokes);
  if (copy->lettering != NULL)
    copy->lettering = sb_lettering_copy (design->lettering);
  if (copy->hand != NULL)
    sb_hand_ref (copy->hand);
  if (copy->silhouette != NULL)
    sb_silhouette_ref (copy->silhouette);
  if (copy->growth != NULL)
    sb_growth_ref (copy->growth);
  if (copy->extra != NULL)
    json_object_ref (copy->extra);
  return copy;
}

SbDesign *
sb_design_ref (SbDesign *design)
{
  g_atomic_ref_count_inc (&design->refs);
  return design;
}

void
sb_design_unref (SbDesign *design)
{
  if (!g_atomic_ref_count_dec (&design->refs))
    return;
  g_free (design->name);
  sb_picture_unref (design->picture);
  sb_strokes_unref (design->cleanup.strokes);
  g_clear_pointer (&design->lettering, sb_lettering_free);
  sb_hand_unref (design->hand);
  g_clear_pointer (&design->silhouette, sb_silhouette_unref);
  g_clear_pointer (&design->growth, sb_growth_unref);
  g_clear_pointer (&design->extra, json_object_unref);
  g_free (design);
}

static gboolean
silhouette_params_equal (const SbSilhouetteParams *a, const SbSilhouetteParams *b)
{
  return a->threshold == b->threshold && a->speck_mm == b->speck_mm &&
         a->paper_tolerance == b->paper_tolerance;
}

gboolean
sb_guide_equal (const SbGuide *a, const SbGuide *b)
{
  return a->style == b->style && a->line_pt == b->line_pt && a->grey == b->grey;
}

static gboolean
fillings_equal (const SbFilling *a, const SbFilling *b)
{
  return a->least_mm == b->least_mm && a->greatest_mm == b->greatest_mm && a->share == b->share &&
         a->size_of == b->size_of;
}

static gboolean
pictures_equal (const SbPicture *a, const SbPicture *b)
{
  return a == b || g_str_equal (sb_picture_get_key (a), sb_picture_get_key (b));
}

gboolean
sb_extra_equal (JsonObject *a, JsonObject *b)
{
  return a == b || (a != NULL && b != NULL && json_object_equal (a, b));
}

gboolean
sb_design_equal (const SbDesign *a, const SbDesign *b)
{
  return a == b ||
         (a->id == b->id && g_str_equal (a->name, b->name) &&
          pictures_equal (a->picture, b->picture) && sb_cleanup_equal (&a->cleanup, &b->cleanup) &&
          a->width_mm == b->width_mm && a->height_mm == b->height_mm &&
          silhouette_params_equal (&a->silhouette_params, &b->silhouette_params) &&
          sb_border_params_equal (&a->border, &b->border) && sb_hand_equal (a->hand, b->hand) &&
          a->bleed_mm == b->bleed_mm && sb_guide_equal (&a->guide, &b->guide) &&
          sb_lettering_equal (a->lettering, b->lettering) && a->turning == b->turning &&
          a->wanted == b->wanted && !a->freebie == !b->freebie &&
          fillings_equal (&a->filling, &b->filling) && sb_extra_equal (a->extra, b->extra));
}

static void
drop_growth (SbDesign *design)
{
  g_clear_pointer (&design->growth, sb_growth_unref);
}

static void
drop_silhouette (SbDesign *design)
{
  g_clear_pointer (&design->silhouette, sb_silhouette_unref);
  drop_growth (design);
}

void
sb_design_set_name (SbDesign *design, const char *name)
{
  char *clean = sb_name_clean (name);
  g_free (design->name);
  design->name = clean;
}

/* A number that is none becomes the least. */
static double
within (double value, double least, double most)
{
  return value >= least ? MIN (value, most) : least;
}

static gboolean
is_same_file (const SbPicture *a, const SbPicture *b)
{
  return g_str_equal (sb_picture_get_sha256 (a), sb_picture_get_sha256 (b));
}

void
sb_design_set_picture (SbDesign *design, SbPicture *picture)
{
  g_autoptr (SbPicture) before = design->picture;
  SbCleanup *recipe = &design->cleanup;

  design->picture = sb_picture_ref (picture);
  if (!is_same_file (before, picture)) {
    recipe->frame.set = recipe->sheet.set = FALSE;
    g_clear_pointer (&recipe->strokes, sb_strokes_unref);
  }
  if (!pictures_equal (before, picture))
    clean_picture (design);
  if (!pictures_equal (before, design->picture))
    drop_silhouette (design);
}

gboolean
sb_design_set_lettering (SbDesign *design, const SbLettering *lettering, GError **error)
{
  g_autoptr (SbPicture) picture = sb_lettering_to_picture (lettering, error);
  if (picture == NULL)
    return FALSE;
  SbLettering *kept = sb_lettering_copy (lettering);
  g_clear_pointer (&design->lettering, sb_lettering_free);
  design->lettering = kept;
  sb_design_set_picture (design, picture);
  double width_mm, height_mm;
  if (sb_picture_get_size_mm (picture, &width_mm, &height_mm))
    sb_design_set_size (design, width_mm, height_mm);
  return TRUE;
}

/* What a new frame shows keeps its scale. */
static void
follow_frame (SbDesign *design, double px_across, double px_down)
{
  double width = design->width_mm * px_across, height = design->height_mm * px_down;
  double shrink = MIN (SB_DESIGN_MOST_MM / MAX (width, height), 1);

  design->width_mm = width * shrink;
  design->height_mm = height * shrink;
}

/* Whether recipes leave the same coverage: they do when they differ in levels alone, unless the
 * outline is found by the colours. */
static gboolean
covers_alike (const SbCleanup *a, const SbCleanup *b, const SbPicture *picture)
{
  SbCleanup levelled = *a;
  levelled.adjust = b->adjust;
  return sb_cleanup_equal (sb_picture_has_alpha (picture) ? &levelled : a, b);
}

void
sb_design_set_cleanup (SbDesign *design, const SbCleanup *cleanup)
{
  g_autoptr (SbPicture) before = sb_picture_ref (design->picture);
  g_autoptr (SbPicture) origin = sb_picture_get_origin (before);
  const SbCleanup old = design->cleanup;

  if (!sb_quad_equal (&design->cleanup.frame, &cleanup->frame))
    sb_design_set_hand (design, NULL); /* its places mean nothing in another frame */
  design->cleanup = *cleanup;
  sb_strokes_ref (design->cleanup.strokes);
  sb_cleanup_tidy (&design->cleanup, sb_picture_get_width (origin), sb_picture_get_height (origin));
  g_autoptr (SbPicture) framed = sb_picture_clean (origin, &design->cleanup, 1);
  follow_frame (design, (double)sb_picture_get_width (framed) / sb_picture_get_width (before),
                (double)sb_picture_get_height (framed) / sb_picture_get_height (before));
  clean_picture (design);
  design->silhouette_params.paper_tolerance = design->cleanup.tolerance;
  if (covers_alike (&old, &design->cleanup, design->picture))
    sb_picture_share_clean_result (design->picture, before);
  else
    drop_silhouette (design);
  sb_strokes_unref (old.strokes);
  sb_design_set_size (design, design->width_mm, design->height_mm); /* in steps from now on? */
}

#define STEP_MM (SB_MM_PER_INCH / SB_DPI_GOOD)
/* What is nearer to half a step than to a whole one is not enlarged. */
#define LEAST_STEPS 0.75

int
sb_design_get_steps (const SbDesign *design)
{
  double steps = design->width_mm / sb_picture_get_width (design->picture) / STEP_MM;

  return sb_picture_is_crisp (design->picture) && steps >= LEAST_STEPS
             ? MAX ((int)lround (steps), 1)
             : 0;
}

gboolean
sb_design_is_coarse (const SbDesign *design)
{
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);

  return dpi > 0 && dpi < SB_DPI_GOOD && sb_design_get_steps (design) == 0;
}

static void
snap_size (const SbDesign *design, double *width_mm, double *height_mm)
{
  int across = sb_picture_get_width (design->picture),
      down = sb_picture_get_height (design->picture);
  double asked = *width_mm / across / STEP_MM;
  double most = floor (SB_DESIGN_MOST_MM / STEP_MM / MAX (across, down));

  if (!sb_picture_is_crisp (design->picture) || !(asked >= LEAST_STEPS) || most < 1)
    return;
  double steps = CLAMP (round (asked), 1, most);
  *width_mm = across * steps * STEP_MM;
  *height_mm = down * steps * STEP_MM;
}

void
sb_design_set_size (SbDesign *design, double width_mm, double height_mm)
{
  snap_size (design, &width_mm, &height_mm);
  if (design->width_mm == width_mm && design->height_mm == height_mm)
    return;
  SbHand *hand =
      sb_hand_scale (design->hand, width_mm / design->width_mm, height_mm / design->height_mm);
  sb_hand_unref (design->hand);
  design->hand = hand;
  design->width_mm = width_mm;
  design->height_mm = height_mm;
  clean_picture (design);
  drop_silhouette (design);
}

gboolean
sb_design_set_known_length (SbDesign *design, SbPoint from, SbPoint to, double mm)
{
  double across = (to.x - from.x) / sb_picture_get_width (design->picture) * design->width_mm;
  double down = (to.y - from.y) / sb_picture_get_height (design->picture) * design->height_mm;
  double scale = mm / hypot (across, down);
  double width = design->width_mm * scale, height = design->height_mm * scale;

  if (!(MIN (width, height) >= SB_DESIGN_LEAST_MM && MAX (width, height) <= SB_DESIGN_MOST_MM))
    return FALSE;
  sb_design_set_size (design, width, height);
  return TRUE;
}

void
sb_design_set_silhouette_params (SbDesign *design, const SbSilhouetteParams *params)
{
  SbSilhouetteParams kept = {
      .threshold = within (params->threshold, 0, 1),
      .speck_mm = within (params->speck_mm, 0, SB_SPECK_MOST_MM),
      .paper_tolerance = design->cleanup.tolerance,
  };
  if (silhouette_params_equal (&design->silhouette_params, &kept))
    return;
  design->silhouette_params = kept;
  drop_silhouette (design);
}

void
sb_design_set_border (SbDesign *design, const SbBorderParams *border)
{
  SbBorderParams kept = *border;
  kept.width_mm = within (border->width_mm, 0, SB_BORDER_MOST_MM);
  kept.nook_mm = within (border->nook_mm, 0, SB_BORDER_MOST_MM);
  kept.spike_mm = within (border->spike_mm, 0, SB_BORDER_MOST_MM);
  kept.corner_mm = within (border->corner_mm, 0, SB_CORNER_MOST_MM);
  kept.tolerance_um = within (border->tolerance_um, SB_TOLERANCE_LEAST_UM, SB_TOLERANCE_MOST_UM);
  if (sb_border_params_equal (&design->border, &kept))
    return;
  design->border = kept;
  drop_growth (design);
}

void
sb_design_set_hand (SbDesign *design, SbHand *hand)
{
  if (sb_hand_equal (design->hand, hand))
    return;
  sb_hand_unref (design->hand);
  design->hand = hand != NULL ? sb_hand_ref (hand) : NULL;
  if (design->growth == NULL)
    return;
  SbGrowth *changed = sb_growth_change (design->growth, hand);
  sb_growth_unref (design->growth);
  design->growth = changed;
}

/* Takes over a growth, with the changes by hand. */
static void
take_growth (SbDesign *design, SbGrowth *growth)
{
  if (growth == NULL || design->hand == NULL) {
    design->growth = growth;
    return;
  }
  design->growth = sb_growth_change (growth, design->hand);
  sb_growth_unref (growth);
}

gboolean
sb_design_prepare (SbDesign *design, GCancellable *cancellable, GError **error)
{
  if (design->silhouette == NULL)
    design->silhouette = sb_silhouette_new (design->picture, design->width_mm, design->height_mm,
                                            &design->silhouette_params, cancellable, error);
  if (design->silhouette == NULL)
    return FALSE;
  if (design->growth == NULL)
    take_growth (design, sb_border_grow (design->silhouette, &design->border, cancellable, error));
  return design->growth != NULL;
}

void
sb_design_prepare_known (SbDesign *design, const SbKnownGrowth *known)
{
  g_return_if_fail (design->silhouette == NULL && design->growth == NULL);

  design->silhouette =
      sb_silhouette_new_known (design->picture, design->width_mm, design->height_mm,
                               &design->silhouette_params, known->softness, known->artwork);
  take_growth (design, sb_growth_new_known (design->silhouette, known->grown, known->n_islands,
                                            known->bridge_mm));
}

SbOutline *
sb_design_get_outline (const SbDesign *design)
{
  g_return_val_if_fail (design->growth != NULL, NULL);
  return sb_growth_get_outline (design->growth);
}

SbOutline *
sb_design_get_artwork (const SbDesign *design)
{
  g_return_val_if_fail (design->growth != NULL, NULL);
  return sb_growth_get_artwork (design->growth);
}

void
sb_design_get_finished_size (const SbDesign *design, double *width_mm, double *height_mm)
{
  SbBox box = sb_outline_get_box (sb_design_get_outline (design));
  *width_mm = box.x1 - box.x0;
  *height_mm = box.y1 - box.y0;
}
