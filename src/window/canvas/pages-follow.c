/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pages view follows the job, the selection and the findings: children, names, flags. */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/pages-view-private.h"

/* Findings about resolution are of the design: tinting every piece for them would hide the rest. */
static gboolean
is_of_place (const SbFinding *finding)
{
  return finding->rule == SB_RULE_EDGE || finding->rule == SB_RULE_OVERLAP ||
         finding->rule == SB_RULE_GAP;
}

static void
note_severity (GHashTable *flags, guint piece_id, SbSeverity severity)
{
  guint flag = severity == SB_SEVERITY_STOP      ? SB_BAKE_STOP
               : severity == SB_SEVERITY_CAUTION ? SB_BAKE_CAUTION
                                                 : 0;

  /* Worst first: what is there already is at least as bad. */
  if (flag && piece_id && !g_hash_table_contains (flags, GUINT_TO_POINTER (piece_id)))
    g_hash_table_insert (flags, GUINT_TO_POINTER (piece_id), GUINT_TO_POINTER (flag));
}

static GHashTable *
list_severities (SbPagesView *self)
{
  GHashTable *flags = g_hash_table_new (NULL, NULL);

  if (!self->checker)
    return flags;
  GPtrArray *findings = sb_checker_get_findings (self->checker);
  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (!is_of_place (finding))
      continue;
    note_severity (flags, finding->piece_id, finding->severity);
    note_severity (flags, finding->other_id, finding->severity);
  }
  return flags;
}

void
sb_pages_view_update_flags (SbPagesView *self)
{
  g_autoptr (GHashTable) severities = list_severities (self);
  guint n_selected = sb_selection_get_n_pieces (self->selection);
  guint all = self->overlay & SB_OVERLAY_BORDER ? SB_BAKE_RING : SB_BAKE_PLAIN;

  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    guint id = sb_piece_view_get_piece (view)->id;
    guint flags = all | GPOINTER_TO_UINT (g_hash_table_lookup (severities, GUINT_TO_POINTER (id)));
    if (sb_selection_contains (self->selection, id))
      flags |= SB_BAKE_SELECTED;
    sb_piece_view_set_flags (view, flags);
    /* One that has the handles needs no other sign of the focus. */
    if (flags & SB_BAKE_SELECTED && n_selected == 1)
      gtk_widget_add_css_class (GTK_WIDGET (view), "alone");
    else
      gtk_widget_remove_css_class (GTK_WIDGET (view), "alone");
  }
}

static const char *
unit_word (SbUnit unit)
{
  switch (unit) {
  case SB_UNIT_CM:
    return _ ("centimetres");
  case SB_UNIT_INCH:
    return _ ("inches");
  case SB_UNIT_PT:
    return _ ("points");
  case SB_UNIT_MM:
  default:
    return _ ("millimetres");
  }
}

static void
name_piece (SbPagesView *self, SbPieceView *view, guint copy)
{
  const SbPiece *piece = sb_piece_view_get_piece (view);
  SbDesign *design = sb_piece_view_get_design (view);
  g_autofree char *x = sb_length_format_number (sb_um_to_mm (piece->at.x), self->unit);
  g_autofree char *y = sb_length_format_number (sb_um_to_mm (piece->at.y), self->unit);
  /* Translators: the name of a piece for screen readers: design, which of its copies, place from
   * the left and from the top, the unit in words, the page. */
  g_autofree char *label =
      g_strdup_printf (_ ("%s, piece %u, %s by %s %s from the top left of page %u"), design->name,
                       copy, x, y, unit_word (self->unit), sb_piece_view_get_page (view) + 1);
  GString *text = g_string_new (label);
  double width, height;

  if (piece->turn % 1000 == 0 && piece->turn != 0)
    g_string_append_printf (text, _ (", turned %d degrees"), piece->turn / 1000);
  else if (piece->turn != 0)
    g_string_append_printf (text, _ (", turned %.1f degrees"), piece->turn / 1000.0);
  if (piece->pinned)
    g_string_append (text, _ (", pinned"));
  sb_piece_view_set_label (view, text->str);
  g_string_free (text, TRUE);

  sb_design_get_finished_size (design, &width, &height);
  g_autofree char *size = sb_length_format_size (width, height, self->unit);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, size,
                                  -1);
}

/* Only of settled states: a name that is spoken at each step of a drag helps nobody. */
void
sb_pages_view_name_pieces (SbPagesView *self)
{
  g_autoptr (GHashTable) counts = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < self->drawn->len; i++) {
    SbPieceView *view = self->drawn->pdata[i];
    gpointer key = GUINT_TO_POINTER (sb_piece_view_get_piece (view)->design_id);
    guint copy = GPOINTER_TO_UINT (g_hash_table_lookup (counts, key)) + 1;

    g_hash_table_insert (counts, key, GUINT_TO_POINTER (copy));
    name_piece (self, view, copy);
  }
}

static SbPieceView *
ensure_view (SbPagesView *self, guint piece_id)
{
  SbPieceView *view = g_hash_table_lookup (self->views, GUINT_TO_POINTER (piece_id));

  if (!view) {
    view = SB_PIECE_VIEW (sb_piece_view_new (self->bakery));
    g_hash_table_insert (self->views, GUINT_TO_POINTER (piece_id), view);
    sb_piece_view_set_scale (view, self->layout.scale);
    gtk_widget_insert_before (GTK_WIDGET (view), GTK_WIDGET (self), self->marks);
  }
  return view;
}

/* Puts the children into drawing order, which is also the order in which they are picked. */
static void
order_children (SbPagesView *self)
{
  GtkWidget *after = NULL;

  for (guint i = 0; i < self->drawn->len; i++) {
    GtkWidget *view = self->drawn->pdata[i];
    if (gtk_widget_get_prev_sibling (view) != after)
      gtk_widget_insert_after (view, GTK_WIDGET (self), after);
    after = view;
  }
}

static void
remove_gone (SbPagesView *self, GHashTable *kept)
{
  GHashTableIter iter;
  gpointer id, view;

  g_hash_table_iter_init (&iter, self->views);
  while (g_hash_table_iter_next (&iter, &id, &view))
    if (!g_hash_table_contains (kept, view)) {
      gtk_widget_unparent (view);
      g_hash_table_iter_remove (&iter);
    }
}

static void
sync_pieces (SbPagesView *self, SbState *state)
{
  g_autoptr (GHashTable) kept = g_hash_table_new (NULL, NULL);

  g_ptr_array_set_size (self->drawn, 0);
  for (guint i = 0; i < state->pages->len; i++) {
    const SbPage *page = state->pages->pdata[i];
    for (guint j = 0; j < page->n_pieces; j++) {
      const SbPiece *piece = &page->pieces[j];
      SbPieceView *view = ensure_view (self, piece->id);
      sb_piece_view_set_piece (view, sb_state_get_design (state, piece->design_id), piece, i);
      sb_piece_view_set_stretch (view, sb_pages_view_get_stretch (self, piece->design_id));
      g_ptr_array_add (self->drawn, view);
      g_hash_table_add (kept, view);
    }
  }
  remove_gone (self, kept);
  order_children (self);
}

static void
sync_pages (SbPagesView *self, SbState *state)
{
  SbPagesLayout *layout = &self->layout;
  gboolean other = layout->page_width != state->page_width ||
                   layout->page_height != state->page_height ||
                   layout->n_pages != state->pages->len;

  layout->page_width = state->page_width;
  layout->page_height = state->page_height;
  layout->n_pages = state->pages->len;
  if (!other)
    return;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  /* Whoever added a page may scroll to it before the next allocation. */
  sb_pages_view_configure_adjustments (self, layout->scroll_x, layout->scroll_y);
}

void
sb_pages_view_follow_job (SbPagesView *self)
{
  SbState *state = self->job ? sb_job_get_state (self->job) : NULL;

  if (state) {
    if (state->page_width != self->layout.page_width ||
        state->page_height != self->layout.page_height || state->pages->len != self->layout.n_pages)
      sb_pages_view_drop_nodes (self);
    sync_pages (self, state);
    sync_pieces (self, state);
    sb_pages_view_sync_laid (self, state);
  } else {
    g_autoptr (GHashTable) none = g_hash_table_new (NULL, NULL);
    g_ptr_array_set_size (self->drawn, 0);
    remove_gone (self, none);
    sb_pages_view_sync_laid (self, NULL);
    self->layout.n_pages = 0;
    sb_pages_view_drop_nodes (self);
  }
  sb_pages_view_update_flags (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  sb_pages_view_tell_synced (self);
}

void
sb_pages_view_job_changed (SbPagesView *self)
{
  SbState *state = sb_job_get_state (self->job);

  sb_pages_view_follow_job (self);
  if (state == sb_job_get_settled_state (self->job)) {
    sb_pages_view_name_pieces (self);
    /* Margins may be others. */
    sb_pages_view_drop_nodes (self);
  }
  if (self->bake_source == 0)
    sb_pages_view_bake_all (self);
}

static const SbFinding *
find_worst (SbPagesView *self, guint piece_id)
{
  GPtrArray *findings = sb_checker_get_findings (self->checker);

  for (guint i = 0; i < findings->len; i++) {
    const SbFinding *finding = findings->pdata[i];
    if (is_of_place (finding) && (finding->piece_id == piece_id || finding->other_id == piece_id))
      return finding;
  }
  return NULL;
}

static void
update_plate (SbPagesView *self)
{
  guint n;
  const guint *ids = sb_selection_get_pieces (self->selection, &n);
  const SbFinding *finding = self->checker && n == 1 ? find_worst (self, ids[0]) : NULL;

  sb_finding_plate_set_finding (SB_FINDING_PLATE (self->plate), finding, self->unit);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

void
sb_pages_view_marks_changed (SbPagesView *self)
{
  sb_pages_view_update_flags (self);
  update_plate (self);
  sb_pages_view_bake_all (self);
  sb_pages_view_tell_synced (self);
}
