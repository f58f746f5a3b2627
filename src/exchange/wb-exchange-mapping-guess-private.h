/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-mapping-guess.h"

G_BEGIN_DECLS

/* Encoding, delimiter, line of the header of a file, from its beginning. NULL: it cannot be read. */
WbLogMapping *wb_exchange_mapping_guess_shape  (GFile *file, GCancellable *cancellable, GError **error);
/* One column: what it is read as, its hour, unit and words; added to the mapping. `examples` is a strv. */
void          wb_exchange_mapping_guess_column (WbLogMapping *mapping, const char *name, char **examples);
/*
 * Whether the sheet's first rows, read by the columns of the mapping, are of one burn of each sample: its minutes rise, or, in a
 * sheet with hours across, it has one row. FALSE too where that cannot be told.
 */
gboolean      wb_exchange_mapping_is_of_one_burn (GFile *file, const WbLogMapping *mapping, GCancellable *cancellable);
/* Whether a column is read as it, by itself or in a pattern. */
gboolean      wb_exchange_mapping_is_guessed   (const WbLogMapping *mapping, const char *target);

G_END_DECLS
