/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * When a photo was taken, as a person writes it: the minute of a burn ("95", "95,5"), or of no burn a day and a time
 * ("2 Mar 2026, 19:40"); empty: not known.
 */

/* How it stands there to be changed; burn NULL: of the sample. "" where it is not known. Caller frees. */
char    *wb_photo_place_dup_text (const WbBurn *burn, WbInstant taken_at);
/* now: for a day without its year, and the zone. FALSE: it cannot be taken, and *refusal says why (caller frees). */
gboolean wb_photo_place_read     (const WbBurn *burn, const char *text, WbInstant now, WbInstant *taken_at, char **refusal);

G_END_DECLS
