/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Other names for what a maker does not want to tell a customer: vessels, wax, wicks and their series, scents, dye and additive
 * as A, B, C in the order of the grid (wicks by series and step), samples, melts, lots and raters as numbers. Sizes, loads, dates
 * and readings stay as they are. The same data get the same names.
 */
typedef struct _WbCraftAlias WbCraftAlias;

typedef struct
{
  const char *kind;    /* translated: "Wick"; static */
  char       *shown;   /* "Wick A" */
  char       *real;    /* "Sedge S-3" */
} WbCraftAliasItem;

/*
 * Renames all of the data in place, before anything is worked out of them. In what people wrote (title, question, notes,
 * deviations, decisions) a name gives way to its other name wherever it stands as a word of its own, and so does a word of it with a capital;
 * what they call something by yet another name cannot be known. Suppliers and the materials' own notes go.
 * An article before such a name goes with it. Who signed a decision stays, and so do instruments.
 * Capitals and the form of a letter do not matter for a whole name. Where a script puts no space between words, a name may stand anywhere.
 * others (may be NULL): every version, deleted ones too, of the materials and lots of the notebook, of which a text may speak:
 * "another wax"; and of its experiments and samples, whose codes go the same way, with their capitals. A lot of a material of the experiment that was not poured has a number too; or what the experiment's own is called now, by its id.
 */
WbCraftAlias           *wb_craft_alias_new       (WbDataset *data, const GPtrArray *others);
void                    wb_craft_alias_free      (WbCraftAlias *self);
/* What the experiment is really called. */
const char             *wb_craft_alias_get_code  (const WbCraftAlias *self);
const char             *wb_craft_alias_get_title (const WbCraftAlias *self);
guint                   wb_craft_alias_get_n     (const WbCraftAlias *self);
const WbCraftAliasItem *wb_craft_alias_get_item  (const WbCraftAlias *self, guint index);
/* A text that comes from elsewhere, renamed as the data were; NULL stays NULL. Caller frees. */
char                   *wb_craft_alias_dup_text  (const WbCraftAlias *self, const char *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftAlias, wb_craft_alias_free)

G_END_DECLS
