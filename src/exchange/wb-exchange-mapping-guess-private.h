/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-mapping-guess.h"

G_BEGIN_DECLS

/* Encoding, delimiter, line of the header of a file, from its beginning. NULL: it cannot be read. */
WbLogMapping *wb_exchange_mapping_guess_shape  (GFile *file, GCancellable *cancellable, GError **error);
/* One column: what it is read as, its hour, unit and words; added to the mapping. `examples` is a strv. */
void          wb_exchange_mapping_guess_column (WbLogMapping *mapping, const char *name, char **examples);

G_END_DECLS
