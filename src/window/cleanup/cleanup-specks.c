/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/cleanup/cleanup-specks.h"
#include "window/parts/words.h"

#define MOST_ROWS 100 /* the largest; who puts back more than these has the wrong size set */

struct _SbCleanupSpecks {
  GtkWidget parent_instance;

  SbCleanupSession *session;
  GtkWidget *box;
  GtkWidget *count;
  GtkWidget *expander;
  GtkWidget *list;
  GtkWidget *more;
  char *shown; /* what the lines say, to leave lines alone that still hold */
};

G_DEFINE_FINAL_TYPE (SbCleanupSpecks, sb_cleanup_specks, GTK_TYPE_WIDGET)

enum {
  CHOSEN,
  N_SIGNALS,
};
static guint signals[N_SIGNALS];

void
sb_cleanup_specks_toggle (SbCleanupSession *session, guint index)
{
  SbCleanResult *result = sb_cleanup_session_get_specks (session);
  SbCleanup recipe = sb_cleanup_session_get_design (session)->cleanup;

  if (!result || index >= result->specks->len)
    return;
  gboolean back = !g_array_index (result->specks, SbSpeck, index).put_back;
  g_autoptr (SbStrokes) strokes = sb_clean_result_toggle_speck (result, index, recipe.strokes);
  recipe.strokes = strokes;
  sb_cleanup_session_set_recipe (
      session, &recipe, back ? _ ("Put Back Speck of %s") : _ ("Take Speck of %s Away"), TRUE);
}

/* "12 specks and 1 hair taken away, 3 pinholes filled" */
static char *
tell_count (const SbCleanResult *result)
{
  if (result->n_dust + result->n_hairs + result->n_pinholes == 0)
    return g_strdup (_ ("Nothing so small was found."));
  g_autofree char *dust =
      g_strdup_printf (ngettext ("%u speck", "%u specks", result->n_dust), result->n_dust);
  g_autofree char *hairs =
      g_strdup_printf (ngettext ("%u hair", "%u hairs", result->n_hairs), result->n_hairs);
  g_autofree char *holes = g_strdup_printf (
      ngettext ("%u pinhole filled", "%u pinholes filled", result->n_pinholes), result->n_pinholes);
  g_autofree char *gone = g_strdup_printf (_ ("%s and %s taken away"), dust, hairs);

  return result->n_pinholes > 0 ? g_strdup_printf (_ ("%s, %s"), gone, holes)
                                : g_steal_pointer (&gone);
}

/* "Hair, 3.2 mm long" */
static char *
tell_speck (SbCleanupSpecks *self, const SbSpeck *speck, double mm_per_px)
{
  SbUnit unit = sb_desk_get_unit (sb_cleanup_session_get_desk (self->session));
  g_autofree char *size =
      sb_length_format (MAX (speck->x1 - speck->x0, speck->y1 - speck->y0) * mm_per_px, unit);

  switch (speck->kind) {
  case SB_SPECK_HAIR:
    return g_strdup_printf (_ ("Hair, %s"), size);
  case SB_SPECK_PINHOLE:
    return g_strdup_printf (_ ("Pinhole, %s"), size);
  case SB_SPECK_DUST:
  default:
    return g_strdup_printf (_ ("Speck, %s"), size);
  }
}

static void
toggle_cb (SbCleanupSpecks *self, GtkButton *button)
{
  sb_cleanup_specks_toggle (self->session,
                            GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "sb-index")));
}

static void
activated_cb (SbCleanupSpecks *self, GtkListBoxRow *row)
{
  g_signal_emit (self, signals[CHOSEN], 0,
                 GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "sb-index")));
}

static void
add_row (SbCleanupSpecks *self, guint index, guint number, const SbSpeck *speck, const char *told)
{
  GtkWidget *row = gtk_list_box_row_new (), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *text = g_strdup_printf ("%u  %s", number, told);
  GtkWidget *label = gtk_label_new (text);
  const char *does = speck->put_back ? _ ("Take Away") : _ ("Put Back");
  GtkWidget *button = gtk_button_new_with_label (does);
  g_autofree char *name = g_strdup_printf ("%s: %s", does, text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  g_object_set_data (G_OBJECT (button), "sb-index", GUINT_TO_POINTER (index));
  g_object_set_data (G_OBJECT (row), "sb-index", GUINT_TO_POINTER (index));
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (toggle_cb), self);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), button);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static int
largest_first (gconstpointer a, gconstpointer b, gpointer user_data)
{
  const SbSpeck *specks = user_data;
  const SbSpeck *one = specks + *(const guint *)a, *other = specks + *(const guint *)b;
  int size = MAX (one->x1 - one->x0, one->y1 - one->y0);
  int other_size = MAX (other->x1 - other->x0, other->y1 - other->y0);

  return size != other_size     ? other_size - size
         : one->y0 != other->y0 ? one->y0 - other->y0
                                : one->x0 - other->x0;
}

static void
fill_list (SbCleanupSpecks *self, const SbCleanResult *result)
{
  SbDesign *design = sb_cleanup_session_get_design (self->session);
  double mm_per_px = design->width_mm / result->width;
  g_autofree guint *order = g_new (guint, result->specks->len);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) all = g_string_new (NULL);
  guint n = MIN (result->specks->len, MOST_ROWS);

  for (guint i = 0; i < result->specks->len; i++)
    order[i] = i;
  g_qsort_with_data (order, (int)result->specks->len, sizeof *order, largest_first,
                     result->specks->data);
  for (guint i = 0; i < n; i++) {
    const SbSpeck *speck = &g_array_index (result->specks, SbSpeck, order[i]);
    g_ptr_array_add (texts, tell_speck (self, speck, mm_per_px));
    g_string_append_printf (all, "%u %d %s\n", order[i], speck->put_back, (char *)texts->pdata[i]);
  }
  if (g_strcmp0 (all->str, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_strdup (all->str);
  for (GtkWidget *row; (row = gtk_widget_get_first_child (self->list));)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; i < n; i++)
    add_row (self, order[i], i + 1, &g_array_index (result->specks, SbSpeck, order[i]),
             texts->pdata[i]);
  gtk_widget_set_visible (self->more, result->specks->len > MOST_ROWS);
}

static void
update (SbCleanupSpecks *self)
{
  SbCleanResult *result = sb_cleanup_session_get_specks (self->session);
  gboolean removes = sb_cleanup_session_get_design (self->session)->cleanup.remove_paper;

  gtk_widget_set_visible (self->count, result && removes);
  gtk_widget_set_visible (self->expander, result && removes && result->specks->len > 0);
  if (!result)
    return;
  g_autofree char *told = tell_count (result);
  gtk_label_set_label (GTK_LABEL (self->count), told);
  if (gtk_expander_get_expanded (GTK_EXPANDER (self->expander)))
    fill_list (self, result);
}

static void
sb_cleanup_specks_dispose (GObject *object)
{
  SbCleanupSpecks *self = SB_CLEANUP_SPECKS (object);

  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_pointer (&self->shown, g_free);
  G_OBJECT_CLASS (sb_cleanup_specks_parent_class)->dispose (object);
}

static void
sb_cleanup_specks_class_init (SbCleanupSpecksClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_specks_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[CHOSEN] = g_signal_new ("chosen", SB_TYPE_CLEANUP_SPECKS, G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
sb_cleanup_specks_init (SbCleanupSpecks *self)
{
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->count = sb_words_new (NULL, "caption");
  gtk_box_append (GTK_BOX (self->box), self->count);
  self->expander = gtk_expander_new_with_mnemonic (_ ("_List, to put back"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("List, to put back"), -1);
  gtk_box_append (GTK_BOX (self->box), self->expander);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Taken away"), -1);
  gtk_widget_add_css_class (self->list, "plain-list");
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (activated_cb), self);
  gtk_box_append (GTK_BOX (inside), self->list);
  self->more =
      sb_words_new (_ ("Only the largest are listed; all are marked in the picture."), "caption");
  gtk_box_append (GTK_BOX (inside), self->more);
  gtk_expander_set_child (GTK_EXPANDER (self->expander), inside);
  g_signal_connect_swapped (self->expander, "notify::expanded", G_CALLBACK (update), self);
}

GtkWidget *
sb_cleanup_specks_new (SbCleanupSession *session)
{
  SbCleanupSpecks *self = g_object_new (SB_TYPE_CLEANUP_SPECKS, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "pixels", G_CALLBACK (update), self);
  update (self);
  return GTK_WIDGET (self);
}
