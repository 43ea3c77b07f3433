/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "window/canvas/legend.h"
#include "window/canvas/page-paint.h"

/* A pattern's sample beside its words. */
#define SB_TYPE_SAMPLE (sb_sample_get_type ())
G_DECLARE_FINAL_TYPE (SbSample, sb_sample, SB, SAMPLE, GtkWidget)

struct _SbSample {
  GtkWidget parent_instance;
  SbOverlay which;
};

G_DEFINE_FINAL_TYPE (SbSample, sb_sample, GTK_TYPE_WIDGET)

static void
sb_sample_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  graphene_rect_t rect = GRAPHENE_RECT_INIT (0, 0, (float)gtk_widget_get_width (widget),
                                             (float)gtk_widget_get_height (widget));

  sb_page_paint_sample (widget, snapshot, SB_SAMPLE (widget)->which, &rect);
}

static void
sb_sample_class_init (SbSampleClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = sb_sample_snapshot;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "sample");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
sb_sample_init (SbSample *self)
{
  gtk_widget_set_size_request (GTK_WIDGET (self), 28, 14);
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

#define N_ROWS 3

static const SbOverlay rows[N_ROWS] = {SB_OVERLAY_STRIP, SB_OVERLAY_BORDER, SB_OVERLAY_WASTE};

struct _SbLegend {
  GtkWidget parent_instance;

  GtkWidget *boxes[N_ROWS];
  GtkWidget *labels[N_ROWS];
};

G_DEFINE_FINAL_TYPE (SbLegend, sb_legend, GTK_TYPE_WIDGET)

static void
sb_legend_dispose (GObject *object)
{
  SbLegend *self = SB_LEGEND (object);

  for (int i = 0; i < N_ROWS; i++)
    g_clear_pointer (&self->boxes[i], gtk_widget_unparent);
  G_OBJECT_CLASS (sb_legend_parent_class)->dispose (object);
}

static void
sb_legend_class_init (SbLegendClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_legend_dispose;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "legend");
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
sb_legend_init (SbLegend *self)
{
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))),
                              18);
  for (int i = 0; i < N_ROWS; i++) {
    SbSample *sample = g_object_new (SB_TYPE_SAMPLE, NULL);

    sample->which = rows[i];
    self->boxes[i] = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
    self->labels[i] = gtk_label_new (NULL);
    gtk_label_set_ellipsize (GTK_LABEL (self->labels[i]), PANGO_ELLIPSIZE_END);
    gtk_box_append (GTK_BOX (self->boxes[i]), GTK_WIDGET (sample));
    gtk_box_append (GTK_BOX (self->boxes[i]), self->labels[i]);
    gtk_widget_set_parent (self->boxes[i], GTK_WIDGET (self));
  }
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sb_legend_new (void)
{
  return g_object_new (SB_TYPE_LEGEND, NULL);
}

/* "Border growth 3.0 mm" while all designs have the same. */
static char *
describe_border (const SbState *state, SbUnit unit)
{
  double width = -1;

  for (guint i = 0; i < state->designs->len; i++) {
    const SbDesign *design = state->designs->pdata[i];
    if (width >= 0 && width != design->border.width_mm)
      return g_strdup (_ ("Border growth"));
    width = design->border.width_mm;
  }
  if (width < 0)
    return g_strdup (_ ("Border growth"));
  g_autofree char *length = sb_length_format (width, unit);
  return g_strdup_printf (_ ("Border growth %s"), length);
}

static char *
describe (SbPagesView *view, const SbState *state, SbOverlay which)
{
  SbUnit unit = sb_pages_view_get_unit (view);

  switch (which) {
  case SB_OVERLAY_STRIP:
    /* Inside a sheet or card it is its own rim that stays free. */
    return g_strdup (state->view != NULL ? _ ("Rim to keep clear") : _ ("Non-printable strip"));
  case SB_OVERLAY_BORDER:
    return describe_border (state, unit);
  case SB_OVERLAY_WASTE:
  default:
    return g_strdup (_ ("Waste: paper under no sticker"));
  }
}

void
sb_legend_update (SbLegend *self, SbPagesView *view)
{
  SbJob *job = sb_pages_view_get_job (view);
  SbOverlay overlay = job ? sb_pages_view_get_overlay (view) : 0;

  gtk_widget_set_visible (GTK_WIDGET (self), overlay != 0);
  for (int i = 0; i < N_ROWS; i++) {
    gboolean on = (overlay & rows[i]) != 0;
    gtk_widget_set_visible (self->boxes[i], on);
    if (!on)
      continue;
    g_autofree char *text = describe (view, sb_job_get_state (job), rows[i]);
    if (g_strcmp0 (text, gtk_label_get_label (GTK_LABEL (self->labels[i]))) != 0)
      gtk_label_set_label (GTK_LABEL (self->labels[i]), text);
  }
}
