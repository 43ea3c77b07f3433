/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/parts/words.h"

GtkWidget *
sb_words_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class)
    gtk_widget_add_css_class (label, css_class);
  return label;
}
