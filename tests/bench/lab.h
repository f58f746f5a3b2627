/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-random.h"
#include "wb-dataset.h"

/*
 * An invented burn lab that knows its own truth: what the program's answers are
 * measured against. Every figure here is invented, and every lab is drawn anew
 * from the seed and its number, so that no two are alike.
 *
 * Pool of a burn, mm, t in hours from lighting:
 *
 *   D (t) = L (1 - exp (-((t - start) / tau)^bend))
 *   ln L = vessel + slope (step - middle) + load + cell + trend (burn number - mean)
 *          + room effect (room - mean room) + sample + burn
 *   ln tau = vessel + cell
 *
 * Measures of a burn (depth, flame, rise of the vessel over the room, consumption):
 *
 *   ln m = vessel + slope (step - middle) + load + cell + sample + burn
 *
 * Ratings (soot, mushroom), r = 0, 1, ... with thresholds common to the lab:
 *
 *   P (rating <= r) = Phi (threshold_r - level - slope (step - middle) - load - cell - sample)
 *
 * A candle that is hot is hot everywhere: its deviations of measures and ratings
 * are correlated with that of its ln L. What comes from the pour is part of the
 * sample's deviation; deviations of burns are of each figure alone. A burn lasts
 * four hours, and its flame and vessel are highest at its end.
 *
 * What a reader makes of it is in lab-burn.c, what is true of a cell in lab-truth.c.
 */

typedef enum
{
  LAB_WORLD_MIXED,    /* half of the labs additive, half 3 % off */
  LAB_WORLD_ADDITIVE, /* no cell deviation */
  LAB_WORLD_OFF3,     /* cells 3 % off the additive law */
  LAB_WORLD_OFF5,     /* 5 % off */
  LAB_WORLD_BENT,     /* growth with the exponent 1.25 */
  LAB_WORLD_LATE,     /* the pool starts 12 minutes late */
  LAB_WORLD_SHARED,   /* two diameters of one moment share an error of 2 mm */
  LAB_WORLD_CLOCK,    /* the clock of a burn is off by 4 minutes (standard deviation) */
  LAB_WORLD_WILD,     /* 5 % of the readings are 20 % off, up or down */
  LAB_WORLD_LAST,     /* by thirds: in the very last burn flame and rise are 15 % higher still */
  LAB_WORLD_SNUFFED,  /* a candle that is read over a limit is snuffed at once, and lit no more; the others burn on */
  LAB_N_WORLDS
} LabWorld;

const char *lab_world_get_key  (LabWorld world);
int         lab_world_from_key (const char *key); /* -1: none has that key */

typedef enum { LAB_DEPTH, LAB_FLAME, LAB_RISE, LAB_CONSUMPTION, LAB_N_MEASURES } LabMeasure; /* mm, mm, K, g/h */
typedef enum { LAB_SOOT, LAB_MUSHROOM, LAB_N_RATINGS } LabRating;

#define LAB_MOST_RATING 4
#define LAB_MOST_VESSELS 2
#define LAB_STAGE_BURNS 2      /* burns in each third, where the thirds are known */
#define LAB_BURN_H 4.0
#define LAB_LATENT_OFF 4.0
/* House limits of trade-facts' profile: a candle that passes one in any of its burns scores 0. */
#define LAB_FLAME_STOP_MM 50.0
#define LAB_VESSEL_STOP_C 77.0

/* What is asked of a lab. */
typedef struct
{
  guint    vessels;   /* 1 or 2 */
  guint    steps;     /* of one series; at least 2 */
  guint    loads;     /* 1 or 2 */
  guint    samples;   /* a cell */
  guint    burns;     /* a sample; three thirds of two where `stages` */
  LabWorld world;
  gboolean missing;   /* a tenth of the cells is not poured */
  gboolean stages;    /* tare, fill and masses tell the thirds; the lower one burns hotter */
  guint64  seed;
} LabSpec;

typedef struct
{
  double inner_mm;
  double log_limit;              /* ln L at the middle step */
  double log_tau;
  double log_measure[LAB_N_MEASURES];
} LabVessel;

typedef struct
{
  guint    vessel, load, step;   /* indices */
  gboolean poured;
  double   log_limit;            /* of the typical candle at the mean room and burn number; upper and middle third */
  double   tau_h;
  double   log_measure[LAB_N_MEASURES];
  double   latent[LAB_N_RATINGS];
} LabCell;

typedef struct
{
  LabSpec   spec;
  guint     number;
  LabVessel vessels[LAB_MOST_VESSELS];
  LabCell  *cells;               /* vessel by vessel, load by load, step by step: the order of the data set */
  guint     n_cells;
  double    start_h, bend;
  double    trend;               /* of ln L a burn */
  double    room_effect;         /* of ln L a kelvin */
  double    limit_sample_sd, limit_burn_sd;
  double    measure_sample_sd[LAB_N_MEASURES], measure_burn_sd[LAB_N_MEASURES], measure_reader_sd[LAB_N_MEASURES];
  double    threshold[LAB_N_RATINGS][LAB_MOST_RATING];
  double    rating_sample_sd[LAB_N_RATINGS];
  double    hot;                 /* correlation of a sample's deviations with that of its ln L */
  double    shared_mm, own_mm;   /* error of a moment, and of each of its two diameters */
  double    clock_sd_min;
  double    wild_share;
  double    load_pct[2];         /* of the wax */
  double   *rooms;               /* degC, of each burn of each sample of each cell */
  double    mean_room;           /* of the burns that are read */
} Lab;

/* Lab `number` of the seed. */
Lab *lab_new  (const LabSpec *spec, guint number);
void lab_free (Lab *self);
/* The habits of a burn lab alone (growth, spreads, readers) with no cells: what lab_new_given() is to be like. */
Lab *lab_new_habits (const LabSpec *spec, guint number);
/*
 * A lab of given cells, whose laws somebody else drew, with the habits of `like`. spec: samples, burns, stages, world and
 * seed count. Its laws are told at LAB_ROOM_C; burns are in rooms around room_c. vessels: those that the cells name, at most
 * LAB_MOST_VESSELS; cells in the order of a lab's, step the wick's place among at most spec->steps.
 */
Lab *lab_new_given (const LabSpec *spec, guint number, const Lab *like, const LabVessel *vessels, guint n_vessels,
                    const LabCell *cells, guint n_cells, const double load_pct[2], double room_c);
/* degC that labs burn at, on average. */
#define LAB_ROOM_C 22.0

guint  lab_rating_top    (LabRating rating);                /* highest */
double lab_load_pct      (const Lab *self, guint load);
guint  lab_n_burns       (const Lab *self);
/* Stage of burn `number`, from 0; upper where the thirds are not known. */
WbStage lab_stage_of     (const Lab *self, guint number);
guint  lab_n_stages      (const Lab *self);                 /* 1 or 3 */
guint  lab_stage_burns   (const Lab *self);                 /* of a sample in each stage */
double lab_stage_limit   (const Lab *self, WbStage stage);  /* added to ln L at the stage's mean burn number */
double lab_stage_measure (const Lab *self, WbStage stage, LabMeasure measure); /* added to ln m, the mean of its burns */
double lab_burn_measure  (const Lab *self, guint number, LabMeasure measure);  /* likewise, of burn `number` */
/* Share of L reached after t hours, and when a pool towards `limit` mm gets to `inner` mm: INFINITY for never. */
double lab_grown         (const Lab *self, double t_h, double tau_h);
double lab_time_to       (const Lab *self, double limit_mm, double tau_h, double inner_mm);
/* What the sample deviation of a figure is, from that of ln L and its own, both standard normal. */
double lab_deviation     (const Lab *self, double of_limit, double own);
/* How far its cells are off the additive law, on a logarithm; of a rating's latent level LAB_LATENT_OFF times that. */
double lab_off_law       (const Lab *self);
double lab_uniform       (WbCalcRandom *random, double low, double high);
/* A generator of the lab's own for each purpose, so that a further draw of one moves nothing of the others. */
typedef enum { LAB_STREAM_LAW, LAB_STREAM_ROOMS, LAB_STREAM_CANDLES, LAB_STREAM_READINGS, LAB_STREAM_TRUTH,
               LAB_STREAM_BOUND, LAB_N_STREAMS = 16 } LabStream; /* room for more: labs stay what they are */
void   lab_random_init   (const Lab *self, LabStream stream, WbCalcRandom *random);

/* The readings of the lab as the program's data set, every one from the seed; caller owns it. From any thread. */
WbDataset *lab_burn (const Lab *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Lab, lab_free)
