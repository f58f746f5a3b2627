/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-cautions-private.h"
#include "wb-report-test-private.h"

#include "wb-house.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Conditions, instruments, people and lots; the cautions. */

#define NAMES_AT_MOST 12
#define ODOUR_RATERS 15 /* VDI 4302-1 asks for so many at least (as told by a test laboratory) */

/* Everything that the readings say of how they were taken, from one walk over them. */
typedef struct
{
  double     room_low, room_high;
  guint      rooms, draughts[WB_DRAUGHT_STRONG + 1];
  guint      flames, from_arch, from_pool;
  guint      temperatures, no_instrument;
  guint      throws, throws_alone, soots, readings, late;
  GPtrArray *raters, *instruments, *throw_raters;
} Survey;

static Survey *
survey_new (void)
{
  Survey *self = g_new0 (Survey, 1);

  self->room_low = INFINITY;
  self->room_high = -INFINITY;
  self->raters = wb_report_list_new ();
  self->instruments = wb_report_list_new ();
  self->throw_raters = wb_report_list_new ();
  return self;
}

static void
survey_free (Survey *self)
{
  g_ptr_array_unref (self->raters);
  g_ptr_array_unref (self->instruments);
  g_ptr_array_unref (self->throw_raters);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Survey, survey_free)

static void
survey_temperature (Survey           *self,
                    const WbReadings *readings,
                    guint             row)
{
  const char *instrument = wb_readings_get_text (readings, row, WB_READING_TEXT_INSTRUMENT);
  const char *place = wb_readings_get_text (readings, row, WB_READING_TEXT_INSTRUMENT_PLACE);

  if (!wb_readings_taken (readings, row, WB_COLUMN_VESSEL_C) && !wb_readings_taken (readings, row, WB_COLUMN_BASE_C))
    return;
  self->temperatures++;
  if (instrument == NULL || place == NULL)
    self->no_instrument++;
  if (instrument != NULL || place != NULL)
    {
      g_autofree char *both = g_strdup_printf ("%s (%s)", instrument != NULL ? wb_house_translate (instrument) : _("instrument not stated"),
                                               place != NULL ? wb_house_translate (place) : _("place not stated"));

      wb_report_list_add_name (self->instruments, both);
    }
}

static void
survey_row (Survey           *self,
            const WbReadings *readings,
            guint             row)
{
  double room = wb_readings_get (readings, row, WB_COLUMN_ROOM_C), draught = wb_readings_get (readings, row, WB_COLUMN_DRAUGHT);
  const char *rater = wb_readings_get_text (readings, row, WB_READING_TEXT_RATER);

  self->readings++;
  self->late += wb_readings_get_late (readings, row);
  if (!isnan (room))
    {
      self->rooms++;
      self->room_low = fmin (self->room_low, room);
      self->room_high = fmax (self->room_high, room);
    }
  if (draught >= WB_DRAUGHT_NONE && draught <= WB_DRAUGHT_STRONG)
    self->draughts[(int) draught]++;
  if (wb_readings_taken (readings, row, WB_COLUMN_FLAME_MM) || wb_readings_taken (readings, row, WB_COLUMN_FLAME_MAX_MM))
    {
      self->flames++;
      self->from_pool += wb_readings_get (readings, row, WB_COLUMN_FLAME_DATUM) == 0;
      self->from_arch += wb_readings_get (readings, row, WB_COLUMN_FLAME_DATUM) == 1;
    }
  wb_report_list_add_name (self->raters, rater);
  self->soots += wb_readings_taken (readings, row, WB_COLUMN_SOOT);
  if (wb_readings_taken (readings, row, WB_COLUMN_THROW))
    {
      self->throws++;
      self->throws_alone += wb_readings_get (readings, row, WB_COLUMN_ALONE) == 1;
      wb_report_list_add_name (self->throw_raters, rater);
    }
  survey_temperature (self, readings, row);
}

static char *
dup_room (const WbReportTest *test,
          const Survey       *survey)
{
  g_autofree char *low = wb_report_dup_value (test->us, WB_UNIT_CELSIUS, survey->room_low, 1);
  g_autofree char *high = wb_report_dup_value (test->us, WB_UNIT_CELSIUS, survey->room_high, 1);

  if (survey->rooms == 0)
    return g_strdup (_("not recorded"));
  return g_strdup_printf (_("lowest %s, highest %s, in %u readings"), low, high, survey->rooms);
}

static char *
dup_draught (const Survey *survey)
{
  const guint *n = survey->draughts;

  if (n[WB_DRAUGHT_NONE] + n[WB_DRAUGHT_SLIGHT] + n[WB_DRAUGHT_STRONG] == 0)
    return g_strdup (_("not recorded"));
  return g_strdup_printf (_("none at %u readings, slight at %u, strong at %u"), n[WB_DRAUGHT_NONE], n[WB_DRAUGHT_SLIGHT], n[WB_DRAUGHT_STRONG]);
}

static char *
dup_datum (const Survey *survey)
{
  guint unsaid = survey->flames - survey->from_arch - survey->from_pool;

  if (survey->flames == 0)
    return g_strdup (_("no flame was measured"));
  if (unsaid == survey->flames)
    return g_strdup (_("whether from the surface of the pool or from the bottom of the flame's arch was not recorded"));
  if (survey->from_arch == survey->flames)
    return g_strdup (_("from the bottom of the flame's arch"));
  if (survey->from_pool == survey->flames)
    return g_strdup (_("from the surface of the pool"));
  return g_strdup_printf (_("from the pool at %u readings, from the arch at %u, not stated at %u"), survey->from_pool, survey->from_arch, unsaid);
}

static char *
dup_instruments (const Survey *survey)
{
  g_autofree char *names = wb_report_list_join (survey->instruments, NAMES_AT_MOST);

  if (survey->temperatures == 0)
    return g_strdup (_("no vessel temperature was read"));
  if (survey->instruments->len == 0)
    return g_strdup (_("not recorded: on metal and glossy glass an infrared thermometer may read tens of degrees low"));
  if (survey->no_instrument == 0)
    return g_steal_pointer (&names);
  return g_strdup_printf (_("%s; instrument or place not stated at %u of %u readings"), names, survey->no_instrument, survey->temperatures);
}

static char *
dup_raters (const Survey *survey)
{
  g_autofree char *names = wb_report_list_join (survey->raters, NAMES_AT_MOST);

  if (survey->raters->len == 0)
    return g_strdup (_("who read and rated was not recorded"));
  /* Translators: number of people; their names. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u person: %s", "%u people: %s", survey->raters->len), survey->raters->len, names);
}

static char *
dup_throw (const Survey *survey)
{
  if (survey->throws == 0)
    return g_strdup (_("not rated"));
  if (survey->throw_raters->len == 0)
    /* Translators: ratings; ratings of a candle that was alone in its room; raters that a standard asks for. */
    return g_strdup_printf (_("%u ratings, %u of them of a candle alone in its room; who rated was not recorded. With fewer than %d raters a rating of scent is an opinion."),
                            survey->throws, survey->throws_alone, ODOUR_RATERS);
  /* Translators: ratings; ratings of a candle that was alone in its room; raters; raters that a standard asks for. */
  return g_strdup_printf (_("%u ratings, %u of them of a candle alone in its room; raters: %u. With fewer than %d raters a rating of scent is an opinion."),
                          survey->throws, survey->throws_alone, survey->throw_raters->len, ODOUR_RATERS);
}

/* From paper is as good as at the bench: told as it is, and no deviation. */
static char *
dup_typed (const Survey *survey)
{
  if (survey->readings == 0)
    return g_strdup (_("not recorded"));
  if (survey->late == 0)
    return g_strdup (_("at the bench"));
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of %u reading after it was taken, by the time that the maker stated",
                                       "%u of %u readings after they were taken, by the time that the maker stated", survey->readings),
                          survey->late, survey->readings);
}

/* ---- Lots ---- */

static char *
join_lots (const WbReportTest *test,
           gsize               of_sample,
           gsize               of_batch)
{
  g_autoptr (GPtrArray) lots = wb_report_list_new ();

  for (guint i = 0; i < test->data->samples->len; i++)
    wb_report_list_add_name (lots, G_STRUCT_MEMBER (char *, wb_dataset_get_sample (test->data, i), of_sample));
  for (guint i = 0; of_batch != 0 && i < test->data->batches->len; i++)
    wb_report_list_add_name (lots, G_STRUCT_MEMBER (char *, g_ptr_array_index (test->data->batches, i), of_batch));
  return lots->len == 0 ? g_strdup (_("not recorded")) : wb_report_list_join (lots, NAMES_AT_MOST);
}

static void
add_lots (const WbReportTest *test,
          WbReportTable      *facts)
{
  g_autofree char *wax = join_lots (test, G_STRUCT_OFFSET (WbSample, wax_lot), G_STRUCT_OFFSET (WbBatch, wax_lot));
  g_autofree char *wick = join_lots (test, G_STRUCT_OFFSET (WbSample, wick_lot), 0);
  g_autofree char *fragrance = join_lots (test, G_STRUCT_OFFSET (WbSample, fragrance_lot), G_STRUCT_OFFSET (WbBatch, fragrance_lot));

  wb_report_test_facts_add (facts, _("Lots of wax"), wax);
  wb_report_test_facts_add (facts, _("Lots of wicks"), wick);
  if (test->data->fragrances->len > 0)
    wb_report_test_facts_add (facts, _("Lots of fragrance"), fragrance);
}

void
wb_report_test_add_conditions (const WbReportTest *test)
{
  const WbReadings *readings = test->data->readings;
  WbReportTable *facts = wb_report_test_facts_new ();
  g_autoptr (Survey) survey = survey_new ();

  for (guint row = 0; row < wb_readings_get_length (readings); row++)
    survey_row (survey, readings, row);

  g_autofree char *room = dup_room (test, survey);
  g_autofree char *draught = dup_draught (survey);
  g_autofree char *datum = dup_datum (survey);
  g_autofree char *instruments = dup_instruments (survey);
  g_autofree char *raters = dup_raters (survey);
  g_autofree char *throw = dup_throw (survey);
  g_autofree char *typed = dup_typed (survey);

  wb_report_document_add_heading (test->document, 1, _("Conditions, instruments and lots"));
  wb_report_test_facts_add (facts, _("Room"), room);
  wb_report_test_facts_add (facts, _("Draught"), draught);
  wb_report_test_facts_add (facts, _("Thermometer at the vessel"), instruments);
  wb_report_test_facts_add (facts, _("Flame height"), datum);
  wb_report_test_facts_add (facts, _("Read and rated by"), raters);
  wb_report_test_facts_add (facts, _("Typed in"), typed);
  wb_report_test_facts_add (facts, _("Hot throw"), throw);
  wb_report_test_facts_add (facts, _("Soot"), survey->soots == 0 ? _("not rated") : _("rated by eye on a scale of this test's own, from none to heavy; no standard has one for the eye, and no soot index was measured"));
  add_lots (test, facts);
  wb_report_document_begin_whole (test->document);
  wb_report_document_add_table (test->document, facts);
  wb_report_document_end_whole (test->document);
}

/* ---- Cautions ---- */

static gboolean
has_several_wicks (const WbDataset *data)
{
  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->wick_count > 1)
      return TRUE;
  return FALSE;
}

static gboolean
was_burnt_longer (const WbDataset *data)
{
  for (guint i = 0; i < data->burns->len; i++)
    if (wb_dataset_get_burn (data, i)->kind == WB_BURN_POWER)
      return TRUE;
  return FALSE;
}

void
wb_report_test_add_cautions (const WbReportTest *test)
{
  wb_report_document_add_heading (test->document, 1, _("Cautions"));
  wb_report_cautions_add_user (test->document, wb_report_test_is_burnt (test) ? test->data->protocol : NULL, test->us, has_several_wicks (test->data), was_burnt_longer (test->data));
  wb_report_document_add_heading (test->document, 2, _("For the maker"));
  wb_report_document_add_warning (test->document, _("Never leave melting wax or a lit sample. Melt in a double boiler or under a thermostat, with a thermometer."));
  wb_report_document_add_warning (test->document, _("Never put water on burning wax. Smother it; keep a dry-chemical or CO₂ extinguisher within reach. "
                                                    "If it does not go out, leave and call the fire service."));
  wb_report_test_point (test, "%s", _("Burn samples on a level surface that takes heat, in a heat-proof tray each, with room between them and nothing above. Ventilate."));
  wb_report_test_point (test, "%s", _("Keep children and pets out of the room. Snuff rather than blow."));
  wb_report_test_point (test, "%s", _("Never move a candle that is lit or liquid."));
  wb_report_document_add_heading (test->document, 2, _("What this report is not"));
  wb_report_test_say (test, "%s", _("It is a maker's own test and no certification. It judges what was recorded of these samples; it makes no candle safe. "
                                    "Suppliers' data sheets, local codes and an accredited laboratory take precedence."));
}
