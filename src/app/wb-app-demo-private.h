/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-demo.h"

#include "wb-craft-physics.h"
#include "wb-reading.h"
#include "wb-store-change.h"

G_BEGIN_DECLS

#define WB_APP_DEMO_STEPS 6

typedef enum { WB_APP_DEMO_HOB, WB_APP_DEMO_FIRKIN, WB_APP_DEMO_THIMBLE, WB_APP_DEMO_N_VESSELS } WbAppDemoVessel;
typedef enum { WB_APP_DEMO_DUNMARL, WB_APP_DEMO_PELLOW, WB_APP_DEMO_N_WAXES } WbAppDemoWax;
typedef enum { WB_APP_DEMO_ARREL, WB_APP_DEMO_BROSK, WB_APP_DEMO_CINDLE, WB_APP_DEMO_N_SERIES } WbAppDemoSeries;
typedef enum { WB_APP_DEMO_QUIMBER, WB_APP_DEMO_OSTREL, WB_APP_DEMO_N_FRAGRANCES, WB_APP_DEMO_UNSCENTED = WB_APP_DEMO_N_FRAGRANCES } WbAppDemoFragrance;

/* The workshop's shelf as stored. */
typedef struct
{
  WbVessel    *vessels[WB_APP_DEMO_N_VESSELS];
  WbWax       *waxes[WB_APP_DEMO_N_WAXES];
  WbWick      *wicks[WB_APP_DEMO_N_SERIES][WB_APP_DEMO_STEPS];
  WbFragrance *fragrances[WB_APP_DEMO_N_FRAGRANCES];
} WbAppDemoShelf;

/* Where the demo stands while it is written. */
typedef struct
{
  WbStore        *store;
  WbInstant       now;
  WbDay           today;
  WbAppDemoShelf  shelf;
  WbProtocol     *protocol;  /* the house's, shared by all experiments */
  gint64          profile;
} WbAppDemo;

typedef struct
{
  WbAppDemoVessel vessel;
  guint           step;       /* from 1 */
  WbAppDemoFragrance fragrance;
  gboolean        left_out;   /* switched off in the grid: no sample */
} WbAppDemoCell;

/* One experiment of the demo: what is planned, and how far it gets. Days count from today, negative: ago. */
typedef struct
{
  const char          *code, *title, *question;
  WbAppDemoWax         wax;
  WbAppDemoSeries      series;
  const WbAppDemoCell *cells;
  guint                n_cells;
  guint                samples;     /* a cell */
  double               load_pct;    /* of the wax */
  int                  planned_day;
  int                  poured_day;  /* 0: not poured yet */
  int                  first_day;   /* of burning; 0: not yet */
  guint                stride;      /* days between two burns of a sample; samples of one number burn together */
  gboolean             alight;      /* the burn of today is under way */
  guint64              seed;
  int                  chosen;      /* cell of the decision; -1: none */
  gboolean             reference;   /* one candle more of that cell was kept, and is never burnt */
  gboolean             steps_noted; /* the steps of its pour were written down */
} WbAppDemoExperiment;

/* A candle of an experiment on its way through its life. */
typedef struct
{
  WbSample             *sample;
  guint                 cell;
  WbCraftPhysicsCandle *candle;
  guint                 burns;
  double                mass_g;     /* as last weighed */
  gboolean              ended;
} WbAppDemoCandle;

typedef struct
{
  const WbAppDemoExperiment *plan;
  WbExperiment              *experiment;
  GPtrArray                 *cells;    /* WbCell */
  GArray                    *candles;  /* WbAppDemoCandle */
  gboolean                   decided;
} WbAppDemoRun;

/* The change's own words; `day` counts from today. */
WbStoreChange *wb_app_demo_begin (WbAppDemo *demo, int day, int hour, int minute, const char *topic, const char *why, GError **error);
/* That time of that day, in the zone in force; never after now. */
WbInstant      wb_app_demo_at    (WbAppDemo *demo, int day, int hour, int minute);

gboolean wb_app_demo_stock_shelf (WbAppDemo *demo, int day, GError **error);
/* A wax that crystallises, with a method of its own. */
gboolean wb_app_demo_enter_crystal (WbAppDemo *demo, int day, GError **error);
/* What was done and measured at each step of a batch, and where it left the plan; the batch is put, with its deviation. */
gboolean wb_app_demo_put_steps   (WbStoreChange *change, const WbWax *wax, WbBatch *batch, GError **error);
/* A lot that came after the decision on its wax was signed. */
gboolean wb_app_demo_receive_lot (WbAppDemo *demo, int day, GError **error);
void     wb_app_demo_clear_shelf (WbAppDemo *demo);

WbAppDemoRun *wb_app_demo_run_new  (const WbAppDemoExperiment *plan);
void          wb_app_demo_run_free (WbAppDemoRun *run);
gboolean      wb_app_demo_run_plan (WbAppDemo *demo, WbAppDemoRun *run, GError **error);
gboolean      wb_app_demo_run_pour (WbAppDemo *demo, WbAppDemoRun *run, GError **error);
/* The candle that was kept of a finished experiment, entered on that day. */
gboolean      wb_app_demo_run_keep (WbAppDemo *demo, WbAppDemoRun *run, int day, GError **error);
/* One evening at the bench: the samples whose turn it is; `day` counts from today. */
gboolean      wb_app_demo_run_burn (WbAppDemo *demo, WbAppDemoRun *run, int day, GError **error);

/* What the physical model is told of a cell. */
WbCraftPhysicsSpec wb_app_demo_spec (const WbAppDemo *demo, const WbAppDemoExperiment *plan, guint cell);

G_END_DECLS
