/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/canvas/canvas-work.h"
#include "window/canvas/piece-clip.h"
#include "window/pictures/sticker-provider.h"

static guint
get_page (SbCanvas *canvas)
{
  guint page;

  g_object_get (canvas, "page", &page, NULL);
  return page;
}

/* The pieces for us, and the last one's picture for other programs. */
static void
copy_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  SbPieceClip *clip = sb_piece_clip_new (work.state, work.ids, work.n);
  const SbPiece *last = sb_state_get_piece (work.state, work.ids[work.n - 1], NULL);
  GdkContentProvider *both[] = {
      gdk_content_provider_new_typed (SB_TYPE_PIECE_CLIP, clip),
      sb_sticker_provider_new (sb_state_get_design (work.state, last->design_id))};
  g_autoptr (GdkContentProvider) provider = gdk_content_provider_new_union (both, 2);
  gdk_clipboard_set_content (gtk_widget_get_clipboard (widget), provider);
  sb_piece_clip_free (clip);
}

static void
cut_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SbCanvasWork work;

  if (!sb_canvas_work_begin_with_pieces (widget, &work))
    return;
  copy_cb (widget, name, NULL);
  sb_canvas_work_edit (&work, sb_edit_remove_pieces (work.state, work.ids, work.n), _ ("Cut %s"),
                       ngettext ("Cut %u piece", "Cut %u pieces", work.n), NULL);
  gtk_widget_grab_focus (widget);
}

static void
paste_pieces (SbCanvas *canvas, const SbPieceClip *clip)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  guint n = sb_piece_clip_get_n (clip);
  g_autofree char *name = g_strdup_printf (ngettext ("Paste %u piece", "Paste %u pieces", n), n);
  SbCanvasWork work;

  if (!sb_canvas_work_begin (GTK_WIDGET (canvas), &work))
    return;
  sb_job_edit (work.job, sb_piece_clip_paste (clip, work.state, get_page (canvas), ids), name,
               NULL);
  sb_canvas_work_select (&work, ids);
}

static void
clip_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (SbCanvas) canvas = data;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, NULL);

  if (value && gtk_widget_get_native (GTK_WIDGET (canvas)))
    paste_pieces (canvas, g_value_get_boxed (value));
}

/* Copied pieces are ours; pictures are the window's business. */
static void
paste_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (widget);

  if (gdk_content_formats_contain_gtype (gdk_clipboard_get_formats (clipboard), SB_TYPE_PIECE_CLIP))
    gdk_clipboard_read_value_async (clipboard, SB_TYPE_PIECE_CLIP, G_PRIORITY_DEFAULT, NULL,
                                    clip_read_cb, g_object_ref (widget));
  else
    gtk_widget_activate_action (widget, "win.paste-artwork", NULL);
}

const SbCanvasAction sb_clip_actions[] = {
    {"pieces.copy", NULL, copy_cb, TRUE},
    {"pieces.cut", NULL, cut_cb, TRUE},
    {"pieces.paste", NULL, paste_cb, FALSE},
    {NULL, NULL, NULL, FALSE},
};
