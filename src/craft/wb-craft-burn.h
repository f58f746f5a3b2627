/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Figures of each burn: what its readings say, before any model.
 * NAN where not read.
 */
typedef struct
{
  guint    burn;            /* index in the data set */
  guint    sample, cell;
  WbStage  stage;           /* by the fill height at the burn's middle; upper where the thirds are not known */
  gboolean stage_known;
  int      kind;            /* WbBurnKind */
  gboolean alight;          /* not done yet: what is read at its end is NAN and it is not cut short; what is the worst is the worst so far */
  double   alight_min;      /* minutes with a flame */
  double   last_min;        /* minute of the last reading taken while alight */
  double   end_min;         /* minute up to which the figures at its end are read; 0: no flame was seen */
  double   consumption_g_per_h;
  double   mass_before_g, mass_after_g;
  double   fill_left;       /* share of the fill left at the burn's end, 0 to 1; of what it burns in all where thirds are OF_LIFE */
  double   pool_mm;         /* at the end of the burn */
  gboolean pool_at_wall;
  double   full_seen_h;     /* first reading at the wall */
  double   not_full_h;      /* last reading before it that was not */
  double   depth_mm;        /* at the end */
  double   depth_max_mm;
  double   flame_mm;        /* at the end */
  double   flame_max_mm;    /* highest seen */
  double   vessel_c;        /* at the end */
  double   vessel_max_c;
  double   base_max_c;
  double   smoke, soot, mushroom; /* worst of the burn */
  double   hang_up_mm;      /* at the end */
  double   hang_up_share_pct;
  double   throw_rating;    /* mean where alone is yes; NAN otherwise */
  guint    throw_n;
  double   room_c;          /* mean */
  double   cure_days;       /* at lighting */
  gboolean ring_held;       /* an earlier ring holds the pool: not free growth */
  gboolean cut_short;       /* ended well before the protocol's length */
  guint    events;          /* bit i: WbEvent i happened */
} WbCraftBurn;

/* What the thirds of a sample's life are told by. */
typedef enum
{
  WB_CRAFT_THIRDS_NOT_BURNT,
  WB_CRAFT_THIRDS_OF_FILL,   /* the fill, from fill, tare or height */
  WB_CRAFT_THIRDS_OF_LIFE,   /* what it lost until its end of life, where the fill is not stated */
  WB_CRAFT_THIRDS_NO_FILL,   /* not known: neither of both */
  WB_CRAFT_THIRDS_NO_MASS    /* not known: the fill is, but it was not weighed */
} WbCraftThirds;

/* The value of a figure of a burn (end or worst of the burn as `worst` asks), NAN where not read; growth figures have none. */
double wb_craft_burn_get (const WbCraftBurn *burn, WbFigure figure, gboolean worst);

/*
 * Figures that the burn was read for, but not at its last look, which is the last moment up to its end at which any was read: an
 * earlier reading stands for them, or the worst of the earlier ones. Bit i: WbFigure i; 0: none.
 */
guint  wb_craft_burn_find_earlier (const WbDataset *data, const WbCraftBurn *burn);

G_END_DECLS
