/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/* What a column of a maker's sheet is read as, in words; "passed over" where it is not. Caller frees. */
char       *wb_mapping_words_dup_column (const WbLogMappingColumn *column);
/* Title of what can be read, translated. */
const char *wb_mapping_words_get_title  (const WbLogTarget *target);
/* The same with the unit in which the format has it. Caller frees. */
char       *wb_mapping_words_dup_title  (const WbLogTarget *target);

G_END_DECLS
