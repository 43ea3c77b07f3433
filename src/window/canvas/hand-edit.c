/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/canvas/hand-point.h"
#include "window/canvas/hand-private.h"
#include "window/canvas/nudge-keys.h"

G_DEFINE_FINAL_TYPE (SbHandEdit, sb_hand_edit, GTK_TYPE_WIDGET)

/* --- What is edited --- */

/* In the state that is shown, a preview or not. */
gboolean
sb_hand_edit_find_subject (SbHandEdit *self, SbHandSubject *subject)
{
  SbJob *job = sb_pages_view_get_job (self->pages);

  if (!job || !self->piece_id)
    return FALSE;
  subject->state = sb_job_get_state (job);
  subject->piece = sb_state_get_piece (subject->state, self->piece_id, &subject->page);
  if (!subject->piece)
    return FALSE;
  subject->design = sb_state_get_design (subject->state, subject->piece->design_id);
  return TRUE;
}

/* The design as history knows it: what a drag starts from. */
SbDesign *
sb_hand_edit_get_settled_design (SbHandEdit *self, const SbHandSubject *subject)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (self->pages));

  return sb_state_get_design (state, subject->design->id);
}

static SbPoint
to_view (SbHandEdit *self, const SbHandSubject *subject, SbPoint p)
{
  SbPoint mm = sb_transform_point (sb_piece_get_transform (subject->design, subject->piece), p);

  return sb_pages_layout_to_view (sb_pages_view_get_layout (self->pages), subject->page,
                                  mm.x * SB_UM_PER_MM, mm.y * SB_UM_PER_MM);
}

SbPoint
sb_hand_edit_from_view (SbHandEdit *self, const SbHandSubject *subject, double x, double y)
{
  SbTransform back;
  SbPoint um;

  sb_pages_layout_to_page (sb_pages_view_get_layout (self->pages), subject->page, (SbPoint){x, y},
                           &um.x, &um.y);
  sb_transform_invert (sb_piece_get_transform (subject->design, subject->piece), &back);
  return sb_transform_point (back, (SbPoint){um.x / SB_UM_PER_MM, um.y / SB_UM_PER_MM});
}

/* --- Points as widgets --- */

static void
name_point (SbHandEdit *self, guint i)
{
  const SbHandPoint *point = &g_array_index (self->points, SbHandPoint, i);
  SbUnit unit = sb_pages_view_get_unit (self->pages);
  g_autofree char *x = sb_length_format_number (point->p.x, unit);
  g_autofree char *y = sb_length_format (point->p.y, unit);
  /* Translators: for screen readers: which point of how many, and its place from the artwork's top
   * left corner */
  g_autofree char *label =
      g_strdup_printf (_ ("Outline point %u of %u, at %s by %s"), i + 1, self->points->len, x, y);

  sb_hand_point_set_label (self->views->pdata[i], label);
}

static void
set_n_views (SbHandEdit *self, guint n)
{
  while (self->views->len > n) {
    gtk_widget_unparent (self->views->pdata[self->views->len - 1]);
    g_ptr_array_set_size (self->views, (int)self->views->len - 1);
  }
  while (self->views->len < n) {
    GtkWidget *view = sb_hand_point_new ();
    gtk_widget_set_parent (view, GTK_WIDGET (self));
    g_ptr_array_add (self->views, view);
  }
}

static void
take_points (SbHandEdit *self, const SbHandSubject *subject)
{
  g_clear_pointer (&self->points, g_array_unref);
  self->points =
      sb_hand_get_points (subject->design->hand, sb_growth_get_grown (subject->design->growth));
  set_n_views (self, self->points->len);
  for (guint i = 0; i < self->points->len; i++) {
    const SbHandPoint *point = &g_array_index (self->points, SbHandPoint, i);
    sb_hand_point_set_changed (self->views->pdata[i], point->change >= 0);
    name_point (self, i);
  }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

void
sb_hand_edit_place_points (SbHandEdit *self)
{
  SbHandSubject subject;

  if (!sb_hand_edit_find_subject (self, &subject))
    return;
  for (guint i = 0; i < self->views->len; i++) {
    const SbHandPoint *point = &g_array_index (self->points, SbHandPoint, i);
    SbPoint at = to_view (self, &subject, point->p);
    float x = (float)(at.x - SB_HAND_POINT_PX / 2.0), y = (float)(at.y - SB_HAND_POINT_PX / 2.0);
    GtkWidget *view = self->views->pdata[i];

    gtk_widget_measure (view, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
    gtk_widget_allocate (view, SB_HAND_POINT_PX, SB_HAND_POINT_PX, -1,
                         gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT (x, y)));
  }
}

static void
sb_hand_edit_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  sb_hand_edit_place_points (SB_HAND_EDIT (widget));
}

/* The point that has the focus, or -1. */
static int
get_focused (SbHandEdit *self)
{
  guint i;
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self));

  return focus && g_ptr_array_find (self->views, focus, &i) ? (int)i : -1;
}

void
sb_hand_edit_focus_point (SbHandEdit *self, guint i)
{
  if (self->views->len > 0)
    gtk_widget_grab_focus (self->views->pdata[i % self->views->len]);
}

/* Tab goes round the points along the outline and leaves after the last. */
static gboolean
sb_hand_edit_focus (GtkWidget *widget, GtkDirectionType direction)
{
  SbHandEdit *self = SB_HAND_EDIT (widget);
  int at = get_focused (self), n = (int)self->views->len;

  if (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD)
    return FALSE;
  if (direction == GTK_DIR_TAB_FORWARD)
    at++;
  else
    at = at < 0 ? n - 1 : at - 1;
  if (at < 0 || at >= n)
    return FALSE;
  sb_hand_edit_focus_point (self, (guint)at);
  return TRUE;
}

/* --- Changes --- */

/* `format` is one of our own translated ones and takes the design's name. */
void
sb_hand_edit_take (SbHandEdit *self, const SbHandSubject *subject, SbHand *hand, const char *format,
                   const char *merge)
{
  SbJob *job = sb_pages_view_get_job (self->pages);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_autofree char *name = g_strdup_printf (format, subject->design->name);
#pragma GCC diagnostic pop

  sb_job_edit (job, sb_edit_set_hand (sb_job_get_settled_state (job), subject->design->id, hand),
               name, merge);
}

static void
refuse (SbHandEdit *self)
{
  gtk_widget_error_bell (GTK_WIDGET (self));
}

static gboolean
nudge_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbHandEdit *self = SB_HAND_EDIT (widget);
  int at = get_focused (self), dx, dy;
  g_autoptr (SbHand) hand = NULL;
  SbHandSubject subject;

  if (at < 0 || !sb_hand_edit_find_subject (self, &subject))
    return FALSE;
  g_variant_get (parameter, "(ii)", &dx, &dy);
  SbPoint p = to_view (self, &subject, g_array_index (self->points, SbHandPoint, at).p);
  double k = sb_pages_view_get_layout (self->pages)->scale / SB_UM_PER_MM;
  SbPoint to = sb_hand_edit_from_view (self, &subject, p.x + dx * k, p.y + dy * k);
  if (sb_hand_move (subject.design->hand, sb_growth_get_grown (subject.design->growth), (guint)at,
                    to, &hand))
    sb_hand_edit_take (self, &subject, hand, _ ("Outline of %s"), "outline-nudge");
  else
    refuse (self);
  return TRUE;
}

static gboolean
remove_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbHandEdit *self = SB_HAND_EDIT (widget);
  int at = get_focused (self);
  g_autoptr (SbHand) hand = NULL;
  SbHandSubject subject;

  if (at < 0 || !sb_hand_edit_find_subject (self, &subject))
    return FALSE;
  if (!sb_hand_remove (subject.design->hand, sb_growth_get_grown (subject.design->growth),
                       (guint)at, &hand)) {
    refuse (self);
    return TRUE;
  }
  sb_hand_edit_take (self, &subject, hand, _ ("Remove Outline Point of %s"), NULL);
  sb_hand_edit_focus_point (self, (guint)at);
  return TRUE;
}

void
sb_hand_edit_add_near (SbHandEdit *self, const SbHandSubject *subject, SbPoint near)
{
  g_autoptr (SbHand) hand = NULL;
  guint added;

  if (!sb_hand_add (subject->design->hand, sb_growth_get_grown (subject->design->growth), near,
                    &hand, &added)) {
    refuse (self);
    return;
  }
  sb_hand_edit_take (self, subject, hand, _ ("Add Outline Point to %s"), NULL);
  sb_hand_edit_focus_point (self, added);
}

/* The place half way from a point to the next one of its ring. */
static SbPoint
half_way (SbHandEdit *self, guint i)
{
  const SbHandPoint *p = &g_array_index (self->points, SbHandPoint, i), *next = p + 1;

  if (i + 1 == self->points->len || next->ring != p->ring)
    for (next = p;
         next > &g_array_index (self->points, SbHandPoint, 0) && next[-1].ring == p->ring;)
      next--;
  return (SbPoint){(p->p.x + next->p.x) / 2, (p->p.y + next->p.y) / 2};
}

static gboolean
add_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  SbHandEdit *self = SB_HAND_EDIT (widget);
  int at = get_focused (self);
  SbHandSubject subject;

  if (at < 0 || !sb_hand_edit_find_subject (self, &subject))
    return FALSE;
  sb_hand_edit_add_near (self, &subject, half_way (self, (guint)at));
  return TRUE;
}

static gboolean
end_edit_cb (GtkWidget *widget, GVariant *parameter, gpointer data)
{
  sb_hand_edit_end (SB_HAND_EDIT (widget));
  return TRUE;
}

/* --- Beginning and ending --- */

gboolean
sb_hand_edit_get_place (SbHandEdit *self, guint point, double *x, double *y)
{
  SbHandSubject subject;

  if (!sb_hand_edit_find_subject (self, &subject) || point >= self->points->len)
    return FALSE;
  SbPoint at = to_view (self, &subject, g_array_index (self->points, SbHandPoint, point).p);
  *x = at.x;
  *y = at.y;
  return TRUE;
}

guint
sb_hand_edit_get_piece (SbHandEdit *self)
{
  return self->piece_id;
}

static gboolean
is_selected_alone (SbHandEdit *self)
{
  SbSelection *selection = sb_pages_view_get_selection (self->pages);

  return sb_selection_get_n_pieces (selection) == 1 &&
         sb_selection_contains (selection, self->piece_id);
}

void
sb_hand_edit_begin (SbHandEdit *self, guint piece_id)
{
  SbHandSubject subject;

  sb_hand_edit_end (self);
  self->piece_id = piece_id;
  if (!sb_hand_edit_find_subject (self, &subject)) {
    self->piece_id = 0;
    return;
  }
  sb_selection_set_piece (sb_pages_view_get_selection (self->pages), piece_id);
  sb_marks_set_dragging (sb_pages_view_get_marks (self->pages), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  take_points (self, &subject);
  sb_hand_edit_focus_point (self, 0);
}

void
sb_hand_edit_end (SbHandEdit *self)
{
  SbPieceView *view = sb_pages_view_find (self->pages, self->piece_id);
  gboolean had_focus = get_focused (self) >= 0;

  if (!self->piece_id)
    return;
  sb_hand_edit_give_up_drag (self);
  self->piece_id = 0;
  if (had_focus)
    gtk_widget_grab_focus (view ? GTK_WIDGET (view) : GTK_WIDGET (self->pages));
  set_n_views (self, 0);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  sb_marks_set_dragging (sb_pages_view_get_marks (self->pages), FALSE);
}

void
sb_hand_edit_follow (SbHandEdit *self)
{
  SbHandSubject subject;

  if (!self->piece_id)
    return;
  if (sb_hand_edit_find_subject (self, &subject) && is_selected_alone (self))
    take_points (self, &subject);
  else
    sb_hand_edit_end (self);
}

static void
sb_hand_edit_dispose (GObject *object)
{
  SbHandEdit *self = SB_HAND_EDIT (object);

  self->piece_id = 0;
  if (self->views)
    set_n_views (self, 0);
  g_clear_pointer (&self->views, g_ptr_array_unref);
  g_clear_pointer (&self->points, g_array_unref);
  G_OBJECT_CLASS (sb_hand_edit_parent_class)->dispose (object);
}

static void
bind (GtkWidgetClass *klass, guint key, GtkShortcutFunc run)
{
  gtk_widget_class_add_binding (klass, key, 0, run, NULL);
}

static void
bind_keys (GtkWidgetClass *klass)
{
  sb_nudge_keys_bind (klass, nudge_cb);
  bind (klass, GDK_KEY_Delete, remove_cb);
  bind (klass, GDK_KEY_KP_Delete, remove_cb);
  bind (klass, GDK_KEY_BackSpace, remove_cb);
  bind (klass, GDK_KEY_Insert, add_cb);
  bind (klass, GDK_KEY_KP_Insert, add_cb);
  bind (klass, GDK_KEY_plus, add_cb);
  bind (klass, GDK_KEY_KP_Add, add_cb);
  bind (klass, GDK_KEY_Escape, end_edit_cb);
  bind (klass, GDK_KEY_Return, end_edit_cb);
  bind (klass, GDK_KEY_KP_Enter, end_edit_cb);
}

static void
sb_hand_edit_class_init (SbHandEditClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_hand_edit_dispose;
  widget_class->size_allocate = sb_hand_edit_size_allocate;
  widget_class->focus = sb_hand_edit_focus;
  gtk_widget_class_set_css_name (widget_class, "hand-edit");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  bind_keys (widget_class);
}

static void
sb_hand_edit_init (SbHandEdit *self)
{
  self->views = g_ptr_array_new ();
  sb_hand_edit_add_pointer (self);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Points of the outline"), -1);
}

GtkWidget *
sb_hand_edit_new (GtkWidget *pages_view)
{
  SbHandEdit *self = g_object_new (SB_TYPE_HAND_EDIT, NULL);

  self->pages = SB_PAGES_VIEW (pages_view);
  gtk_widget_set_parent (GTK_WIDGET (self), pages_view);
  return GTK_WIDGET (self);
}
