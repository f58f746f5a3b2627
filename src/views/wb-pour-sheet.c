/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-sheet.h"

#include "wb-batch-view.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-craft-pot.h"
#include "wb-lot-choice.h"
#include "wb-pour-doubt.h"
#include "wb-pour-steps.h"
#include "wb-pour-words.h"
#include "wb-record-field.h"
#include "wb-record-form.h"
#include "wb-sample-table.h"
#include "wb-wick-lots.h"

#include <glib/gi18n.h>
#include <math.h>

#define FORM_WIDTH 520
/* At 1024 the rows of the steps need what this leaves. */
#define WEIGH_WIDTH 240
/* On the field of a mass: the controller that knows whether the keyboard is in it. */
#define HANDS "wb-hands"

typedef enum { PART_WEIGH, PART_NOTES, N_PARTS } Part;
typedef enum { MASS_WAX, MASS_OIL, N_MASSES } Mass;

struct _WbPourSheet
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *scrolled;
  GtkStack      *stack;
  GtkLabel      *refusal;
  GtkLabel      *missing;     /* what stands in the way of a sheet */
  GtkLabel      *caution;     /* of weighing undiluted oil */
  GtkLabel      *warnings;
  WbBatchView   *masses;
  WbRecordForm  *forms[N_PARTS];  /* of the batch */
  GtkLabel      *uncovered;   /* of lots that were typed: nobody signed for them; beside the fields, of what is weighed */
  GtkLabel      *uncovered_glass; /* the same, of wicks and vessels */
  WbPourSteps   *steps;
  WbRecordForm  *sample_form; /* what is the same for all samples */
  WbWickLots    *wick_lots;
  GtkLabel      *cure;
  WbSampleTable *samples;


  /* owned */
  WbRecord      *planned;     /* WbBatch, to hold what is weighed against */
  WbRecord      *wax;         /* WbWax; NULL: not known */
  WbRecord      *fragrance;   /* WbFragrance; NULL: no oil */
  WbAppPour     *pour;        /* NULL: no lots were offered yet */
  GArray        *cells;       /* gint64: the combinations of the batch */

  /* state */
  gint64         wick;        /* of all samples; 0: several, as the next */
  gint64         vessel;
  WbCure         days;
  WbDay          day_put;     /* what stands in "Poured on" by itself: nobody said another; WB_DAY_NONE: a person said one */
  gboolean       us_units;
  gboolean       ready;
};

G_DEFINE_FINAL_TYPE (WbPourSheet, wb_pour_sheet, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *const asked_of_batch[N_PARTS][7] = {
  [PART_WEIGH] = { "actual_wax_g", "actual_oil_g", "wax_lot", "fragrance_lot", "dye_lot", "additive_lot", NULL },
  [PART_NOTES] = { "room_c", "deviation", "note", NULL },
};

static const char *const mass_fields[N_MASSES] = { [MASS_WAX] = "actual_wax_g", [MASS_OIL] = "actual_oil_g" };

static const char *const asked_of_samples[] = { "poured_on", "wick_lot", "vessel_lot", NULL };

static WbDay
get_day (WbPourSheet *self)
{
  g_autoptr (WbRecord) sample = wb_record_form_dup_record (self->sample_form);

  return sample != NULL ? ((const WbSample *) (gpointer) sample)->poured_on : WB_DAY_NONE;
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

/*
 * What its step says. Without one it was poured by now at the latest, if today; of an earlier day the day is known and no more.
 * day: WB_DAY_NONE is today.
 */
static WbInstant
get_moment (WbPourSheet *self,
            WbDay        day)
{
  WbInstant poured = wb_pour_steps_get_pour (self->steps);

  if (poured.known)
    return poured;
  return day == WB_DAY_NONE || day == get_today () ? wb_clock_now (wb_clock_get ()) : WB_INSTANT_NONE;
}

/* The dates follow the day while it is typed. */
static void
show_cure (WbPourSheet *self)
{
  WbDay day = get_day (self);
  g_autofree char *text = day != WB_DAY_NONE ? wb_pour_words_dup_cure (&self->days, day, get_moment (self, day)) : NULL;

  gtk_label_set_text (self->cure, text != NULL ? text : "");
}

/* The day is that of the pour's step, until somebody says another; and the steps' times are of that day. */
static void
follow_pour (WbPourSheet *self)
{
  WbInstant poured = wb_pour_steps_get_pour (self->steps);
  WbDay day = get_day (self), own = poured.known ? wb_instant_get_day (poured) : day;

  if (day != WB_DAY_NONE && day == self->day_put && own != day)
    {
      g_autofree char *text = wb_day_format (own);

      wb_record_field_put_typed (WB_RECORD_FIELD (wb_record_form_get_field (self->sample_form, "poured_on")), text);
      self->day_put = own;
      return;
    }
  /* a day that follows the steps does not decide what they mean */
  wb_pour_steps_set_day (self->steps, day != self->day_put ? day : WB_DAY_NONE);
}

static gboolean
is_in_hand (WbPourSheet *self,
            Mass         mass)
{
  GtkWidget *field = wb_record_form_get_field (self->forms[PART_WEIGH], mass_fields[mass]);
  GtkEventControllerFocus *hands = field != NULL ? g_object_get_data (G_OBJECT (field), HANDS) : NULL;

  return hands != NULL && gtk_event_controller_focus_contains_focus (hands);
}

/* A mass that is less than planned while hands are in its field is half typed: "14" of "1412.2". */
static void
leave_out_half_typed (WbPourSheet *self,
                      WbBatch     *actual,
                      Mass         mass,
                      double       planned_g)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_batch_type, mass_fields[mass]);

  if (is_in_hand (self, mass) && wb_record_get_real (actual, spec) < planned_g)
    wb_record_set_real (actual, spec, NAN);
}

/* What is weighed against what was meant, at the field that is weighed, while it is typed. */
static void
show_pot (WbPourSheet *self)
{
  g_autoptr (WbRecord) actual = NULL;
  g_autoptr (GPtrArray) lines = NULL;
  WbBatch *batch;

  if (self->planned == NULL)
    return;
  actual = wb_record_copy (self->planned);
  batch = (WbBatch *) (gpointer) actual;
  wb_record_form_write (self->forms[PART_WEIGH], actual);
  leave_out_half_typed (self, batch, MASS_WAX, batch->wax_g);
  leave_out_half_typed (self, batch, MASS_OIL, batch->oil_g);
  lines = wb_craft_pot_find (batch, (const WbWax *) (gpointer) self->wax, (const WbFragrance *) (gpointer) self->fragrance, self->us_units);
  wb_pour_doubt_show_pot (self->forms[PART_WEIGH], batch, lines, TRUE);
}

static void
tell_lack (GtkLabel      *label,
           const GString *text)
{
  gtk_label_set_text (label, text->str);
  gtk_widget_set_visible (GTK_WIDGET (label), text->len > 0);
}

static void
add_lack (WbPourSheet *self,
          GString     *text,
          gint64       material,
          const char  *lot)
{
  g_autofree char *lack = material != 0 ? wb_app_pour_dup_lack (self->pour, self->cells, material, lot) : NULL;

  if (lack != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", lack);
}

/* Where the recipe is signed for already, a lot that the signature does not cover is told before it is in the pot. */
static void
show_uncovered (WbPourSheet *self)
{
  g_autoptr (WbRecord) actual = NULL;
  g_autoptr (GString) text = g_string_new (NULL), glass = g_string_new (NULL);
  g_autoptr (GArray) wicks = NULL;
  g_autofree char *wick_lot = NULL, *vessel_lot = NULL;
  const WbBatch *batch;

  if (self->planned == NULL || self->pour == NULL || wb_app_pour_get_data (self->pour) == NULL)
    return;
  actual = wb_record_copy (self->planned);
  batch = (const WbBatch *) (gpointer) actual;
  wb_record_form_write (self->forms[PART_WEIGH], actual);
  add_lack (self, text, wb_app_pour_get_data (self->pour)->experiment->wax, batch->wax_lot);
  add_lack (self, text, batch->fragrance, batch->fragrance_lot);
  wicks = wb_wick_lots_dup (self->wick_lots);
  wick_lot = wb_pour_sheet_dup_wick_lot (self);
  if (wicks->len == 0)
    add_lack (self, glass, self->wick, wick_lot);
  for (guint i = 0; i < wicks->len; i++)
    add_lack (self, glass, g_array_index (wicks, WbAppPourWickLot, i).wick, g_array_index (wicks, WbAppPourWickLot, i).lot);
  vessel_lot = wb_pour_sheet_dup_vessel_lot (self);
  add_lack (self, glass, self->vessel, vessel_lot);
  tell_lack (self->uncovered, text);
  tell_lack (self->uncovered_glass, glass);
}

static void
on_changed_cb (WbPourSheet *self)
{
  show_uncovered (self);
  follow_pour (self);
  show_cure (self);
  show_pot (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Building ---- */

static GtkLabel *
add_label (GtkWidget  *step,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "max-width-chars", 30,
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

static GtkWidget *
add_part (GtkWidget  *box,
          const char *title)
{
  GtkWidget *frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", title, "xalign", 0.0, NULL);

  gtk_widget_add_css_class (heading, "section");
  gtk_box_append (GTK_BOX (frame), heading);
  gtk_box_append (GTK_BOX (box), frame);
  return frame;
}

/* It comes while somebody types: read out. */
static GtkLabel *
add_uncovered (GtkWidget *box)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "max-width-chars", 30, "visible", FALSE,
                                   "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);

  gtk_widget_add_css_class (label, "caution");
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

/* What is weighed out stands beside the steps that it goes into. */
static void
build (WbPourSheet *self,
       GtkWidget   *box)
{
  GtkWidget *work = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 22), *weigh = add_part (work, C_("work", "Weigh")), *pour = add_part (work, C_("work", "Pour"));
  GtkWidget *samples, *notes, *weighed = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  gtk_widget_add_css_class (work, "sidebyside");
  gtk_widget_set_size_request (weigh, WEIGH_WIDTH, -1);
  gtk_widget_set_hexpand (pour, TRUE);
  gtk_box_append (GTK_BOX (box), work);
  samples = add_part (box, _("Samples"));
  notes = add_part (box, _("Notes"));

  self->missing = add_label (weigh, "problem");
  self->caution = add_label (weigh, "caution");
  self->warnings = add_label (weigh, "problem");
  self->masses = WB_BATCH_VIEW (wb_batch_view_new ());
  self->forms[PART_WEIGH] = form_new (self, &wb_batch_type, asked_of_batch[PART_WEIGH]);
  wb_record_form_set_stacked (self->forms[PART_WEIGH], TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->forms[PART_WEIGH]), "weighed");
  gtk_widget_set_halign (GTK_WIDGET (self->forms[PART_WEIGH]), GTK_ALIGN_FILL);
  gtk_widget_set_size_request (GTK_WIDGET (self->forms[PART_WEIGH]), -1, -1);
  gtk_box_append (GTK_BOX (weighed), GTK_WIDGET (self->forms[PART_WEIGH]));
  self->uncovered = add_uncovered (weighed);
  self->steps = WB_POUR_STEPS (wb_pour_steps_new ());
  gtk_box_insert_child_after (GTK_BOX (box), wb_pour_steps_take_chart (self->steps), work);
  self->sample_form = form_new (self, &wb_sample_type, asked_of_samples);
  self->cure = add_label (samples, "strong");
  gtk_widget_set_visible (GTK_WIDGET (self->cure), TRUE);
  self->wick_lots = WB_WICK_LOTS (wb_wick_lots_new ());
  gtk_widget_set_halign (GTK_WIDGET (self->wick_lots), GTK_ALIGN_START);
  gtk_widget_set_size_request (GTK_WIDGET (self->wick_lots), FORM_WIDTH, -1);
  g_signal_connect_swapped (self->wick_lots, "changed", G_CALLBACK (on_changed_cb), self);
  self->samples = WB_SAMPLE_TABLE (wb_sample_table_new ());
  self->forms[PART_NOTES] = form_new (self, &wb_batch_type, asked_of_batch[PART_NOTES]);
  g_signal_connect_swapped (self->steps, "changed", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (self->samples, "changed", G_CALLBACK (on_changed_cb), self);
  wb_batch_view_stack (self->masses, weighed);
  gtk_box_append (GTK_BOX (weigh), GTK_WIDGET (self->masses));
  gtk_box_append (GTK_BOX (pour), GTK_WIDGET (self->steps));
  gtk_box_append (GTK_BOX (samples), GTK_WIDGET (self->sample_form));
  gtk_box_append (GTK_BOX (samples), GTK_WIDGET (self->wick_lots));
  self->uncovered_glass = add_uncovered (samples);
  gtk_box_append (GTK_BOX (samples), GTK_WIDGET (self->samples));
  gtk_box_append (GTK_BOX (notes), GTK_WIDGET (self->forms[PART_NOTES]));
}

static void
wb_pour_sheet_dispose (GObject *object)
{
  g_clear_object (&WB_POUR_SHEET (object)->pour);
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_POUR_SHEET);
  G_OBJECT_CLASS (wb_pour_sheet_parent_class)->dispose (object);
}

static void
wb_pour_sheet_finalize (GObject *object)
{
  WbPourSheet *self = WB_POUR_SHEET (object);

  wb_record_free (self->planned);
  wb_record_free (self->wax);
  wb_record_free (self->fragrance);
  g_array_unref (self->cells);
  G_OBJECT_CLASS (wb_pour_sheet_parent_class)->finalize (object);
}

static void
wb_pour_sheet_class_init (WbPourSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pour_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pour_sheet_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POUR_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "pour-sheet.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, stack);
  gtk_widget_class_bind_template_child (widget_class, WbPourSheet, refusal);
}

static void
wb_pour_sheet_init (WbPourSheet *self)
{
  self->cells = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_widget_init_template (GTK_WIDGET (self));
  build (self, gtk_stack_get_child_by_name (self->stack, "steps"));
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

/* What this batch has: no oil, no lot of a fragrance; no dye, no dye lot. */
static void
show_weighing (WbPourSheet          *self,
               const WbDataset      *data,
               const WbAppPourBatch *batch)
{
  gboolean oil = batch->batch->load_pct > 0;
  g_autofree char *warnings = batch->sheet != NULL ? wb_pour_words_dup_warnings (batch->sheet) : NULL;
  g_autofree char *missing = batch->sheet == NULL
                             ? g_strdup_printf (_("%s\nUntil then pour by the scales, and write down what was really weighed."), batch->refusal) : NULL;

  set_label (self->missing, missing);
  set_label (self->warnings, warnings);
  /* Without oil there is nothing undiluted to protect hands from. */
  set_label (self->caution, oil ? wb_craft_method_get_caution_of_oil () : NULL);
  wb_batch_view_show (self->masses, batch, self->us_units);
  wb_record_form_set_shown (self->forms[PART_WEIGH], "actual_oil_g", oil);
  wb_record_form_set_shown (self->forms[PART_WEIGH], "fragrance_lot", oil);
  wb_record_form_set_shown (self->forms[PART_WEIGH], "dye_lot", data->dye != NULL);
  wb_record_form_set_shown (self->forms[PART_WEIGH], "additive_lot", data->additive != NULL);
}

/* Today; of one that was marked before, the day that its step says, if it is that one and no other that a person said. */
static WbDay
find_day_put (const WbAppPourBatch *batch)
{
  if (batch->typed_on == WB_DAY_NONE)
    return get_today ();
  for (guint i = 0; i < batch->steps->len; i++)
    {
      const WbBatchStep *step = batch->steps->pdata[i];

      if (step->kind == WB_STEP_POUR && step->done_at.known && wb_instant_get_day (step->done_at) == batch->typed_on)
        return batch->typed_on;
    }
  return WB_DAY_NONE;
}

static void
fill_forms (WbPourSheet          *self,
            const WbAppPourBatch *batch)
{
  g_autoptr (WbRecord) sample = wb_record_new (&wb_sample_type);

  self->day_put = find_day_put (batch);
  ((WbSample *) (gpointer) sample)->poured_on = batch->typed_on != WB_DAY_NONE ? batch->typed_on : self->day_put;
  ((WbSample *) (gpointer) sample)->wick_lot = g_strdup (batch->typed_wick_lot);
  ((WbSample *) (gpointer) sample)->vessel_lot = g_strdup (batch->typed_vessel_lot);
  for (guint i = 0; i < N_PARTS; i++)
    {
      wb_record_form_set_us_units (self->forms[i], self->us_units);
      wb_record_form_set_record (self->forms[i], batch->batch);
    }
  wb_record_form_set_record (self->sample_form, sample);
}

/* A form makes its fields when a batch is shown. */
static void
watch_hands (WbPourSheet *self)
{
  for (guint i = 0; i < N_MASSES; i++)
    {
      GtkWidget *field = wb_record_form_get_field (self->forms[PART_WEIGH], mass_fields[i]);
      GtkEventController *hands;

      if (field == NULL || g_object_get_data (G_OBJECT (field), HANDS) != NULL)
        continue;
      hands = gtk_event_controller_focus_new ();
      g_signal_connect_object (hands, "notify::contains-focus", G_CALLBACK (show_pot), self, G_CONNECT_SWAPPED);
      gtk_widget_add_controller (field, hands);
      g_object_set_data (G_OBJECT (field), HANDS, hands);
    }
}

static void
keep_plan (WbPourSheet          *self,
           const WbDataset      *data,
           const WbAppPourBatch *batch)
{
  wb_record_free (self->planned);
  wb_record_free (self->wax);
  wb_record_free (self->fragrance);
  self->planned = wb_record_copy (batch->batch);
  self->wax = data->wax != NULL ? wb_record_copy (data->wax) : NULL;
  self->fragrance = batch->fragrance != NULL ? wb_record_copy (batch->fragrance) : NULL;
}

void
wb_pour_sheet_show (WbPourSheet          *self,
                    const WbDataset      *data,
                    const WbAppPourBatch *batch,
                    gboolean              us_units,
                    WbAppTimers          *timers,
                    const char           *key)
{
  static const WbAppPoured with_second[] = { WB_APP_POURED_TARE, WB_APP_POURED_FILL, WB_APP_POURED_HEIGHT, WB_APP_POURED_OFFSET, WB_APP_POURED_TOP_UP };

  g_return_if_fail (WB_IS_POUR_SHEET (self));
  g_return_if_fail (data != NULL && batch != NULL);

  if (!wb_pour_sheet_get_touched (self))
    {
      self->us_units = us_units;
      fill_forms (self, batch);
    }
  self->days = wb_cure_of (NULL, batch->fragrance, data->wax);
  self->ready = batch->samples->len > 0;
  gtk_stack_set_visible_child_name (self->stack, self->ready ? "steps" : "refusal");
  gtk_label_set_text (self->refusal, _("There is no sample to pour."));
  if (!self->ready)
    return;
  show_weighing (self, data, batch);
  wb_pour_steps_show (self->steps, data, batch, self->us_units, timers, key, WB_POUR_STEPS_ASKED);
  wb_sample_table_set_fields (self->samples, with_second, batch->batch->hold_back_pct > 0 ? 5 : 4, FALSE);
  wb_sample_table_fill (self->samples, data, batch->samples, batch->typed_samples, self->us_units);
  show_cure (self);
  keep_plan (self, data, batch);
  watch_hands (self);
  show_pot (self);
}

/* The lots at hand, at each field that asks for one. */
void
wb_pour_sheet_offer_lots (WbPourSheet          *self,
                          WbAppPour            *pour,
                          const WbAppPourBatch *batch)
{
  const WbDataset *data;
  g_autoptr (GPtrArray) wicks = NULL;
  WbAppMaterials shelf = { 0 };

  g_return_if_fail (WB_IS_POUR_SHEET (self));
  g_return_if_fail (WB_IS_APP_POUR (pour) && batch != NULL);

  data = wb_app_pour_get_data (pour);
  shelf.lots = (GPtrArray *) wb_app_pour_get_lots (pour);
  shelf.parts = (GPtrArray *) wb_app_pour_get_parts (pour);
  if (data == NULL || shelf.lots == NULL)
    return;
  wb_lot_choice_offer (wb_record_form_get_field (self->forms[PART_WEIGH], "wax_lot"), &shelf, data->experiment->wax);
  wb_lot_choice_offer (wb_record_form_get_field (self->forms[PART_WEIGH], "fragrance_lot"), &shelf, batch->batch->fragrance);
  wb_lot_choice_offer (wb_record_form_get_field (self->forms[PART_WEIGH], "dye_lot"), &shelf, data->experiment->dye);
  wb_lot_choice_offer (wb_record_form_get_field (self->forms[PART_WEIGH], "additive_lot"), &shelf, data->experiment->additive);
  wb_lot_choice_offer (wb_record_form_get_field (self->sample_form, "wick_lot"), &shelf, wb_app_pour_find_wick (pour, batch));
  wicks = wb_app_pour_dup_wicks (pour, batch);
  wb_wick_lots_show (self->wick_lots, wicks, batch->typed_wick_lots);
  wb_wick_lots_offer (self->wick_lots, pour);
  wb_lot_choice_offer (wb_record_form_get_field (self->sample_form, "vessel_lot"), &shelf, wb_app_pour_find_vessel (pour, batch));
  g_set_object (&self->pour, pour);
  self->wick = wb_app_pour_find_wick (pour, batch);
  self->vessel = wb_app_pour_find_vessel (pour, batch);
  g_array_set_size (self->cells, 0);
  for (guint i = 0; i < batch->samples->len; i++)
    g_array_append_val (self->cells, ((const WbSample *) g_ptr_array_index (batch->samples, i))->cell);
  show_uncovered (self);
}

gboolean
wb_pour_sheet_get_touched (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);

  for (guint i = 0; i < N_PARTS; i++)
    if (wb_record_form_get_touched (self->forms[i]))
      return TRUE;
  if (wb_wick_lots_get_touched (self->wick_lots))
    return TRUE;
  return wb_pour_steps_get_touched (self->steps) || wb_record_form_get_touched (self->sample_form) || wb_sample_table_get_touched (self->samples);
}

gboolean
wb_pour_sheet_get_ready (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);
  return self->ready;
}

/* ---- What was done ---- */

gboolean
wb_pour_sheet_check (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), FALSE);

  for (guint i = 0; i < N_PARTS; i++)
    if (!wb_record_form_check (self->forms[i]))
      return FALSE;
  if (!wb_pour_steps_check (self->steps) || !wb_record_form_check (self->sample_form) || !wb_sample_table_check (self->samples))
    return FALSE;
  if (get_day (self) == WB_DAY_NONE || get_day (self) <= get_today ())
    return TRUE;
  wb_record_form_set_problem (self->sample_form, "poured_on", _("That day is yet to come"));
  return FALSE;
}

/* What the batch itself keeps of its steps. */
static void
take_steps (WbBatch         *actual,
            const GPtrArray *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const WbBatchStep *step = g_ptr_array_index (steps, i);

      if (step->kind == WB_STEP_HEAT && !isnan (step->actual_c))
        actual->heat_c = step->actual_c;
      else if (step->kind == WB_STEP_FRAGRANCE && !isnan (step->actual_c))
        actual->add_c = step->actual_c;
      else if (step->kind == WB_STEP_POUR && !isnan (step->actual_c))
        actual->pour_c = step->actual_c;
    }
}

GPtrArray *
wb_pour_sheet_dup_steps (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  return wb_pour_steps_dup_steps (self->steps);
}

/* Takes the lines. */
static void
add_lines (GString   *text,
           GPtrArray *lines)
{
  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (text, "%s\n", (const char *) lines->pdata[i]);
  g_ptr_array_unref (lines);
}

static void
add_disorder (WbPourSheet *self,
              GString     *text)
{
  g_autoptr (GPtrArray) steps = wb_pour_steps_dup_steps (self->steps), lines = wb_craft_method_find_disorder (steps);

  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (text, "%s.\n", (const char *) lines->pdata[i]);
}

/* Weighed of some and not of others: forgotten, or told by nobody later. */
static void
add_lacking (WbPourSheet *self,
             WbAppPoured  poured,
             GString     *text)
{
  g_autoptr (GPtrArray) codes = wb_sample_table_dup_lacking (self->samples, poured);
  const char *label = _(wb_app_poured_get_spec (poured)->label);
  g_autofree char *names = NULL;

  if (codes->len == 0)
    return;
  g_ptr_array_add (codes, NULL);
  names = g_strjoinv (", ", (char **) codes->pdata);
  /* Translators: what is weighed of a sample, "Fill"; codes of samples. */
  g_string_append_printf (text, _("%s: not written down of %s.\n"), label, names);
}

/* The page stood open since an earlier day, or the step that said so is empty again: poured then, or today? */
static void
add_old_day (WbPourSheet *self,
             GString     *text)
{
  WbDay day = get_day (self), today = get_today ();
  g_autofree char *put = NULL, *now = NULL;

  if (day == WB_DAY_NONE || day != self->day_put || day == today || wb_pour_steps_get_pour (self->steps).known)
    return;
  put = wb_day_format_local (day);
  now = wb_day_format_local (today);
  /* Translators: days. */
  g_string_append_printf (text, _("Poured on %s: nobody typed that day, and today is %s.\n"), put, now);
}

char *
wb_pour_sheet_dup_doubts (WbPourSheet *self)
{
  GString *text = g_string_new (NULL);

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), g_string_free (text, FALSE));

  add_lines (text, wb_pour_steps_dup_hot (self->steps));
  add_disorder (self, text);
  add_lines (text, wb_pour_steps_dup_running (self->steps));
  add_lacking (self, WB_APP_POURED_TARE, text);
  add_lacking (self, WB_APP_POURED_FILL, text);
  add_old_day (self, text);
  return g_string_free (text, FALSE);
}

WbBatch *
wb_pour_sheet_dup_actual (WbPourSheet   *self,
                          const WbBatch *planned)
{
  g_autoptr (GPtrArray) steps = NULL;
  WbBatch *actual;
  WbDay day;

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  g_return_val_if_fail (planned != NULL, NULL);

  actual = wb_record_copy (planned);
  for (guint i = 0; i < N_PARTS; i++)
    wb_record_form_write (self->forms[i], actual);
  steps = wb_pour_steps_dup_steps (self->steps);
  take_steps (actual, steps);
  day = get_day (self);
  actual->poured_at = get_moment (self, day);
  actual->poured_on = day != WB_DAY_NONE ? day : wb_instant_get_day (actual->poured_at);
  return actual;
}

GArray *
wb_pour_sheet_dup_poured (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  return wb_sample_table_dup_poured (self->samples);
}

char *
wb_pour_sheet_dup_vessel_lot (WbPourSheet *self)
{
  g_autoptr (WbRecord) sample = NULL;

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  sample = wb_record_form_dup_record (self->sample_form);
  return sample != NULL ? g_strdup (((const WbSample *) (gpointer) sample)->vessel_lot) : NULL;
}

char *
wb_pour_sheet_dup_wick_lot (WbPourSheet *self)
{
  g_autoptr (WbRecord) sample = NULL;

  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  sample = wb_record_form_dup_record (self->sample_form);
  return sample != NULL ? g_strdup (((const WbSample *) (gpointer) sample)->wick_lot) : NULL;
}

GArray *
wb_pour_sheet_dup_wick_lots (WbPourSheet *self)
{
  g_return_val_if_fail (WB_IS_POUR_SHEET (self), NULL);
  return wb_wick_lots_dup (self->wick_lots);
}

void
wb_pour_sheet_keep (WbPourSheet *self,
                    GKeyFile    *file,
                    const char  *group)
{
  g_return_if_fail (WB_IS_POUR_SHEET (self));

  for (guint i = 0; i < N_PARTS; i++)
    wb_record_form_keep (self->forms[i], file, group);
  wb_record_form_keep (self->sample_form, file, group);
  wb_wick_lots_keep (self->wick_lots, file, group);
  wb_pour_steps_keep (self->steps, file, group);
  wb_sample_table_keep (self->samples, file, group);
}

void
wb_pour_sheet_put_back (WbPourSheet *self,
                        GKeyFile    *file,
                        const char  *group)
{
  g_return_if_fail (WB_IS_POUR_SHEET (self));

  for (guint i = 0; i < N_PARTS; i++)
    wb_record_form_put_back (self->forms[i], file, group);
  wb_record_form_put_back (self->sample_form, file, group);
  wb_wick_lots_put_back (self->wick_lots, file, group);
  wb_pour_steps_put_back (self->steps, file, group);
  wb_sample_table_put_back (self->samples, file, group);
  /* a day that is that of the step followed it */
  if (wb_pour_steps_get_pour (self->steps).known && wb_instant_get_day (wb_pour_steps_get_pour (self->steps)) == get_day (self))
    self->day_put = get_day (self);
  follow_pour (self);
  show_cure (self);
  show_pot (self);
}
