/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/order/order-result.h"
#include "window/parts/words.h"

#include <glib/gi18n.h>

#include "order/counts.h"
#include "output/coverage.h"

#define PAUSE_MS 200 /* after the last change, before anything is reckoned */

struct _SbOrderResult {
  GtkBox parent_instance;

  SbDesk *desk;
  GtkWidget *list;
  GHashTable *open; /* keys of the figures that are open */
  SbBill *bill;
  guint timeout;
  GCancellable *cancellable; /* of the reckoning under way */

  SbState *measured; /* whose pages `coverage` is of */
  double *coverage;
};

G_DEFINE_FINAL_TYPE (SbOrderResult, sb_order_result, GTK_TYPE_BOX)

/* What a thread works on. */
typedef struct {
  SbState *state;
  double *coverage; /* known already, or NULL; told back */
  SbBill *bill;
} Reckoning;

static void
reckoning_free (Reckoning *reckoning)
{
  sb_state_unref (reckoning->state);
  g_free (reckoning->coverage);
  g_clear_pointer (&reckoning->bill, sb_bill_free);
  g_free (reckoning);
}

static GtkWidget *
words_new (const char *text, const char *css_class)
{
  GtkWidget *label = sb_words_new (text, css_class);

  gtk_label_set_selectable (GTK_LABEL (label), css_class == NULL);
  return label;
}

static void
add_words (SbOrderResult *self, const char *text, const char *css_class)
{
  gtk_box_append (GTK_BOX (self->list), words_new (text, css_class));
}

static void
opened_cb (GtkExpander *expander, GParamSpec *pspec, SbOrderResult *self)
{
  const char *key = g_object_get_data (G_OBJECT (expander), "key");

  if (gtk_expander_get_expanded (expander))
    g_hash_table_add (self->open, g_strdup (key));
  else
    g_hash_table_remove (self->open, key);
}

static void
add_figure (SbOrderResult *self, const SbFigure *figure)
{
  g_autofree char *value = sb_figure_format (figure, self->bill->currency);
  g_autofree char *title = g_strdup_printf ("%s: %s", figure->label, value);
  GtkWidget *expander = gtk_expander_new (title);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  -1);
  gtk_widget_set_margin_start (lines, 24);
  for (guint i = 0; i < figure->lines->len; i++)
    gtk_box_append (GTK_BOX (lines), words_new (figure->lines->pdata[i], NULL));
  gtk_expander_set_child (GTK_EXPANDER (expander), lines);
  gtk_expander_set_expanded (GTK_EXPANDER (expander),
                             g_hash_table_contains (self->open, figure->key));
  g_object_set_data_full (G_OBJECT (expander), "key", g_strdup (figure->key), g_free);
  g_signal_connect (expander, "notify::expanded", G_CALLBACK (opened_cb), self);
  gtk_box_append (GTK_BOX (self->list), expander);
}

static void
add_counts (SbOrderResult *self, const SbState *state)
{
  g_autoptr (GArray) counts = sb_order_count (state);
  guint sheets = sb_order_count_sheets (state), pages = 0;

  for (guint k = 0; k < state->pages->len; k++)
    pages += sb_order_count_prints (state, k) > 0;
  g_autofree char *different = g_strdup_printf (ngettext ("%u page", "%u pages", pages), pages);
  g_autofree char *told =
      g_strdup_printf (ngettext ("%u sheet through the printer, of %s",
                                 "%u sheets through the printer, of %s", sheets),
                       sheets, different);
  add_words (self, told, "heading");
  for (guint i = 0; i < counts->len; i++) {
    const SbCount *count = &g_array_index (counts, SbCount, i);
    int missing = count->copies - count->printed;
    g_autofree char *need =
        g_strdup_printf (_ ("%s: %d to print, with spares %d, on the pages %d"), count->name,
                         count->to_print, count->copies, count->printed);
    g_autofree char *rest =
        missing > 0 ? g_strdup_printf (_ ("%s: %d are missing"), need, missing)
                    : g_strdup_printf (_ ("%s, %d left for stock"), need, MAX (0, count->left));
    add_words (self, rest, missing > 0 ? "warning-text" : NULL);
  }
}

static void
add_missing_prices (SbOrderResult *self)
{
  const GPtrArray *missing = self->bill->missing;
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < missing->len; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", (const char *)missing->pdata[i]);
  g_autofree char *text = g_strdup_printf (_ ("Not known, so not counted: %s"), list->str);
  if (missing->len > 0)
    add_words (self, text, "warning-text");
}

static void
show (SbOrderResult *self, const SbState *state)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->list)))
    gtk_box_remove (GTK_BOX (self->list), child);
  add_counts (self, state);
  add_words (self, _ ("Money and time"), "heading");
  add_missing_prices (self);
  for (guint i = 0; i < self->bill->figures->len; i++)
    add_figure (self, self->bill->figures->pdata[i]);
}

static void
reckon_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Reckoning *reckoning = data;
  GError *error = NULL;

  if (!reckoning->coverage)
    reckoning->coverage = sb_coverage_measure (reckoning->state, cancellable, &error);
  if (!reckoning->coverage) {
    g_task_return_error (task, error);
    return;
  }
  reckoning->bill = sb_bill_new (reckoning->state, reckoning->coverage);
  g_task_return_boolean (task, TRUE);
}

static void
reckoned_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  SbOrderResult *self = SB_ORDER_RESULT (source);
  Reckoning *reckoning = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  if (!g_task_propagate_boolean (G_TASK (result), &error)) {
    if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) && self->desk)
      sb_desk_say (self->desk, error->message);
    return;
  }
  if (!self->desk || g_task_get_cancellable (G_TASK (result)) != self->cancellable)
    return;
  g_clear_pointer (&self->bill, sb_bill_free);
  g_clear_pointer (&self->measured, sb_state_unref);
  g_free (self->coverage);
  self->bill = g_steal_pointer (&reckoning->bill);
  self->coverage = g_steal_pointer (&reckoning->coverage);
  self->measured = sb_state_ref (reckoning->state);
  show (self, reckoning->state);
}

/* Whether what is painted is the same. */
static gboolean
paints_alike (const SbState *a, const SbState *b)
{
  if (a->pages->len != b->pages->len || a->designs->len != b->designs->len ||
      a->page_width != b->page_width || a->page_height != b->page_height ||
      a->layouts->len != b->layouts->len)
    return FALSE;
  for (guint i = 0; i < a->pages->len; i++)
    if (a->pages->pdata[i] != b->pages->pdata[i])
      return FALSE;
  for (guint i = 0; i < a->designs->len; i++)
    if (a->designs->pdata[i] != b->designs->pdata[i])
      return FALSE;
  for (guint i = 0; i < a->layouts->len; i++)
    if (a->layouts->pdata[i] != b->layouts->pdata[i])
      return FALSE;
  return TRUE;
}

static gboolean
reckon_cb (gpointer data)
{
  SbOrderResult *self = data;
  Reckoning *reckoning = g_new0 (Reckoning, 1);

  self->timeout = 0;
  reckoning->state = sb_state_ref (sb_desk_get_whole (self->desk));
  if (self->measured && paints_alike (self->measured, reckoning->state))
    reckoning->coverage =
        g_memdup2 (self->coverage, reckoning->state->pages->len * sizeof *self->coverage);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->cancellable, reckoned_cb, NULL);
  g_task_set_task_data (task, reckoning, (GDestroyNotify)reckoning_free);
  g_task_run_in_thread (task, reckon_in_thread);
  return G_SOURCE_REMOVE;
}

static void
changed_cb (SbOrderResult *self)
{
  g_clear_pointer (&self->bill, sb_bill_free);
  g_clear_handle_id (&self->timeout, g_source_remove);
  self->timeout = g_timeout_add (PAUSE_MS, reckon_cb, self);
}

static void
sb_order_result_dispose (GObject *object)
{
  SbOrderResult *self = SB_ORDER_RESULT (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  if (self->cancellable)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->bill, sb_bill_free);
  g_clear_pointer (&self->measured, sb_state_unref);
  g_clear_pointer (&self->coverage, g_free);
  g_clear_pointer (&self->open, g_hash_table_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_order_result_parent_class)->dispose (object);
}

static void
sb_order_result_class_init (SbOrderResultClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_order_result_dispose;
}

static void
sb_order_result_init (SbOrderResult *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (self), self->list);
}

GtkWidget *
sb_order_result_new (SbDesk *desk)
{
  SbOrderResult *self = g_object_new (SB_TYPE_ORDER_RESULT, NULL);

  self->desk = g_object_ref (desk);
  add_words (self, _ ("Reckoning…"), "dim-label");
  g_signal_connect_object (sb_desk_get_job (desk), "changed", G_CALLBACK (changed_cb), self,
                           G_CONNECT_SWAPPED);
  changed_cb (self);
  return GTK_WIDGET (self);
}

const SbBill *
sb_order_result_get_bill (SbOrderResult *self)
{
  return self->bill;
}
