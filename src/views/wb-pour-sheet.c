/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-sheet.h"

#include "wb-batch-view.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-pour-words.h"
#include "wb-record-form.h"
#include "wb-sample-table.h"

#include <glib/gi18n.h>

#define FORM_WIDTH 520

struct _WbPourSheet
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *scrolled;
  GtkStack      *stack;
  GtkLabel      *refusal;
  GtkWidget     *steps[WB_POUR_N_STEPS];
  GtkLabel      *cautions[WB_POUR_N_STEPS];
  GtkLabel      *warnings[WB_POUR_N_STEPS];
  GtkLabel      *texts[WB_POUR_N_STEPS];
  WbBatchView   *masses;
  WbRecordForm  *forms[WB_POUR_N_STEPS];  /* of the batch; NULL: nothing is asked at that step */
  WbRecordForm  *sample_form;              /* what is the same for all samples */
  WbSampleTable *samples;

  /* state */
  gboolean       us_units;
  gboolean       ready;
};

G_DEFINE_FINAL_TYPE (WbPourSheet, wb_pour_sheet, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const struct
{
  const char *heading;
  const char *asked[6];  /* fields of the batch; ends with NULL */
} steps[WB_POUR_N_STEPS] = {
  [WB_POUR_STEP_WEIGH] = { N_("Weigh"), { "actual_wax_g", "actual_oil_g", "wax_lot", "fragrance_lot", "dye_lot", NULL } },
  [WB_POUR_STEP_HEAT] = { N_("Heat"), { "heat_c", NULL } },
  [WB_POUR_STEP_SCENT] = { N_("Fragrance in"), { "add_c", NULL } },
  [WB_POUR_STEP_POUR] = { N_("Pour"), { "pour_c", "room_c", NULL } },
  [WB_POUR_STEP_SECOND] = { N_("Second pour"), { NULL } },
  [WB_POUR_STEP_CURE] = { N_("Cure"), { "deviation", "note", NULL } },
};

static const char *const asked_of_samples[] = { "poured_on", "wick_lot", NULL };

static void
on_changed_cb (WbPourSheet *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Building ---- */

static GtkLabel *
add_label (GtkWidget  *step,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "max-width-chars", 80,
                                   "visible", FALSE, NULL);

  gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (step), label);
  return GTK_LABEL (label);
}

/* Hides all fields of the type but those. */
static WbRecordForm *
form_new (WbPourSheet        *self,
          const WbRecordType *type,
          const char *const  *asked)
{
  WbRecordForm *form = WB_RECORD_FORM (wb_record_form_new ());
  g_autoptr (GPtrArray) hidden = g_ptr_array_new ();

  for (guint i = 0; i < type->n_fields; i++)
    if (!g_strv_contains (asked, type->fields[i].name))
      g_ptr_array_add (hidden, (gpointer) type->fields[i].name);
  g_ptr_array_add (hidden, NULL);
  wb_record_form_set_hidden (form, (const char *const *) hidden->pdata);
  gtk_widget_set_margin_top (GTK_WIDGET (form), 4);
  /* A mass or a lot's name needs no field as wide as the page. */
  gtk_widget_set_halign (GTK_WIDGET (form), GTK_ALIGN_START);
  gtk_widget_set_size_request (GTK_WIDGET (form), FORM_WIDTH, -1);
  g_signal_connect_swapped (form, "changed", G_CALLBACK (on_changed_cb), self);
  return form;
}

static void
add_step (WbPourSheet *self,
          GtkBox      *box,
          WbPourStep   step)
{
  GtkWidget *frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", _(steps[step].heading), "xalign", 0.0, NULL);

  gtk_widget_add_css_class (heading, "section");
  gtk_box_append (GTK_BOX (frame), heading);
  self->cautions[step] = add_label (frame, "caution");
  self->warnings[step] = add_label (frame, "problem");
  self->texts[step] = add_label (frame, "numeric");
  if (step == WB_POUR_STEP_WEIGH)
    {
      self->masses = WB_BATCH_VIEW (wb_batch_view_new ());
      gtk_box_append (GTK_BOX (frame), GTK_WIDGET (self->masses));
    }
  if (steps[step].asked[0] != NULL)
    {
      self->forms[step] = form_new (self, &wb_batch_type, steps[step].asked);
      gtk_box_append (GTK_BOX (frame), GTK_WIDGET (self->forms[step]));
    }
  if (step == WB_POUR_STEP_POUR)
    {
      self->sample_form = form_new (self, &wb_sample_type, asked_of_samples);
      self->samples = WB_SAMPLE_TABLE (wb_sample_table_new ());
      g_signal_connect_swapped (self->samples, "changed", G_CALLBACK (on_changed_cb), self);
      gtk_box_append (GTK_BOX (frame), GTK_WIDGET (self->sample_form));
      gtk_box_append (GTK_BOX (frame), GTK_WIDGET (self->samples));
    }
  self->steps[step] = frame;
  gtk_box_append (box, frame);
}

static void
wb_pour_sheet_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_POUR_SHEET);
  G_OBJECT_CLASS (wb_pour_sheet_parent_class)->dispose (object);
}

static void
wb_pour_sheet_class_init (WbPourSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pour_sheet_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POUR_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "pour-sheet.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, stack);
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, refusal);
}

static void
wb_pour_sheet_init (WbPourSheet *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    add_step (self, GTK_BOX (gtk_stack_get_child_by_name (self->stack, "steps")), (WbPourStep) i);
}

GtkWidget *
wb_pour_sheet_new (void)
{
  return g_object_new (WB_TYPE_POUR_SHEET, NULL);
}

/* ---- Showing ---- */

static void
set_label (GtkLabel   *label,
           const char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
}

/* What of a step this batch has: no oil, no fragrance step; no dye, no dye lot. */
static void
show_step (WbPourSheet          *self,
           WbPourStep            step,
           const WbDataset      *data,
           const WbAppPourBatch *batch)
{
  g_autofree char *text = wb_pour_words_dup_step (step, batch, data->wax, self->us_units);
  g_autofree char *warning = wb_pour_words_dup_warning (step, batch->sheet);
  gboolean oil = batch->sheet->oil_g > 0;

  set_label (self->texts[step], text);
  set_label (self->warnings[step], warning);
  /* Without oil there is nothing undiluted to protect hands from. */
  set_label (self->cautions[step], step == WB_POUR_STEP_WEIGH && !oil ? NULL : wb_pour_words_get_caution (step));
  if (step == WB_POUR_STEP_SCENT || step == WB_POUR_STEP_SECOND)
    gtk_widget_set_visible (self->steps[step], text != NULL);
  if (step != WB_POUR_STEP_WEIGH)
    return;
  wb_batch_view_show (self->masses, batch, self->us_units);
  wb_record_form_set_shown (self->forms[step], "actual_oil_g", oil);
  wb_record_form_set_shown (self->forms[step], "fragrance_lot", oil);
  wb_record_form_set_shown (self->forms[step], "dye_lot", data->dye != NULL);
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

static void
fill_forms (WbPourSheet          *self,
            const WbAppPourBatch *batch)
{
  g_autoptr (WbRecord) sample = wb_record_new (&wb_sample_type);

  ((WbSample *) (gpointer) sample)->poured_on = batch->typed_on != WB_DAY_NONE ? batch->typed_on : get_today ();
  ((WbSample *) (gpointer) sample)->wick_lot = g_strdup (batch->typed_wick_lot);
  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    {
      if (self->forms[i] == NULL)
        continue;
      wb_record_form_set_us_units (self->forms[i], self->us_units);
      wb_record_form_set_record (self->forms[i], batch->batch);
    }
  wb_record_form_set_record (self->sample_form, sample);
}

void
wb_pour_sheet_show (WbPourSheet          *self,
                    const WbDataset      *data,
                    const WbAppPourBatch *batch,
                    gboolean              us_units)
{
  g_return_if_fail (WB_IS_POUR_SHEET (self));
  g_return_if_fail (data != NULL && batch != NULL);

  if (!wb_pour_sheet_get_touched (self))
    {
      self->us_units = us_units;
      fill_forms (self, batch);
    }
  self->ready = batch->sheet != NULL;
  gtk_stack_set_visible_child_name (self->stack, self->ready ? "steps" : "refusal");
  gtk_label_set_text (self->refusal, batch->refusal != NULL ? batch->refusal : _("There is no sample to pour."));
  if (!self->ready)
    return;
  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    show_step (self, (WbPourStep) i, data, batch);
  wb_sample_table_fill (self->samples, data, batch->samples, batch->typed_samples, self->us_units);
}

gboolean
wb_pour_sheet_get_touched (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);

  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    if (self->forms[i] != NULL && wb_record_form_get_touched (self->forms[i]))
      return TRUE;
  return wb_record_form_get_touched (self->sample_form) || wb_sample_table_get_touched (self->samples);
}

gboolean
wb_pour_sheet_get_ready (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);
  return self->ready;
}

/* ---- What was done ---- */

static WbDay
get_day (WbPourSheet *self)
{
  g_autoptr (WbRecord) sample = wb_record_form_dup_record (self->sample_form);

  return sample != NULL ? ((const WbSample *) (gpointer) sample)->poured_on : WB_DAY_NONE;
}

gboolean
wb_pour_sheet_check (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);

  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    if (self->forms[i] != NULL && !wb_record_form_check (self->forms[i]))
      return FALSE;
  if (!wb_record_form_check (self->sample_form) || !wb_sample_table_check (self->samples))
    return FALSE;
  if (get_day (self) == WB_DAY_NONE || get_day (self) <= get_today ())
    return TRUE;
  wb_record_form_set_problem (self->sample_form, "poured_on", _("That day is yet to come"));
  return FALSE;
}

WbBatch *
wb_pour_sheet_dup_actual (WbPourSheet   *self,
                          const WbBatch *planned)
{
  WbBatch *actual;
  WbDay day;

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  g_return_val_if_fail (planned != NULL, NULL);

  actual = wb_record_copy (planned);
  for (guint i = 0; i < WB_POUR_N_STEPS; i++)
    if (self->forms[i] != NULL)
      wb_record_form_write (self->forms[i], actual);
  day = get_day (self);
  /* Of an earlier day only the day is known: noon stands for it. */
  if (day == WB_DAY_NONE || day == get_today ())
    actual->poured_at = wb_clock_now (wb_clock_get ());
  else
    actual->poured_at = wb_clock_local (wb_clock_get (), day, 12, 0, 0);
  return actual;
}

GArray *
wb_pour_sheet_dup_poured (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  return wb_sample_table_dup_poured (self->samples);
}

char *
wb_pour_sheet_dup_wick_lot (WbPourSheet *self)
{
  g_autoptr (WbRecord) sample = NULL;

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  sample = wb_record_form_dup_record (self->sample_form);
  return sample != NULL ? g_strdup (((const WbSample *) (gpointer) sample)->wick_lot) : NULL;
}
