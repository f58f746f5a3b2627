/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-calendar.h"
#include "wb-app-query.h"
#include "wb-craft-grid.h"
#include "wb-craft-repeat.h"

G_BEGIN_DECLS

/*
 * An experiment being planned: the question, the materials of its grid, which
 * cells are on. Nothing is stored before wb_app_plan_save_async, which writes
 * experiment, protocol, limits, profile, aims, cells and samples with their
 * codes as ONE entry. Works on a copy of the materials as they are when it is loaded.
 *
 * Signals: "changed", cells, totals or problems are different; "outlook-changed", only what burns beside it is.
 */
#define WB_APP_PLAN_MOST_WICKS 12 /* in a vessel: as many as a cell's record takes */
#define WB_TYPE_APP_PLAN (wb_app_plan_get_type ())
G_DECLARE_FINAL_TYPE (WbAppPlan, wb_app_plan, WB, APP_PLAN, GObject)

WbAppPlan            *wb_app_plan_new           (WbAppNotebook *notebook, WbAppMaterials *materials /* taken */);
/* Owned by the plan, until others are set. */
const WbAppMaterials *wb_app_plan_get_materials (WbAppPlan *self);
/* Materials as they are now: what is no longer among them leaves the grid, the rest of the plan stays. */
void                  wb_app_plan_set_materials (WbAppPlan *self, WbAppMaterials *materials /* taken */);

/*
 * Begins with what that experiment was planned with: question, wax, protocol, limits, grid. replaces: saving
 * changes that experiment's own plan, in one entry, instead of adding another; only where can_replace.
 */
void                  wb_app_plan_take           (WbAppPlan *self, const WbDataset *data, gboolean replaces);
/* The same beside it, to repeat it with something changed: it is known as the one that is repeated, and what differs is told. */
void                  wb_app_plan_repeat         (WbAppPlan *self, const WbDataset *source);
/* The same for further samples of some of its combinations alone. cells: gint64, their record ids; samples: of each, 1 at least. */
void                  wb_app_plan_repeat_some    (WbAppPlan *self, const WbDataset *source, const GArray *cells, guint samples);
/* Of a plan that repeats another already: that one, once it is read. */
void                  wb_app_plan_set_repeated   (WbAppPlan *self, const WbDataset *source);
/* What differs from it, WbCraftChange, borrowed until the next change; NULL: nothing is repeated, or it is not read. */
const GPtrArray      *wb_app_plan_get_changes    (WbAppPlan *self);
/* Its code; NULL like the changes. */
const char           *wb_app_plan_get_repeated   (WbAppPlan *self);
/* TRUE while nothing of it is poured or burnt: its samples are names on paper, and may be others. */
gboolean              wb_app_plan_can_replace    (const WbDataset *data);

/* Edited in place by its page, then wb_app_plan_touch: title, question, dye_pct, additive and so on. Owned by the plan. */
WbExperiment         *wb_app_plan_get_experiment (WbAppPlan *self);
/* The house protocol to begin with; edited in place. */
WbProtocol           *wb_app_plan_get_protocol   (WbAppPlan *self);
/* WbLimit, pre-set by the house; edited in place. A published limit may only be tightened: see the problems. */
GPtrArray            *wb_app_plan_get_limits     (WbAppPlan *self);
void                  wb_app_plan_touch          (WbAppPlan *self);

/* Of a plan that begins with nothing: the only wax and the only vessel that there are. */
void                  wb_app_plan_choose_only    (WbAppPlan *self);
/* Adds a material to the grid, or takes it out. */
void                  wb_app_plan_set_vessel     (WbAppPlan *self, gint64 vessel, gboolean used);
gboolean              wb_app_plan_has_vessel     (WbAppPlan *self, gint64 vessel);
/* One of it alone in each vessel. */
void                  wb_app_plan_set_wick       (WbAppPlan *self, gint64 wick, gboolean used);
gboolean              wb_app_plan_has_wick       (WbAppPlan *self, gint64 wick);
/* The same of several at once, gint64 each: told as changed once. */
void                  wb_app_plan_set_wicks      (WbAppPlan *self, const GArray *wicks, gboolean used);
/*
 * So many of a wick in each vessel, 1 to WB_APP_PLAN_MOST_WICKS, so far apart (NAN: not said): a choice of its own beside one
 * alone, and beside as many at another distance.
 */
void                  wb_app_plan_set_wick_choice  (WbAppPlan *self, gint64 wick, guint count, double spacing_mm, gboolean used);
/* All at once, WbCraftWickChoice, copied; a wick that is not among the materials is left out, the same one twice is a problem. */
void                  wb_app_plan_set_wick_choices (WbAppPlan *self, const GArray *choices);
/* WbCraftWickChoice, in the materials' order, then by how many. */
const GArray         *wb_app_plan_get_wick_choices (WbAppPlan *self);
void                  wb_app_plan_add_scent      (WbAppPlan *self, gint64 fragrance /* 0: the control */, double load_pct, WbBasis basis);
/* All at once, WbCraftScent, copied. */
void                  wb_app_plan_set_scents     (WbAppPlan *self, const GArray *scents);
const GArray         *wb_app_plan_get_scents     (WbAppPlan *self); /* WbCraftScent */
void                  wb_app_plan_set_samples_per_cell (WbAppPlan *self, guint n);

/*
 * What a grid is made of. Vessels and wicks stand as they do among the materials until one of them is moved: from then on each keeps
 * its place, new ones come last, and the order is written with the cells.
 */
typedef enum { WB_APP_PLAN_VESSEL, WB_APP_PLAN_WICK, WB_APP_PLAN_SCENT, WB_APP_PLAN_N_PARTS } WbAppPlanPart;
/* The place of that cell's vessel, wick or scent among those of the grid. */
guint                 wb_app_plan_get_place      (WbAppPlan *self, WbAppPlanPart part, guint cell);
/* The vessel, wick or scent of one cell takes the place of the other cell's; those between move up. */
void                  wb_app_plan_move           (WbAppPlan *self, WbAppPlanPart part, guint cell, guint other);

/* WbConfirmation, copied: written with a new plan in the same entry, its experiment filled in as their test. */
void                  wb_app_plan_set_confirmations (WbAppPlan *self, const GPtrArray *confirmations);

/* WbCell, in the grid's order, borrowed until the next change; their id is 0, left_out says whether one is off. */
const GPtrArray      *wb_app_plan_get_cells      (WbAppPlan *self);
void                  wb_app_plan_set_cell_on    (WbAppPlan *self, guint cell, gboolean on);
/* Several at once, guint each: judged, and told as changed, once. */
void                  wb_app_plan_set_cells_on   (WbAppPlan *self, const GArray *cells, gboolean on);
/* "Tern, 76 mm · S-3 · Harbour mist 8 %". Caller frees. */
char                 *wb_app_plan_dup_cell_name  (WbAppPlan *self, guint cell);
/* What burns beside it, by whose evenings the wait for its answer is worked out. NULL: nothing does. */
void                  wb_app_plan_set_calendar   (WbAppPlan *self, WbAppCalendar *calendar);
/* Of the cells that are on, as if all were poured now. places: of the bench, 0: the notebook's. */
WbCraftGridTotals     wb_app_plan_get_totals     (WbAppPlan *self, guint places);
/* What they take of each material, WbCraftGridNeed. Caller unrefs. */
GArray               *wb_app_plan_dup_needs      (WbAppPlan *self);
/* Of a notebook that keeps stock: what is left and costs. Taken; NULL: none. */
void                  wb_app_plan_set_stock      (WbAppPlan *self, WbCraftStock *stock);
const WbCraftStock   *wb_app_plan_get_stock      (WbAppPlan *self);
/* Sample codes as they would be written, samples_per_cell a cell that is on, in order; NULL while there are none. Caller frees. */
char                **wb_app_plan_dup_codes      (WbAppPlan *self);

/* What stands in the way of saving, or is worth a second look. */
typedef struct
{
  const char *field;   /* "title", "wax", "vessels", "wicks", "scents", "load", "limits" ... ; static */
  char       *text;    /* translated sentence */
  gboolean    blocks;  /* FALSE: a warning only */
} WbAppPlanProblem;
/* WbAppPlanProblem, borrowed until the next change. */
const GPtrArray      *wb_app_plan_get_problems   (WbAppPlan *self);
gboolean              wb_app_plan_is_complete    (WbAppPlan *self);

/* One entry. REFUSED, with the first problem in words that blocks, while the plan is not complete. */
void                  wb_app_plan_save_async     (WbAppPlan *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* The experiment's id; 0 on error. */
gint64                wb_app_plan_save_finish    (WbAppPlan *self, GAsyncResult *result, GError **error);

G_END_DECLS
