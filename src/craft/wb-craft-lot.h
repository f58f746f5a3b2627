/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * What the lot texts of melts and samples say, read here alone. Such a text is a lot's code, or several with a comma, a semicolon
 * or a plus with space around it between them: a melt of two bags, or a blend whose parts have lots of their own. Codes are told apart whatever their case and the space around them. A file that
 * was imported brings texts without a WbLot beside them. Errors: none; a text of NULL names no lot.
 */

/* The codes in the order written, none twice; NULL-terminated, empty where there is none. Caller frees. */
char       **wb_craft_lot_split       (const char *text);
/* Whether the text names that code. */
gboolean     wb_craft_lot_names       (const char *text, const char *code);
/* "W-107, W-108": what one text or the other names, none twice; NULL: neither names any. Caller frees. */
char        *wb_craft_lot_join        (const char *a, const char *b);

/*
 * lots: WbLot. materials: ids of those whose lots may stand in a text: one material, or a blend and then its parts. The
 * lot of that code among them, borrowed; NULL: none.
 */
const WbLot *wb_craft_lot_find        (const GPtrArray *lots, const gint64 *materials, guint n_materials, const char *code);
/* Which of the text's lots are used up: "W-101", "W-101, W-102"; NULL: none. It is asked about, never refused. Caller frees. */
char        *wb_craft_lot_dup_used_up (const GPtrArray *lots, const gint64 *materials, guint n_materials, const char *text);
/* Which of the text's codes are lots of another material, and of none of these; likewise. */
char        *wb_craft_lot_dup_of_others (const GPtrArray *lots, const gint64 *materials, guint n_materials, const char *text);
/*
 * The lots that the text's codes were probably meant to be: of codes that none of these materials has, those of a lot that differs by
 * hyphens, spaces, other marks and case alone: "MF-2611" of "mf2611"; likewise.
 */
char        *wb_craft_lot_dup_near    (const GPtrArray *lots, const gint64 *materials, guint n_materials, const char *text);
/*
 * Adds to `records` (those of one save, which frees them) a WbLot of the first material for each code of the text that is none
 * yet and stands in no earlier record of the save. received_on may be WB_DAY_NONE.
 */
void         wb_craft_lot_add_missing (GPtrArray *records, const GPtrArray *lots, const gint64 *materials, guint n_materials,
                                       const char *text, WbDay received_on);
/*
 * That material and, of a blend, its parts, and theirs where they are blends, as the functions above want them. parts:
 * WbFragrancePart; with their old versions too, all that it was ever mixed of. gint64, none twice, caller frees.
 */
GArray      *wb_craft_lot_dup_owners  (gint64 material, const GPtrArray *parts);

/*
 * One place where a record tells which lot went into it. material: the table of what the lot is of.
 */
typedef struct
{
  const WbRecordType *material;
  const WbRecordType *record;   /* wb_batch_type or wb_sample_type */
  const char         *field;    /* of the record: "wax_lot" */
} WbCraftLotPlace;
/* Every such place; ends with one whose material is NULL. Static. */
extern const WbCraftLotPlace wb_craft_lot_places[];

/* The text of that record for a table of materials; NULL: it names no lot, or has no place for one. Borrowed. */
const char  *wb_craft_lot_get_text    (gconstpointer record, const WbRecordType *material);
/* What went into a sample: its own text, else its batch's; both where they differ. batch may be NULL. Caller frees; NULL: not said. */
char        *wb_craft_lot_dup_of_sample (const WbSample *sample, const WbBatch *batch, const WbRecordType *material);

G_END_DECLS
