/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-paper.h"
#include "window/parts/words.h"

struct _SbCleanupPaper {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  GtkWidget *row, *swatch, *told, *again;
};

G_DEFINE_FINAL_TYPE (SbCleanupPaper, sb_cleanup_paper, GTK_TYPE_WIDGET)

enum {
  PICK,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

static void
pick_cb (SbCleanupPaper *self)
{
  g_signal_emit (self, signals[PICK], 0);
}

static void
find_again_cb (SbCleanupPaper *self)
{
  SbCleanup recipe = sb_cleanup_session_get_design (self->session)->cleanup;

  recipe.paper_picked = FALSE;
  sb_cleanup_session_set_recipe (self->session, &recipe, _ ("Find Paper Colour of %s"), TRUE);
}

static void
update (SbCleanupPaper *self)
{
  const SbCleanup *recipe = &sb_cleanup_session_get_design (self->session)->cleanup;
  SbCleanResult *result = sb_cleanup_session_get_result (self->session);
  gboolean known = recipe->paper_picked || (result && result->has_paper);

  gtk_widget_set_sensitive (self->row,
                            recipe->remove_paper || recipe->even_light || recipe->whiten);
  gtk_widget_set_sensitive (self->again, recipe->paper_picked);
  gtk_label_set_label (GTK_LABEL (self->told), recipe->paper_picked ? _ ("picked by you")
                                               : known              ? _ ("found by itself")
                                               : result             ? _ ("none found")
                                                                    : "");
  gtk_widget_queue_draw (self->swatch);
}

static void
draw_swatch (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  SbCleanupPaper *self = user_data;
  const SbCleanup *recipe = &sb_cleanup_session_get_design (self->session)->cleanup;
  SbCleanResult *result = sb_cleanup_session_get_result (self->session);
  const guint8 *paper = recipe->paper_picked          ? recipe->paper
                        : result && result->has_paper ? result->paper
                                                      : NULL;

  if (!paper)
    return;
  cairo_set_source_rgb (cr, paper[0] / 255.0, paper[1] / 255.0, paper[2] / 255.0);
  cairo_paint (cr);
}

static GtkWidget *
new_button (SbCleanupPaper *self, const char *mnemonic, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (mnemonic);

  gtk_widget_set_tooltip_text (button, tip);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static void
build (SbCleanupPaper *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *title = gtk_label_new (_ ("Paper’s colour"));
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->swatch = gtk_drawing_area_new ();
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->swatch), draw_swatch, self, NULL);
  gtk_widget_set_size_request (self->swatch, 36, 36);
  gtk_widget_add_css_class (self->swatch, "paper-shape");
  gtk_widget_set_valign (self->swatch, GTK_ALIGN_CENTER);
  self->told = sb_words_new (NULL, "caption");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_box_append (GTK_BOX (words), title);
  gtk_box_append (GTK_BOX (words), self->told);
  gtk_box_append (GTK_BOX (top), self->swatch);
  gtk_box_append (GTK_BOX (top), words);
  self->again = new_button (self, _ ("_Find Again"), _ ("Let the program find it again"),
                            G_CALLBACK (find_again_cb));
  gtk_box_append (GTK_BOX (buttons),
                  new_button (self, _ ("Pic_k"), _ ("Point at the paper in the picture (7)"),
                              G_CALLBACK (pick_cb)));
  gtk_box_append (GTK_BOX (buttons), self->again);
  gtk_box_append (GTK_BOX (self->row), top);
  gtk_box_append (GTK_BOX (self->row), buttons);
}

static void
sb_cleanup_paper_dispose (GObject *object)
{
  SbCleanupPaper *self = SB_CLEANUP_PAPER (object);

  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sb_cleanup_paper_parent_class)->dispose (object);
}

static void
sb_cleanup_paper_class_init (SbCleanupPaperClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_paper_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[PICK] = g_signal_new ("pick", SB_TYPE_CLEANUP_PAPER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
}

static void
sb_cleanup_paper_init (SbCleanupPaper *self)
{
  build (self);
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
}

GtkWidget *
sb_cleanup_paper_new (SbCleanupSession *session)
{
  SbCleanupPaper *self = g_object_new (SB_TYPE_CLEANUP_PAPER, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (session, "pixels", G_CALLBACK (update), self);
  update (self);
  return GTK_WIDGET (self);
}
