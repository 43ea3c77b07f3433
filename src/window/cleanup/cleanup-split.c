/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/design-split.h"
#include "window/cleanup/cleanup-split-run.h"
#include "window/cleanup/cleanup-split.h"
#include "window/cleanup/cleanup-view.h"
#include "window/parts/dialog-frame.h"
#include "window/parts/words.h"

#define SIDE_WIDTH 250

/* What a click or a line in the picture does. */
enum {
  LEAVE_OUT,
  JOIN,
  PART,
  N_TOOLS,
};

struct _SbCleanupSplit {
  GtkWindow parent_instance;

  SbDesk *desk;
  SbDesign *scan;
  GCancellable *cancellable; /* of the search */
  GPtrArray *splits;         /* SbSplit: as found, then as corrected; the last one counts */
  GArray *marks;             /* SbCleanupMark of its paintings; crossed ones are left out */
  guint tool;
  int joining; /* the first of two paintings, or -1 */

  SbCleanupView *view;
  GtkWidget *told, *list, *apply, *undo, *upright, *keep;
  gboolean updating;
};

#define SB_TYPE_CLEANUP_SPLIT (sb_cleanup_split_get_type ())
G_DECLARE_FINAL_TYPE (SbCleanupSplit, sb_cleanup_split, SB, CLEANUP_SPLIT, GtkWindow)
G_DEFINE_FINAL_TYPE (SbCleanupSplit, sb_cleanup_split, GTK_TYPE_WINDOW)

static SbSplit *
get_split (SbCleanupSplit *self)
{
  return self->splits->len > 0 ? self->splits->pdata[self->splits->len - 1] : NULL;
}

static SbCleanupMark *
get_mark (SbCleanupSplit *self, guint i)
{
  return &g_array_index (self->marks, SbCleanupMark, i);
}

/* What is found */

static void
tell (SbCleanupSplit *self)
{
  static const char *const hints[N_TOOLS] = {
      N_ ("Click a painting to leave it out."),
      N_ ("Click two paintings that are one."),
      N_ ("Draw around a part that is a painting of its own."),
  };
  guint n = self->marks->len, kept = 0;
  for (guint i = 0; i < n; i++)
    kept += !get_mark (self, i)->crossed;
  g_autofree char *found =
      g_strdup_printf (ngettext ("%u painting was found.", "%u paintings were found.", n), n);
  g_autofree char *told = g_strdup_printf (
      "%s %s", found, self->joining >= 0 ? _ ("Now click the other one.") : _ (hints[self->tool]));
  g_autofree char *label =
      g_strdup_printf (ngettext ("_Make %u Design", "_Make %u Designs", kept), kept);

  gtk_label_set_label (GTK_LABEL (self->told), told);
  gtk_button_set_label (GTK_BUTTON (self->apply), label);
  gtk_widget_set_sensitive (self->apply, kept > 0);
  gtk_widget_set_sensitive (self->undo, self->splits->len > 1);
  sb_cleanup_view_set_marks (self->view, (gpointer)self->marks->data, n);
}

static void
check_cb (SbCleanupSplit *self, GtkCheckButton *check)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "sb-index"));

  if (self->updating)
    return;
  get_mark (self, i)->crossed = !gtk_check_button_get_active (check);
  tell (self);
}

/* "3:  24.1 × 30.2 mm" */
static void
add_line (SbCleanupSplit *self, guint i)
{
  SbUnit unit = sb_desk_get_unit (self->desk);
  SbSplitPart part = sb_split_get_part (get_split (self), i);
  double mm_per_px = 1 / sb_design_get_px_per_mm (self->scan);
  g_autofree char *size = sb_length_format_size ((part.x1 - part.x0) * mm_per_px,
                                                 (part.y1 - part.y0) * mm_per_px, unit);
  g_autofree char *text = g_strdup_printf ("%u:  %s", i + 1, size);
  GtkWidget *check = gtk_check_button_new_with_label (text);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), !get_mark (self, i)->crossed);
  g_object_set_data (G_OBJECT (check), "sb-index", GUINT_TO_POINTER (i));
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (check_cb), self);
  gtk_box_append (GTK_BOX (self->list), check);
}

/* Whether the middle of a painting was left out before a correction. */
static gboolean
was_left_out (const GArray *before, const SbCleanupMark *mark)
{
  float x = (mark->x0 + mark->x1) / 2, y = (mark->y0 + mark->y1) / 2;

  for (guint i = 0; i < before->len; i++) {
    const SbCleanupMark *old = &g_array_index (before, SbCleanupMark, i);
    if (old->crossed && x >= old->x0 && x <= old->x1 && y >= old->y0 && y <= old->y1)
      return TRUE;
  }
  return FALSE;
}

static void
update (SbCleanupSplit *self)
{
  g_autoptr (GArray) before = self->marks;
  SbSplit *split = get_split (self);
  float width = (float)sb_picture_get_width (self->scan->picture);
  GtkWidget *line;

  self->marks = g_array_new (FALSE, FALSE, sizeof (SbCleanupMark));
  self->joining = -1;
  self->updating = TRUE;
  while ((line = gtk_widget_get_first_child (self->list)))
    gtk_box_remove (GTK_BOX (self->list), line);
  for (guint i = 0; i < sb_split_get_n_parts (split); i++) {
    SbSplitPart part = sb_split_get_part (split, i);
    SbCleanupMark mark = {.x0 = (float)part.x0 / width,
                          .y0 = (float)part.y0 / width,
                          .x1 = (float)part.x1 / width,
                          .y1 = (float)part.y1 / width,
                          .number = i + 1};
    mark.crossed = was_left_out (before, &mark);
    g_array_append_val (self->marks, mark);
    add_line (self, i);
  }
  self->updating = FALSE;
  tell (self);
}

/* Corrections */

static void
correct (SbCleanupSplit *self, SbSplit *split)
{
  if (split == get_split (self)) {
    sb_split_unref (split);
    return;
  }
  g_ptr_array_add (self->splits, split);
  update (self);
}

static void
join (SbCleanupSplit *self, int part)
{
  guint parts[2] = {(guint)self->joining, (guint)part};

  if (self->joining < 0) {
    self->joining = part;
    get_mark (self, (guint)part)->chosen = TRUE;
  } else {
    gboolean other = part != self->joining;
    get_mark (self, parts[0])->chosen = FALSE;
    self->joining = -1;
    if (other)
      correct (self, sb_split_join (get_split (self), parts, 2));
  }
  tell (self);
}

static void
set_line (SbCleanupSplit *self, guint i, gboolean made)
{
  GtkWidget *line = gtk_widget_get_first_child (self->list);

  for (; i > 0 && line; i--)
    line = gtk_widget_get_next_sibling (line);
  if (line)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (line), made);
}

static void
point_cb (SbCleanupSplit *self, double x, double y)
{
  double width = sb_picture_get_width (self->scan->picture);
  int part = get_split (self) ? sb_split_find_part (get_split (self), x * width, y * width) : -1;

  if (part < 0)
    return;
  if (self->tool == JOIN)
    join (self, part);
  else
    set_line (self, (guint)part, get_mark (self, (guint)part)->crossed);
}

/* The lasso parts whichever painting it cuts through. */
static void
stroke_cb (SbCleanupSplit *self, const float *points, guint n)
{
  double width = sb_picture_get_width (self->scan->picture);
  SbSplit *split = get_split (self);
  g_autofree SbPoint *lasso = g_new (SbPoint, n);

  if (!split || n < 3)
    return;
  for (guint i = 0; i < n; i++)
    lasso[i] = (SbPoint){points[2 * i] * width, points[2 * i + 1] * width};
  for (guint i = 0; i < sb_split_get_n_parts (split); i++) {
    SbSplit *parted = sb_split_part_along (split, i, lasso, n);
    gboolean other = parted != split;
    correct (self, parted);
    if (other)
      return;
  }
}

static void
undo_cb (SbCleanupSplit *self)
{
  if (self->splits->len < 2)
    return;
  g_ptr_array_remove_index (self->splits, self->splits->len - 1);
  update (self);
}

static void
tool_cb (SbCleanupSplit *self, GtkToggleButton *button)
{
  static const GdkRGBA lasso = {0.06f, 0.44f, 0.4f, 1};

  if (!gtk_toggle_button_get_active (button))
    return;
  self->tool = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "sb-index"));
  if (self->joining >= 0)
    get_mark (self, (guint)self->joining)->chosen = FALSE;
  self->joining = -1;
  sb_cleanup_view_set_hand (self->view,
                            self->tool == PART ? SB_CLEANUP_HAND_LASSO : SB_CLEANUP_HAND_POINTS);
  sb_cleanup_view_set_brush (self->view, 0, &lasso);
  if (get_split (self))
    tell (self);
}

/* Finding them, at the scan's own pixels */

static void
find_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  SbSplit *split = sb_design_find_paintings (data, cancellable, &error);

  if (split)
    g_task_return_pointer (task, split, (GDestroyNotify)sb_split_unref);
  else
    g_task_return_error (task, error);
}

static void
found_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbCleanupSplit *self = SB_CLEANUP_SPLIT (source);
  g_autoptr (GError) error = NULL;
  SbSplit *split = g_task_propagate_pointer (G_TASK (result), &error);

  if (split && !g_cancellable_is_cancelled (self->cancellable)) {
    g_ptr_array_add (self->splits, split);
    update (self);
  } else if (split) {
    sb_split_unref (split);
  } else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    gtk_label_set_label (GTK_LABEL (self->told), error->message);
  }
}

/* Making the designs */

static void
apply_cb (SbCleanupSplit *self)
{
  g_autoptr (SbSplit) split = sb_split_ref (get_split (self));

  for (guint i = self->marks->len; i > 0; i--) {
    if (!get_mark (self, i - 1)->crossed)
      continue;
    SbSplit *fewer = sb_split_drop (split, i - 1);
    sb_split_unref (split);
    split = fewer;
  }
  sb_cleanup_split_run (self->desk, self->scan, split,
                        gtk_check_button_get_active (GTK_CHECK_BUTTON (self->upright)),
                        gtk_check_button_get_active (GTK_CHECK_BUTTON (self->keep)));
  gtk_window_destroy (GTK_WINDOW (self));
}

/* Building */

static GtkWidget *
new_tools (SbCleanupSplit *self)
{
  const char *names[N_TOOLS] = {_ ("_Leave Out"), _ ("_Join"), _ ("_Part")};
  GtkWidget *tools = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *first = NULL;

  gtk_widget_add_css_class (tools, "linked");
  for (guint i = 0; i < N_TOOLS; i++) {
    GtkWidget *button = gtk_toggle_button_new_with_mnemonic (names[i]);
    g_object_set_data (G_OBJECT (button), "sb-index", GUINT_TO_POINTER (i));
    if (first)
      gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (first));
    else
      first = button;
    g_signal_connect_swapped (button, "toggled", G_CALLBACK (tool_cb), self);
    gtk_box_append (GTK_BOX (tools), button);
  }
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (first), TRUE);
  return tools;
}

static GtkWidget *
new_check (const char *mnemonic, const char *tip)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (mnemonic);
  GtkWidget *label = gtk_widget_get_last_child (check);

  if (GTK_IS_LABEL (label))
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_tooltip_text (check, tip);
  return check;
}

static GtkWidget *
new_side (SbCleanupSplit *self)
{
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), self->list);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_widget_set_size_request (side, SIDE_WIDTH, -1);
  gtk_widget_add_css_class (side, "split-side");
  self->upright = new_check (_ ("Set _upright what lies askew"),
                             _ ("Paintings that lie turned on the scan are straightened"));
  self->keep = new_check (_ ("_Keep the scan as a design too"),
                          _ ("Else it leaves the drawer; its picture stays in the job"));
  gtk_box_append (GTK_BOX (side), scrolled);
  gtk_box_append (GTK_BOX (side), self->upright);
  gtk_box_append (GTK_BOX (side), self->keep);
  return side;
}

static void
sb_cleanup_split_dispose (GObject *object)
{
  SbCleanupSplit *self = SB_CLEANUP_SPLIT (object);

  g_cancellable_cancel (self->cancellable);
  G_OBJECT_CLASS (sb_cleanup_split_parent_class)->dispose (object);
}

static void
sb_cleanup_split_finalize (GObject *object)
{
  SbCleanupSplit *self = SB_CLEANUP_SPLIT (object);

  sb_design_unref (self->scan);
  g_object_unref (self->desk);
  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->splits);
  g_array_unref (self->marks);
  G_OBJECT_CLASS (sb_cleanup_split_parent_class)->finalize (object);
}

static void
sb_cleanup_split_class_init (SbCleanupSplitClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_cleanup_split_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_cleanup_split_finalize;
}

static void
sb_cleanup_split_init (SbCleanupSplit *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *middle = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->cancellable = g_cancellable_new ();
  self->splits = g_ptr_array_new_with_free_func ((GDestroyNotify)sb_split_unref);
  self->marks = g_array_new (FALSE, FALSE, sizeof (SbCleanupMark));
  self->joining = -1;
  self->view = SB_CLEANUP_VIEW (sb_cleanup_view_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->view), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self->view), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Paintings on the scan"), -1);
  g_signal_connect_swapped (self->view, "point", G_CALLBACK (point_cb), self);
  g_signal_connect_swapped (self->view, "stroke", G_CALLBACK (stroke_cb), self);
  self->told = sb_words_new (_ ("Looking for paintings…"), NULL);
  gtk_widget_set_hexpand (self->told, TRUE);
  self->undo = gtk_button_new_with_mnemonic (_ ("_Undo"));
  gtk_widget_set_sensitive (self->undo, FALSE);
  g_signal_connect_swapped (self->undo, "clicked", G_CALLBACK (undo_cb), self);
  self->apply = gtk_button_new_with_mnemonic (_ ("_Make Designs"));
  gtk_widget_set_sensitive (self->apply, FALSE);
  g_signal_connect_swapped (self->apply, "clicked", G_CALLBACK (apply_cb), self);
  gtk_widget_add_css_class (bar, "cleanup-bar");
  gtk_box_append (GTK_BOX (bar), self->told);
  gtk_box_append (GTK_BOX (bar), new_tools (self));
  gtk_box_append (GTK_BOX (bar), self->undo);
  gtk_box_append (GTK_BOX (middle), GTK_WIDGET (self->view));
  gtk_box_append (GTK_BOX (middle), new_side (self));
  gtk_box_append (GTK_BOX (box), bar);
  gtk_box_append (GTK_BOX (box), middle);
  gtk_window_set_child (GTK_WINDOW (self), box);
  gtk_window_set_default_size (GTK_WINDOW (self), 980, 720);
}

void
sb_cleanup_split_open (GtkWindow *parent, SbCleanupSession *session)
{
  SbPixels *pixels = sb_cleanup_session_get_after (session, 0);

  if (!pixels)
    return;
  SbCleanupSplit *self = g_object_new (SB_TYPE_CLEANUP_SPLIT, NULL);
  self->desk = g_object_ref (sb_cleanup_session_get_desk (session));
  self->scan = sb_design_ref (sb_cleanup_session_get_design (session));
  sb_dialog_frame (GTK_WINDOW (self), parent, _ ("Split the Scan"), self->apply);
  sb_cleanup_view_set_size (self->view, sb_picture_get_width (self->scan->picture),
                            sb_picture_get_height (self->scan->picture));
  sb_cleanup_view_set_pixels (self->view, pixels, pixels);
  g_autoptr (GTask) task = g_task_new (self, self->cancellable, found_cb, NULL);
  g_task_set_task_data (task, sb_design_ref (self->scan), (GDestroyNotify)sb_design_unref);
  g_task_run_in_thread (task, find_in_thread);
  gtk_window_present (GTK_WINDOW (self));
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}
