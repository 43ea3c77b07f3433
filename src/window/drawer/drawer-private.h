/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What drawer.c, drawer-actions.c and drawer-drag.c share. */
#pragma once

#include "window/drawer/drawer.h"

G_BEGIN_DECLS

struct _SbDrawer {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box;
  GtkWidget *search_entry;
  GtkStack *stack;
  GtkListBox *list;
  GMenuModel *design_menu;

  /* owned */
  SbDesk *desk;
  GHashTable *rows; /* design id -> SbDesignRow, borrowed from the list */
  GSimpleActionGroup *actions;
  char *sort;
  GtkWidget *menu; /* the context menu, a child of ours */
  SbState *shown;  /* what the rows were last made from */

  gboolean selecting;   /* the row is selected by the program */
  GtkListBoxRow *under; /* the row a design is dragged over, or NULL */
};

enum {
  SB_DRAWER_FILES_DROPPED,
  SB_DRAWER_TEXTURE_DROPPED,
  SB_DRAWER_REPLACE,
  SB_DRAWER_PLACE,
  SB_DRAWER_REMOVED,
  SB_DRAWER_N_SIGNALS,
};
extern guint sb_drawer_signals[SB_DRAWER_N_SIGNALS];

/* A design's place in the job's own order. */
guint sb_drawer_get_own_index (SbDrawer *self, SbDesign *design);

/* drawer-actions.c. The edit's name is a translated format that takes the design's name. */
void sb_drawer_edit (SbDrawer *self, SbState *next, const char *format, const char *design_name);
void sb_drawer_add_actions (SbDrawer *self);
void sb_drawer_add_keys (SbDrawer *self);
void sb_drawer_show_menu (SbDrawer *self, GtkWidget *row, double x, double y);

/* drawer-drag.c */
void sb_drawer_add_row_controllers (SbDrawer *self, GtkWidget *row);
void sb_drawer_add_drop_targets (SbDrawer *self);

G_END_DECLS
