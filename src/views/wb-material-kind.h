/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-query.h"
#include "wb-material.h"

G_BEGIN_DECLS

/* A kind of material as the Materials page shows it. */
typedef struct
{
  const WbRecordType *type;
  const char         *title;       /* N_()-marked plural: "Vessels" */
  const char         *new_title;   /* N_()-marked: "New vessel" */
  const WbRecordType *part_type;   /* what belongs to one: guides of a wick, parts of a blend; NULL: nothing */
  const char         *part_owner;  /* the part's reference field to its owner */
  const char         *parts_title; /* N_()-marked */
  const char         *more[12];    /* fields that are rarely stated, NULL-terminated */
} WbMaterialKind;

/* In the order of the tabs; static. */
const WbMaterialKind *wb_material_kinds_get (guint *n);
/* A new one, with what is so of most; caller frees. */
WbRecord             *wb_material_kind_new_record (const WbMaterialKind *kind);
/* A new one like that, its name told apart; a wick has no step yet, for that one's is taken. Caller frees. */
WbRecord             *wb_material_dup_like (gconstpointer material);
/* The field that tells one of a kind from its like: "name", of a wick "size". */
const char           *wb_material_get_identity_field (const WbRecordType *type);
/* Borrowed from the materials: GPtrArray of records of that type; never NULL for a kind's type or part type. */
GPtrArray            *wb_material_kind_list (const WbAppMaterials *materials, const WbRecordType *type);
/* Of which kind the material of that id is; NULL: there is none. */
const WbRecordType   *wb_material_find_type (const WbAppMaterials *materials, gint64 id);
/* One line that tells this one from its like: "paraffin · 0.86 g/cm³"; may be empty. Caller frees. */
char                 *wb_material_dup_summary (gconstpointer material, gboolean us_units);
/* One line of a part or a lot: "Any wax: 60 to 75 mm". Caller frees. */
char                 *wb_material_dup_part_title (gconstpointer part, const WbAppMaterials *materials, gboolean us_units);
/* Whether a field says anything of this one: a second axis of what is round does not. */
gboolean              wb_material_asks        (gconstpointer material, const WbFieldSpec *field);
/* What is dangerous about it, translated; NULL: nothing that its record tells. */
const char           *wb_material_get_caution (gconstpointer material);
/* What of the material's figures does not go together, and the field where to say it; it may be saved. Caller frees; NULL: nothing. */
char                 *wb_material_dup_doubt   (gconstpointer material, gboolean us_units, const char **field);
/*
 * A wick of the list whose series has the same name and another supplier: people would take both series for one. NULL: none. And
 * the words for it, translated; caller frees.
 */
gconstpointer         wb_material_find_other_series (GPtrArray *wicks, const WbWick *wick);
char                 *wb_material_dup_two_series (const WbWick *other);
/*
 * Why it must not be saved, translated, and at which field: no vessel has such sizes, one is called so already, or another series is.
 * materials NULL: not read yet. NULL: nothing. Caller frees.
 */
char                 *wb_material_dup_fault   (const WbAppMaterials *materials, gconstpointer material, gboolean us_units, const char **field);
/* Another record of the list that people could not tell from this one; NULL: none. */
gconstpointer         wb_material_find_double (GPtrArray *list, gconstpointer material);

G_END_DECLS
