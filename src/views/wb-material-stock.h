/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-stock.h"
#include "wb-experiment.h"

G_BEGIN_DECLS

/* What stock and prices say in words, for makers who keep them (WbNotebook.keeps_stock). Translated; callers free. */

/* "12.40 EUR", or the number alone where no currency is written. */
char *wb_material_stock_dup_money  (double money, const WbNotebook *settings);
/* An amount of that material: "850 g", "24 pieces". */
char *wb_material_stock_dup_amount (gconstpointer material, double amount, gboolean us_units);
/*
 * What is left of it and its unit price, by the kilogram, the pound or the piece; what was poured without naming a lot; or what
 * has to be written down before any of it is known.
 */
char *wb_material_stock_dup_words  (gconstpointer material, const WbCraftStock *stock, const WbNotebook *settings);

G_END_DECLS
