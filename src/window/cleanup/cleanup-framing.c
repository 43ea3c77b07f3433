/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/cleanup/cleanup-framing.h"
#include "window/parts/measure-entry.h"
#include "window/parts/words.h"

#define INSET 0.08 /* where handles begin, in parts of the picture's width */
#define LEAST_PX 8 /* a side that is left */
#define LENGTH_MM 50.0

struct _SbCleanupFraming {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  SbCleanupView *view;
  SbCleanupFramingKind kind;
  gboolean active;

  GtkWidget *box;
  GtkWidget *words;
  SbMeasureEntry *length;
  GtkWidget *find, *whole;
};

G_DEFINE_FINAL_TYPE (SbCleanupFraming, sb_cleanup_framing, GTK_TYPE_WIDGET)

enum {
  ENDED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static SbDesign *
get_design (SbCleanupFraming *self)
{
  return sb_cleanup_session_get_design (self->session);
}

/* Handles */

/* The part of the width that the height is. */
static double
get_tall (SbCleanupFraming *self)
{
  SbPixels *pixels = self->kind == SB_CLEANUP_FRAMING_CORNERS
                         ? sb_cleanup_session_get_whole (self->session)
                         : sb_cleanup_session_get_before (self->session, 0);

  return (double)sb_pixels_get_height (pixels) / sb_pixels_get_width (pixels);
}

/* The sheet that is seen in the photo, to the handles. */
static gboolean
find_sheet (SbCleanupFraming *self)
{
  cairo_surface_t *surface = sb_pixels_get_surface (sb_cleanup_session_get_whole (self->session));
  SbPoint corners[4];
  double places[8];

  if (!sb_quad_find_sheet (surface, corners))
    return FALSE;
  for (int i = 0; i < 4; i++) {
    places[2 * i] = corners[i].x / cairo_image_surface_get_width (surface);
    places[2 * i + 1] = corners[i].y / cairo_image_surface_get_width (surface);
  }
  sb_cleanup_view_set_handles (self->view, places, 4, FALSE);
  return TRUE;
}

static void
set_corners (SbCleanupFraming *self)
{
  const SbCleanup *recipe = &get_design (self)->cleanup;
  const SbQuad *frame = recipe->sheet.set ? &recipe->sheet : &recipe->frame;
  double tall = get_tall (self);
  double places[8] = {INSET, INSET, 1 - INSET, INSET, 1 - INSET, tall - INSET, INSET, tall - INSET};

  for (int i = 0; frame->set && i < 4; i++) {
    places[2 * i] = frame->corners[i].x;
    places[2 * i + 1] = frame->corners[i].y;
  }
  sb_cleanup_view_set_handles (self->view, places, 4, FALSE);
}

static void
set_handles (SbCleanupFraming *self)
{
  double tall = get_tall (self);
  double box[4] = {INSET, INSET, 1 - INSET, MAX (tall - INSET, tall / 2)};
  double line[4] = {2 * INSET, tall / 2, 1 - 2 * INSET, tall / 2};

  switch (self->kind) {
  case SB_CLEANUP_FRAMING_CROP:
    sb_cleanup_view_set_handles (self->view, box, 2, TRUE);
    break;
  case SB_CLEANUP_FRAMING_CORNERS:
    if (get_design (self)->cleanup.sheet.set || !find_sheet (self))
      set_corners (self);
    break;
  case SB_CLEANUP_FRAMING_LEVEL:
  case SB_CLEANUP_FRAMING_LENGTH:
  default:
    sb_cleanup_view_set_handles (self->view, line, 2, FALSE);
    break;
  }
}

/* Applying */

/* A rectangle of what is shown, turned about its middle, as a frame of the picture that came in. */
static SbQuad
frame_of_shown (SbCleanupFraming *self, SbPoint middle, double width, double height, double angle)
{
  SbDesign *design = get_design (self);
  g_autoptr (SbPicture) origin = sb_picture_get_origin (design->picture);
  int picture_width = sb_picture_get_width (origin);
  SbMap map = sb_quad_get_map (sb_cleanup_get_frame (&design->cleanup),
                               sb_picture_get_width (design->picture),
                               sb_picture_get_height (design->picture), picture_width);
  SbQuad frame = {.set = TRUE, .width = (int)lround (width), .height = (int)lround (height)};
  static const double sides[4][2] = {{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}};

  for (int i = 0; i < 4; i++) {
    double x = sides[i][0] * width, y = sides[i][1] * height;
    SbPoint corner = sb_map_point (&map, (SbPoint){middle.x + x * cos (angle) - y * sin (angle),
                                                   middle.y + x * sin (angle) + y * cos (angle)});
    frame.corners[i] = (SbPoint){corner.x / picture_width, corner.y / picture_width};
  }
  return frame;
}

/* The sheet stays what it was, or becomes what was shown: paper and light are looked for there. */
static void
apply_frame (SbCleanupFraming *self, const SbQuad *frame, const char *format)
{
  SbCleanup recipe = get_design (self)->cleanup;

  recipe.frame = *frame;
  sb_cleanup_session_set_recipe (self->session, &recipe, format, TRUE);
}

static void
apply_crop (SbCleanupFraming *self, const double *places)
{
  double width = sb_picture_get_width (get_design (self)->picture);
  double x0 = floor (MIN (places[0], places[2]) * width);
  double y0 = floor (MIN (places[1], places[3]) * width);
  double x1 = ceil (MAX (places[0], places[2]) * width);
  double y1 = ceil (MAX (places[1], places[3]) * width);

  x1 = MAX (x1, x0 + LEAST_PX);
  y1 = MAX (y1, y0 + LEAST_PX);
  SbQuad frame =
      frame_of_shown (self, (SbPoint){(x0 + x1) / 2, (y0 + y1) / 2}, x1 - x0, y1 - y0, 0);
  apply_frame (self, &frame, _ ("Crop %s"));
}

/* Turns by as little as makes the line run across or down. */
static void
apply_level (SbCleanupFraming *self, const double *places)
{
  SbPicture *picture = get_design (self)->picture;
  double width = sb_picture_get_width (picture), height = sb_picture_get_height (picture);
  double angle = atan2 (places[3] - places[1], places[2] - places[0]);

  angle -= round (angle / (G_PI / 2)) * (G_PI / 2);
  SbQuad frame = frame_of_shown (self, (SbPoint){width / 2, height / 2}, width, height, angle);
  apply_frame (self, &frame, _ ("Turn %s Level"));
}

static void
apply_corners (SbCleanupFraming *self, const double *places)
{
  SbCleanup recipe = get_design (self)->cleanup;
  g_autoptr (SbPicture) origin = sb_picture_get_origin (get_design (self)->picture);
  int width = sb_picture_get_width (origin), height = sb_picture_get_height (origin);
  SbPoint corners[4];

  for (int i = 0; i < 4; i++)
    corners[i] = (SbPoint){places[2 * i] * width, places[2 * i + 1] * width};
  recipe.sheet = sb_quad_straighten (width, height, corners);
  recipe.frame.set = FALSE;
  if (!sb_quad_is_usable (&recipe.sheet, width, height)) {
    gtk_label_set_label (GTK_LABEL (self->words),
                         _ ("These corners make no sheet: put each at its own corner."));
    return;
  }
  sb_cleanup_session_set_recipe (self->session, &recipe, _ ("Straighten %s"), TRUE);
  sb_cleanup_framing_stop (self);
}

static void
apply_length (SbCleanupFraming *self, const double *places)
{
  SbDesign *copy = sb_cleanup_session_begin (self->session);
  double width = sb_picture_get_width (copy->picture);

  if (sb_design_set_known_length (copy, (SbPoint){places[0] * width, places[1] * width},
                                  (SbPoint){places[2] * width, places[3] * width},
                                  sb_measure_entry_get_value (self->length))) {
    sb_cleanup_session_end (self->session, copy, _ ("Size of %s from a Length"), TRUE);
    sb_cleanup_framing_stop (self);
  } else {
    sb_design_unref (copy);
    gtk_label_set_label (GTK_LABEL (self->words),
                         _ ("With this length the picture would be too small or too large."));
  }
}

static void
apply_cb (SbCleanupFraming *self)
{
  guint n;
  const double *places = sb_cleanup_view_get_handles (self->view, &n);

  /* What is still being typed counts. */
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
  switch (self->kind) {
  case SB_CLEANUP_FRAMING_CROP:
    apply_crop (self, places);
    sb_cleanup_framing_stop (self);
    break;
  case SB_CLEANUP_FRAMING_LEVEL:
    apply_level (self, places);
    sb_cleanup_framing_stop (self);
    break;
  case SB_CLEANUP_FRAMING_CORNERS:
    apply_corners (self, places);
    break;
  case SB_CLEANUP_FRAMING_LENGTH:
  default:
    apply_length (self, places);
    break;
  }
}

/* The frame goes first, then the sheet. */
static void
whole_cb (SbCleanupFraming *self)
{
  SbCleanup recipe = get_design (self)->cleanup;

  if (recipe.frame.set)
    recipe.frame.set = FALSE;
  else
    recipe.sheet.set = FALSE;
  sb_cleanup_session_set_recipe (self->session, &recipe, _ ("Show All of %s"), TRUE);
  sb_cleanup_framing_stop (self);
}

static void
find_cb (SbCleanupFraming *self)
{
  if (!find_sheet (self))
    gtk_label_set_label (GTK_LABEL (self->words),
                         _ ("No whole sheet is seen. Put the four corners where they belong."));
}

/* The bar */

static const char *
get_words (SbCleanupFramingKind kind)
{
  switch (kind) {
  case SB_CLEANUP_FRAMING_CROP:
    return _ ("Drag two corners around what shall stay. Keys: Space takes the other corner, the "
              "arrows move it.");
  case SB_CLEANUP_FRAMING_CORNERS:
    return _ ("Drag the four corners to those of the sheet. Keys: Space takes the next corner, the "
              "arrows move it.");
  case SB_CLEANUP_FRAMING_LEVEL:
    return _ ("Drag the line along something that shall be level or upright.");
  case SB_CLEANUP_FRAMING_LENGTH:
  default:
    return _ ("Drag the line along something whose length you know, and type the length.");
  }
}

gboolean
sb_cleanup_framing_is_active (SbCleanupFraming *self)
{
  g_return_val_if_fail (SB_IS_CLEANUP_FRAMING (self), FALSE);
  return self->active;
}

void
sb_cleanup_framing_start (SbCleanupFraming *self, SbCleanupFramingKind kind)
{
  SbPixels *whole = sb_cleanup_session_get_whole (self->session);
  const SbCleanup *recipe = &get_design (self)->cleanup;

  g_return_if_fail (SB_IS_CLEANUP_FRAMING (self));

  if (!whole || !sb_cleanup_session_get_before (self->session, 0))
    return;
  sb_cleanup_framing_stop (self);
  self->kind = kind;
  self->active = TRUE;
  if (kind == SB_CLEANUP_FRAMING_CORNERS) {
    g_autoptr (SbPicture) origin = sb_picture_get_origin (get_design (self)->picture);
    sb_cleanup_view_set_size (self->view, sb_picture_get_width (origin),
                              sb_picture_get_height (origin));
    sb_cleanup_view_set_pixels (self->view, whole, whole);
  }
  gtk_label_set_label (GTK_LABEL (self->words), get_words (kind));
  gtk_widget_set_visible (GTK_WIDGET (self->length), kind == SB_CLEANUP_FRAMING_LENGTH);
  sb_measure_entry_set_unit (self->length,
                             sb_desk_get_unit (sb_cleanup_session_get_desk (self->session)));
  gtk_widget_set_visible (self->find, kind == SB_CLEANUP_FRAMING_CORNERS);
  gtk_widget_set_visible (self->whole, kind != SB_CLEANUP_FRAMING_LENGTH &&
                                           (recipe->frame.set || recipe->sheet.set));
  set_handles (self);
  sb_cleanup_view_set_hand (self->view, SB_CLEANUP_HAND_HANDLES);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

void
sb_cleanup_framing_stop (SbCleanupFraming *self)
{
  g_return_if_fail (SB_IS_CLEANUP_FRAMING (self));

  if (!self->active)
    return;
  self->active = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_signal_emit (self, signals[ENDED], 0);
}

/* Widget */

static void
sb_cleanup_framing_dispose (GObject *object)
{
  SbCleanupFraming *self = SB_CLEANUP_FRAMING (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sb_cleanup_framing_parent_class)->dispose (object);
}

static void
sb_cleanup_framing_class_init (SbCleanupFramingClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_framing_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[ENDED] = g_signal_new ("ended", SB_TYPE_CLEANUP_FRAMING, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
add_button (SbCleanupFraming *self, GtkWidget *row, const char *mnemonic, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (mnemonic);

  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_box_append (GTK_BOX (row), button);
  return button;
}

static void
sb_cleanup_framing_init (SbCleanupFraming *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (self->box, "cleanup-bar");
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->words = sb_words_new (NULL, NULL);
  gtk_box_append (GTK_BOX (self->box), self->words);
  self->length = g_object_new (SB_TYPE_MEASURE_ENTRY, "label", _ ("Length of the line"), "lower",
                               1.0, "upper", SB_DESIGN_MOST_MM, NULL);
  sb_measure_entry_set_value (self->length, LENGTH_MM);
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (row), GTK_WIDGET (self->length));
  self->find = add_button (self, row, _ ("_Find the Sheet"), G_CALLBACK (find_cb));
  self->whole = add_button (self, row, _ ("Show _All"), G_CALLBACK (whole_cb));
  add_button (self, row, _ ("_Cancel"), G_CALLBACK (sb_cleanup_framing_stop));
  gtk_widget_add_css_class (add_button (self, row, _ ("_Apply"), G_CALLBACK (apply_cb)),
                            "suggested-action");
  gtk_box_append (GTK_BOX (self->box), row);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_cleanup_framing_new (SbCleanupSession *session, SbCleanupView *view)
{
  SbCleanupFraming *self = g_object_new (SB_TYPE_CLEANUP_FRAMING, NULL);

  self->session = g_object_ref (session);
  self->view = view;
  return GTK_WIDGET (self);
}
