/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-experiment.h"

#include "wb-field-private.h"
#include "wb-word-private.h"

#include <glib/gi18n-lib.h>

static const WbWord end_rule_words[] = {
  { "residue", N_("when this much wax is left") },
  { "self", N_("when it goes out by itself") },
  { "burns", N_("after this many burns (a partial test)") },
  { NULL, NULL }
};

static const WbWord paper_words[] = {
  { "a4", N_("A4") },
  { "letter", N_("Letter") },
  { NULL, NULL }
};

static const WbWord decided_words[] = {
  { "recommended", N_("recommended") },
  { "candidate", N_("candidate") },
  { "rejected", N_("rejected") },
  { "too_little_data", N_("too little data") },
  { NULL, NULL }
};

static const WbFieldSpec protocol_fields[] = {
  WB_NAME (WbProtocol, name, .required = TRUE, .label = N_("Name")),
  WB_REAL (WbProtocol, burn_s, DURATION, 600, 86400, .required = TRUE, .label = N_("Length of a burn")),
  WB_REAL (WbProtocol, interval_upper_s, DURATION, 60, 86400, .required = TRUE, .label = N_("Between readings, upper third")),
  WB_REAL (WbProtocol, interval_middle_s, DURATION, 60, 86400, .required = TRUE, .label = N_("Between readings, middle third")),
  WB_REAL (WbProtocol, interval_lower_s, DURATION, 60, 86400, .required = TRUE, .label = N_("Between readings, lower third")),
  WB_REAL (WbProtocol, last_inch_interval_s, DURATION, 60, 3600, .required = TRUE, .label = N_("Between readings, last inch"),
           .hint = N_("In the last inch somebody stays in the room.")),
  WB_REAL (WbProtocol, stagger_s, DURATION, 0, 3600, .required = TRUE, .label = N_("Between lightings in a row"),
           .hint = N_("A row is lit, and snuffed, one candle after another, so that each can be read at its own time.")),
  WB_REAL (WbProtocol, trim_mm, LENGTH, 1, 30, .label = N_("Trim the wick to")),
  WB_REAL (WbProtocol, cool_s, DURATION, 0, 604800, .label = N_("Cool between burns at least")),
  WB_REAL (WbProtocol, room_low_c, TEMPERATURE, -10, 50, .label = N_("Room from")),
  WB_REAL (WbProtocol, room_high_c, TEMPERATURE, -10, 50, .label = N_("Room to")),
  WB_REAL (WbProtocol, window_low, PLAIN, 0.1, 10, .required = TRUE, .label = N_("Full melt pool due from"),
           .hint = N_("As a multiple of one hour per inch of inner diameter.")),
  WB_REAL (WbProtocol, window_high, PLAIN, 0.1, 10, .required = TRUE, .label = N_("Full melt pool due by")),
  WB_ENUM (WbProtocol, end_rule, end_rule_words, .required = TRUE, .label = N_("The test ends")),
  WB_REAL (WbProtocol, end_residue_mm, LENGTH, 0, 200, .label = N_("Wax left at the end")),
  WB_INTEGER (WbProtocol, end_burns, 1, 1000, .label = N_("Burns until the end")),
  WB_INTEGER (WbProtocol, samples_wanted, 1, 100, .required = TRUE, .label = N_("Samples before it can be recommended")),
  WB_REAL (WbProtocol, stop_sure_pct, PERCENT, 50, 99, .label = N_("Stop looking when the best is this sure"),
           .hint = N_("The chance that the leading wick is the best or as good as the best. It ends the search for it, never the burning down of its samples; a recommendation asks for 90 % whatever stands here.")),
  WB_NOTE (WbProtocol, ask_lighting, .label = N_("Asked at lighting")),
  WB_NOTE (WbProtocol, ask_round, .label = N_("Asked in a round")),
  WB_NOTE (WbProtocol, ask_before_snuffing, .label = N_("Asked before snuffing")),
  WB_NOTE (WbProtocol, ask_after_snuffing, .label = N_("Asked after snuffing")),
  WB_NOTE (WbProtocol, ask_next_day, .label = N_("Asked the next day")),
  WB_NOTE (WbProtocol, note, .label = N_("Note")),
};

const WbRecordType wb_protocol_type = WB_TYPE (WbProtocol, "protocol", N_("Protocol"), protocol_fields);

static const WbFieldSpec limit_fields[] = {
  WB_REFERENCE (WbLimit, protocol, &wb_protocol_type, .required = TRUE),
  WB_ENUM (WbLimit, kind, wb_limit_kind_words, .required = TRUE, .label = N_("Limit on")),
  WB_REAL (WbLimit, ask_at, PLAIN, 0, 86400, .label = N_("Ask from")),
  WB_REAL (WbLimit, stop_at, PLAIN, 0, 86400, .required = TRUE, .label = N_("Stop above")),
  WB_FLAG (WbLimit, house, .label = N_("House limit, no published figure")),
  WB_NOTE (WbLimit, source, .label = N_("Source")),
  WB_FLAG (WbLimit, off, .label = N_("Switched off")),
  WB_NOTE (WbLimit, off_reason, .label = N_("Why it is off"), .hint = N_("It is printed in every report.")),
};

const WbRecordType wb_limit_type = WB_TYPE (WbLimit, "safety_limit", N_("Limit"), limit_fields);

static const WbFieldSpec profile_fields[] = {
  WB_NAME (WbProfile, name, .required = TRUE, .label = N_("Name")),
  WB_NOTE (WbProfile, note, .label = N_("Note")),
};

const WbRecordType wb_profile_type = WB_TYPE (WbProfile, "profile", N_("Score profile"), profile_fields);

/* Aims are in the unit of their figure, or a multiple of one hour per inch: wide enough for all of them. */
#define AIM_LOW  -1000
#define AIM_HIGH 100000

static const WbFieldSpec aim_fields[] = {
  WB_REFERENCE (WbAim, profile, &wb_profile_type, .required = TRUE),
  WB_ENUM (WbAim, stage, wb_stage_words, .required = TRUE, .label = N_("Stage")),
  WB_ENUM (WbAim, figure, wb_figure_words, .required = TRUE, .label = N_("Figure")),
  WB_REAL (WbAim, zero_below, PLAIN, AIM_LOW, AIM_HIGH, .label = N_("0 up to")),
  WB_REAL (WbAim, one_from, PLAIN, AIM_LOW, AIM_HIGH, .label = N_("1 from")),
  WB_REAL (WbAim, one_to, PLAIN, AIM_LOW, AIM_HIGH, .label = N_("1 to")),
  WB_REAL (WbAim, zero_above, PLAIN, AIM_LOW, AIM_HIGH, .label = N_("0 from")),
  WB_REAL (WbAim, late_floor, PLAIN, 0, 1, .label = N_("Never below, on the upper side")),
  WB_REAL (WbAim, weight, PLAIN, 0, 100, .required = TRUE, .label = N_("Weight")),
  WB_FLAG (WbAim, worst, .label = N_("Judged at its worst reading")),
};

const WbRecordType wb_aim_type = WB_TYPE (WbAim, "aim", N_("Aim"), aim_fields);

static const WbFieldSpec experiment_fields[] = {
  WB_PLAIN (WbExperiment, uuid, UUID, .required = TRUE),
  WB_NAME (WbExperiment, code, .required = TRUE, .label = N_("Code"), .hint = N_("Short; it begins every sample's label.")),
  WB_NAME (WbExperiment, title, .required = TRUE, .label = N_("Title")),
  WB_NOTE (WbExperiment, question, .label = N_("Question")),
  WB_REFERENCE (WbExperiment, wax, &wb_wax_type, .required = TRUE, .label = N_("Wax")),
  WB_REFERENCE (WbExperiment, dye, &wb_dye_type, .label = N_("Dye")),
  WB_REAL (WbExperiment, dye_pct, PERCENT, 0, 30, .label = N_("Dye, share of the wax")),
  WB_REAL (WbExperiment, dye_drops_per_kg, PLAIN, 0, 100000, .label = N_("Dye, drops to 1 kg of wax")),
  WB_REFERENCE (WbExperiment, additive, &wb_additive_type, .label = N_("Additive")),
  WB_REAL (WbExperiment, additive_pct, PERCENT, 0, 50, .label = N_("Additive, share of the wax")),
  WB_REFERENCE (WbExperiment, protocol, &wb_protocol_type, .required = TRUE, .label = N_("Protocol")),
  WB_REFERENCE (WbExperiment, profile, &wb_profile_type, .required = TRUE, .label = N_("Score profile")),
  WB_INTEGER (WbExperiment, samples_per_cell, 1, 100, .label = N_("Samples of each combination")),
  WB_INTEGER (WbExperiment, seed, 0, G_MAXINT64, .label = N_("Seed")),
  WB_REFERENCE (WbExperiment, repeats, &wb_experiment_type, .label = N_("Repeats")),
  WB_FLAG (WbExperiment, closed, .label = N_("Finished")),
  WB_FLAG (WbExperiment, imported),
  WB_NOTE (WbExperiment, note, .label = N_("Note")),
};

const WbRecordType wb_experiment_type = WB_TYPE (WbExperiment, "experiment", N_("Experiment"), experiment_fields);

static const WbFieldSpec cell_fields[] = {
  WB_REFERENCE (WbCell, experiment, &wb_experiment_type, .required = TRUE),
  WB_REFERENCE (WbCell, vessel, &wb_vessel_type, .required = TRUE, .label = N_("Vessel")),
  WB_REFERENCE (WbCell, wick, &wb_wick_type, .required = TRUE, .label = N_("Wick")),
  WB_INTEGER (WbCell, wick_count, 1, 12, .required = TRUE, .label = N_("Wicks in the vessel")),
  WB_REAL (WbCell, wick_spacing_mm, LENGTH, 5, 200, .label = N_("Distance between wicks")),
  WB_REFERENCE (WbCell, fragrance, &wb_fragrance_type, .label = N_("Fragrance"), .hint = N_("None: the control.")),
  WB_REAL (WbCell, load_pct, PERCENT, 0, 30, .required = TRUE, .label = N_("Load")),
  WB_ENUM (WbCell, load_basis, wb_basis_words, .required = TRUE, .label = N_("The load is")),
  WB_FLAG (WbCell, left_out, .label = N_("Left out")),
  WB_INTEGER (WbCell, place, 1, 1000000, .label = N_("Place in the grid")),
};

const WbRecordType wb_cell_type = WB_TYPE (WbCell, "cell", N_("Combination"), cell_fields);

static const WbFieldSpec decision_fields[] = {
  WB_REFERENCE (WbDecision, experiment, &wb_experiment_type, .required = TRUE),
  WB_REFERENCE (WbDecision, cell, &wb_cell_type, .required = TRUE, .label = N_("Combination")),
  WB_NOTE (WbDecision, against, .label = N_("Why it is chosen all the same"),
           .hint = N_("Asked where it crossed a limit or is not recommended; it is kept and printed.")),
  WB_NOTE (WbDecision, not_tested, .label = N_("What was not tested")),
  WB_NOTE (WbDecision, conditions, .label = N_("Conditions")),
  WB_NOTE (WbDecision, rests_on, .label = N_("It rests on")),
  WB_NOTE (WbDecision, crossed, .label = N_("Limits crossed")),
  WB_NOTE (WbDecision, holds_until, .label = N_("It holds until"),
           .hint = N_("Any change of wax lot, wick lot, vessel, fragrance or dye asks for a new test.")),
  WB_NAME (WbDecision, signed_by, .required = TRUE, .label = N_("Signed by")),
  WB_PLAIN (WbDecision, signed_at, INSTANT, .required = TRUE),
  WB_NOTE (WbDecision, note, .label = N_("Note")),
  WB_ENUM (WbDecision, verdict, decided_words, .label = N_("Verdict when it was signed")),
  WB_REAL (WbDecision, score, PLAIN, 0, 1, .label = N_("Score when it was signed")),
  WB_REAL (WbDecision, score_low, PLAIN, 0, 1, .label = N_("Score, low end")),
  WB_REAL (WbDecision, score_high, PLAIN, 0, 1, .label = N_("Score, high end")),
  WB_REAL (WbDecision, p_best, PLAIN, 0, 1, .label = N_("Chance of being the best")),
  WB_REAL (WbDecision, p_near, PLAIN, 0, 1, .label = N_("Chance of being near the best")),
  WB_REAL (WbDecision, p_cross, PLAIN, 0, 1, .label = N_("Chance that the next candle crosses a limit")),
  WB_INTEGER (WbDecision, samples, 0, 100000, .label = N_("Samples that counted")),
  WB_INTEGER (WbDecision, burns, 0, 1000000, .label = N_("Burns that counted")),
  WB_INTEGER (WbDecision, answer_entry, 0, G_MAXINT64, .label = N_("Newest entry that the answer rested on")),
};

const WbRecordType wb_decision_type = WB_TYPE (WbDecision, "decision", N_("Decision"), decision_fields);

static const WbFieldSpec confirmation_fields[] = {
  WB_REFERENCE (WbConfirmation, decision, &wb_decision_type, .required = TRUE),
  WB_REFERENCE (WbConfirmation, changed, NULL, .required = TRUE),
  WB_INTEGER (WbConfirmation, changed_entry, 1, G_MAXINT64, .required = TRUE),
  WB_REFERENCE (WbConfirmation, experiment, &wb_experiment_type, .label = N_("Confirmed by")),
  WB_NOTE (WbConfirmation, why, .label = N_("Why no test is needed")),
};

const WbRecordType wb_confirmation_type = WB_TYPE (WbConfirmation, "confirmation", N_("Confirmation"), confirmation_fields);

static const WbFieldSpec notebook_fields[] = {
  WB_PLAIN (WbNotebook, uuid, UUID, .required = TRUE),
  WB_NAME (WbNotebook, title, .label = N_("Title")),
  WB_FLAG (WbNotebook, invented),
  WB_ENUM (WbNotebook, paper, paper_words, .label = N_("Paper")),
  WB_FLAG (WbNotebook, us_units, .label = N_("Inches, ounces and °F")),
  WB_NAME (WbNotebook, maker, .label = N_("Name on reports")),
  WB_NOTE (WbNotebook, address, .label = N_("Lines under it")),
  WB_REAL (WbNotebook, bench_places, PLAIN, 1, 200, .integer = TRUE, .label = N_("Places on the bench")),
  WB_REAL (WbNotebook, bench_columns, PLAIN, 1, 50, .integer = TRUE, .label = N_("Places in a row of the bench"),
           .hint = N_("Stated, the bench is drawn as it stands, and its places are shuffled anew for each session.")),
  WB_NAME (WbNotebook, evenings, .label = N_("Evenings at the bench")),
  WB_NOTE (WbNotebook, evenings_out, .label = N_("Evenings left out")),
  WB_INTEGER (WbNotebook, evening_begins_min, 0, 1439, .label = N_("They begin at")),
  WB_FLAG (WbNotebook, keeps_stock, .label = N_("Keep stock and prices")),
  WB_NAME (WbNotebook, currency, .label = N_("Currency")),
};

const WbRecordType wb_notebook_type = WB_TYPE (WbNotebook, "notebook", N_("Notebook"), notebook_fields);
