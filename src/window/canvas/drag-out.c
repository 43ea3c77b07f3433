/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece that is dragged past the window's edge goes on as a picture for other programs. Let go of
 * over the pages again, it is moved there. */
#include "config.h"

#include "window/canvas/drag-private.h"
#include "window/desk/design-drag.h"
#include "window/pictures/sticker-provider.h"

#define OUTSIDE_PX 12 /* past the edge: the hand that only scrolls stays nearer */

gboolean
sb_drag_is_outside (SbDrag *drag)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (drag->view)));
  double x, y;

  if (drag->mode != SB_DRAG_MOVE ||
      !gtk_widget_translate_coordinates (GTK_WIDGET (drag->view), window,
                                         drag->press.x + drag->offset.x,
                                         drag->press.y + drag->offset.y, &x, &y))
    return FALSE;
  return x < -OUTSIDE_PX || y < -OUTSIDE_PX || x > gtk_widget_get_width (window) + OUTSIDE_PX ||
         y > gtk_widget_get_height (window) + OUTSIDE_PX;
}

static GdkContentProvider *
offer (SbDrag *drag, SbDesign *design)
{
  g_autoptr (SbDesignDrag) carried =
      sb_design_drag_new (sb_pages_view_get_job (drag->view), design->id, drag->grabbed);
  GdkContentProvider *both[] = {gdk_content_provider_new_typed (SB_TYPE_DESIGN_DRAG, carried),
                                sb_sticker_provider_new (design)};

  return gdk_content_provider_new_union (both, G_N_ELEMENTS (both));
}

/* The piece as it was shown last, held in its middle; by now it lies out of sight, where widgets do
 * not draw themselves. */
static void
set_icon (GdkDrag *out, SbPieceView *view)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  int left, top, width, height;

  sb_piece_view_get_extents (view, &left, &top, &width, &height);
  GTK_WIDGET_GET_CLASS (view)->snapshot (GTK_WIDGET (view), snapshot);
  g_autoptr (GdkPaintable) icon =
      gtk_snapshot_free_to_paintable (snapshot, &GRAPHENE_SIZE_INIT ((float)width, (float)height));
  gtk_drag_icon_set_from_paintable (out, icon, -left, -top);
}

static void
finished_cb (GdkDrag *out)
{
  gdk_drag_drop_done (out, TRUE);
}

static void
cancel_cb (GdkDrag *out)
{
  gdk_drag_drop_done (out, FALSE);
}

void
sb_drag_go_out (SbDrag *drag)
{
  SbState *state = sb_job_get_settled_state (sb_pages_view_get_job (drag->view));
  const SbPiece *piece = sb_state_get_piece (state, drag->grabbed, NULL);
  GtkNative *native = gtk_widget_get_native (GTK_WIDGET (drag->view));
  GdkDevice *device =
      gtk_event_controller_get_current_event_device (GTK_EVENT_CONTROLLER (drag->gesture));

  if (!piece || !device)
    return;
  SbDesign *design = sb_state_get_design (state, piece->design_id);
  g_autoptr (GdkContentProvider) content = offer (drag, design);
  /* GTK keeps its own reference while the drag lasts. */
  g_autoptr (GdkDrag) out =
      gdk_drag_begin (gtk_native_get_surface (native), device, content, GDK_ACTION_COPY, 0, 0);
  if (!out)
    return;
  g_signal_connect (out, "dnd-finished", G_CALLBACK (finished_cb), NULL);
  g_signal_connect (out, "cancel", G_CALLBACK (cancel_cb), NULL);
  set_icon (out, sb_pages_view_find (drag->view, drag->grabbed));
}
