/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-shelf.h"
#include "wb-exchange-shelf.h"

G_BEGIN_DECLS

/*
 * Lays the rows of a file beside what a notebook has (records: of all kinds and parts) and says of each what it is; fills rows,
 * counts, refused, warnings and records of `self`, whose file and unknown columns are left alone. Takes the refusals of `read`.
 */
void wb_app_shelf_match (WbAppShelf *self, WbExchangeShelf *read, GPtrArray *records);

G_END_DECLS
