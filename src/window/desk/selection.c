/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/desk/selection.h"

struct _SbSelection {
  GObject parent_instance;

  SbJob *job;
  GArray *pieces; /* guint, in the order they were selected */
  guint design_id;
};

G_DEFINE_FINAL_TYPE (SbSelection, sb_selection, G_TYPE_OBJECT)

enum {
  CHANGED,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static int
find (SbSelection *self, guint piece_id)
{
  for (guint i = 0; i < self->pieces->len; i++)
    if (g_array_index (self->pieces, guint, i) == piece_id)
      return (int)i;
  return -1;
}

static gboolean
exists (SbSelection *self, guint piece_id)
{
  return self->job && sb_state_get_piece (sb_job_get_state (self->job), piece_id, NULL) != NULL;
}

static void
job_changed_cb (SbSelection *self)
{
  gboolean dropped = FALSE;

  for (guint i = self->pieces->len; i-- > 0;)
    if (!exists (self, g_array_index (self->pieces, guint, i))) {
      g_array_remove_index (self->pieces, i);
      dropped = TRUE;
    }
  if (self->design_id && !sb_state_get_design (sb_job_get_state (self->job), self->design_id)) {
    self->design_id = 0;
    dropped = TRUE;
  }
  if (dropped)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
sb_selection_dispose (GObject *object)
{
  SbSelection *self = SB_SELECTION (object);

  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  g_clear_object (&self->job);
  g_clear_pointer (&self->pieces, g_array_unref);
  G_OBJECT_CLASS (sb_selection_parent_class)->dispose (object);
}

static void
sb_selection_class_init (SbSelectionClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_selection_dispose;
  signals[CHANGED] = g_signal_new ("changed", SB_TYPE_SELECTION, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
sb_selection_init (SbSelection *self)
{
  self->pieces = g_array_new (FALSE, FALSE, sizeof (guint));
}

SbSelection *
sb_selection_new (void)
{
  return g_object_new (SB_TYPE_SELECTION, NULL);
}

void
sb_selection_set_job (SbSelection *self, SbJob *job)
{
  g_return_if_fail (SB_IS_SELECTION (self));

  if (self->job == job)
    return;
  if (self->job)
    g_signal_handlers_disconnect_by_data (self->job, self);
  g_set_object (&self->job, job);
  if (job)
    g_signal_connect_swapped (job, "changed", G_CALLBACK (job_changed_cb), self);
  sb_selection_clear (self);
}

SbJob *
sb_selection_get_job (SbSelection *self)
{
  g_return_val_if_fail (SB_IS_SELECTION (self), NULL);
  return self->job;
}

const guint *
sb_selection_get_pieces (SbSelection *self, guint *n)
{
  g_return_val_if_fail (SB_IS_SELECTION (self), NULL);
  *n = self->pieces->len;
  return (const guint *)(const void *)self->pieces->data;
}

guint
sb_selection_get_n_pieces (SbSelection *self)
{
  g_return_val_if_fail (SB_IS_SELECTION (self), 0);
  return self->pieces->len;
}

gboolean
sb_selection_contains (SbSelection *self, guint piece_id)
{
  g_return_val_if_fail (SB_IS_SELECTION (self), FALSE);
  return find (self, piece_id) >= 0;
}

void
sb_selection_set_pieces (SbSelection *self, const guint *piece_ids, guint n)
{
  g_autoptr (GArray) before = NULL;

  g_return_if_fail (SB_IS_SELECTION (self));

  before = self->pieces;
  self->pieces = g_array_sized_new (FALSE, FALSE, sizeof (guint), n);
  for (guint i = 0; i < n; i++)
    if (find (self, piece_ids[i]) < 0 && exists (self, piece_ids[i]))
      g_array_append_val (self->pieces, piece_ids[i]);

  gboolean same = self->design_id == 0 && before->len == self->pieces->len &&
                  (before->len == 0 ||
                   memcmp (before->data, self->pieces->data, before->len * sizeof (guint)) == 0);
  self->design_id = 0;
  if (!same)
    g_signal_emit (self, signals[CHANGED], 0);
}

void
sb_selection_set_piece (SbSelection *self, guint piece_id)
{
  sb_selection_set_pieces (self, &piece_id, 1);
}

void
sb_selection_toggle_piece (SbSelection *self, guint piece_id)
{
  g_return_if_fail (SB_IS_SELECTION (self));

  int at = find (self, piece_id);
  if (at >= 0)
    g_array_remove_index (self->pieces, at);
  else if (exists (self, piece_id))
    g_array_append_val (self->pieces, piece_id);
  else
    return;
  self->design_id = 0;
  g_signal_emit (self, signals[CHANGED], 0);
}

void
sb_selection_clear (SbSelection *self)
{
  sb_selection_set_pieces (self, NULL, 0);
}

void
sb_selection_set_design (SbSelection *self, guint design_id)
{
  g_return_if_fail (SB_IS_SELECTION (self));

  if (design_id == self->design_id && (design_id == 0 || self->pieces->len == 0))
    return;
  if (design_id && !sb_state_get_design (sb_job_get_state (self->job), design_id))
    return;
  if (design_id == 0) {
    sb_selection_clear (self);
    return;
  }
  g_array_set_size (self->pieces, 0);
  self->design_id = design_id;
  g_signal_emit (self, signals[CHANGED], 0);
}

guint
sb_selection_get_design (SbSelection *self)
{
  g_return_val_if_fail (SB_IS_SELECTION (self), 0);
  return self->design_id;
}
