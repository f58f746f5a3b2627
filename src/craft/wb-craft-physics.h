/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A physical model of a burning container candle, for invented readings (the
 * demo notebook, simulated burn labs). It knows its own truth; nothing of it
 * enters an estimate. All of it is the project's own and plain on purpose:
 *
 *   melting power   P = wicks × strength × sample × burn spread ÷ heat of the wax × (1 + load effect), g/h
 *   pool            D(t) = D∞ (1 − exp (−t / τ)), D∞ = 83 mm (P / 4.5 g/h)^½: the loss to the room goes with D²
 *   flame           linear in fuel flow (Sunderland and others, Proc. Combust. Inst. 33 (2011), as cited by others)
 *   depth           grows with the time, deeper where the pool would like to be wider than the vessel
 *   vessel          room + a rise with the power on the wall, larger as the level falls
 *   ring            what the pool leaves is hang-up; a ring left by a burn cut short holds the next pools
 *   mass            falls by the fuel burnt; the level by mass / (density × section)
 *
 * The wax is gone to `residue_mm`: the candle goes out by itself. One that melts
 * far less than its vessel drowns.
 */
typedef struct
{
  double inner_mm;          /* inner diameter, straight wall */
  double wax_height_mm;
  double tare_g;
  double density;           /* of the wax, g/cm3 */
  double wax_heat;          /* 1: a usual jar wax; 1.1 needs a tenth more heat */
  double strength_g_per_h;  /* fuel flow of one such wick in a usual wax, upper third */
  guint  wicks;
  double load_pct;          /* fragrance, of the wax */
  double load_effect;       /* relative change of melting power a per cent of load; usually −0.015 to 0 */
  double bottom_heat;       /* how much more the wall rises near the base: 0.6 usual, 1.2 a narrow or thick base */
  double soot_tendency;     /* 1 usual */
  double cap_tendency;      /* of the wick to grow a cap: 1 usual, 0 self-trimming */
  double throw_strength;    /* hot throw at full pool, 1 to 5; 0 not scented */
  double flow_per_step_c;   /* relative change of power a kelvin of room above 22 °C; 0.01 usual */
  double tau_h;             /* of the pool's growth; 1.2 usual */
  double residue_mm;        /* wax left when it goes out by itself */
  double sample_sd;         /* spreads of ln power: between candles of a recipe, */
  double burn_sd;           /* and between burns of one candle */
  double noise;             /* of a reader: 1 usual, 0 none */
} WbCraftPhysicsSpec;

typedef struct
{
  double   pool_a_mm, pool_b_mm;  /* two diameters at right angles, never above the inner diameter */
  double   depth_mm;
  double   flame_mm, flame_max_mm; /* as it stands; highest since the last reading of this burn */
  double   vessel_c, base_c;
  int      smoke, soot, mushroom; /* 0 to 2, 0 to 4, 0 to 2 */
  double   hang_up_mm, hang_up_share_pct;
  int      throw_rating;          /* 1 to 5; 0 not scented */
  double   mass_g;                /* whole sample */
  gboolean out;                   /* went out by itself before this minute */
  gboolean drowned;
} WbCraftPhysicsReading;

typedef struct _WbCraftPhysicsCandle WbCraftPhysicsCandle;

/* A usual candle: 76.2 mm, 80 mm of wax, 4.5 g/h, unscented. */
WbCraftPhysicsSpec    wb_craft_physics_spec_usual (void);
/* The same spec and seed give the same candle, whatever others are made. */
WbCraftPhysicsCandle *wb_craft_physics_candle_new  (const WbCraftPhysicsSpec *spec, guint64 seed);
void                  wb_craft_physics_candle_free (WbCraftPhysicsCandle *self);
double                wb_craft_physics_candle_get_fill_g   (const WbCraftPhysicsCandle *self);
/* Height of wax left, mm, as if it lay level. */
double                wb_craft_physics_candle_get_level_mm (const WbCraftPhysicsCandle *self);
gboolean              wb_craft_physics_candle_is_spent     (const WbCraftPhysicsCandle *self);
/* Begins a burn. No burn may be under way. */
void                  wb_craft_physics_candle_light (WbCraftPhysicsCandle *self, double room_c);
/* Burns on to `minutes` since lighting (not before the last call) and reads as a person with ruler and thermometer would. */
void                  wb_craft_physics_candle_read  (WbCraftPhysicsCandle *self, double minutes, WbCraftPhysicsReading *reading);
/* The same moment without a reader's error; ratings as they truly stand. Burns on as well. */
void                  wb_craft_physics_candle_look  (WbCraftPhysicsCandle *self, double minutes, WbCraftPhysicsReading *truth);
/* Ends the burn at the minute of the last call. */
void                  wb_craft_physics_candle_snuff (WbCraftPhysicsCandle *self);

/* The recipe's typical growth at the top of the vessel, at 22 °C: D-infinity in mm; hours to the wall, INFINITY for never. */
double                wb_craft_physics_pool_limit_mm (const WbCraftPhysicsSpec *spec);
double                wb_craft_physics_full_pool_h   (const WbCraftPhysicsSpec *spec);
/* Mass of a millimetre of wax in the vessel, g. */
double                wb_craft_physics_g_per_mm      (const WbCraftPhysicsSpec *spec);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftPhysicsCandle, wb_craft_physics_candle_free)

G_END_DECLS
