/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/canvas-private.h"

static void
append_item (GMenu *menu, const char *label, const char *action)
{
  g_menu_append (menu, label, action);
}

static void
append_section (GMenu *menu, GMenu *section)
{
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
  g_object_unref (section);
}

static void
append_submenu (GMenu *menu, const char *label, GMenu *submenu)
{
  g_menu_append_submenu (menu, label, G_MENU_MODEL (submenu));
  g_object_unref (submenu);
}

/* A submenu begins with its own entry, whose letter none of the others may have. */
static GMenu *
make_align_menu (void)
{
  GMenu *menu = g_menu_new (), *across = g_menu_new (), *down = g_menu_new (),
        *gaps = g_menu_new (), *rest = g_menu_new ();

  append_item (across, _ ("_Left Edges"), "pieces.align::left");
  append_item (across, _ ("_Centres"), "pieces.align::centre");
  append_item (across, _ ("_Right Edges"), "pieces.align::right");
  append_item (down, _ ("_Top Edges"), "pieces.align::top");
  append_item (down, _ ("_Middles"), "pieces.align::middle");
  append_item (down, _ ("_Bottom Edges"), "pieces.align::bottom");
  append_item (gaps, _ ("Equal _Gaps Across"), "pieces.distribute::across");
  append_item (gaps, _ ("Equal Gaps _Down"), "pieces.distribute::down");
  append_section (menu, across);
  append_section (menu, down);
  append_item (rest, _ ("Centre _on the Page"), "pieces.centre-on-page");
  append_item (rest, _ ("Raise to the To_p"), "pieces.raise");
  append_section (menu, gaps);
  append_section (menu, rest);
  return menu;
}

static GMenu *
make_turn_menu (void)
{
  GMenu *menu = g_menu_new ();

  append_item (menu, _ ("15° to the _Right"), "pieces.turn(15000)");
  append_item (menu, _ ("15° to the _Left"), "pieces.turn(-15000)");
  append_item (menu, _ ("_Quarter Turn to the Right"), "pieces.turn(90000)");
  append_item (menu, _ ("Quarter Turn to the Le_ft"), "pieces.turn(-90000)");
  append_item (menu, _ ("_Half Turn"), "pieces.turn(180000)");
  return menu;
}

static GMenu *
make_page_menu (guint n_pages)
{
  GMenu *menu = g_menu_new ();

  for (guint i = 0; i < n_pages; i++) {
    g_autofree char *label = g_strdup_printf (_ ("Page %u"), i + 1);
    g_autofree char *action = g_strdup_printf ("pieces.to-page(uint32 %u)", i);
    append_item (menu, label, action);
  }
  g_autofree char *action = g_strdup_printf ("pieces.to-page(uint32 %u)", n_pages);
  append_item (menu, _ ("_New Page"), action);
  return menu;
}

static GMenu *
make_outline_menu (void)
{
  GMenu *menu = g_menu_new ();

  append_item (menu, _ ("_Edit Outline"), "pieces.edit-outline");
  append_item (menu, _ ("_Undo Outline"), "pieces.undo-outline");
  return menu;
}

/* Few enough entries for a window of 700 px. */
static GMenu *
make_piece_menu (guint n_pages)
{
  GMenu *menu = g_menu_new (), *clip = g_menu_new (), *place = g_menu_new (), *view = g_menu_new ();

  append_item (clip, _ ("Cu_t"), "pieces.cut");
  append_item (clip, _ ("_Copy"), "pieces.copy");
  append_item (clip, _ ("_Paste"), "pieces.paste");
  append_item (clip, _ ("D_uplicate"), "pieces.duplicate");
  append_item (clip, _ ("Repeat in a Gri_d…"), "pieces.repeat-dialog");
  append_item (clip, _ ("_Delete"), "pieces.delete");
  append_submenu (place, _ ("_Turn"), make_turn_menu ());
  append_submenu (place, _ ("_Align"), make_align_menu ());
  append_submenu (place, _ ("To Pa_ge"), make_page_menu (n_pages));
  append_submenu (place, _ ("_Outline"), make_outline_menu ());
  append_item (place, _ ("P_in"), "pieces.pin");
  append_item (place, _ ("_Move Inside"), "pieces.move-inside");
  append_item (view, _ ("_Select All of This Design"), "pieces.select-same");
  append_item (view, _ ("_Zoom to Selection"), "pieces.zoom-to");
  append_item (view, _ ("Measu_re Distance"), "canvas.measure");
  append_section (menu, clip);
  append_section (menu, place);
  append_section (menu, view);
  return menu;
}

static GMenu *
make_page_area_menu (void)
{
  GMenu *menu = g_menu_new (), *clip = g_menu_new (), *view = g_menu_new ();

  append_item (clip, _ ("_Paste"), "pieces.paste");
  append_item (clip, _ ("Select _All"), "pieces.select-all");
  append_item (view, _ ("_Fit"), "canvas.fit");
  append_item (view, _ ("_True Size"), "canvas.true-size");
  append_item (view, _ ("Measure D_istance"), "canvas.measure");
  append_section (menu, clip);
  append_section (menu, view);
  return menu;
}

void
sb_canvas_popup_menu (SbCanvas *self, double x, double y)
{
  SbPagesView *pages = sb_canvas_get_pages_view (self);
  guint n = sb_selection_get_n_pieces (sb_pages_view_get_selection (pages));
  GtkPopover *popover = sb_canvas_get_menu (self);
  double canvas_x, canvas_y;

  if (!sb_pages_view_get_job (pages))
    return;
  g_autoptr (GMenu) menu =
      n > 0 ? make_piece_menu (sb_pages_view_get_layout (pages)->n_pages) : make_page_area_menu ();
  gtk_popover_menu_set_menu_model (GTK_POPOVER_MENU (popover), G_MENU_MODEL (menu));
  gtk_widget_translate_coordinates (GTK_WIDGET (pages), GTK_WIDGET (self), x, y, &canvas_x,
                                    &canvas_y);
  gtk_popover_set_pointing_to (popover, &(GdkRectangle){(int)canvas_x, (int)canvas_y, 1, 1});
  gtk_popover_popup (popover);
}
