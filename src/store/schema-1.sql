-- SPDX-License-Identifier: GPL-3.0-or-later
-- A Wickbench notebook, version 1. Every table says what it is: of the record, or derived from it.
--
-- Of the record: nothing is changed in place and nothing removed. A version of a row carries the entry that wrote it
-- and its place (seq, from 1) among the versions of that entry; previous is the entry of the version before, NULL for
-- the first. The version with the highest entry is what is there now, unless it says deleted. Stored in SI: g, mm,
-- degrees Celsius, seconds; what ends in _us is microseconds since 1970 UTC, _offset_s seconds east of UTC then in force
-- where it was seen, _pct per cent; days are ISO 8601. NULL is "not taken" or "not known", which is not 0. An
-- enumeration stands as its word, a flag as 0 or 1.
--
-- What an entry's hash is taken over is written down in wb-store-digest-private.h.
--
-- Derived tables (derived_...) are summaries that can be rebuilt at any time; no hash covers them.

-- Record. One command of a person, or one import. undoes is the entry that it takes back; rows is how many versions
-- it wrote; hash is SHA-256. rows and hash are filled in as the last step of the transaction that wrote the entry.
CREATE TABLE entry (
  number INTEGER PRIMARY KEY,
  instant_us INTEGER NOT NULL,
  offset_s INTEGER NOT NULL,
  zone TEXT NOT NULL,
  kind TEXT NOT NULL,
  topic TEXT,
  who TEXT,
  why TEXT NOT NULL,
  undoes INTEGER REFERENCES entry (number),
  rows INTEGER NOT NULL,
  hash BLOB NOT NULL
) STRICT;

-- Record. The notebook's own anchor, one row: how many entries there are, and the hash of the last.
CREATE TABLE head (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  entries INTEGER NOT NULL,
  hash BLOB NOT NULL
) STRICT;

-- Record. Identity of every record but readings: its kind (the name of its table), its UUID where the kind has one,
-- the entry that made it. It repeats what the first version says, for references to lean on; check compares.
CREATE TABLE object (
  id INTEGER PRIMARY KEY,
  type TEXT NOT NULL,
  uuid BLOB UNIQUE,
  entry INTEGER NOT NULL REFERENCES entry (number)
) STRICT;

-- Record. Bytes kept once under their SHA-256, in lower-case hex, which the attachments that name it are hashed with.
CREATE TABLE attachment_data (
  sha256 TEXT PRIMARY KEY,
  bytes BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- Record. The notebook itself: exactly one.
CREATE TABLE notebook (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  title TEXT,
  invented INTEGER NOT NULL,
  paper TEXT,
  us_units INTEGER NOT NULL,
  maker TEXT,
  address TEXT,
  bench_places INTEGER,
  bench_columns INTEGER,
  evenings TEXT,
  evenings_out TEXT,
  evening_begins_min INTEGER,
  keeps_stock INTEGER NOT NULL,
  currency TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: name and inner diameter at the wax level.
CREATE TABLE vessel (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  shape TEXT,
  inner_diameter_mm REAL NOT NULL,
  inner_width_mm REAL,
  middle_diameter_mm REAL,
  middle_width_mm REAL,
  base_diameter_mm REAL,
  base_width_mm REAL,
  mouth_mm REAL,
  wax_height_mm REAL,
  headspace_mm REAL,
  wall_mm REAL,
  tare_g REAL,
  water_g REAL,
  water_c REAL,
  wall TEXT,
  origin TEXT,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: name.
CREATE TABLE wax (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  kind TEXT,
  density REAL,
  density_c REAL,
  max_load_pct REAL,
  max_load_basis TEXT,
  melt_c REAL,
  heat_c REAL,
  add_c REAL,
  pour_c REAL,
  burn_cure_days REAL,
  smell_cure_days REAL,
  crystallises INTEGER NOT NULL,
  hold_back_pct REAL,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: series and size. step is the place of the size in its series.
CREATE TABLE wick (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  series TEXT NOT NULL,
  size TEXT NOT NULL,
  step INTEGER,
  kind TEXT,
  priming TEXT,
  tab_mm REAL,
  collar_mm REAL,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A supplier's recommended diameters. Part of its wick.
CREATE TABLE wick_guide (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  wick INTEGER NOT NULL REFERENCES object (id),
  wax INTEGER REFERENCES object (id),
  from_mm REAL NOT NULL,
  to_mm REAL NOT NULL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: name.
CREATE TABLE fragrance (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  blend INTEGER NOT NULL,
  flash_c REAL,
  ifra_limit_pct REAL,
  density REAL,
  burn_cure_days REAL,
  smell_cure_days REAL,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Part of its blend.
CREATE TABLE fragrance_part (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  fragrance INTEGER NOT NULL REFERENCES object (id),
  part INTEGER NOT NULL REFERENCES object (id),
  share_pct REAL NOT NULL,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: name.
CREATE TABLE dye (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  form TEXT,
  drop_g REAL,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: name.
CREATE TABLE additive (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  usual_pct REAL,
  supplier TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A delivery. material is any of the materials above; part of it.
CREATE TABLE lot (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  material INTEGER NOT NULL REFERENCES object (id),
  code TEXT NOT NULL,
  received_on TEXT,
  used_up INTEGER NOT NULL,
  amount REAL,
  price REAL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A step of how a wax is poured; part of it.
CREATE TABLE method_step (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  wax INTEGER NOT NULL REFERENCES object (id),
  position INTEGER NOT NULL,
  kind TEXT NOT NULL,
  to_c REAL,
  minutes REAL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. How an experiment is burnt. Identity: name.
CREATE TABLE protocol (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  burn_s REAL NOT NULL,
  interval_upper_s REAL NOT NULL,
  interval_middle_s REAL NOT NULL,
  interval_lower_s REAL NOT NULL,
  last_inch_interval_s REAL NOT NULL,
  stagger_s REAL NOT NULL,
  trim_mm REAL,
  cool_s REAL,
  room_low_c REAL,
  room_high_c REAL,
  window_low REAL NOT NULL,
  window_high REAL NOT NULL,
  end_rule TEXT NOT NULL,
  end_residue_mm REAL,
  end_burns INTEGER,
  samples_wanted INTEGER NOT NULL,
  stop_sure_pct REAL,
  ask_lighting TEXT,
  ask_round TEXT,
  ask_before_snuffing TEXT,
  ask_after_snuffing TEXT,
  ask_next_day TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Part of its protocol.
CREATE TABLE safety_limit (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  protocol INTEGER NOT NULL REFERENCES object (id),
  kind TEXT NOT NULL,
  ask_at REAL,
  stop_at REAL NOT NULL,
  house INTEGER NOT NULL,
  source TEXT,
  off INTEGER NOT NULL,
  off_reason TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. What a score asks for. Identity: name.
CREATE TABLE profile (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  name TEXT NOT NULL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Part of its score profile.
CREATE TABLE aim (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  profile INTEGER NOT NULL REFERENCES object (id),
  stage TEXT NOT NULL,
  figure TEXT NOT NULL,
  zero_below REAL,
  one_from REAL,
  one_to REAL,
  zero_above REAL,
  late_floor REAL,
  weight REAL NOT NULL,
  worst INTEGER NOT NULL,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: code; title too, which is its name in files.
CREATE TABLE experiment (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  code TEXT NOT NULL,
  title TEXT NOT NULL,
  question TEXT,
  wax INTEGER NOT NULL REFERENCES object (id),
  dye INTEGER REFERENCES object (id),
  dye_pct REAL,
  dye_drops_per_kg REAL,
  additive INTEGER REFERENCES object (id),
  additive_pct REAL,
  protocol INTEGER NOT NULL REFERENCES object (id),
  profile INTEGER NOT NULL REFERENCES object (id),
  samples_per_cell INTEGER,
  seed INTEGER,
  repeats INTEGER REFERENCES object (id),
  closed INTEGER NOT NULL,
  imported INTEGER NOT NULL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A combination. Identity in its experiment: vessel, wick, count, spacing, fragrance, load and basis.
CREATE TABLE cell (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  experiment INTEGER NOT NULL REFERENCES object (id),
  vessel INTEGER NOT NULL REFERENCES object (id),
  wick INTEGER NOT NULL REFERENCES object (id),
  wick_count INTEGER NOT NULL,
  wick_spacing_mm REAL,
  fragrance INTEGER REFERENCES object (id),
  load_pct REAL NOT NULL,
  load_basis TEXT NOT NULL,
  left_out INTEGER NOT NULL,
  place INTEGER,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. One melt. Identity: code in its experiment.
CREATE TABLE batch (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  experiment INTEGER NOT NULL REFERENCES object (id),
  code TEXT NOT NULL,
  fragrance INTEGER REFERENCES object (id),
  load_pct REAL,
  load_basis TEXT,
  overage_pct REAL,
  hold_back_pct REAL,
  wax_g REAL,
  oil_g REAL,
  dye_g REAL,
  additive_g REAL,
  resolution_g REAL,
  poured_on TEXT,
  poured_at_us INTEGER,
  poured_at_offset_s INTEGER,
  heat_c REAL,
  add_c REAL,
  pour_c REAL,
  room_c REAL,
  actual_wax_g REAL,
  actual_oil_g REAL,
  wax_lot TEXT,
  fragrance_lot TEXT,
  dye_lot TEXT,
  additive_lot TEXT,
  deviation TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A step of a melt, as planned and as done; part of its batch.
CREATE TABLE batch_step (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  batch INTEGER NOT NULL REFERENCES object (id),
  position INTEGER NOT NULL,
  kind TEXT NOT NULL,
  to_c REAL,
  minutes REAL,
  done_at_us INTEGER,
  done_at_offset_s INTEGER,
  actual_c REAL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: code in its experiment.
CREATE TABLE sample (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  experiment INTEGER NOT NULL REFERENCES object (id),
  cell INTEGER NOT NULL REFERENCES object (id),
  code TEXT NOT NULL,
  batch INTEGER REFERENCES object (id),
  cohort INTEGER,
  blind_code INTEGER,
  poured_on TEXT,
  poured_at_us INTEGER,
  poured_at_offset_s INTEGER,
  cure_days REAL,
  wax_lot TEXT,
  wick_lot TEXT,
  fragrance_lot TEXT,
  vessel_lot TEXT,
  tare_g REAL,
  fill_g REAL,
  top_up_g REAL,
  wax_height_mm REAL,
  wick_offset_mm REAL,
  wick_lean_deg REAL,
  cavities INTEGER,
  pour_c REAL,
  set_aside_cause TEXT,
  set_aside TEXT,
  retained INTEGER NOT NULL,
  place TEXT,
  keep_until TEXT,
  deviation TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. An evening at the bench.
CREATE TABLE session (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  opened_at_us INTEGER NOT NULL,
  opened_at_offset_s INTEGER NOT NULL,
  closed_at_us INTEGER,
  closed_at_offset_s INTEGER,
  place TEXT,
  who TEXT,
  staying TEXT,
  checked INTEGER NOT NULL,
  seed INTEGER,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. Identity: number in the life of its sample.
CREATE TABLE burn (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  sample INTEGER NOT NULL REFERENCES object (id),
  number INTEGER NOT NULL,
  kind TEXT NOT NULL,
  session INTEGER REFERENCES object (id),
  lit_at_us INTEGER,
  lit_at_offset_s INTEGER,
  trim_mm REAL,
  bench_place TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. What was seen of one burn at one moment. Counts its own ids, and has no row in object: there may be millions.
-- pool_full: 1 says that pool_mm was at the wall, 2 pool_a_mm, 4 pool_b_mm; that diameter is then NULL.
CREATE TABLE reading (
  id INTEGER NOT NULL,
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  uuid BLOB NOT NULL,
  burn INTEGER NOT NULL REFERENCES object (id),
  elapsed_min REAL NOT NULL,
  room_c REAL,
  draught TEXT,
  pool_mm REAL,
  pool_a_mm REAL,
  pool_b_mm REAL,
  pool_full INTEGER,
  ring_12_mm REAL,
  ring_3_mm REAL,
  ring_6_mm REAL,
  ring_9_mm REAL,
  depth_mm REAL,
  flame_mm REAL,
  flame_max_mm REAL,
  flame_datum TEXT,
  flame_state TEXT,
  vessel_c REAL,
  base_c REAL,
  smoke INTEGER,
  soot INTEGER,
  mushroom INTEGER,
  hang_up_mm REAL,
  hang_up_share_pct REAL,
  throw INTEGER,
  alone TEXT,
  mass_g REAL,
  event TEXT,
  event_s REAL,
  wick_number INTEGER,
  throw_distance_m REAL,
  throw_blind TEXT,
  throw_room TEXT,
  rater TEXT,
  note TEXT,
  instrument TEXT,
  instrument_place TEXT,
  source TEXT NOT NULL,
  source_file TEXT,
  source_line INTEGER,
  late INTEGER NOT NULL,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A look at an unlit sample; part of it. 0 none to 4 heavy.
CREATE TABLE inspection (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  sample INTEGER NOT NULL REFERENCES object (id),
  seen_at_us INTEGER NOT NULL,
  seen_at_offset_s INTEGER NOT NULL,
  frosting INTEGER,
  wet_spots INTEGER,
  sink_hole INTEGER,
  sweating INTEGER,
  cold_throw REAL,
  rater TEXT,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. What a maker approved, and what it rests on; verdict to answer_entry are what the answer said when it was signed.
CREATE TABLE decision (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  experiment INTEGER NOT NULL REFERENCES object (id),
  cell INTEGER NOT NULL REFERENCES object (id),
  against TEXT,
  not_tested TEXT,
  conditions TEXT,
  rests_on TEXT,
  crossed TEXT,
  holds_until TEXT,
  signed_by TEXT NOT NULL,
  signed_at_us INTEGER NOT NULL,
  signed_at_offset_s INTEGER NOT NULL,
  note TEXT,
  verdict TEXT,
  score REAL,
  score_low REAL,
  score_high REAL,
  p_best REAL,
  p_near REAL,
  p_cross REAL,
  samples INTEGER,
  burns INTEGER,
  answer_entry INTEGER,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. What came of a change behind a decision; part of it. changed_entry is the version of the lot or material that it speaks of.
CREATE TABLE confirmation (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  decision INTEGER NOT NULL REFERENCES object (id),
  changed INTEGER NOT NULL REFERENCES object (id),
  changed_entry INTEGER NOT NULL,
  experiment INTEGER REFERENCES object (id),
  why TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;

-- Record. A file kept with a record; part of it. Its bytes stand in attachment_data.
CREATE TABLE attachment (
  id INTEGER NOT NULL REFERENCES object (id),
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  deleted INTEGER NOT NULL,
  owner INTEGER NOT NULL REFERENCES object (id),
  sha256 TEXT NOT NULL REFERENCES attachment_data (sha256),
  role TEXT NOT NULL,
  name TEXT NOT NULL,
  media_type TEXT,
  taken_at_us INTEGER,
  taken_at_offset_s INTEGER,
  wall_c REAL,
  wall_min REAL,
  base_c REAL,
  base_min REAL,
  note TEXT,
  PRIMARY KEY (id, entry)
) STRICT, WITHOUT ROWID;
-- Record. A column of burn-log files that the format does not know: its name, and its place among them.
CREATE TABLE extra_column (
  id INTEGER NOT NULL,
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  name TEXT NOT NULL,
  PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;

-- Record. The cells of such columns, in versions like the rest; a NULL value took the cell away.
CREATE TABLE extra (
  reading INTEGER NOT NULL,
  entry INTEGER NOT NULL REFERENCES entry (number),
  seq INTEGER NOT NULL,
  previous INTEGER,
  column_id INTEGER NOT NULL REFERENCES extra_column (id),
  value TEXT,
  PRIMARY KEY (reading, column_id, entry)
) STRICT, WITHOUT ROWID;

-- Ways in. References that are followed from the other end, and identities.
CREATE INDEX entry_undoes ON entry (undoes) WHERE undoes IS NOT NULL;
CREATE INDEX cell_by_experiment ON cell (experiment);
CREATE INDEX sample_by_code ON sample (experiment, code);
CREATE INDEX burn_by_number ON burn (sample, number);
CREATE INDEX reading_by_burn ON reading (burn);
-- Amended readings are few, so that what an undo needs is found without looking at them all.
CREATE INDEX reading_amended ON reading (entry) WHERE previous IS NOT NULL;

-- Derived. Counts of what is there now, for the list of experiments; last_entry is the newest entry that touched it.
CREATE TABLE derived_experiment (
  experiment INTEGER PRIMARY KEY,
  burns INTEGER NOT NULL,
  readings INTEGER NOT NULL,
  last_entry INTEGER NOT NULL
) STRICT;

-- Derived. The newest entry that wrote a row of that table.
CREATE TABLE derived_type (
  type TEXT PRIMARY KEY,
  entry INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Derived. What an experiment taught (wb-lesson.h), as of its entry last_entry and of the entry shared_entry of what it
-- shares with others. Kinds are numbers as that version of the estimates counts them. digest is SHA-256 of all of it.
CREATE TABLE derived_lesson (
  experiment INTEGER PRIMARY KEY,
  code TEXT,
  protocol INTEGER NOT NULL,
  last_entry INTEGER NOT NULL,
  shared_entry INTEGER NOT NULL,
  version INTEGER NOT NULL,
  flame_stop REAL,
  vessel_stop REAL,
  digest BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- Derived. A combination of a lesson; place counts from 0.
CREATE TABLE derived_lesson_cell (
  experiment INTEGER NOT NULL,
  place INTEGER NOT NULL,
  cell INTEGER NOT NULL,
  wick INTEGER NOT NULL,
  vessel INTEGER NOT NULL,
  wax INTEGER NOT NULL,
  fragrance INTEGER NOT NULL,
  dye INTEGER NOT NULL,
  series TEXT,
  size TEXT,
  step INTEGER,
  vessel_name TEXT,
  wax_name TEXT,
  scent TEXT,
  wall INTEGER NOT NULL,
  inner_mm REAL,
  load_pct REAL,
  stated_pct REAL,
  basis INTEGER NOT NULL,
  wicks INTEGER NOT NULL,
  headspace_mm REAL,
  room_c REAL,
  samples INTEGER NOT NULL,
  burns INTEGER NOT NULL,
  reach REAL,
  crossed INTEGER NOT NULL,
  crossed_heat INTEGER NOT NULL,
  uncleared INTEGER NOT NULL,
  cracked INTEGER NOT NULL,
  crossed_limit INTEGER NOT NULL,
  crossed_at REAL,
  crossed_stop REAL,
  crossed_house INTEGER NOT NULL,
  crossed_logged INTEGER NOT NULL,
  crossed_min REAL,
  crossed_burn INTEGER NOT NULL,
  crossed_sample TEXT,
  PRIMARY KEY (experiment, place)
) STRICT, WITHOUT ROWID;

-- Derived. A figure of a lesson's combination, on the scale that it is estimated on; cell is the combination's place.
CREATE TABLE derived_lesson_figure (
  experiment INTEGER NOT NULL,
  cell INTEGER NOT NULL,
  figure INTEGER NOT NULL,
  stage INTEGER NOT NULL,
  look INTEGER NOT NULL,
  status INTEGER NOT NULL,
  samples INTEGER NOT NULL,
  burns INTEGER NOT NULL,
  mean REAL,
  variance REAL,
  df REAL,
  sample_sd REAL,
  burn_sd REAL,
  shift REAL,
  pace REAL,
  pace_variance REAL,
  covariance REAL,
  pace_df REAL,
  exponent REAL,
  at_wall_h REAL,
  short_h REAL,
  PRIMARY KEY (experiment, cell, figure, stage, look)
) STRICT, WITHOUT ROWID;

-- Derived. What all lessons together came to (wb-craft-school.h), one row, bytes that only their maker reads; digest is
-- their SHA-256.
CREATE TABLE derived_school (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  kept BLOB NOT NULL,
  digest BLOB NOT NULL
) STRICT, WITHOUT ROWID;
