/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-stock.h"
#include "wb-experiment.h"
#include "wb-record-form.h"

G_BEGIN_DECLS

/* What stock and prices say in words, for makers who keep them (WbNotebook.keeps_stock). Translated; callers free. */

/* "12.40 EUR", or the number alone where no currency is written. */
char *wb_material_stock_dup_money  (double money, const WbNotebook *settings);
/* In what people buy it: kg or lb of wax, g or oz of oil, dye and additive; WB_UNIT_NONE: vessels and wicks are counted. */
WbUnit wb_material_stock_get_unit (const WbRecordType *type, gboolean us_units);
/* How much came in is asked in that unit, and what it cost in the notebook's currency. The form holds a lot of such a material. */
void  wb_material_stock_set_form   (WbRecordForm *form, const WbRecordType *type, const WbNotebook *settings);
/* An amount of that material: "850 g", "24 pieces". */
char *wb_material_stock_dup_amount (gconstpointer material, double amount, gboolean us_units);
/*
 * What is left of it and its unit price, by the kilogram, the pound or the piece; what was poured without naming a lot; or what
 * has to be written down before any of it is known.
 */
char *wb_material_stock_dup_words  (gconstpointer material, const WbCraftStock *stock, const WbNotebook *settings);

G_END_DECLS
