/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "job/job-json.h"
#include "job/variants.h"
#include "window/cleanup/cleanup-batch.h"
#include "window/cleanup/cleanup-others.h"
#include "window/parts/dialog-frame.h"
#include "window/parts/words.h"

typedef struct {
  SbDesk *desk;
  GtkWidget *dialog;
  SbDesign *from;
  GtkWidget *list; /* of check buttons with "sb-id" */
  GtkWidget *apply;
} Others;

static void
others_free (gpointer data)
{
  Others *others = data;

  sb_design_unref (others->from);
  g_object_unref (others->desk);
  g_free (others);
}

static void
for_each_check (Others *others, void (*visit) (GtkWidget *check, gpointer data), gpointer data)
{
  for (GtkWidget *check = gtk_widget_get_first_child (others->list); check;
       check = gtk_widget_get_next_sibling (check))
    visit (check, data);
}

static void
count (GtkWidget *check, gpointer data)
{
  *(guint *)data += gtk_check_button_get_active (GTK_CHECK_BUTTON (check)) != FALSE;
}

static void
chosen_cb (Others *others)
{
  guint n = 0;

  for_each_check (others, count, &n);
  gtk_widget_set_sensitive (others->apply, n > 0);
}

static void
set_check (GtkWidget *check, gpointer data)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), *(gboolean *)data);
}

static void
all_cb (Others *others, GtkCheckButton *all)
{
  gboolean active = gtk_check_button_get_active (all);

  for_each_check (others, set_check, &active);
}

typedef struct {
  Others *others;
  GPtrArray *designs;
} Collect;

static void
collect (GtkWidget *check, gpointer data)
{
  Collect *c = data;
  guint id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "sb-id"));
  SbDesign *copy = gtk_check_button_get_active (GTK_CHECK_BUTTON (check))
                       ? sb_design_changer_begin (sb_desk_get_changer (c->others->desk), id)
                       : NULL;

  if (!copy)
    return;
  SbCleanup recipe = sb_cleanup_alike (&c->others->from->cleanup, &copy->cleanup);
  sb_design_set_cleanup (copy, &recipe);
  g_ptr_array_add (c->designs, copy);
}

static GPtrArray *
prepare (gpointer data, GCancellable *cancellable, GError **error)
{
  return sb_designs_prepare (data, cancellable, error) ? g_ptr_array_ref (data) : NULL;
}

/* In the place of those the job has; what was removed meanwhile stays away. */
static SbState *
replace (SbState *state, GPtrArray *designs, gpointer data)
{
  SbState *all = sb_state_ref (state);

  for (guint i = 0; i < designs->len; i++) {
    SbDesign *design = designs->pdata[i];
    if (!sb_state_get_design (all, design->id))
      continue;
    SbState *next = sb_edit_replace_design (all, sb_design_copy (design));
    sb_state_unref (all);
    all = next;
  }
  return all;
}

static void
apply_cb (Others *others)
{
  Collect c = {others, g_ptr_array_new_with_free_func ((GDestroyNotify)sb_design_unref)};

  for_each_check (others, collect, &c);
  guint n = c.designs->len;
  g_autofree char *name = g_strdup_printf (
      ngettext ("Clean %u Design Like %s", "Clean %u Designs Like %s", n), n, others->from->name);
  g_autofree char *told = g_strdup_printf (
      ngettext ("%u design is cleaned alike now", "%u designs are cleaned alike now", n), n);
  SbCleanupBatch batch = {
      _ ("Cleaning alike"), _ ("Not all could be cleaned"), name, told, prepare, replace};
  sb_cleanup_batch_run (others->desk, &batch, c.designs, (GDestroyNotify)g_ptr_array_unref);
  gtk_window_destroy (GTK_WINDOW (others->dialog));
}

static void
add_designs (Others *others)
{
  SbState *state = sb_desk_get_settled (others->desk);

  for (guint i = 0; i < state->designs->len; i++) {
    SbDesign *design = state->designs->pdata[i];
    if (design->id == others->from->id ||
        sb_picture_get_kind (design->picture) == SB_PICTURE_VECTOR)
      continue;
    GtkWidget *check = gtk_check_button_new_with_label (design->name);
    g_object_set_data (G_OBJECT (check), "sb-id", GUINT_TO_POINTER (design->id));
    g_signal_connect_swapped (check, "toggled", G_CALLBACK (chosen_cb), others);
    gtk_box_append (GTK_BOX (others->list), check);
  }
}

static GtkWidget *
build_body (Others *others)
{
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  GtkWidget *words = sb_words_new (NULL, NULL),
            *all = gtk_check_button_new_with_mnemonic (_ ("_All"));

  gtk_widget_set_margin_top (body, 18);
  gtk_widget_set_margin_bottom (body, 18);
  gtk_widget_set_margin_start (body, 18);
  gtk_widget_set_margin_end (body, 18);
  gtk_label_set_max_width_chars (GTK_LABEL (words), 50);
  others->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  add_designs (others);
  gboolean any = gtk_widget_get_first_child (others->list) != NULL;
  gtk_label_set_label (
      GTK_LABEL (words),
      any ? _ ("These designs get the same settings: paper, dust, levels. What was "
               "brushed, cropped or straightened stays their own.")
          : _ ("There is no other picture in this job."));
  g_signal_connect_swapped (all, "toggled", G_CALLBACK (all_cb), others);
  gtk_widget_set_visible (all, any);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), others->list);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 360);
  gtk_box_append (GTK_BOX (body), words);
  gtk_box_append (GTK_BOX (body), all);
  gtk_box_append (GTK_BOX (body), scrolled);
  return body;
}

void
sb_cleanup_others_open (GtkWindow *parent, SbDesk *desk, SbDesign *design)
{
  Others *others = g_new0 (Others, 1);

  others->desk = g_object_ref (desk);
  others->from = sb_design_ref (design);
  others->dialog = gtk_window_new ();
  others->apply = gtk_button_new_with_mnemonic (_ ("_Clean Alike"));
  sb_dialog_frame (GTK_WINDOW (others->dialog), parent, _ ("Clean Others Alike"), others->apply);
  gtk_window_set_default_size (GTK_WINDOW (others->dialog), 440, -1);
  g_object_set_data_full (G_OBJECT (others->dialog), "sb-others", others, others_free);
  gtk_widget_set_sensitive (others->apply, FALSE);
  g_signal_connect_swapped (others->apply, "clicked", G_CALLBACK (apply_cb), others);
  gtk_window_set_child (GTK_WINDOW (others->dialog), build_body (others));
  gtk_window_present (GTK_WINDOW (others->dialog));
}

/* Variants are made by the job; here is only what the window says of them. */
static GPtrArray *
make_variants (gpointer data, GCancellable *cancellable, GError **error)
{
  return sb_design_make_variants (data, cancellable, error);
}

static SbState *
add_variants (SbState *state, GPtrArray *variants, gpointer data)
{
  SbDesign *design = data;

  return sb_state_get_design (state, design->id)
             ? sb_edit_add_variants (state, design->id, variants)
             : sb_state_ref (state);
}

void
sb_cleanup_others_make_strip (SbDesk *desk, SbDesign *design)
{
  g_autofree char *name = g_strdup_printf (_ ("Test Strip of %s"), design->name);
  SbCleanupBatch batch = {_ ("Making a test strip"),
                          _ ("The test strip could not be made"),
                          name,
                          _ ("A page at the end has the strip, from dark to light. Print it on "
                             "plain paper first."),
                          make_variants,
                          add_variants};

  sb_cleanup_batch_run (desk, &batch, sb_design_ref (design), (GDestroyNotify)sb_design_unref);
}
