/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-advice-private.h"

G_BEGIN_DECLS

/* How a burn shows a sign. */
typedef enum
{
  WB_CRAFT_SHOWS_UNASKED, /* it could not show it */
  WB_CRAFT_SHOWS_NO,
  WB_CRAFT_SHOWS_FAINT,   /* seen, but no reason by itself */
  WB_CRAFT_SHOWS_FIRM,
  WB_CRAFT_SHOWS_PLAINLY  /* once is enough */
} WbCraftShows;

/* A burn that counts, as a sign is looked for in it. */
typedef struct
{
  const WbCraftAdvising *advising;
  const WbCraftBurn     *burn;
  gboolean               first;   /* burn of its candle */
  gboolean               last;    /* with which its candle came to its end */
  double                 due_h;
} WbCraftSignLook;

/* How one kind of sign is looked for and told. */
typedef struct
{
  const char *key;
  gboolean    up;
  gboolean    least;    /* the least value is the worst */
  WbCraftShows (*show)  (const WbCraftSignLook *look, double *value); /* NULL: it is not looked for in burns */
  WbUnit      unit;
  int         decimals;
  const char *words;    /* N_()-marked, with the value, or without */
  WbColumn    columns[2]; /* where the reading stands that says so; an event's stands by its code */
  int         event;    /* WbEvent; -1: none */
} WbCraftSignRule;

#define WB_CRAFT_SIGN_CAP 2.0 /* the heavier of two mushrooms */

const WbCraftSignRule *wb_craft_sign_get_rule (WbCraftSignKind kind);

G_END_DECLS
