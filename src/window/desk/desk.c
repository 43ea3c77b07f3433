/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/desk/desk.h"

struct _SbDesk {
  GObject parent_instance;

  SbDocument *document;
  SbSelection *selection;
  SbArtStore *art;
  SbChecker *checker;
  SbDesignChanger *changer;
  SbPreferences *preferences;
};

G_DEFINE_FINAL_TYPE (SbDesk, sb_desk, G_TYPE_OBJECT)

enum {
  SAID,
  FAILED,
  WORK,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
unit_changed_cb (SbDesk *self)
{
  sb_checker_set_unit (self->checker, sb_desk_get_unit (self));
}

static void
sb_desk_dispose (GObject *object)
{
  SbDesk *self = SB_DESK (object);

  if (self->preferences)
    g_signal_handlers_disconnect_by_data (self->preferences, self);
  if (self->selection)
    sb_selection_set_job (self->selection, NULL);
  if (self->checker)
    g_object_run_dispose (G_OBJECT (self->checker));
  if (self->changer)
    g_object_run_dispose (G_OBJECT (self->changer));
  g_clear_object (&self->changer);
  g_clear_object (&self->checker);
  g_clear_object (&self->selection);
  g_clear_object (&self->art);
  g_clear_object (&self->document);
  g_clear_object (&self->preferences);
  G_OBJECT_CLASS (sb_desk_parent_class)->dispose (object);
}

static void
sb_desk_class_init (SbDeskClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_desk_dispose;
  signals[SAID] = g_signal_new ("said", SB_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);
  signals[FAILED] = g_signal_new ("failed", SB_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
  signals[WORK] = g_signal_new ("work", SB_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                SB_TYPE_WORK_CARD, 2, G_TYPE_STRING, G_TYPE_CANCELLABLE);
}

static void
sb_desk_init (SbDesk *self)
{
}

SbDesk *
sb_desk_new (SbDocument *document, SbPreferences *preferences)
{
  SbDesk *self = g_object_new (SB_TYPE_DESK, NULL);

  self->document = g_object_ref (document);
  self->preferences = g_object_ref (preferences);
  self->selection = sb_selection_new ();
  sb_selection_set_job (self->selection, sb_desk_get_job (self));
  self->art = sb_art_store_new ();
  self->changer = sb_design_changer_new (sb_desk_get_job (self));
  self->checker = sb_checker_new (sb_desk_get_job (self), sb_desk_get_unit (self));
  g_signal_connect_swapped (preferences, "notify::unit", G_CALLBACK (unit_changed_cb), self);
  return self;
}

void
sb_desk_say (SbDesk *self, const char *text)
{
  g_return_if_fail (SB_IS_DESK (self));
  g_signal_emit (self, signals[SAID], 0, text, FALSE);
}

void
sb_desk_say_undo (SbDesk *self, const char *text)
{
  g_return_if_fail (SB_IS_DESK (self));
  g_signal_emit (self, signals[SAID], 0, text, TRUE);
}

void
sb_desk_fail (SbDesk *self, const char *heading, const char *reason)
{
  g_return_if_fail (SB_IS_DESK (self));
  g_signal_emit (self, signals[FAILED], 0, heading, reason);
}

SbWorkCard *
sb_desk_show_work (SbDesk *self, const char *title, GCancellable *cancellable)
{
  SbWorkCard *card = NULL;

  g_return_val_if_fail (SB_IS_DESK (self), NULL);
  g_signal_emit (self, signals[WORK], 0, title, cancellable, &card);
  return card;
}

SbDocument *
sb_desk_get_document (SbDesk *self)
{
  return self->document;
}

SbJob *
sb_desk_get_job (SbDesk *self)
{
  return sb_document_get_job (self->document);
}

SbSelection *
sb_desk_get_selection (SbDesk *self)
{
  return self->selection;
}

SbArtStore *
sb_desk_get_art (SbDesk *self)
{
  return self->art;
}

SbChecker *
sb_desk_get_checker (SbDesk *self)
{
  return self->checker;
}

SbDesignChanger *
sb_desk_get_changer (SbDesk *self)
{
  return self->changer;
}

SbPreferences *
sb_desk_get_preferences (SbDesk *self)
{
  return self->preferences;
}

SbState *
sb_desk_get_state (SbDesk *self)
{
  return sb_job_get_state (sb_desk_get_job (self));
}

SbState *
sb_desk_get_settled (SbDesk *self)
{
  return sb_job_get_settled_state (sb_desk_get_job (self));
}

SbState *
sb_desk_get_whole (SbDesk *self)
{
  return sb_job_get_whole_state (sb_desk_get_job (self));
}

int
sb_desk_count_placed (SbDesk *self, guint design_id)
{
  SbState *state = sb_desk_get_state (self);

  return sb_state_count_placed (state->view ? sb_desk_get_whole (self) : state, design_id);
}

SbUnit
sb_desk_get_unit (SbDesk *self)
{
  return sb_preferences_get_unit (self->preferences);
}

SbDesign *
sb_desk_get_current_design (SbDesk *self)
{
  SbState *state = sb_desk_get_state (self);
  guint n = 0;
  const guint *pieces = sb_selection_get_pieces (self->selection, &n);

  if (n > 0) {
    const SbPiece *piece = sb_state_get_piece (state, pieces[n - 1], NULL);
    return piece ? sb_state_get_design (state, piece->design_id) : NULL;
  }
  guint design_id = sb_selection_get_design (self->selection);
  return design_id ? sb_state_get_design (state, design_id) : NULL;
}
