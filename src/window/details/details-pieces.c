/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "job/edit.h"
#include "window/details/details-pieces.h"
#include "window/parts/measure-entry.h"

struct _SbDetailsPieces {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  SbMeasureEntry *left_entry;
  SbMeasureEntry *top_entry;
  SbMeasureEntry *turn_entry;
  GtkSwitch *pinned_switch;

  /* owned */
  SbDesk *desk;

  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbDetailsPieces, sb_details_pieces, GTK_TYPE_WIDGET)

/* The selected pieces in `state`; SbPiece. */
static GArray *
selected_pieces (SbDetailsPieces *self, SbState *state)
{
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  guint n = 0;
  const guint *ids = sb_selection_get_pieces (sb_desk_get_selection (self->desk), &n);

  for (guint i = 0; i < n; i++) {
    const SbPiece *piece = sb_state_get_piece (state, ids[i], NULL);
    if (piece)
      g_array_append_val (pieces, *piece);
  }
  return pieces;
}

/* The top left corner of the outline as it lies. */
static SbIPoint
corner (SbState *state, const SbPiece *piece)
{
  SbDesign *design = sb_state_get_design (state, piece->design_id);
  g_autoptr (SbPolygon) outline = sb_piece_get_outline (design, piece);
  SbIBox box = sb_polygon_get_box (outline);

  return (SbIPoint){box.x0, box.y0};
}

/* How one piece is changed by what was typed. */
typedef void (*Change) (SbState *state, SbPiece *piece, double value);

static void
change (SbDetailsPieces *self, Change function, double value, const char *one, const char *many)
{
  SbState *state = sb_desk_get_settled (self->desk);
  g_autoptr (GArray) pieces = selected_pieces (self, state);

  if (self->updating || pieces->len == 0)
    return;
  for (guint i = 0; i < pieces->len; i++)
    function (state, &g_array_index (pieces, SbPiece, i), value);

  SbPiece *first = &g_array_index (pieces, SbPiece, 0);
  const char *design = sb_state_get_design (state, first->design_id)->name;
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_autofree char *name = pieces->len == 1 ? g_strdup_printf (one, design) : g_strdup (many);
#pragma GCC diagnostic pop
  sb_job_edit (sb_desk_get_job (self->desk), sb_edit_set_pieces (state, first, pieces->len), name,
               NULL);
}

static void
move_to_left (SbState *state, SbPiece *piece, double mm)
{
  piece->at.x += sb_um_from_mm (mm) - corner (state, piece).x;
}

static void
move_to_top (SbState *state, SbPiece *piece, double mm)
{
  piece->at.y += sb_um_from_mm (mm) - corner (state, piece).y;
}

static void
turn_to (SbState *state, SbPiece *piece, double degrees)
{
  gint32 turn = (gint32)lround (degrees * 1000) % 360000;

  piece->turn = turn < 0 ? turn + 360000 : turn;
}

static void
pin (SbState *state, SbPiece *piece, double pinned)
{
  piece->pinned = pinned != 0;
}

static void
left_committed_cb (SbDetailsPieces *self, double mm)
{
  change (self, move_to_left, mm, _ ("Move %s"), _ ("Move Pieces"));
}

static void
top_committed_cb (SbDetailsPieces *self, double mm)
{
  change (self, move_to_top, mm, _ ("Move %s"), _ ("Move Pieces"));
}

static void
turn_committed_cb (SbDetailsPieces *self, double degrees)
{
  change (self, turn_to, degrees, _ ("Turn %s"), _ ("Turn Pieces"));
}

static void
pinned_changed_cb (SbDetailsPieces *self)
{
  if (gtk_switch_get_active (self->pinned_switch))
    change (self, pin, 1, _ ("Pin %s"), _ ("Pin Pieces"));
  else
    change (self, pin, 0, _ ("Unpin %s"), _ ("Unpin Pieces"));
}

static void
set_or_mixed (SbMeasureEntry *entry, double value, gboolean mixed)
{
  if (mixed)
    sb_measure_entry_set_mixed (entry);
  else
    sb_measure_entry_set_value (entry, value);
}

void
sb_details_pieces_update (SbDetailsPieces *self)
{
  g_return_if_fail (SB_IS_DETAILS_PIECES (self));

  SbState *state = sb_desk_get_state (self->desk);
  SbUnit unit = sb_desk_get_unit (self->desk);
  g_autoptr (GArray) pieces = selected_pieces (self, state);
  gboolean lefts = FALSE, tops = FALSE, turns = FALSE, pinned = TRUE;

  if (pieces->len == 0)
    return;
  const SbPiece *first = &g_array_index (pieces, SbPiece, 0);
  SbIPoint at = corner (state, first);
  for (guint i = 0; i < pieces->len; i++) {
    const SbPiece *piece = &g_array_index (pieces, SbPiece, i);
    SbIPoint other = i == 0 ? at : corner (state, piece);
    lefts |= other.x != at.x;
    tops |= other.y != at.y;
    turns |= piece->turn != first->turn;
    pinned &= piece->pinned;
  }
  self->updating = TRUE;
  sb_measure_entry_set_unit (self->left_entry, unit);
  sb_measure_entry_set_unit (self->top_entry, unit);
  sb_measure_entry_set_unit (self->turn_entry, unit);
  set_or_mixed (self->left_entry, sb_um_to_mm (at.x), lefts);
  set_or_mixed (self->top_entry, sb_um_to_mm (at.y), tops);
  set_or_mixed (self->turn_entry, first->turn / 1000., turns);
  gtk_switch_set_active (self->pinned_switch, pinned);
  self->updating = FALSE;
}

static void
sb_details_pieces_dispose (GObject *object)
{
  SbDetailsPieces *self = SB_DETAILS_PIECES (object);

  self->updating = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DETAILS_PIECES);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_details_pieces_parent_class)->dispose (object);
}

static void
sb_details_pieces_class_init (SbDetailsPiecesClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_details_pieces_dispose;
  g_type_ensure (SB_TYPE_MEASURE_ENTRY);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/details-pieces.ui");
  gtk_widget_class_bind_template_child (widget_class, SbDetailsPieces, box);
  gtk_widget_class_bind_template_child (widget_class, SbDetailsPieces, left_entry);
  gtk_widget_class_bind_template_child (widget_class, SbDetailsPieces, top_entry);
  gtk_widget_class_bind_template_child (widget_class, SbDetailsPieces, turn_entry);
  gtk_widget_class_bind_template_child (widget_class, SbDetailsPieces, pinned_switch);
  gtk_widget_class_bind_template_callback (widget_class, left_committed_cb);
  gtk_widget_class_bind_template_callback (widget_class, top_committed_cb);
  gtk_widget_class_bind_template_callback (widget_class, turn_committed_cb);
  gtk_widget_class_bind_template_callback (widget_class, pinned_changed_cb);
}

static void
sb_details_pieces_init (SbDetailsPieces *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
sb_details_pieces_set_desk (SbDetailsPieces *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_PIECES (self));
  g_return_if_fail (self->desk == NULL);
  self->desk = g_object_ref (desk);
}
