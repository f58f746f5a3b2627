/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-row-bar.h"

#include "wb-app-row.h"

#include <glib/gi18n.h>

/* A status for assistive technology: its words change as the time runs. */

struct _WbRowBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;
  GtkWidget *words;
};

G_DEFINE_FINAL_TYPE (WbRowBar, wb_row_bar, GTK_TYPE_WIDGET)

static void
wb_row_bar_dispose (GObject *object)
{
  g_clear_pointer (&WB_ROW_BAR (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_row_bar_parent_class)->dispose (object);
}

static void
wb_row_bar_class_init (WbRowBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_row_bar_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
button_new (const char *label,
            const char *action)
{
  return g_object_new (GTK_TYPE_BUTTON, "label", label, "action-name", action, "valign", GTK_ALIGN_CENTER, NULL);
}

static void
wb_row_bar_init (WbRowBar *self)
{
  self->box = g_object_new (GTK_TYPE_BOX, "spacing", 8, NULL);
  gtk_widget_add_css_class (self->box, "noticeline");
  self->words = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, "xalign", 0.0, "hexpand", TRUE, "wrap", TRUE, NULL);
  gtk_widget_add_css_class (self->words, "numeric");
  gtk_box_append (GTK_BOX (self->box), self->words);
  gtk_box_append (GTK_BOX (self->box), button_new (_("Go to it"), "page.row-next"));
  gtk_box_append (GTK_BOX (self->box), button_new (_("Stop the row"), "page.stop-row"));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The row that is on"), -1);
}

/* "1:20" */
static char *
dup_countdown (gint64 seconds)
{
  return g_strdup_printf ("%d:%02d", (int) (seconds / 60), (int) (seconds % 60));
}

static char *
dup_next (const WbAppRowStep *step)
{
  const char *code = wb_app_bench_sample_get_code (step->next);
  g_autofree char *wait = dup_countdown (step->in_s);

  if (step->in_s == 0 && step->kind == WB_APP_ROW_LIGHT)
    return g_strdup_printf (_("Light %s now, and say so with Ctrl+L."), code);
  if (step->in_s == 0)
    return g_strdup_printf (_("Snuff %s now, and say so with Ctrl+D."), code);
  /* Translators: code of a sample, and minutes and seconds: "Light T2 next, in 1:20." */
  return g_strdup_printf (step->kind == WB_APP_ROW_LIGHT ? _("Light %s next, in %s.") : _("Snuff %s next, in %s."), code, wait);
}

void
wb_row_bar_update (WbRowBar   *self,
                   WbAppBench *bench)
{
  WbAppRowStep step;
  g_autofree char *next = NULL, *after = NULL, *text = NULL;

  g_return_if_fail (WB_IS_ROW_BAR (self));

  if (bench == NULL || !wb_app_bench_get_row_step (bench, &step))
    {
      gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
      return;
    }
  next = dup_next (&step);
  after = step.after > 0 ? g_strdup_printf (ngettext ("%u more follows.", "%u more follow.", step.after), step.after)
                         : g_strdup (_("It is the last of the row."));
  text = g_strdup_printf ("%s %s", next, after);
  if (!g_str_equal (gtk_label_get_text (GTK_LABEL (self->words)), text))
    gtk_label_set_text (GTK_LABEL (self->words), text);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}
