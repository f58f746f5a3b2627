/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-experiment-bar.h"

#include "wb-bundle.h"
#include "wb-place.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

struct _WbExperimentBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *words;
  GtkLabel  *title;
  GtkLabel  *waits;
  GtkBox    *tabs;
};

G_DEFINE_FINAL_TYPE (WbExperimentBar, wb_experiment_bar, GTK_TYPE_WIDGET)

static void
wb_experiment_bar_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_EXPERIMENT_BAR);
  G_OBJECT_CLASS (wb_experiment_bar_parent_class)->dispose (object);
}

static void
wb_experiment_bar_class_init (WbExperimentBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_experiment_bar_dispose;
  gtk_widget_class_set_css_name (widget_class, "experimentbar");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "experiment-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, WbExperimentBar, words);
  gtk_widget_class_bind_template_child (widget_class, WbExperimentBar, title);
  gtk_widget_class_bind_template_child (widget_class, WbExperimentBar, waits);
  gtk_widget_class_bind_template_child (widget_class, WbExperimentBar, tabs);
}

static void
wb_experiment_bar_init (WbExperimentBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    {
      GtkWidget *tab;

      if (!place->of_experiment)
        continue;
      tab = gtk_toggle_button_new_with_label (_(place->title));
      /* Where a tab is clicked the keyboard goes to the page; by Tab and arrows a person walks along them. */
      gtk_widget_set_focus_on_click (tab, FALSE);
      gtk_actionable_set_action_target (GTK_ACTIONABLE (tab), "s", place->name);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (tab), "win.show");
      gtk_box_append (self->tabs, tab);
    }
}

void
wb_experiment_bar_set_experiment (WbExperimentBar *self,
                                  WbAppExperiment *experiment)
{
  g_autofree char *title = NULL;

  g_return_if_fail (WB_IS_EXPERIMENT_BAR (self));

  if (experiment != NULL)
    title = g_strdup_printf ("%s  %s", wb_app_experiment_get_code (experiment), wb_app_experiment_get_title (experiment));
  gtk_label_set_text (self->title, title != NULL ? title : _("New experiment"));
  wb_tooltip_set (GTK_WIDGET (self->title), title);
  gtk_label_set_text (self->waits, experiment != NULL ? wb_app_experiment_get_waits_for (experiment) : "");
  /* A finished one waits for nothing: no line says so. */
  gtk_widget_set_visible (GTK_WIDGET (self->waits),
                          experiment != NULL && wb_app_experiment_get_state (experiment) != WB_CRAFT_STATE_FINISHED);
  gtk_widget_set_visible (GTK_WIDGET (self->tabs), experiment != NULL);
}
