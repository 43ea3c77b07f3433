/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/design-split.h"
#include "job/edit.h"
#include "picture/hold.h"
#include "window/desk/piece-edits.h"
#include "window/parts/error-dialog.h"
#include "window/parts/size-dialog.h"
#include "window/parts/work-card.h"
#include "window/shell/import.h"

#define DEFAULT_LONGEST_MM 50.8 /* 2 in, the usual size of a loose sticker (handbook 3.1) */

/* One picture on its way in. */
typedef struct {
  GFile *file;   /* or NULL: */
  GBytes *bytes; /* pasted */
  char *name;    /* for people */
  SbPicture *picture;
  SbDesign *design;
  char *failed;      /* why it did not come in, or NULL */
  guint n_paintings; /* on a scan */
} Item;

typedef struct {
  SbAppWindow *window;
  GPtrArray *items; /* Item */
  SbImportPlace place;
  guint replaces; /* a design's id, or 0 */
  SbWorkCard *card;
  GCancellable *cancellable;
  int done; /* atomic: items prepared */
  guint tick;
} Import;

static void
item_free (Item *item)
{
  g_clear_object (&item->file);
  g_clear_pointer (&item->bytes, g_bytes_unref);
  g_free (item->name);
  g_clear_pointer (&item->picture, sb_picture_unref);
  g_clear_pointer (&item->design, sb_design_unref);
  g_free (item->failed);
  g_free (item);
}

static void
import_free (Import *import)
{
  g_clear_handle_id (&import->tick, g_source_remove);
  sb_work_card_done (import->card);
  g_object_unref (import->card);
  g_object_unref (import->cancellable);
  g_ptr_array_unref (import->items);
  g_object_unref (import->window);
  g_free (import);
}

static gboolean
tick_cb (gpointer user_data)
{
  Import *import = user_data;
  int done = g_atomic_int_get (&import->done);

  sb_work_card_set_fraction (import->card, (0.3 + done) / import->items->len);
  return G_SOURCE_CONTINUE;
}

static Import *
import_new (SbAppWindow *window, SbImportPlace place)
{
  Import *import = g_new0 (Import, 1);

  import->window = g_object_ref (window);
  import->items = g_ptr_array_new_with_free_func ((GDestroyNotify)item_free);
  import->place = place;
  import->cancellable = g_cancellable_new ();
  import->card = g_object_ref (sb_work_card_new (sb_app_window_get_work_area (window),
                                                 _ ("Adding artwork"), import->cancellable));
  import->tick = g_timeout_add (100, tick_cb, import);
  return import;
}

static void
add_file (Import *import, GFile *file)
{
  Item *item = g_new0 (Item, 1);
  g_autofree char *base = g_file_get_basename (file);

  item->file = g_object_ref (file);
  item->name = g_filename_display_name (base);
  g_ptr_array_add (import->items, item);
}

/* The design's name: the file's without its ending. */
static char *
name_without_ending (const char *name)
{
  const char *dot = strrchr (name, '.');

  return dot && dot != name ? g_strndup (name, (gsize)(dot - name)) : g_strdup (name);
}

static char *
dup_names (GPtrArray *items)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < items->len; i++) {
    Item *item = items->pdata[i];
    if (item->failed)
      g_string_append_printf (text, "%s• %s", text->len ? "\n" : "", item->failed);
  }
  return g_string_free (text, FALSE);
}

static void
tell_failures (Import *import, guint added)
{
  guint failed = 0;
  for (guint i = 0; i < import->items->len; i++)
    failed += ((Item *)import->items->pdata[i])->failed != NULL;
  if (failed == 0)
    return;

  g_autofree char *reasons = dup_names (import->items);
  g_autofree char *heading =
      added == 0 && failed == 1
          ? g_strdup (_ ("The picture could not be added"))
          : g_strdup_printf (ngettext ("%u of %u pictures could not be added",
                                       "%u of %u pictures could not be added", failed),
                             failed, import->items->len);
  sb_error_dialog_show (GTK_WINDOW (import->window), heading, reasons);
}

/* Pieces of the new designs: one where it was dropped, several about there as they have room. What
 * has none waits in the drawer. */
static SbState *
place_pieces (Import *import, SbState *state, const GArray *ids)
{
  guint page = (guint)import->place.page;

  if (import->place.page < 0 || page >= state->pages->len)
    return state;
  for (guint i = 0; i < ids->len; i++) {
    SbPiece piece = {.design_id = g_array_index (ids, guint, i), .at = import->place.at};
    if (ids->len > 1 && !sb_piece_find_room (state, page, &piece))
      continue;
    SbState *next = sb_edit_add_piece (state, page, piece, NULL);
    sb_state_unref (state);
    state = next;
  }
  return state;
}

static void
offer_to_split (Import *import, guint scan, guint n)
{
  SbDesk *desk = sb_app_window_get_desk (import->window);
  SbDesign *design = sb_state_get_design (sb_desk_get_settled (desk), scan);
  g_autofree char *action = g_strdup_printf ("win.split-scan(uint32 %u)", scan);
  /* Translators: a number of paintings and the scan's name */
  g_autofree char *text = g_strdup_printf (
      ngettext ("%u painting found on %s", "%u paintings found on %s", n), n, design->name);

  sb_app_window_offer (import->window, text, _ ("_Split"), action);
}

static void
finish_adding (Import *import)
{
  SbDesk *desk = sb_app_window_get_desk (import->window);
  SbJob *job = sb_desk_get_job (desk);
  SbState *state = sb_state_ref (sb_job_get_settled_state (job));
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  guint scan = 0, paintings = 0;

  for (guint i = 0; i < import->items->len; i++) {
    Item *item = import->items->pdata[i];
    if (!item->design)
      continue;
    guint id = 0;
    SbState *next = sb_edit_add_design (state, g_steal_pointer (&item->design), &id);
    sb_state_unref (state);
    state = next;
    g_array_append_val (ids, id);
    if (item->n_paintings > 1) {
      scan = id;
      paintings = item->n_paintings;
    }
  }
  state = place_pieces (import, state, ids);
  if (ids->len == 0) {
    sb_state_unref (state);
  } else {
    guint last = g_array_index (ids, guint, ids->len - 1);
    g_autofree char *name =
        ids->len == 1
            ? g_strdup_printf (_ ("Add %s"), sb_state_get_design (state, last)->name)
            : g_strdup_printf (ngettext ("Add %u Design", "Add %u Designs", ids->len), ids->len);
    sb_job_edit (job, state, name, NULL);
    sb_selection_set_design (sb_desk_get_selection (desk), last);
    if (scan != 0)
      offer_to_split (import, scan, paintings);
  }
  tell_failures (import, ids->len);
}

static void
finish_replacing (Import *import)
{
  SbDesk *desk = sb_app_window_get_desk (import->window);
  SbJob *job = sb_desk_get_job (desk);
  SbState *state = sb_job_get_settled_state (job);
  Item *item = import->items->pdata[0];

  if (item->design && sb_state_get_design (state, import->replaces)) {
    g_autofree char *name = g_strdup_printf (_ ("Replace Artwork of %s"), item->design->name);
    sb_job_edit (job, sb_edit_replace_design (state, g_steal_pointer (&item->design)), name, NULL);
  }
  tell_failures (import, 0);
}

static void
prepare_item (Import *import, Item *item)
{
  g_autoptr (GError) error = NULL;

  if (!item->design)
    return;
  sb_picture_hold (item->picture); /* it is decoded once for both */
  if (sb_design_prepare (item->design, import->cancellable, &error))
    item->n_paintings = sb_design_count_paintings (item->design, import->cancellable);
  else
    item->failed = g_strdup (error->message);
  sb_picture_release (item->picture);
  if (item->failed)
    g_clear_pointer (&item->design, sb_design_unref);
}

static void
prepare_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Import *import = data;

  for (guint i = 0; i < import->items->len && !g_cancellable_is_cancelled (cancellable); i++) {
    prepare_item (import, import->items->pdata[i]);
    g_atomic_int_inc (&import->done);
  }
  g_task_return_boolean (task, TRUE);
}

static void
prepared_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Import *import = user_data;

  /* A window that closed meanwhile has no desk any more. */
  if (!g_cancellable_is_cancelled (import->cancellable) &&
      sb_app_window_get_desk (import->window)) {
    if (import->replaces)
      finish_replacing (import);
    else
      finish_adding (import);
  }
  import_free (import);
}

static void
prepare (Import *import)
{
  g_autoptr (GTask) task = g_task_new (NULL, import->cancellable, prepared_cb, import);

  g_task_set_task_data (task, import, NULL);
  g_task_run_in_thread (task, prepare_in_thread);
}

/* Pictures that state no size, or one that the page cannot hold: some cameras write 72 dpi into
 * whatever they take. */
static gboolean
needs_size (Import *import, Item *item)
{
  SbIBox box =
      sb_state_get_printable_box (sb_desk_get_state (sb_app_window_get_desk (import->window)));
  double longest_um = MAX (box.x1 - box.x0, box.y1 - box.y0);
  double width, height;

  return item->design && (!sb_picture_get_size_mm (item->picture, &width, &height) ||
                          MAX (width, height) * SB_UM_PER_MM > longest_um);
}

static void
set_longest (SbDesign *design, double longest_mm)
{
  double scale = longest_mm / MAX (design->width_mm, design->height_mm);

  sb_design_set_size (design, design->width_mm * scale, design->height_mm * scale);
}

static void
sizes_response_cb (SbSizeDialog *dialog, gboolean accepted, gpointer user_data)
{
  Import *import = user_data;
  guint row = 0;

  if (!accepted) {
    import_free (import);
    return;
  }
  for (guint i = 0; i < import->items->len; i++) {
    Item *item = import->items->pdata[i];
    if (needs_size (import, item))
      set_longest (item->design, sb_size_dialog_get_longest (dialog, row++));
  }
  prepare (import);
}

static void
ask_sizes (Import *import)
{
  GtkWidget *dialog = NULL;
  SbUnit unit = sb_desk_get_unit (sb_app_window_get_desk (import->window));

  for (guint i = 0; i < import->items->len; i++) {
    Item *item = import->items->pdata[i];
    if (!needs_size (import, item))
      continue;
    if (!dialog)
      dialog = sb_size_dialog_new (GTK_WINDOW (import->window), unit);
    sb_size_dialog_add (SB_SIZE_DIALOG (dialog), item->name, item->picture, DEFAULT_LONGEST_MM);
  }
  if (!dialog) {
    prepare (import);
    return;
  }
  g_signal_connect (dialog, "response", G_CALLBACK (sizes_response_cb), import);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* The picture in the design's place: as wide as before, in its own proportions. */
static void
fit_into_design (Import *import, Item *item)
{
  SbState *state = sb_desk_get_state (sb_app_window_get_desk (import->window));
  SbDesign *old = sb_state_get_design (state, import->replaces);

  if (!old || !item->design)
    return;
  double tall = item->design->height_mm / item->design->width_mm;
  sb_design_unref (item->design);
  item->design = sb_design_copy (old);
  if (sb_picture_has_alpha (item->picture) || sb_cleanup_is_none (&old->cleanup)) {
    SbCleanup recipe = sb_cleanup_for_picture (item->picture);
    sb_design_set_cleanup (item->design, &recipe);
  }
  sb_design_set_picture (item->design, item->picture);
  sb_design_set_size (item->design, old->width_mm, old->width_mm * tall);
}

static void
read_item (Item *item)
{
  g_autoptr (GError) error = NULL;

  if (item->bytes) {
    item->picture = sb_picture_new (item->bytes, item->name, &error);
  } else {
    g_autofree char *path = g_file_get_path (item->file);
    if (path)
      item->picture = sb_picture_load (path, &error);
    else
      item->failed =
          g_strdup_printf (_ ("“%s” is not on this computer. Copy it here first."), item->name);
  }
  if (item->picture) {
    g_autofree char *name = name_without_ending (item->name);
    item->design = sb_design_new (item->picture, name);
  } else if (error) {
    item->failed = g_strdup (error->message);
  }
}

static void
read_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Import *import = data;

  for (guint i = 0; i < import->items->len && !g_cancellable_is_cancelled (cancellable); i++)
    read_item (import->items->pdata[i]);
  g_task_return_boolean (task, TRUE);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Import *import = user_data;

  if (g_cancellable_is_cancelled (import->cancellable) ||
      !sb_app_window_get_desk (import->window)) {
    import_free (import);
  } else if (import->replaces) {
    fit_into_design (import, import->items->pdata[0]);
    prepare (import);
  } else {
    ask_sizes (import);
  }
}

static void
start (Import *import)
{
  if (import->items->len == 0) {
    import_free (import);
    return;
  }
  g_autoptr (GTask) task = g_task_new (NULL, import->cancellable, read_cb, import);
  g_task_set_task_data (task, import, NULL);
  g_task_run_in_thread (task, read_in_thread);
}

void
sb_import_files (SbAppWindow *window, GListModel *files, SbImportPlace place)
{
  Import *import = import_new (window, place);

  for (guint i = 0; i < g_list_model_get_n_items (files); i++) {
    g_autoptr (GFile) file = g_list_model_get_item (files, i);
    add_file (import, file);
  }
  start (import);
}

void
sb_import_bytes (SbAppWindow *window, GBytes *bytes, const char *name, SbImportPlace place)
{
  Import *import = import_new (window, place);
  Item *item = g_new0 (Item, 1);

  item->bytes = g_bytes_ref (bytes);
  item->name = g_strdup (name);
  g_ptr_array_add (import->items, item);
  start (import);
}

void
sb_import_replace (SbAppWindow *window, guint design_id, GFile *file)
{
  Import *import = import_new (window, SB_IMPORT_TO_DRAWER);

  import->replaces = design_id;
  add_file (import, file);
  start (import);
}
