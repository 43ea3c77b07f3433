/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "job/edit.h"
#include "window/drawer/design-row.h"
#include "window/parts/wheel.h"

#define THUMBNAIL_PX 60

struct _SbDesignRow {
  GtkListBoxRow parent_instance;

  /* template children */
  GtkImage *picture;
  GtkLabel *name_label;
  GtkImage *finding_image;
  GtkLabel *badge_label;
  GtkLabel *size_label;
  GtkLabel *placed_label;
  GtkWidget *wanted_spin;
  GtkAdjustment *wanted_adjustment;

  /* owned */
  SbDesk *desk;
  SbDesign *design;

  gboolean updating;
};

G_DEFINE_FINAL_TYPE (SbDesignRow, sb_design_row, GTK_TYPE_LIST_BOX_ROW)

static void
wanted_changed_cb (SbDesignRow *self)
{
  if (self->updating)
    return;
  SbDesign *design = sb_design_copy (self->design);
  g_autofree char *name =
      g_strdup_printf (design->freebie ? _ ("At Most of %s") : _ ("Wanted of %s"), design->name);
  g_autofree char *key = g_strdup_printf ("wanted-%u", design->id);

  design->wanted = (int)gtk_adjustment_get_value (self->wanted_adjustment);
  sb_job_edit (sb_desk_get_job (self->desk),
               sb_edit_replace_design (sb_desk_get_settled (self->desk), design), name, key);
}

/* "3 of 4 placed" */
static void
update_counts (SbDesignRow *self)
{
  SbDesign *design = self->design;
  int placed = sb_desk_count_placed (self->desk, design->id);
  g_autofree char *text = NULL;
  gboolean missing = !design->freebie && placed < design->wanted;

  if (design->freebie)
    text = g_strdup_printf (_ ("%d placed"), placed);
  else
    text = g_strdup_printf (_ ("%d of %d placed"), placed, design->wanted);
  gtk_label_set_label (self->placed_label, text);
  if (missing)
    gtk_widget_add_css_class (GTK_WIDGET (self->placed_label), "warning-text");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->placed_label), "warning-text");

  self->updating = TRUE;
  gtk_adjustment_set_value (self->wanted_adjustment, design->wanted);
  self->updating = FALSE;
  const char *what = design->freebie ? _ ("At most (0: as many as fit)") : _ ("Copies wanted");
  gtk_widget_set_tooltip_text (self->wanted_spin, what);
  g_autofree char *told = g_strdup_printf ("%s, %s", design->name, what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->wanted_spin), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  told, -1);
}

static void
set_class (GtkLabel *label, const char *name, gboolean set)
{
  if (set)
    gtk_widget_add_css_class (GTK_WIDGET (label), name);
  else
    gtk_widget_remove_css_class (GTK_WIDGET (label), name);
}

static void
update_badge (SbDesignRow *self)
{
  SbDesign *design = self->design;
  int dpi = sb_picture_get_dpi_at (design->picture, design->width_mm, design->height_mm);
  g_autofree char *text = NULL;
  gboolean coarse = sb_design_is_coarse (design);
  const char *tip = sb_design_get_steps (design) > 0 ? _ ("Hard edges: each pixel shows")
                                                     : _ ("Enough pixels for this size");

  if (dpi == 0) {
    text = g_strdup (_ ("vector"));
    tip = _ ("A vector drawing is sharp at any size");
  } else if (coarse) {
    text = g_strdup_printf (_ ("▲ %d dpi"), dpi);
    tip = dpi < SB_DPI_POOR ? _ ("Too few pixels for this size: it will look soft")
                            : _ ("A little few pixels for this size");
  } else {
    text = g_strdup_printf (_ ("%d dpi"), dpi);
  }
  gtk_label_set_label (self->badge_label, text);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->badge_label), tip);
  set_class (self->badge_label, "caution", coarse);
}

/* The worst finding on any of the design's pieces, beside resolution, which has its badge. */
void
sb_design_row_update_finding (SbDesignRow *self)
{
  GPtrArray *findings = sb_checker_get_findings (sb_desk_get_checker (self->desk));
  SbState *state = sb_desk_get_state (self->desk);
  const SbFinding *worst = NULL;

  for (guint i = 0; i < findings->len && !worst; i++) {
    const SbFinding *finding = findings->pdata[i];
    const SbPiece *piece = sb_state_get_piece (state, finding->piece_id, NULL);
    if (piece && piece->design_id == self->design->id && finding->rule != SB_RULE_RESOLUTION)
      worst = finding;
  }
  gtk_widget_set_visible (GTK_WIDGET (self->finding_image), worst != NULL);
  if (!worst)
    return;
  gtk_image_set_from_icon_name (self->finding_image,
                                worst->severity == SB_SEVERITY_STOP      ? "sb-stop-symbolic"
                                : worst->severity == SB_SEVERITY_CAUTION ? "sb-caution-symbolic"
                                                                         : "sb-note-symbolic");
  gtk_widget_set_css_classes (GTK_WIDGET (self->finding_image),
                              (const char *[]){worst->severity == SB_SEVERITY_STOP ? "stop-image"
                                               : worst->severity == SB_SEVERITY_CAUTION
                                                   ? "caution-image"
                                                   : "note-image",
                                               NULL});
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->finding_image), worst->message);
}

void
sb_design_row_update_picture (SbDesignRow *self)
{
  g_autoptr (GdkPaintable) paintable =
      sb_art_store_get_thumbnail (sb_desk_get_art (self->desk), self->design, THUMBNAIL_PX,
                                  gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  gtk_image_set_from_paintable (self->picture, paintable);
}

static void
sb_design_row_dispose (GObject *object)
{
  SbDesignRow *self = SB_DESIGN_ROW (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), SB_TYPE_DESIGN_ROW);
  g_clear_pointer (&self->design, sb_design_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (sb_design_row_parent_class)->dispose (object);
}

static void
sb_design_row_class_init (SbDesignRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sb_design_row_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/stickleback/Stickleback/design-row.ui");
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, picture);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, name_label);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, finding_image);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, badge_label);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, size_label);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, placed_label);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, wanted_spin);
  gtk_widget_class_bind_template_child (widget_class, SbDesignRow, wanted_adjustment);
  gtk_widget_class_bind_template_callback (widget_class, wanted_changed_cb);
}

static void
sb_design_row_init (SbDesignRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sb_wheel_pass_on (self->wanted_spin);
}

GtkWidget *
sb_design_row_new (SbDesk *desk, SbDesign *design)
{
  SbDesignRow *self = g_object_new (SB_TYPE_DESIGN_ROW, NULL);

  self->desk = g_object_ref (desk);
  sb_design_row_update (self, design);
  return GTK_WIDGET (self);
}

guint
sb_design_row_get_design_id (SbDesignRow *self)
{
  return self->design->id;
}

SbDesign *
sb_design_row_get_design (SbDesignRow *self)
{
  return self->design;
}

void
sb_design_row_update (SbDesignRow *self, SbDesign *design)
{
  double width, height;
  gboolean other = design != self->design;

  if (other) {
    g_clear_pointer (&self->design, sb_design_unref);
    self->design = sb_design_ref (design);
    sb_design_row_update_picture (self);
  }
  gtk_label_set_label (self->name_label, design->name);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->name_label), design->name);
  sb_design_get_finished_size (design, &width, &height);
  g_autofree char *size = sb_length_format_size (width, height, sb_desk_get_unit (self->desk));
  gtk_label_set_label (self->size_label, size);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->size_label), _ ("Finished size, border included"));
  update_counts (self);
  update_badge (self);
  sb_design_row_update_finding (self);

  g_autofree char *told = g_strdup_printf ("%s, %s, %s, %s", design->name, size,
                                           gtk_label_get_label (self->badge_label),
                                           gtk_label_get_label (self->placed_label));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, told, -1);
}

GdkPaintable *
sb_design_row_get_paintable (SbDesignRow *self)
{
  return gtk_image_get_paintable (self->picture);
}
