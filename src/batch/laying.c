/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/laying.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "packing/impose.h"

void
sb_laying_clear (SbLaying *laying)
{
  g_clear_pointer (&laying->state, sb_state_unref);
  g_clear_pointer (&laying->layout, sb_layout_unref);
}

static void
take (SbLaying *laying, SbState *next)
{
  sb_state_unref (laying->state);
  laying->state = next;
}

gboolean
sb_laying_begin (SbLaying *laying, const char *path, const char *name, guint kinds)
{
  laying->state = sb_command_load (path);
  if (laying->state == NULL)
    return FALSE;
  g_autofree char *clean = sb_name_clean (name);
  const SbLayout *layout = sb_state_find_layout (laying->state, clean);
  if (layout == NULL)
    return TRUE;
  if ((kinds & 1u << layout->kind) == 0) {
    sb_command_misuse (path, _ ("“%s” is there already and of another kind"), clean);
    return FALSE;
  }
  laying->layout = sb_layout_copy (layout);
  return TRUE;
}

gboolean
sb_laying_read (const char *option, const char *text, sb_um least, sb_um most, sb_um *value)
{
  double mm = sb_um_to_mm (*value);
  if (!sb_command_read_length (option, text, sb_um_to_mm (least), sb_um_to_mm (most), &mm))
    return FALSE;
  *value = sb_um_from_mm (mm);
  return TRUE;
}

gboolean
sb_laying_add_text (SbLaying *laying, const char *option, const char *text, double size_pt,
                    SbIPoint at, gint32 turn)
{
  if (text == NULL || *text == '\0')
    return TRUE;
  g_autoptr (SbLettering) lettering = sb_lettering_new (text);
  lettering->size_pt = size_pt;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbDesign) design = sb_design_new_text (lettering, &error);
  if (design == NULL || !sb_design_prepare (design, NULL, &error)) {
    sb_command_fail (option, error);
    return FALSE;
  }
  SbPiece piece = {.at = at, .turn = turn};
  take (laying, sb_edit_add_design (laying->state, g_steal_pointer (&design), &piece.design_id));
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SbPiece));
  g_array_append_vals (pieces, laying->layout->pieces, laying->layout->n_pieces);
  g_array_append_val (pieces, piece);
  sb_layout_set_pieces (laying->layout, (const SbPiece *)(gpointer)pieces->data, pieces->len);
  return TRUE;
}

static guint
count_pages (const SbState *state, guint layout_id)
{
  guint n = 0;
  for (guint i = 0; i < state->pages->len; i++)
    n += sb_state_get_page (state, i)->layout_id == layout_id;
  return n;
}

static void
print_json (const SbState *state, const SbLayout *layout)
{
  JsonObject *object = json_object_new ();
  json_object_set_string_member (object, "name", layout->name);
  json_object_set_string_member (object, "kind", sb_layout_kind_get_key (layout->kind));
  json_object_set_double_member (object, "width_mm", sb_um_to_mm (layout->width));
  json_object_set_double_member (object, "height_mm", sb_um_to_mm (layout->height));
  if (layout->kind == SB_LAYOUT_HEADER)
    json_object_set_double_member (object, "fold_mm", sb_um_to_mm (sb_layout_get_fold (layout)));
  json_object_set_int_member (object, "wanted", layout->wanted);
  json_object_set_int_member (object, "laid", sb_state_count_laid (state, layout->id));
  json_object_set_int_member (object, "pieces", layout->n_pieces);
  json_object_set_int_member (object, "copies_a_page", sb_impose_count (state, layout));
  json_object_set_int_member (object, "pages", count_pages (state, layout->id));
  sb_command_print_json (object);
}

static void
print_text (const SbState *state, const SbLayout *layout)
{
  g_autofree char *size = sb_length_format_size (
      sb_um_to_mm (layout->width), sb_um_to_mm (layout->height), sb_unit_from_locale ());
  /* Translators: a layout, its size, and numbers, as in "Garden: 100 × 150 mm, 4 to a page, 20 on 5
   * pages" */
  guint pages = count_pages (state, layout->id);
  g_print (ngettext ("%s: %s, %u to a page, %d on %u page\n",
                     "%s: %s, %u to a page, %d on %u pages\n", pages),
           layout->name, size, sb_impose_count (state, layout),
           sb_state_count_laid (state, layout->id), pages);
}

int
sb_laying_end (SbLaying *laying, const char *path, gboolean json)
{
  guint id = laying->layout->id;
  if (id == 0)
    take (laying, sb_edit_add_layout (laying->state, g_steal_pointer (&laying->layout), &id));
  else
    take (laying, sb_edit_replace_layout (laying->state, g_steal_pointer (&laying->layout)));
  const SbLayout *layout = sb_state_get_layout (laying->state, id);
  if (layout->wanted > 0 && sb_impose_count (laying->state, layout) == 0)
    return sb_command_misuse (path, _ ("“%s” is larger than what can be printed of a page"),
                              layout->name);
  take (laying, sb_impose_layout (laying->state, id));
  int status = sb_command_save (laying->state, path);
  if (status != SB_EXIT_DONE)
    return status;
  layout = sb_state_get_layout (laying->state, id);
  if (json)
    print_json (laying->state, layout);
  else
    print_text (laying->state, layout);
  return SB_EXIT_DONE;
}
