/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include "wb-craft-deviations.h"
#include "wb-craft-method.h"
#include "wb-craft-pot.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Samples that were set aside, where the test left its protocol, and what was not read. */

#define SAMPLES_NAMED 6
#define OFFSET_MM 3.0      /* a wick further off centre is the tester's fault; common practice, no source */

/* ---- Set aside ---- */

static void
add_set_aside (const WbReportTest *test)
{
  for (guint i = 0; i < test->data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (test->data, i);
      g_autofree char *code = wb_report_test_dup_code (test, i);
      g_autofree char *cell = NULL;
      const char *cause;

      if (!wb_report_test_is_aside (sample))
        continue;
      cell = wb_report_test_dup_cell (test, NULL, g_array_index (test->data->sample_cell, guint, i));
      cause = sample->set_aside_cause >= 0 ? g_dgettext (GETTEXT_PACKAGE, wb_cause_words[sample->set_aside_cause].label) : _("cause not stated");
      if (sample->set_aside != NULL)
        /* Translators: sample code; its combination; the cause; the maker's words. */
        wb_report_test_point (test, _("Sample %s (%s) was set aside: %s. %s"), code, cell, cause, sample->set_aside);
      else
        wb_report_test_point (test, _("Sample %s (%s) was set aside: %s."), code, cell, cause);
    }
}

static guint
count_set_aside (const WbReportTest *test)
{
  guint n = 0;

  for (guint i = 0; i < test->data->samples->len; i++)
    n += wb_report_test_is_aside (wb_dataset_get_sample (test->data, i));
  return n;
}

/* ---- Deviations of burns ---- */

/* How many burns, and the samples that they are of. */
typedef struct
{
  guint      n[WB_CRAFT_N_DEVIATIONS];
  GPtrArray *samples[WB_CRAFT_N_DEVIATIONS];
} Deviations;

static void
look_at_burn (const WbReportTest    *test,
              guint                  index,
              const WbCraftCrossing *crossings,
              Deviations            *self)
{
  g_autoptr (GArray) found = wb_craft_deviations_find (test->data, test->answer->figures, crossings, index, NAN);
  const WbSample *sample = wb_dataset_get_sample (test->data, test->answer->figures->burns[index].sample);

  for (guint i = 0; i < found->len; i++)
    {
      WbCraftDeviationCode code = g_array_index (found, WbCraftDeviation, i).code;

      self->n[code]++;
      wb_report_list_add_name (self->samples[code], sample->code);
    }
}

static void
say_alight (const WbReportTest *test)
{
  const WbCraftFigures *figures = test->answer->figures;
  guint n = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    n += figures->burns[i].alight;
  if (n > 0)
    /* Translators: how many burns are alight, how many there are. */
    wb_report_test_say (test, g_dngettext (GETTEXT_PACKAGE,
                                           "%u of the %u burns is still alight: how long it lasts and what is read at its end is not known yet, and not missing.",
                                           "%u of the %u burns are still alight: how long they last and what is read at their end is not known yet, and not missing.",
                                           n), n, figures->n_burns);
}

/* FALSE: there is none. */
static gboolean
add_burn_deviations (const WbReportTest *test)
{
  const char *heads[] = { _("Deviation"), _("Burns"), _("Samples") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_LEFT };
  static const double shares[] = { 1.6, 0, 1.6 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  g_autofree WbCraftCrossing *crossings = wb_craft_crossings_new (test->data);
  Deviations found = { 0 };
  gboolean any = FALSE;

  for (guint i = 0; i < WB_CRAFT_N_DEVIATIONS; i++)
    found.samples[i] = wb_report_list_new ();
  for (guint i = 0; i < test->answer->figures->n_burns; i++)
    look_at_burn (test, i, crossings, &found);
  for (guint i = 0; i < WB_CRAFT_N_DEVIATIONS; i++)
    {
      g_autofree char *count = g_strdup_printf (_("%u of %u"), found.n[i], test->answer->figures->n_burns);
      g_autofree char *samples = wb_report_list_join (found.samples[i], SAMPLES_NAMED);
      const char *cells[] = { wb_craft_deviation_get_label ((WbCraftDeviationCode) i), count, samples };

      g_ptr_array_unref (found.samples[i]);
      if (found.n[i] == 0)
        continue;
      any = TRUE;
      wb_report_table_add_row (table, cells, FALSE);
    }
  if (any)
    wb_report_document_add_table (test->document, table);
  else
    wb_report_table_free (table);
  return any;
}

/* ---- Deviations of the pour ---- */

/* NULL: it has none. */
static const WbFragrance *
find_oil (const WbReportTest *test,
          const WbBatch      *batch)
{
  for (guint i = 0; batch->fragrance != 0 && i < test->data->fragrances->len; i++)
    if (((const WbRecord *) g_ptr_array_index (test->data->fragrances, i))->id == batch->fragrance)
      return g_ptr_array_index (test->data->fragrances, i);
  return NULL;
}

/* How far off a step may be: "3.0 °C", without the sign of a difference. */
static char *
dup_band (const WbReportTest *test)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE_DIFFERENCE, test->us);
  g_autofree char *number = wb_quantity_format_number (unit, WB_CRAFT_METHOD_BAND_K, -1);

  return g_strdup_printf ("%s\302\240%s", number, wb_unit_get_symbol (unit));
}

/* Steps off their plan; the band is said with them. */
static guint
add_step_deviations (const WbReportTest *test,
                     const WbBatch      *batch,
                     const char         *code)
{
  g_autoptr (GPtrArray) steps = g_ptr_array_new (), found = NULL;
  g_autofree char *band = dup_band (test);

  for (guint i = 0; i < test->data->batch_steps->len; i++)
    if (((const WbBatchStep *) g_ptr_array_index (test->data->batch_steps, i))->batch == batch->record.id)
      g_ptr_array_add (steps, g_ptr_array_index (test->data->batch_steps, i));
  found = wb_craft_method_deviations (steps, find_oil (test, batch), test->us);
  for (guint i = 0; i < found->len; i++)
    /* Translators: code of a melt; a step, what it was and what was planned; degrees. */
    wb_report_test_point (test, _("Melt %s, %s (off by more than %s, or by more than a quarter of its time, or at the flash point)"), code,
                          (const char *) g_ptr_array_index (found, i), band);
  return found->len;
}

/* Masses and load as weighed that are not as meant; how far off they may be is said with them. */
static guint
add_pot_deviations (const WbReportTest *test,
                    const WbBatch      *batch,
                    const char         *code)
{
  g_autoptr (GPtrArray) found = wb_craft_pot_find (batch, test->data->wax, find_oil (test, batch), test->us);
  g_autofree char *band = wb_number_format_trimmed (WB_CRAFT_POT_OFF_SHARE * 100, 1, NULL);

  for (guint i = 0; i < found->len; i++)
    {
      const WbCraftPotLine *line = g_ptr_array_index (found, i);

      if (line->kind < WB_CRAFT_POT_MOST)
        /* Translators: code of a melt; what was weighed and what was planned; per cent. */
        wb_report_test_point (test, _("Melt %s, %s (off by more than %s %%)"), code, line->text, band);
      else
        wb_report_test_point (test, _("Melt %s: %s"), code, line->text);
    }
  return found->len;
}

static guint
add_pour_deviations (const WbReportTest *test)
{
  guint n = 0;

  for (guint i = 0; i < test->data->batches->len; i++)
    {
      const WbBatch *batch = g_ptr_array_index (test->data->batches, i);
      g_autofree char *code = wb_report_dup_name (batch->code != NULL ? batch->code : WB_REPORT_NONE);

      n += add_pot_deviations (test, batch, code);
      n += add_step_deviations (test, batch, code);
      if (batch->deviation == NULL)
        continue;
      n++;
      /* Translators: code of a melt; what was done otherwise. */
      wb_report_test_point (test, _("Melt %s: %s"), code, batch->deviation);
    }
  for (guint i = 0; i < test->data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (test->data, i);
      g_autofree char *code = wb_report_test_dup_code (test, i);
      g_autofree char *offset = NULL;

      if (sample->deviation != NULL)
        wb_report_test_point (test, _("Sample %s: %s"), code, sample->deviation);
      if (sample->wick_offset_mm > OFFSET_MM)
        {
          offset = wb_report_dup_value (test->us, WB_UNIT_MM, sample->wick_offset_mm, -1);
          wb_report_test_point (test, _("Sample %s: the wick stands %s off centre."), code, offset);
        }
      if (sample->cavities != WB_INTEGER_NONE && sample->cavities > 0)
        wb_report_test_point (test, g_dngettext (GETTEXT_PACKAGE, "Sample %s: %d cavity was found.", "Sample %s: %d cavities were found.",
                                                 (gulong) sample->cavities), code, (int) sample->cavities);
      n += (sample->deviation != NULL) + (sample->wick_offset_mm > OFFSET_MM) + (sample->cavities != WB_INTEGER_NONE && sample->cavities > 0);
    }
  return n;
}

/* ---- Missing values ---- */

static const WbFigure asked[] = {
  WB_FIGURE_POOL, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_HANG_UP, WB_FIGURE_SMOKE, WB_FIGURE_SOOT,
  WB_FIGURE_MUSHROOM, WB_FIGURE_CONSUMPTION,
};

static gboolean
has_value (const WbCraftBurn *burn,
           WbFigure           figure)
{
  if (figure == WB_FIGURE_POOL)
    return !isnan (burn->pool_mm) || burn->pool_at_wall;
  return !isnan (wb_craft_burn_get (burn, figure, FALSE));
}

/* Of a rating the worst of the burn counts, of the rest what stood at its end. */
static gboolean
is_rated (WbFigure figure)
{
  return figure == WB_FIGURE_SMOKE || figure == WB_FIGURE_SOOT || figure == WB_FIGURE_MUSHROOM;
}

/* Throw and check burns are asked for other things. */
static gboolean
is_asked (const WbCraftBurn *burn)
{
  return burn->kind != WB_BURN_THROW && burn->kind != WB_BURN_CHECK;
}

static void
append_missing (const char *figure,
                guint       missing,
                GString    *text)
{
  if (missing > 0)
    /* Translators: a figure, then in how many burns it is missing. */
    g_string_append_printf (text, _("%s%s in %u"), text->len > 0 ? ", " : "", figure, missing);
}

static void
say_missing (const WbReportTest *test,
             guint               n,
             const char         *missing,
             gboolean            any_earlier)
{
  if (n == 0)
    wb_report_test_say (test, "%s", _("No burn is on record."));
  else if (*missing != '\0')
    wb_report_test_say (test, _("Of %u burns, these have no value: %s. What is missing is left out, never filled in."), n, missing);
  else if (any_earlier)
    wb_report_test_say (test, _("Every figure has a value in each of the %u burns, but not each was read at the burn's last reading."), n);
  else
    wb_report_test_say (test, _("None: every figure was read at the end of each of the %u burns."), n);
}

/* What was not read at the last reading though before it, and what stands for it. */
static void
say_earlier (const WbReportTest *test,
             const guint        *earlier)
{
  g_autoptr (GString) ends = g_string_new (NULL), ratings = g_string_new (NULL);

  for (guint k = 0; k < G_N_ELEMENTS (asked); k++)
    append_missing (g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (asked[k])), earlier[k], is_rated (asked[k]) ? ratings : ends);
  if (ends->len > 0)
    /* Translators: figures, each with the number of burns. */
    wb_report_test_say (test, _("Not read at the last reading of the burn: %s. The last reading before it stands for it."), ends->str);
  if (ratings->len > 0)
    /* Translators: ratings, each with the number of burns. */
    wb_report_test_say (test, _("Not rated at the last reading of the burn: %s. The worst of the readings before it counts."), ratings->str);
}

static void
add_missing (const WbReportTest *test)
{
  const WbCraftFigures *figures = test->answer->figures;
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = 0, missing[G_N_ELEMENTS (asked)] = { 0 }, earlier[G_N_ELEMENTS (asked)] = { 0 }, no_room = 0;
  gboolean any_earlier = FALSE;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      guint bits;

      /* what is read at the end of a burn is not missing before it */
      if (burn->alight || !is_asked (burn))
        continue;
      bits = wb_craft_burn_find_earlier (test->data, burn);
      n++;
      no_room += isnan (burn->room_c);
      for (guint k = 0; k < G_N_ELEMENTS (asked); k++)
        {
          gboolean has = has_value (burn, asked[k]), is_earlier = has && (bits & 1u << asked[k]) != 0;

          missing[k] += !has;
          earlier[k] += is_earlier;
          any_earlier = any_earlier || is_earlier;
        }
    }
  for (guint k = 0; k < G_N_ELEMENTS (asked); k++)
    append_missing (g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (asked[k])), missing[k], text);
  append_missing (_("room temperature"), no_room, text);
  say_missing (test, n, text->str, any_earlier);
  say_earlier (test, earlier);
}

/* What was changed after it was saved is told; what stood there before stays in the record. */
static gboolean
add_amendments (const WbReportTest *test)
{
  guint amended = test->options->amended, taken_out = test->options->taken_out;

  if (amended > 0)
    wb_report_test_point (test, g_dngettext (GETTEXT_PACKAGE, "%u reading was amended after it was saved; what stood before, and why, is in the record.",
                                             "%u readings were amended after they were saved; what stood before, and why, is in the record.", amended),
                          amended);
  if (taken_out > 0)
    wb_report_test_point (test, g_dngettext (GETTEXT_PACKAGE, "%u reading was taken out after it was saved; it stays in the record, with the reason.",
                                             "%u readings were taken out after they were saved; they stay in the record, with the reason.", taken_out),
                          taken_out);
  return amended > 0 || taken_out > 0;
}

void
wb_report_test_add_deviations (const WbReportTest *test)
{
  gboolean any;

  wb_report_document_add_heading (test->document, 1, _("Deviations and missing values"));
  wb_report_document_add_heading (test->document, 2, _("Samples that were set aside"));
  if (count_set_aside (test) == 0)
    wb_report_test_say (test, "%s", test->data->samples->len > 0 ? _("None: every sample counts.") : _("There is no sample."));
  else
    {
      wb_report_test_say (test, "%s", _("They stay in the record and leave the estimates. A limit that one of them crossed is told under Ranking and reasons."));
      add_set_aside (test);
    }
  wb_report_document_add_heading (test->document, 2, _("Where the test left its protocol"));
  say_alight (test);
  any = add_burn_deviations (test);
  any = add_pour_deviations (test) > 0 || any;
  any = add_amendments (test) || any;
  if (!any)
    wb_report_test_say (test, "%s", _("No deviation is on record."));
  wb_report_document_add_heading (test->document, 2, _("Missing values"));
  add_missing (test);
}
