/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/desk/text-pieces.h"
#include "window/details/details-text.h"
#include "window/parts/words.h"

#define WORDS_HEIGHT_PX 64

struct _SbDetailsText {
  GtkWidget parent_instance;

  GtkTextView *words;
  GtkFontButton *font_button;
  GtkSpinButton *size_spin;
  GtkDropDown *align_drop;
  GtkColorButton *colour_button;
  GtkEntry *language_entry;
  GtkLabel *told_label;

  SbDesk *desk;    /* owned */
  guint design_id; /* that is shown, or 0 */

  gboolean updating; /* controls are set by the program */
};

G_DEFINE_FINAL_TYPE (SbDetailsText, sb_details_text, GTK_TYPE_WIDGET)

static char *
dup_words (SbDetailsText *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->words);
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static void
replace (char **place, char *text)
{
  g_free (*place);
  *place = text;
}

static SbLettering *
read_controls (SbDetailsText *self)
{
  g_autofree char *words = dup_words (self);
  SbLettering *lettering = sb_lettering_new (words);
  GdkRGBA colour;

  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (self->colour_button), &colour);
  lettering->rgb = (guint32)(colour.red * 255 + 0.5f) << 16 |
                   (guint32)(colour.green * 255 + 0.5f) << 8 | (guint32)(colour.blue * 255 + 0.5f);
  replace (&lettering->font, gtk_font_chooser_get_font (GTK_FONT_CHOOSER (self->font_button)));
  replace (&lettering->language,
           g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->language_entry))));
  lettering->size_pt = gtk_spin_button_get_value (self->size_spin);
  lettering->align = (SbTextAlign)gtk_drop_down_get_selected (self->align_drop);
  sb_lettering_tidy (lettering);
  return lettering;
}

static void
changed_cb (SbDetailsText *self)
{
  g_autoptr (GError) error = NULL;

  if (self->updating || !self->design_id)
    return;
  g_autoptr (SbLettering) lettering = read_controls (self);
  gboolean written = sb_text_pieces_rewrite (self->desk, self->design_id, lettering, &error);
  gboolean small = lettering->size_pt < SB_LETTERING_READABLE_PT;
  gtk_label_set_label (self->told_label, !written && error ? error->message
                                         : small
                                             ? _ ("Letters under 6 pt are hard to read in print")
                                             : "");
  gtk_widget_set_visible (GTK_WIDGET (self->told_label), !written || small);
}

static void
set_words (SbDetailsText *self, const char *string)
{
  g_autofree char *before = dup_words (self);

  if (!g_str_equal (before, string))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->words), string, -1);
}

void
sb_details_text_show (SbDetailsText *self, SbDesign *design)
{
  const SbLettering *lettering = design ? design->lettering : NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), lettering != NULL);
  if (!lettering) {
    self->design_id = 0;
    return;
  }
  GdkRGBA colour = {(float)(lettering->rgb >> 16 & 0xff) / 255,
                    (float)(lettering->rgb >> 8 & 0xff) / 255, (float)(lettering->rgb & 0xff) / 255,
                    1};

  self->updating = TRUE;
  if (self->design_id != design->id)
    gtk_widget_set_visible (GTK_WIDGET (self->told_label), FALSE);
  self->design_id = design->id;
  set_words (self, lettering->string);
  gtk_font_chooser_set_font (GTK_FONT_CHOOSER (self->font_button), lettering->font);
  gtk_spin_button_set_value (self->size_spin, lettering->size_pt);
  gtk_drop_down_set_selected (self->align_drop, lettering->align);
  gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (self->colour_button), &colour);
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->language_entry)),
                    lettering->language))
    gtk_editable_set_text (GTK_EDITABLE (self->language_entry), lettering->language);
  self->updating = FALSE;
}

/* Building */

static void
add_row (GtkGrid *grid, int row, const char *text, GtkWidget *control)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_halign (control, GTK_ALIGN_END);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_RELATION_LABELLED_BY,
                                  label, NULL, -1);
  gtk_grid_attach (grid, label, 0, row, 1, 1);
  gtk_grid_attach (grid, control, 1, row, 1, 1);
}

static GtkWidget *
make_words (SbDetailsText *self)
{
  GtkWidget *frame = gtk_scrolled_window_new ();

  self->words = GTK_TEXT_VIEW (gtk_text_view_new ());
  gtk_text_view_set_accepts_tab (self->words, FALSE); /* Tab goes on to the next control */
  gtk_text_view_set_wrap_mode (self->words, GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_left_margin (self->words, 6);
  gtk_text_view_set_right_margin (self->words, 6);
  gtk_text_view_set_top_margin (self->words, 6);
  gtk_text_view_set_bottom_margin (self->words, 6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->words), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Words"), -1);
  g_signal_connect_swapped (gtk_text_view_get_buffer (self->words), "changed",
                            G_CALLBACK (changed_cb), self);
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (frame), TRUE);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (frame), WORDS_HEIGHT_PX);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (frame), GTK_WIDGET (self->words));
  return frame;
}

static void
make_controls (SbDetailsText *self, GtkGrid *grid)
{
  const char *const aligns[] = {_ ("Start"), _ ("Middle"), _ ("End"), NULL};

  self->font_button = GTK_FONT_BUTTON (gtk_font_button_new ());
  gtk_font_chooser_set_level (GTK_FONT_CHOOSER (self->font_button),
                              GTK_FONT_CHOOSER_LEVEL_FAMILY | GTK_FONT_CHOOSER_LEVEL_STYLE);
  self->size_spin = GTK_SPIN_BUTTON (
      gtk_spin_button_new_with_range (SB_LETTERING_LEAST_PT, SB_LETTERING_MOST_PT, 1));
  gtk_spin_button_set_digits (self->size_spin, 1);
  self->align_drop = GTK_DROP_DOWN (gtk_drop_down_new_from_strings (aligns));
  self->colour_button = GTK_COLOR_BUTTON (gtk_color_button_new ());
  self->language_entry = GTK_ENTRY (gtk_entry_new ());
  gtk_editable_set_width_chars (GTK_EDITABLE (self->language_entry), 6);
  gtk_widget_set_tooltip_text (
      GTK_WIDGET (self->language_entry),
      _ ("A language code such as tr or ar, where letters or their joining "
         "depend on it"));
  add_row (grid, 0, _ ("Font"), GTK_WIDGET (self->font_button));
  add_row (grid, 1, _ ("Size, pt"), GTK_WIDGET (self->size_spin));
  add_row (grid, 2, _ ("Lines begin at"), GTK_WIDGET (self->align_drop));
  add_row (grid, 3, _ ("Colour"), GTK_WIDGET (self->colour_button));
  add_row (grid, 4, _ ("Language"), GTK_WIDGET (self->language_entry));
  g_signal_connect_swapped (self->font_button, "font-set", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->size_spin, "value-changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->align_drop, "notify::selected", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->colour_button, "color-set", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->language_entry, "activate", G_CALLBACK (changed_cb), self);
}

static void
sb_details_text_dispose (GObject *object)
{
  SbDetailsText *self = SB_DETAILS_TEXT (object);
  GtkWidget *child;

  self->updating = TRUE;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_details_text_parent_class)->dispose (object);
}

static void
sb_details_text_class_init (SbDetailsTextClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_details_text_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sb_details_text_init (SbDetailsText *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *grid = gtk_grid_new ();

  self->updating = TRUE;
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  make_controls (self, GTK_GRID (grid));
  self->told_label = GTK_LABEL (sb_words_new (NULL, "caption"));
  gtk_widget_set_visible (GTK_WIDGET (self->told_label), FALSE);
  gtk_box_append (GTK_BOX (box), make_words (self));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->told_label));
  gtk_box_append (GTK_BOX (box), grid);
  gtk_widget_set_parent (box, GTK_WIDGET (self));
  self->updating = FALSE;
}

void
sb_details_text_set_desk (SbDetailsText *self, SbDesk *desk)
{
  g_return_if_fail (SB_IS_DETAILS_TEXT (self));
  self->desk = g_object_ref (desk);
}
