/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-advice-line.h"

#include "wb-app-advice.h"

#include <string.h>

#define MOST_LINES 3

struct _WbAdviceLine
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *label;

  /* owned */
  WbDesk        *desk;
  WbCraftAnswer *answer;    /* that the advice is worked out of */
  WbAppJob      *job;       /* the answer's, and the advice's after it; NULL: nothing is worked out */
  GSignalGroup  *answers_signals;

  /* state */
  gint64         experiment;
  gboolean       stale;     /* what stands, if anything, is not of the newest record */
};

enum { PROP_0, PROP_TEXT, N_PROPS };

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAdviceLine, wb_advice_line, GTK_TYPE_WIDGET)

static void
set_text (WbAdviceLine *self,
          const char   *text)
{
  if (strcmp (gtk_label_get_text (GTK_LABEL (self->label)), text) == 0)
    return;
  gtk_label_set_text (GTK_LABEL (self->label), text);
  gtk_widget_set_tooltip_text (self->label, *text != '\0' ? text : NULL);
  gtk_widget_set_visible (self->label, *text != '\0');
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TEXT]);
}

static char *
dup_text (const WbCraftAnswer *answer,
          const WbCraftAdvice *advice)
{
  GString *text = g_string_new (NULL);

  for (guint g = 0; g < advice->n_groups; g++)
    {
      const WbCraftAdviceGroup *group = &advice->groups[g];
      g_autofree char *title = advice->n_groups > 1 ? wb_craft_group_dup_title (answer->data, &answer->ranking->groups[group->group]) : NULL;

      if (*group->line == '\0')
        continue;
      g_string_append_printf (text, "%s%s%s%s", text->len > 0 ? "\n" : "", title != NULL ? title : "", title != NULL ? " – " : "", group->line);
    }
  return g_string_free (text, FALSE);
}

static void
stop (WbAdviceLine *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
}

/* A line that could not be worked out is missing; its page tells errors of what was asked for. */
static void
on_advice_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbAdviceLine) self = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAdvice) advice = wb_app_advice_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autofree char *text = NULL;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->label == NULL || self->answer == NULL)
    return;
  g_clear_object (&self->job);
  text = advice != NULL ? dup_text (self->answer, advice) : g_strdup ("");
  set_text (self, text);
}

static void
on_answer_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbAdviceLine) self = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_get_finish (WB_APP_ANSWERS (source), result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->label == NULL || self->desk == NULL || self->job == NULL)
    return;
  if (answer == NULL || answer->data->experiment->record.id != self->experiment)
    {
      g_clear_object (&self->job);
      set_text (self, "");
      return;
    }
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = g_steal_pointer (&answer);
  wb_app_advice_async (wb_desk_get_notebook (self->desk), self->answer, wb_app_job_get_cancellable (self->job), on_advice_cb, g_object_ref (self));
}

static void
ask (WbAdviceLine *self)
{
  if (!self->stale || self->experiment == 0 || self->desk == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  stop (self);
  self->stale = FALSE;
  self->job = wb_app_job_new ();
  wb_app_answers_get_async (wb_desk_get_answers (self->desk), self->experiment, WB_CRAFT_WITHIN_SCENT, 0, self->job, on_answer_cb,
                            g_object_ref (self));
}

static void
on_stale_cb (WbAdviceLine *self,
             gint64        experiment)
{
  if (experiment != self->experiment)
    return;
  self->stale = TRUE;
  ask (self);
}

void
wb_advice_line_set (WbAdviceLine *self,
                    WbDesk       *desk,
                    gint64        experiment)
{
  g_return_if_fail (WB_IS_ADVICE_LINE (self));

  if (desk == NULL)
    experiment = 0;
  if (desk == self->desk && experiment == self->experiment)
    {
      ask (self);
      return;
    }
  stop (self);
  set_text (self, "");
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  if (g_set_object (&self->desk, desk))
    g_signal_group_set_target (self->answers_signals, desk != NULL ? wb_desk_get_answers (desk) : NULL);
  self->experiment = experiment;
  self->stale = TRUE;
  ask (self);
}

const char *
wb_advice_line_get_text (WbAdviceLine *self)
{
  g_return_val_if_fail (WB_IS_ADVICE_LINE (self), "");
  return gtk_label_get_text (GTK_LABEL (self->label));
}

static void
wb_advice_line_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_advice_line_parent_class)->map (widget);
  ask (WB_ADVICE_LINE (widget));
}

static void
wb_advice_line_get_property (GObject    *object,
                             guint       prop_id,
                             GValue     *value,
                             GParamSpec *pspec)
{
  switch (prop_id)
    {
    case PROP_TEXT:
      g_value_set_string (value, wb_advice_line_get_text (WB_ADVICE_LINE (object)));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_advice_line_dispose (GObject *object)
{
  WbAdviceLine *self = WB_ADVICE_LINE (object);

  stop (self);
  g_clear_object (&self->answers_signals);
  g_clear_pointer (&self->label, gtk_widget_unparent);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_advice_line_parent_class)->dispose (object);
}

static void
wb_advice_line_class_init (WbAdviceLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->get_property = wb_advice_line_get_property;
  G_OBJECT_CLASS (klass)->dispose = wb_advice_line_dispose;
  widget_class->map = wb_advice_line_map;

  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, "", G_PARAM_READABLE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "adviceline");
}

static void
wb_advice_line_init (WbAdviceLine *self)
{
  self->label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "lines", MOST_LINES,
                              "ellipsize", PANGO_ELLIPSIZE_END, "visible", FALSE, NULL);
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
  self->answers_signals = g_signal_group_new (WB_TYPE_APP_ANSWERS);
  g_signal_group_connect_swapped (self->answers_signals, "stale", G_CALLBACK (on_stale_cb), self);
}
