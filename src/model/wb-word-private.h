/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

/* Words of the enumerations whose keys have functions of their own: nicks are those keys. */
extern const WbWord wb_stage_words[], wb_limit_kind_words[], wb_figure_words[];
