/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-amend.h"
#include "wb-app-inspection.h"
#include "wb-app-query.h"
#include "wb-app-record.h"
#include "wb-clock.h"
#include "wb-store-dataset.h"

#include <math.h>

/* One sample of an invented workshop with two burns; the second was read at 60 and at 120 minutes, then snuffed. */
typedef struct
{
  WbAppNotebook *notebook;
  gint64         sample, burns[2], readings[3];
  WbAppAmend    *amend;
} Book;

static gint64
add_experiment (WbAppNotebook *notebook)
{
  g_autoptr (WbRecord) protocol = (WbRecord *) wb_protocol_new_house ();
  g_autoptr (WbRecord) profile = (WbRecord *) wb_profile_new_house ();
  g_autoptr (WbRecord) record = wb_record_new (&wb_experiment_type);
  WbExperiment *experiment = (WbExperiment *) record;

  experiment->code = g_strdup ("E-1");
  experiment->title = g_strdup ("Which Sedge for the Tern");
  experiment->wax = app_add_wax (notebook, "Heath blend");
  experiment->protocol = app_save (notebook, protocol);
  experiment->profile = app_save (notebook, profile);
  experiment->samples_per_cell = 1;
  experiment->seed = 1;
  return app_save (notebook, record);
}

static gint64
add_sample (WbAppNotebook *notebook)
{
  g_autoptr (WbRecord) cell_record = wb_record_new (&wb_cell_type);
  g_autoptr (WbRecord) record = wb_record_new (&wb_sample_type);
  WbCell *cell = (WbCell *) cell_record;
  WbSample *sample = (WbSample *) record;

  cell->experiment = add_experiment (notebook);
  cell->vessel = app_add_vessel (notebook, "Tern", 76);
  cell->wick = app_add_wick (notebook, "Sedge", "S-3", 3);
  cell->wick_count = 1;
  cell->load_pct = 0;
  cell->load_basis = WB_BASIS_WAX;
  sample->experiment = cell->experiment;
  sample->cell = app_save (notebook, cell_record);
  sample->code = g_strdup ("T1");
  sample->fill_g = 180;
  return app_save (notebook, record);
}

static gint64
add_burn (Book *book,
          int   number)
{
  g_autoptr (WbRecord) session = wb_record_new (&wb_session_type);
  g_autoptr (WbRecord) record = wb_record_new (&wb_burn_type);
  WbBurn *burn = (WbBurn *) record;

  ((WbSession *) session)->opened_at = wb_clock_now (wb_clock_get ());
  ((WbSession *) session)->checked = TRUE;
  burn->sample = book->sample;
  burn->number = number;
  burn->kind = WB_BURN_STANDARD;
  burn->session = app_save (book->notebook, session);
  burn->lit_at = wb_clock_now (wb_clock_get ());
  burn->trim_mm = 6;
  return app_save (book->notebook, record);
}

static gint64
add_reading (Book    *book,
             gint64   burn,
             double   minute,
             WbColumn column,
             double   value)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  WbReading *reading = (WbReading *) record;

  reading->burn = burn;
  reading->elapsed_min = minute;
  reading->source = WB_SOURCE_TYPED;
  reading->values[column] = value;
  return app_save (book->notebook, record);
}

static gboolean
is_loaded (gpointer amend)
{
  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

static void
set_up (Book *book)
{
  book->notebook = app_new_notebook ();
  book->sample = add_sample (book->notebook);
  book->burns[0] = add_burn (book, 1);
  add_reading (book, book->burns[0], 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  book->burns[1] = add_burn (book, 2);
  book->readings[0] = add_reading (book, book->burns[1], 60, WB_COLUMN_POOL_MM, 98);
  book->readings[1] = add_reading (book, book->burns[1], 120, WB_COLUMN_POOL_MM, 62);
  book->readings[2] = add_reading (book, book->burns[1], 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  book->amend = wb_app_amend_new (book->notebook, book->sample);
  app_wait_until (is_loaded, book->amend, "what may be amended");
}

static void
tear_down (Book *book)
{
  g_assert_finalize_object (book->amend);
  app_close (book->notebook);
}

/* NULL: it is not listed. Borrowed from the list. */
static WbAppAmendItem *
find (Book               *book,
      const WbRecordType *type,
      gint64              id)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (book->amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (book->amend), i);
      const WbRecord *record = wb_app_amend_item_get_record (item);

      if (record->type == type && record->id == id)
        return item;
    }
  return NULL;
}

typedef struct
{
  Book               *book;
  const WbRecordType *type;
  gint64              id;
  const char         *reason;   /* of the amendment that stands; NULL: none */
} Wanted;

static gboolean
is_amended_so (gpointer data)
{
  const Wanted *wanted = data;
  WbAppAmendItem *item = find (wanted->book, wanted->type, wanted->id);

  return item != NULL && g_strcmp0 (wb_app_amend_item_get_reason (item), wanted->reason) == 0;
}

static WbAppAmendItem *
wait_for_reason (Book               *book,
                 const WbRecordType *type,
                 gint64              id,
                 const char         *reason)
{
  Wanted wanted = { book, type, id, reason };

  app_wait_until (is_amended_so, &wanted, "the amendment in the list");
  return find (book, type, id);
}

static gboolean
save (Book          *book,
      WbAppAmendItem *item,
      gconstpointer  record,
      const char    *reason,
      GError       **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_amend_save_async (book->amend, item, record, reason, NULL, app_keep_result_cb, &result);
  return wb_app_amend_finish (book->amend, app_wait_result (&result), error);
}

static gboolean
take_out (Book           *book,
          WbAppAmendItem *item,
          const char     *reason,
          GError        **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_amend_take_out_async (book->amend, item, reason, NULL, app_keep_result_cb, &result);
  return wb_app_amend_finish (book->amend, app_wait_result (&result), error);
}

static void
amend_pool (Book       *book,
            double      pool_mm,
            const char *reason)
{
  WbAppAmendItem *item = find (book, &wb_reading_type, book->readings[0]);
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_amend_item_get_record (item));
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_POOL_MM] = pool_mm;
  g_assert_true (save (book, item, record, reason, &error));
  g_assert_no_error (error);
  wait_for_reason (book, &wb_reading_type, book->readings[0], reason);
}

static double
get_pool (WbAppAmendItem *item)
{
  return ((const WbReading *) wb_app_amend_item_get_record (item))->values[WB_COLUMN_POOL_MM];
}

static void
undo (Book *book)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_undo_async (book->notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (book->notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

static void
redo (Book *book)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_redo_async (book->notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (book->notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

static void
assert_sound (Book *book)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (wb_app_notebook_get_path (book->notebook), NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (check->finding, ==, NULL);
  g_assert_true (check->sound);
}

static guint
count_versions (Book  *book,
                gint64 reading)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) versions = NULL;

  wb_app_record_versions_async (book->notebook, &wb_reading_type, reading, NULL, app_keep_result_cb, &result);
  versions = wb_app_record_versions_finish (book->notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return versions->len;
}

/* What a report says of the experiment. */
static void
assert_counted (Book   *book,
                gint64  amended,
                gint64  taken_out)
{
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (wb_app_notebook_get_path (book->notebook), WB_STORE_READ, &error);
  gint64 n_amended = -1, n_out = -1;

  g_assert_no_error (error);
  g_assert_true (wb_store_count_amended (store, wb_store_find_experiment (store, "E-1", NULL), "amend", &n_amended, &n_out, &error));
  g_assert_no_error (error);
  g_assert_cmpint (n_amended, ==, amended);
  g_assert_cmpint (n_out, ==, taken_out);
  wb_store_close (store);
}

/* Newest burn first, each before its readings, these from the last to the first; the sample at the end. */
static void
test_list (void)
{
  Book book;
  static const int burns[] = { 2, 2, 2, 2, 1, 1, 0 };

  set_up (&book);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (book.amend)), ==, G_N_ELEMENTS (burns));
  for (guint i = 0; i < G_N_ELEMENTS (burns); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (book.amend), i);

      g_assert_cmpint (wb_app_amend_item_get_burn (item), ==, burns[i]);
      g_assert_null (wb_app_amend_item_get_before (item));
      g_assert_cmpint (wb_app_amend_item_ends_burn (item), ==, i == 1 || i == 5);
    }
  g_assert_cmpstr (wb_app_amend_get_code (book.amend), ==, "T1");
  tear_down (&book);
}

/* On the next day it is seen that 98 was typed for 89: any reading, not the newest entry alone; both versions stay. */
static void
test_amend_a_reading (void)
{
  Book book;
  WbAppAmendItem *item;

  set_up (&book);
  wb_clock_advance (wb_clock_get (), G_TIME_SPAN_DAY);
  amend_pool (&book, 89, "typed 98: for 89");
  item = find (&book, &wb_reading_type, book.readings[0]);
  g_assert_cmpfloat (get_pool (item), ==, 89);
  g_assert_cmpfloat (((const WbReading *) wb_app_amend_item_get_before (item))->values[WB_COLUMN_POOL_MM], ==, 98);
  g_assert_cmpint (wb_app_amend_item_get_amended_at (item).utc_us, ==, wb_clock_now (wb_clock_get ()).utc_us);
  g_assert_cmpuint (count_versions (&book, book.readings[0]), ==, 2);
  g_assert_cmpstr (wb_app_notebook_get_undo_label (book.notebook), ==, "Amend the reading of T1, burn 2, at 60 min: typed 98: for 89");
  assert_sound (&book);
  tear_down (&book);
}

/* An undo takes the newest amendment off, and so on down to what was read; a redo brings it back. */
static void
test_undo (void)
{
  Book book;
  WbAppAmendItem *item;

  set_up (&book);
  amend_pool (&book, 89, "typed 98 for 89");
  amend_pool (&book, 88, "a glance at the photo");
  undo (&book);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[0], "typed 98 for 89");
  g_assert_cmpfloat (get_pool (item), ==, 89);
  assert_counted (&book, 1, 0);
  undo (&book);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[0], NULL);
  assert_counted (&book, 0, 0);
  g_assert_cmpfloat (get_pool (item), ==, 98);
  g_assert_null (wb_app_amend_item_get_before (item));
  redo (&book);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[0], "typed 98 for 89");
  assert_counted (&book, 1, 0);
  g_assert_cmpfloat (get_pool (item), ==, 89);
  g_assert_cmpuint (count_versions (&book, book.readings[0]), ==, 6);
  assert_sound (&book);
  tear_down (&book);
}

/* Not taken: it counts no longer, and stands in the list with its reason; undo brings it back. */
static void
test_take_out (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (GError) error = NULL;

  set_up (&book);
  item = find (&book, &wb_reading_type, book.readings[1]);
  g_assert_true (take_out (&book, item, "read at another candle", &error));
  g_assert_no_error (error);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[1], "read at another candle");
  g_assert_true (wb_app_amend_item_get_taken_out (item));
  assert_counted (&book, 0, 1);
  g_assert_cmpfloat (get_pool (item), ==, 62);
  g_assert_false (take_out (&book, item, "once more", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  assert_sound (&book);
  undo (&book);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[1], NULL);
  g_assert_false (wb_app_amend_item_get_taken_out (item));
  assert_sound (&book);
  tear_down (&book);
}

/* The facts of a burn and of the pour, each with its reason. */
static void
test_facts (void)
{
  Book book;
  WbAppAmendItem *burn, *sample;
  g_autoptr (WbRecord) burn_record = NULL, sample_record = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&book);
  burn = find (&book, &wb_burn_type, book.burns[0]);
  burn_record = wb_record_copy (wb_app_amend_item_get_record (burn));
  ((WbBurn *) burn_record)->trim_mm = 5;
  ((WbBurn *) burn_record)->kind = WB_BURN_POWER;
  g_assert_true (save (&book, burn, burn_record, "the trimmer says 5", &error));
  sample = find (&book, &wb_sample_type, book.sample);
  sample_record = wb_record_copy (wb_app_amend_item_get_record (sample));
  ((WbSample *) sample_record)->fill_g = 181.5;
  g_assert_true (save (&book, sample, sample_record, "weighed again", &error));
  g_assert_no_error (error);
  burn = wait_for_reason (&book, &wb_burn_type, book.burns[0], "the trimmer says 5");
  g_assert_cmpfloat (((const WbBurn *) wb_app_amend_item_get_record (burn))->trim_mm, ==, 5);
  g_assert_cmpfloat (((const WbBurn *) wb_app_amend_item_get_before (burn))->trim_mm, ==, 6);
  sample = wait_for_reason (&book, &wb_sample_type, book.sample, "weighed again");
  g_assert_cmpfloat (((const WbSample *) wb_app_amend_item_get_before (sample))->fill_g, ==, 180);
  assert_sound (&book);
  tear_down (&book);
}

/* No reason, no difference, a value out of its range: nothing is written. */
static void
test_refusals (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&book);
  item = find (&book, &wb_reading_type, book.readings[0]);
  record = wb_record_copy (wb_app_amend_item_get_record (item));
  g_assert_false (save (&book, item, record, "no difference", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_NOTHING);
  g_clear_error (&error);
  ((WbReading *) record)->values[WB_COLUMN_POOL_MM] = 89;
  g_assert_false (save (&book, item, record, "  ", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  ((WbReading *) record)->values[WB_COLUMN_POOL_MM] = 9800;
  g_assert_false (save (&book, item, record, "two noughts too many", &error));
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE);
  g_assert_cmpuint (count_versions (&book, book.readings[0]), ==, 1);
  tear_down (&book);
}

/* Two of one burn, minute, rater and event would be one observation in a file: the second moves on by a tenth. */
static void
test_same_minute (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&book);
  item = find (&book, &wb_reading_type, book.readings[0]);
  record = wb_record_copy (wb_app_amend_item_get_record (item));
  ((WbReading *) record)->elapsed_min = 120;
  g_assert_true (save (&book, item, record, "it was the second hour", &error));
  g_assert_no_error (error);
  item = wait_for_reason (&book, &wb_reading_type, book.readings[0], "it was the second hour");
  g_assert_cmpfloat_with_epsilon (((const WbReading *) wb_app_amend_item_get_record (item))->elapsed_min, 120.1, 1e-9);
  tear_down (&book);
}

/* Whoever amends what somebody else amended meanwhile is told, and the entry that it came from cannot be taken back beneath it. */
static void
test_conflicts (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (WbAppAmendItem) seen = NULL;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 first;

  set_up (&book);
  seen = g_object_ref (find (&book, &wb_reading_type, book.readings[0]));
  record = wb_record_copy (wb_app_amend_item_get_record (seen));
  first = record->entry;
  amend_pool (&book, 89, "typed 98 for 89");
  ((WbReading *) record)->values[WB_COLUMN_POOL_MM] = 88;
  g_assert_false (save (&book, seen, record, "by an old window", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  g_clear_error (&error);
  wb_app_record_take_back_async (book.notebook, first, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (book.notebook, app_wait_result (&result), NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  g_clear_object (&result);
  item = find (&book, &wb_reading_type, book.readings[0]);
  g_assert_cmpfloat (get_pool (item), ==, 89);
  assert_sound (&book);
  tear_down (&book);
}

static guint
count_doubts (Book           *book,
              WbAppAmendItem *item,
              gconstpointer   record)
{
  g_autoptr (GArray) doubts = wb_app_amend_find_doubts (book->amend, item, record, 76);

  return doubts->len;
}

/* Held against the readings before it in its burn, and only where the amendment itself brings the doubt. */
static void
test_doubts (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (WbRecord) record = NULL, sample = NULL;

  set_up (&book);
  /* 98 mm, then 62 mm: that was so when it was read. */
  item = find (&book, &wb_reading_type, book.readings[1]);
  record = wb_record_copy (wb_app_amend_item_get_record (item));
  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 20;
  g_assert_cmpuint (count_doubts (&book, item, record), ==, 0);
  ((WbReading *) record)->values[WB_COLUMN_POOL_MM] = 40;
  g_assert_cmpuint (count_doubts (&book, item, record), ==, 1);
  /* No sample is poured after its first burn, nor tomorrow. */
  item = find (&book, &wb_sample_type, book.sample);
  sample = wb_record_copy (wb_app_amend_item_get_record (item));
  ((WbSample *) sample)->poured_on = wb_instant_get_day (wb_clock_now (wb_clock_get ())) + 1;
  g_assert_cmpuint (count_doubts (&book, item, sample), ==, 1);
  ((WbSample *) sample)->poured_on -= 8;
  g_assert_cmpuint (count_doubts (&book, item, sample), ==, 0);
  tear_down (&book);
}

/* What did not change keeps its object, and with it its row on the screen. */
static void
test_objects_stay (void)
{
  Book book;
  WbAppAmendItem *other;

  set_up (&book);
  other = find (&book, &wb_reading_type, book.readings[1]);
  amend_pool (&book, 89, "typed 98 for 89");
  g_assert_true (find (&book, &wb_reading_type, book.readings[1]) == other);
  tear_down (&book);
}

static gboolean
look (Book         *book,
      WbInspection *inspection,
      GError      **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_inspection_add_async (book->notebook, inspection, "T1", NULL, app_keep_result_cb, &result);
  return wb_app_inspection_add_finish (book->notebook, app_wait_result (&result), error);
}

static gboolean
has_look (gpointer amend)
{
  g_autoptr (WbAppAmendItem) item = g_list_model_get_item (amend, 0);

  return ((const WbRecord *) wb_app_amend_item_get_record (item))->type == &wb_inspection_type;
}

/* Stands first, of the burn of the evening before; a day later of none. */
static void
test_look (void)
{
  static const struct { int hours; int burn; } cases[] = { { 12, 2 }, { 30, 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Book book;
      g_autoptr (WbRecord) record = wb_record_new (&wb_inspection_type), amended = NULL;
      g_autoptr (GError) error = NULL;
      WbAppAmendItem *item;
      WbInspection *inspection = (WbInspection *) record;
      gint64 before;

      set_up (&book);
      wb_clock_advance (wb_clock_get (), cases[i].hours * G_GINT64_CONSTANT (3600) * G_USEC_PER_SEC);
      inspection->sample = book.sample;
      before = wb_app_notebook_get_last_entry (book.notebook);
      g_assert_false (look (&book, inspection, &error));
      g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
      g_clear_error (&error);
      inspection->frosting = 7;
      g_assert_false (look (&book, inspection, &error));
      g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD);
      g_clear_error (&error);
      g_assert_cmpint (wb_app_notebook_get_last_entry (book.notebook), ==, before);
      inspection->frosting = 3;
      g_assert_true (look (&book, inspection, &error));
      g_assert_no_error (error);
      app_wait_until (has_look, book.amend, "the look in the list");
      {
        g_autoptr (WbAppAmendItem) first = g_list_model_get_item (G_LIST_MODEL (book.amend), 0);
        const WbInspection *seen = wb_app_amend_item_get_record (first);

        g_assert_cmpint (wb_app_amend_item_get_burn (first), ==, cases[i].burn);
        g_assert_true (wb_app_amend_item_may_take_out (first));
        g_assert_cmpint (seen->seen_at.utc_us, ==, wb_clock_now (wb_clock_get ()).utc_us);
        amended = wb_record_copy (seen);
        ((WbInspection *) amended)->frosting = 1;
        g_assert_true (save (&book, first, amended, "wrong candle", &error));
        g_assert_no_error (error);
      }
      item = wait_for_reason (&book, &wb_inspection_type, amended->id, "wrong candle");
      g_assert_cmpint (((const WbInspection *) wb_app_amend_item_get_before (item))->frosting, ==, 3);
      g_assert_cmpint (((const WbInspection *) wb_app_amend_item_get_record (item))->frosting, ==, 1);
      g_assert_true (take_out (&book, item, "not looked at", &error));
      item = wait_for_reason (&book, &wb_inspection_type, amended->id, "not looked at");
      g_assert_true (wb_app_amend_item_get_taken_out (item));
      assert_sound (&book);
      tear_down (&book);
    }
}

/* Codes that are typed afterwards become lots in that entry, once each; what was there before and is no lot stays as it is. */
static void
test_lots (void)
{
  Book book;
  WbAppAmendItem *item;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) lots = NULL;
  g_autoptr (GError) error = NULL;
  WbSample *sample;

  set_up (&book);
  wb_app_lot_shelf_async (book.notebook, book.sample, NULL, app_keep_result_cb, &result);
  wb_app_amend_set_shelf (book.amend, wb_app_lot_shelf_finish (book.notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
  item = find (&book, &wb_sample_type, book.sample);
  g_assert_cmpint (wb_app_amend_get_sample (book.amend), ==, book.sample);
  sample = wb_record_copy (wb_app_amend_item_get_record (item));
  sample->vessel_lot = g_strdup ("V-7; v-8, V-7");
  sample->wick_lot = g_strdup ("K-1");
  sample->fragrance_lot = g_strdup ("F-1");
  g_assert_true (save (&book, item, sample, "Found the delivery note", &error));
  g_assert_no_error (error);
  lots = wb_app_query_list_sync (book.notebook, &wb_lot_type, NULL);
  /* there is no fragrance in it that could have a lot */
  g_assert_cmpuint (lots->len, ==, 3);
  g_assert_cmpstr (((const WbLot *) lots->pdata[0])->code, ==, "K-1");
  g_assert_cmpstr (((const WbLot *) lots->pdata[1])->code, ==, "V-7");
  g_assert_cmpstr (((const WbLot *) lots->pdata[2])->code, ==, "v-8");
  wb_record_free (sample);
  g_clear_object (&result);
  tear_down (&book);
}

void
test_app_amend_add (void)
{
  g_test_add_func ("/app/amend/a-code-typed-afterwards-becomes-a-lot", test_lots);
  g_test_add_func ("/app/amend/a-look-at-the-unlit-sample", test_look);
  g_test_add_func ("/app/amend/newest-burn-first", test_list);
  g_test_add_func ("/app/amend/a-reading-of-yesterday-is-amended-and-both-versions-stay", test_amend_a_reading);
  g_test_add_func ("/app/amend/undo-takes-it-back-and-redo-brings-it", test_undo);
  g_test_add_func ("/app/amend/a-reading-that-was-not-taken-is-taken-out", test_take_out);
  g_test_add_func ("/app/amend/facts-of-a-burn-and-of-the-pour", test_facts);
  g_test_add_func ("/app/amend/what-is-refused-writes-nothing", test_refusals);
  g_test_add_func ("/app/amend/a-minute-that-is-taken-moves-on-by-a-tenth", test_same_minute);
  g_test_add_func ("/app/amend/a-newer-version-is-not-written-over", test_conflicts);
  g_test_add_func ("/app/amend/a-doubt-is-held-against-what-was-before", test_doubts);
  g_test_add_func ("/app/amend/what-did-not-change-keeps-its-object", test_objects_stay);
}
