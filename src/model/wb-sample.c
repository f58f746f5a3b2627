/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sample.h"

#include "wb-field-private.h"
#include "wb-reading.h"

#include <glib/gi18n-lib.h>

const WbWord wb_burn_kind_words[] = {
  [WB_BURN_STANDARD] = { "standard", N_("standard") },
  [WB_BURN_SHORT] = { "short", N_("short") },
  [WB_BURN_POWER] = { "power", N_("power burn") },
  [WB_BURN_UNTRIMMED] = { "untrimmed", N_("untrimmed") },
  [WB_BURN_THROW] = { "throw", N_("throw") },
  [WB_BURN_CHECK] = { "check", N_("check") },
  { NULL, NULL }
};

const WbWord wb_draught_words[] = {
  [WB_DRAUGHT_NONE] = { "none", N_("none") },
  [WB_DRAUGHT_SLIGHT] = { "slight", N_("slight") },
  [WB_DRAUGHT_STRONG] = { "strong", N_("strong") },
  { NULL, NULL }
};

const WbWord wb_cause_words[] = {
  [WB_CAUSE_WICK_OFF_CENTRE] = { "wick_off_centre", N_("wick off centre") },
  [WB_CAUSE_CAVITY] = { "cavity", N_("cavity") },
  [WB_CAUSE_CHIPPED_VESSEL] = { "chipped_vessel", N_("chipped vessel") },
  [WB_CAUSE_WRONG_POUR] = { "wrong_pour", N_("wrong pour") },
  [WB_CAUSE_OTHER] = { "other", N_("other") },
  { NULL, NULL }
};

static const WbWord degree_words[] = {
  { "0", N_("none") },
  { "1", N_("trace") },
  { "2", N_("light") },
  { "3", N_("moderate") },
  { "4", N_("heavy") },
  { NULL, NULL }
};

static const WbWord role_words[] = {
  [WB_ATTACHMENT_PHOTO] = { "photo", N_("photo") },
  [WB_ATTACHMENT_PAPER] = { "paper", N_("paper") },
  [WB_ATTACHMENT_LOGGER] = { "logger", N_("logger file") },
  { NULL, NULL }
};

static const WbFieldSpec batch_fields[] = {
  WB_REFERENCE (WbBatch, experiment, &wb_experiment_type, .required = TRUE),
  WB_NAME (WbBatch, code, .required = TRUE, .label = N_("Code")),
  WB_REFERENCE (WbBatch, fragrance, &wb_fragrance_type, .label = N_("Fragrance")),
  WB_REAL (WbBatch, load_pct, PERCENT, 0, 30, .label = N_("Load")),
  WB_ENUM (WbBatch, load_basis, wb_basis_words, .label = N_("The load is")),
  WB_REAL (WbBatch, overage_pct, PERCENT, 0, 100, .label = N_("Overage")),
  WB_REAL (WbBatch, hold_back_pct, PERCENT, 0, 50, .label = N_("Kept for the second pour")),
  WB_REAL (WbBatch, wax_g, MASS, 0, 1000000, .label = N_("Wax, planned")),
  WB_REAL (WbBatch, oil_g, MASS, 0, 1000000, .label = N_("Fragrance oil, planned")),
  WB_REAL (WbBatch, dye_g, MASS, 0, 1000000, .label = N_("Dye, planned")),
  WB_REAL (WbBatch, additive_g, MASS, 0, 1000000, .label = N_("Additive, planned")),
  WB_REAL (WbBatch, resolution_g, MASS, 0, 100, .label = N_("Resolution of the balance")),
  WB_PLAIN (WbBatch, poured_on, DAY, .label = N_("Poured on")),
  WB_PLAIN (WbBatch, poured_at, INSTANT, .label = N_("Poured at")),
  WB_REAL (WbBatch, heat_c, TEMPERATURE, -10, 200, .label = N_("Melt was heated to")),
  WB_REAL (WbBatch, add_c, TEMPERATURE, -10, 200, .label = N_("Fragrance went in at")),
  WB_REAL (WbBatch, pour_c, TEMPERATURE, -10, 200, .label = N_("Poured at, temperature")),
  WB_REAL (WbBatch, room_c, TEMPERATURE, -10, 50, .label = N_("Room")),
  WB_REAL (WbBatch, actual_wax_g, MASS, 0, 1000000, .label = N_("Wax, weighed")),
  WB_REAL (WbBatch, actual_oil_g, MASS, 0, 1000000, .label = N_("Fragrance oil, weighed")),
  WB_NAME (WbBatch, wax_lot, .label = N_("Wax lot")),
  WB_NAME (WbBatch, fragrance_lot, .label = N_("Fragrance lot")),
  WB_NAME (WbBatch, dye_lot, .label = N_("Dye lot")),
  WB_NAME (WbBatch, additive_lot, .label = N_("Additive lot")),
  WB_NOTE (WbBatch, deviation, .label = N_("Deviation")),
  WB_NOTE (WbBatch, note, .label = N_("Note")),
};

const WbRecordType wb_batch_type = WB_TYPE (WbBatch, "batch", N_("Batch"), batch_fields);

static const WbFieldSpec batch_step_fields[] = {
  WB_REFERENCE (WbBatchStep, batch, &wb_batch_type, .required = TRUE),
  WB_INTEGER (WbBatchStep, position, 1, 1000, .required = TRUE),
  WB_ENUM (WbBatchStep, kind, wb_step_words, .required = TRUE, .label = N_("Step")),
  WB_REAL (WbBatchStep, to_c, TEMPERATURE, -10, 200, .label = N_("Planned at")),
  WB_REAL (WbBatchStep, minutes, PLAIN, 0, 100000, .label = N_("Minutes, planned")),
  WB_PLAIN (WbBatchStep, done_at, INSTANT, .label = N_("Done at")),
  WB_REAL (WbBatchStep, actual_c, TEMPERATURE, -10, 200, .label = N_("Measured")),
  WB_NOTE (WbBatchStep, note, .label = N_("Note")),
};

const WbRecordType wb_batch_step_type = WB_TYPE (WbBatchStep, "batch_step", N_("Step of a pour"), batch_step_fields);

static const WbFieldSpec sample_fields[] = {
  WB_PLAIN (WbSample, uuid, UUID, .required = TRUE),
  WB_REFERENCE (WbSample, experiment, &wb_experiment_type, .required = TRUE),
  WB_REFERENCE (WbSample, cell, &wb_cell_type, .required = TRUE),
  WB_NAME (WbSample, code, .required = TRUE, .label = N_("Code")),
  WB_REFERENCE (WbSample, batch, &wb_batch_type),
  WB_INTEGER (WbSample, cohort, 1, 100000, .label = N_("Cohort")),
  WB_INTEGER (WbSample, blind_code, 100, 999, .label = N_("Blind code")),
  WB_PLAIN (WbSample, poured_on, DAY, .label = N_("Poured on")),
  WB_PLAIN (WbSample, poured_at, INSTANT, .label = N_("Poured at")),
  WB_REAL (WbSample, cure_days, PLAIN, 0, 400, .label = N_("Days until the first burn")),
  WB_NAME (WbSample, wax_lot, .label = N_("Wax lot")),
  WB_NAME (WbSample, wick_lot, .label = N_("Wick lot")),
  WB_NAME (WbSample, fragrance_lot, .label = N_("Fragrance lot")),
  WB_NAME (WbSample, vessel_lot, .label = N_("Vessel lot")),
  WB_REAL (WbSample, tare_g, MASS, 0, 20000, .label = N_("Empty vessel with wick")),
  WB_REAL (WbSample, fill_g, MASS, 0, 20000, .label = N_("Wax and oil")),
  WB_REAL (WbSample, top_up_g, MASS, 0, 20000, .label = N_("Topped up by")),
  WB_REAL (WbSample, wax_height_mm, LENGTH, 5, 500, .label = N_("Height of the fill")),
  WB_REAL (WbSample, wick_offset_mm, LENGTH, 0, 100, .label = N_("Wick off centre by"),
           .hint = N_("More than about 3 mm is a fault of the pour, not of the wick.")),
  WB_REAL (WbSample, wick_lean_deg, PLAIN, 0, 90, .label = N_("Wick leans by, degrees")),
  WB_INTEGER (WbSample, cavities, 0, 1000, .label = N_("Cavities found")),
  WB_REAL (WbSample, pour_c, TEMPERATURE, -10, 200, .label = N_("Poured at, temperature")),
  WB_ENUM (WbSample, set_aside_cause, wb_cause_words, .label = N_("Set aside because of")),
  WB_NOTE (WbSample, set_aside, .label = N_("Set aside: why")),
  WB_FLAG (WbSample, retained, .label = N_("Kept as a reference")),
  WB_NAME (WbSample, place, .label = N_("Kept at")),
  WB_PLAIN (WbSample, keep_until, DAY, .label = N_("Keep until")),
  WB_NOTE (WbSample, deviation, .label = N_("Deviation")),
  WB_NOTE (WbSample, note, .label = N_("Note")),
};

const WbRecordType wb_sample_type = WB_TYPE (WbSample, "sample", N_("Sample"), sample_fields);

static const WbFieldSpec session_fields[] = {
  WB_PLAIN (WbSession, uuid, UUID, .required = TRUE),
  WB_PLAIN (WbSession, opened_at, INSTANT, .required = TRUE),
  WB_PLAIN (WbSession, closed_at, INSTANT),
  WB_NAME (WbSession, place, .label = N_("Place")),
  WB_NAME (WbSession, who, .label = N_("Who")),
  WB_NAME (WbSession, staying, .label = N_("Who stays with the flames, and until when")),
  WB_FLAG (WbSession, checked),
  WB_INTEGER (WbSession, seed, 0, G_MAXINT64),
  WB_NOTE (WbSession, note, .label = N_("Note")),
};

const WbRecordType wb_session_type = WB_TYPE (WbSession, "session", N_("Session"), session_fields);

static const WbFieldSpec burn_fields[] = {
  WB_PLAIN (WbBurn, uuid, UUID, .required = TRUE),
  WB_REFERENCE (WbBurn, sample, &wb_sample_type, .required = TRUE),
  WB_INTEGER (WbBurn, number, 1, G_MAXINT32, .required = TRUE, .label = N_("Number")),
  WB_ENUM (WbBurn, kind, wb_burn_kind_words, .required = TRUE, .label = N_("Kind")),
  WB_REFERENCE (WbBurn, session, &wb_session_type),
  WB_PLAIN (WbBurn, lit_at, INSTANT, .label = N_("Lit at")),
  WB_REAL (WbBurn, trim_mm, LENGTH, 1, 30, .label = N_("Wick trimmed to")),
  WB_NAME (WbBurn, bench_place, .label = N_("Place on the bench")),
  WB_NOTE (WbBurn, note, .label = N_("Note")),
};

const WbRecordType wb_burn_type = WB_TYPE (WbBurn, "burn", N_("Burn"), burn_fields);

static const WbFieldSpec inspection_fields[] = {
  WB_REFERENCE (WbInspection, sample, &wb_sample_type, .required = TRUE),
  WB_PLAIN (WbInspection, seen_at, INSTANT, .required = TRUE),
  WB_ENUM (WbInspection, frosting, degree_words, .label = N_("Frosting")),
  WB_ENUM (WbInspection, wet_spots, degree_words, .label = N_("Wet spots")),
  WB_ENUM (WbInspection, sink_hole, degree_words, .label = N_("Sink hole")),
  WB_ENUM (WbInspection, sweating, degree_words, .label = N_("Sweating")),
  WB_REAL (WbInspection, cold_throw, PLAIN, 1, 5, .words = wb_throw_words, .label = N_("Cold throw")),
  WB_NAME (WbInspection, rater, .label = N_("By whom")),
  WB_NOTE (WbInspection, note, .label = N_("Note")),
};

const WbRecordType wb_inspection_type = WB_TYPE (WbInspection, "inspection", N_("Inspection"), inspection_fields);

static const WbFieldSpec attachment_fields[] = {
  WB_REFERENCE (WbAttachment, owner, NULL, .required = TRUE),
  WB_NAME (WbAttachment, sha256, .required = TRUE),
  WB_ENUM (WbAttachment, role, role_words, .required = TRUE, .label = N_("What it is")),
  WB_NAME (WbAttachment, name, .required = TRUE, .label = N_("Name")),
  WB_NAME (WbAttachment, media_type),
  WB_PLAIN (WbAttachment, taken_at, INSTANT, .label = N_("Taken at")),
  WB_REAL (WbAttachment, wall_c, TEMPERATURE, -200, 1500, .label = N_("Hottest at the wall")),
  WB_REAL (WbAttachment, wall_min, PLAIN, 0, 100000, .label = N_("in minute")),
  WB_REAL (WbAttachment, base_c, TEMPERATURE, -200, 1500, .label = N_("Hottest at the base")),
  WB_REAL (WbAttachment, base_min, PLAIN, 0, 100000, .label = N_("in minute")),
  WB_NOTE (WbAttachment, note, .label = N_("Note")),
};

const WbRecordType wb_attachment_type = WB_TYPE (WbAttachment, "attachment", N_("Attachment"), attachment_fields);

WbDay
wb_batch_get_day (const WbBatch *batch)
{
  g_return_val_if_fail (batch != NULL, WB_DAY_NONE);
  return batch->poured_on == WB_DAY_NONE && batch->poured_at.known ? wb_instant_get_day (batch->poured_at) : batch->poured_on;
}

gboolean
wb_batch_is_poured (const WbBatch *batch)
{
  return wb_batch_get_day (batch) != WB_DAY_NONE;
}
