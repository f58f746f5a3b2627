/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-types.h"

#include "wb-reading.h"

const WbRecordType *const *
wb_record_types (void)
{
  static const WbRecordType *const types[] = {
    &wb_notebook_type,
    &wb_vessel_type,
    &wb_wax_type,
    &wb_wick_type,
    &wb_wick_guide_type,
    &wb_fragrance_type,
    &wb_fragrance_part_type,
    &wb_dye_type,
    &wb_additive_type,
    &wb_lot_type,
    &wb_method_step_type,
    &wb_protocol_type,
    &wb_limit_type,
    &wb_profile_type,
    &wb_aim_type,
    &wb_experiment_type,
    &wb_cell_type,
    &wb_batch_type,
    &wb_batch_step_type,
    &wb_sample_type,
    &wb_session_type,
    &wb_burn_type,
    &wb_reading_type,
    &wb_inspection_type,
    &wb_decision_type,
    &wb_confirmation_type,
    &wb_attachment_type,
    NULL
  };

  return types;
}
