/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

G_BEGIN_DECLS

/* One melt: planned masses, and what was really done. */
typedef struct
{
  WbRecord  record;
  gint64    experiment;
  char     *code;
  gint64    fragrance;
  double    load_pct;
  int       load_basis;
  double    overage_pct;
  double    hold_back_pct;
  double    wax_g;            /* planned */
  double    oil_g;
  double    dye_g;
  double    additive_g;
  double    resolution_g;     /* of the balance */
  WbDay     poured_on;        /* WB_DAY_NONE: where poured_at is unknown too, not poured yet */
  WbInstant poured_at;        /* unknown: of the pour only the day is known */
  double    heat_c;           /* as measured */
  double    add_c;
  double    pour_c;
  double    room_c;
  double    actual_wax_g;
  double    actual_oil_g;
  char     *wax_lot;
  char     *fragrance_lot;
  char     *dye_lot;
  char     *additive_lot;
  char     *deviation;
  char     *note;
} WbBatch;

/* A step of a batch: what was planned, and when and at what temperature it was done. */
typedef struct
{
  WbRecord  record;
  gint64    batch;
  gint64    position;       /* from 1 */
  int       kind;           /* WbStepKind */
  double    to_c;           /* planned */
  double    minutes;
  WbInstant done_at;        /* unknown: not done */
  double    actual_c;
  char     *note;
} WbBatchStep;

typedef enum
{
  WB_CAUSE_WICK_OFF_CENTRE, WB_CAUSE_CAVITY, WB_CAUSE_CHIPPED_VESSEL, WB_CAUSE_WRONG_POUR, WB_CAUSE_OTHER
} WbCause;

typedef struct
{
  WbRecord record;
  WbUuid   uuid;
  gint64   experiment;      /* a code is unique in it */
  gint64   cell;
  char    *code;
  gint64   batch;
  gint64   cohort;          /* of the bench plan, from 1: those of one go through their lives together */
  gint64   blind_code;      /* of three digits, on labels that do not say what is inside */
  WbDay    poured_on;
  WbInstant poured_at;      /* unknown: the day alone */
  double   cure_days;       /* until the first burn; NAN: from the dates */
  char    *wax_lot;
  char    *wick_lot;
  char    *fragrance_lot;
  char    *vessel_lot;
  double   tare_g;          /* empty vessel with wick */
  double   fill_g;          /* wax and oil */
  double   top_up_g;        /* of it, by the second pour */
  double   wax_height_mm;
  double   wick_offset_mm;
  double   wick_lean_deg;
  gint64   cavities;        /* found beneath the surface */
  double   pour_c;
  int      set_aside_cause; /* WbCause; -1: it counts */
  char    *set_aside;       /* why, in words; NULL: it counts */
  gboolean retained;        /* kept as a reference sample */
  char    *place;
  WbDay    keep_until;
  char    *deviation;
  char    *note;
} WbSample;

typedef enum
{
  WB_BURN_STANDARD, WB_BURN_SHORT, WB_BURN_POWER, WB_BURN_UNTRIMMED, WB_BURN_THROW, WB_BURN_CHECK
} WbBurnKind;

typedef enum { WB_DRAUGHT_NONE, WB_DRAUGHT_SLIGHT, WB_DRAUGHT_STRONG } WbDraught;

/* An evening at the bench. */
typedef struct
{
  WbRecord  record;
  WbUuid    uuid;
  WbInstant opened_at;
  WbInstant closed_at;
  char     *place;
  char     *who;
  char     *staying;        /* who stays with the flames, and until when */
  gboolean  checked;        /* the check before the first light was answered */
  gint64    seed;           /* of the places' shuffle (wb_craft_bench_plan_new) */
  char     *note;
} WbSession;

typedef struct
{
  WbRecord  record;
  WbUuid    uuid;
  gint64    sample;
  gint64    number;         /* in the sample's life, from 1 */
  int       kind;           /* WbBurnKind */
  gint64    session;        /* 0: from a file */
  WbInstant lit_at;         /* unknown where a file does not say */
  double    trim_mm;
  char     *bench_place;
  char     *note;
} WbBurn;

/* A look at an unlit sample. */
typedef struct
{
  WbRecord  record;
  gint64    sample;
  WbInstant seen_at;
  int       frosting;       /* 0 none to 4 heavy; -1 not looked for */
  int       wet_spots;
  int       sink_hole;
  int       sweating;
  double    cold_throw;     /* 1 to 5 */
  char     *rater;
  char     *note;
} WbInspection;

/* A file kept with a record: photo, paper, logger file. The bytes stand once, under their SHA-256. */
typedef enum { WB_ATTACHMENT_PHOTO, WB_ATTACHMENT_PAPER, WB_ATTACHMENT_LOGGER } WbAttachmentRole;

typedef struct
{
  WbRecord  record;
  gint64    owner;          /* any record */
  char     *sha256;         /* lower-case hex */
  int       role;           /* WbAttachmentRole */
  char     *name;
  char     *media_type;
  WbInstant taken_at;
  double    wall_c;         /* of a logger's file: the hottest that it says of the vessel's wall within its burn; NAN: nothing, or another file */
  double    wall_min;       /* minute of that burn */
  double    base_c;         /* the same of the base */
  double    base_min;
  char     *note;
} WbAttachment;

/* When the melt was poured: the day that was said, else that of the moment; WB_DAY_NONE: not yet. */
WbDay    wb_batch_get_day   (const WbBatch *batch);
gboolean wb_batch_is_poured (const WbBatch *batch);

extern const WbRecordType wb_batch_type, wb_batch_step_type, wb_sample_type, wb_session_type, wb_burn_type,
  wb_inspection_type, wb_attachment_type;

extern const WbWord wb_burn_kind_words[], wb_draught_words[], wb_cause_words[];

G_END_DECLS
