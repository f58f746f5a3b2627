/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-amend-words.h"

#include "wb-fact-list.h"
#include "wb-number.h"

#include <glib/gi18n.h>
#include <math.h>

/* A burn's number is part of its name, a batch's plan that of its sheet: neither is amended. */
static const char *const burn_fields[] = { "kind", "trim_mm", "bench_place", "note", NULL };
static const char *const sample_fields[] = {
  "poured_on", "tare_g", "fill_g", "wax_height_mm", "wick_offset_mm", "wick_lean_deg", "pour_c", "wax_lot", "wick_lot",
  "vessel_lot", "fragrance_lot", "deviation", "note", NULL
};
static const char *const look_fields[] = { "frosting", "wet_spots", "sink_hole", "sweating", "cold_throw", "rater", "note", NULL };
static const char *const batch_fields[] = {
  "heat_c", "add_c", "pour_c", "room_c", "actual_wax_g", "actual_oil_g", "wax_lot", "fragrance_lot", "dye_lot", "additive_lot", "deviation",
  "note", NULL
};

const char *const *
wb_amend_words_get_fields (const WbRecordType *type)
{
  if (type == &wb_burn_type)
    return burn_fields;
  if (type == &wb_sample_type)
    return sample_fields;
  if (type == &wb_inspection_type)
    return look_fields;
  return type == &wb_batch_type ? batch_fields : NULL;
}

static gboolean
is_shown (const WbRecordType *type,
          const WbFieldSpec  *spec)
{
  const char *const *names = wb_amend_words_get_fields (type);

  if (spec->label == NULL)
    return FALSE;
  return names != NULL ? g_strv_contains (names, spec->name) : TRUE;
}

char *
wb_amend_words_dup_title (WbAppAmendItem *item,
                          const char     *code)
{
  const WbRecord *record = wb_app_amend_item_get_record (item);
  g_autofree char *minute = NULL;

  if (record->type == &wb_burn_type)
    return g_strdup_printf (_("Burn %d"), wb_app_amend_item_get_burn (item));
  if (record->type == &wb_sample_type)
    return g_strdup_printf (_("Pour of %s"), code);
  if (record->type == &wb_batch_type)
    return g_strdup_printf (_("Batch %s"), ((const WbBatch *) record)->code);
  if (record->type == &wb_inspection_type)
    {
      g_autofree char *when = wb_instant_format_short (((const WbInspection *) record)->seen_at);

      return wb_app_amend_item_get_burn (item) > 0 ? g_strdup_printf (_("Look at %s, %s, after burn %d"), code, when, wb_app_amend_item_get_burn (item))
                                                   : g_strdup_printf (_("Look at %s, %s"), code, when);
    }
  minute = wb_number_format_trimmed (((const WbReading *) record)->elapsed_min, 1, NULL);
  if (!isnan (((const WbReading *) record)->values[WB_COLUMN_WICK_NUMBER]))
    /* Translators: minutes since lighting, and which of several wicks. */
    return g_strdup_printf (_("%s min, wick %d"), minute, (int) ((const WbReading *) record)->values[WB_COLUMN_WICK_NUMBER]);
  return g_strdup_printf (_("%s min"), minute);
}

char *
wb_amend_words_dup_whole (WbAppAmendItem *item,
                          const char     *code)
{
  const WbRecord *record = wb_app_amend_item_get_record (item);
  g_autofree char *title = wb_amend_words_dup_title (item, code);

  if (record->type == &wb_reading_type)
    /* Translators: sample code; number of its burn; minutes since lighting and, of several, the wick. */
    return g_strdup_printf (_("%s, burn %d, %s"), code, wb_app_amend_item_get_burn (item), title);
  if (record->type == &wb_burn_type)
    return g_strdup_printf (_("%s, burn %d"), code, wb_app_amend_item_get_burn (item));
  /* Translators: a batch; the code of one of its samples. */
  return record->type == &wb_batch_type ? g_strdup_printf (_("%s, of which %s is"), title, code) : g_steal_pointer (&title);
}

/* One field of a record with its label; NULL: it is not known, or not shown. Caller frees. */
static char *
dup_field (gconstpointer      record,
           const WbFieldSpec *spec,
           gboolean           us_units)
{
  g_autofree char *value = NULL;

  if (!wb_record_is_known (record, spec))
    return NULL;
  /* Which of the diameters it is, the pool's own field tells; here it is enough that it was. */
  if (g_str_equal (spec->name, "pool_full"))
    return g_strdup (_(spec->label));
  value = wb_fact_list_dup_value (record, spec, us_units);
  return value != NULL ? g_strdup_printf ("%s %s", _(spec->label), value) : NULL;
}

static void
append (GString    *text,
        const char *part)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", part);
}

/* The minute and the wick are the title of a reading; who read it with what, its form says. */
static gboolean
is_told_elsewhere (const WbFieldSpec *spec)
{
  static const char *const names[] = { "elapsed_min", "wick_number", "rater", "instrument", "instrument_place", "throw_room", NULL };

  return g_strv_contains (names, spec->name);
}

char *
wb_amend_words_dup_values (WbAppAmendItem *item,
                           gboolean        us_units)
{
  return wb_amend_words_dup_record (wb_app_amend_item_get_record (item), us_units);
}

char *
wb_amend_words_dup_record (gconstpointer which,
                           gboolean      us_units)
{
  const WbRecord *record = which;
  GString *text = g_string_new (NULL);

  if (record->type == &wb_burn_type && ((const WbBurn *) record)->lit_at.known)
    {
      g_autofree char *when = wb_instant_format_short (((const WbBurn *) record)->lit_at);

      g_string_append_printf (text, _("Lit %s"), when);
    }
  for (guint i = 0; i < record->type->n_fields; i++)
    {
      const WbFieldSpec *spec = &record->type->fields[i];
      g_autofree char *part = is_shown (record->type, spec) && !is_told_elsewhere (spec) ? dup_field (record, spec, us_units) : NULL;

      if (part != NULL)
        append (text, part);
    }
  /* From paper is as good as at the bench, and yet another thing. */
  if (record->type == &wb_reading_type && ((const WbReading *) record)->late)
    append (text, _("typed in later"));
  return g_string_free (text, FALSE);
}

/* What stood there before, of the fields that differ. Caller frees. */
static char *
dup_before (const WbRecord *record,
            const WbRecord *before,
            gboolean        us_units)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < record->type->n_fields; i++)
    {
      const WbFieldSpec *spec = &record->type->fields[i];
      g_autofree char *part = NULL;

      if (!is_shown (record->type, spec) || wb_record_field_equal (record, before, spec))
        continue;
      part = dup_field (before, spec, us_units);
      if (part == NULL)
        part = g_strdup_printf (_("%s not stated"), _(spec->label));
      append (text, part);
    }
  return g_string_free (text, FALSE);
}

char *
wb_amend_words_dup_change (gconstpointer before,
                           gconstpointer after,
                           gboolean      us_units)
{
  const WbRecordType *type = ((const WbRecord *) after)->type;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *spec = &type->fields[i];
      g_autofree char *old = NULL, *fresh = NULL, *part = NULL;

      if (!is_shown (type, spec) || wb_record_field_equal (before, after, spec))
        continue;
      old = wb_record_is_known (before, spec) ? wb_fact_list_dup_value (before, spec, us_units) : NULL;
      fresh = wb_record_is_known (after, spec) ? wb_fact_list_dup_value (after, spec, us_units) : NULL;
      part = g_strdup_printf (_("%s %s → %s"), _(spec->label), old != NULL ? old : _("not stated"),
                              fresh != NULL ? fresh : _("not stated"));
      append (text, part);
    }
  return g_string_free (text, FALSE);
}

char *
wb_amend_words_dup_mark (WbAppAmendItem *item,
                         gboolean        us_units)
{
  const char *reason = wb_app_amend_item_get_reason (item), *who = wb_app_amend_item_get_who (item);
  g_autofree char *when = NULL, *by = NULL, *head = NULL, *before = NULL;

  if (reason == NULL)
    return g_strdup ("");
  when = wb_instant_format_short (wb_app_amend_item_get_amended_at (item));
  by = who != NULL ? g_strdup_printf (_("%s, by %s"), when, who) : g_strdup (when);
  head = g_strdup_printf (wb_app_amend_item_get_taken_out (item) ? _("Taken out %s: %s") : _("Amended %s: %s"), by, reason);
  before = dup_before (wb_app_amend_item_get_record (item), wb_app_amend_item_get_before (item), us_units);
  return *before != '\0' ? g_strdup_printf (_("%s. Before: %s"), head, before) : g_steal_pointer (&head);
}
