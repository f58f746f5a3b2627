/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading-field.h"
#include "wb-reading-fields.h"

G_BEGIN_DECLS

/* The fields in four files: what is shown and followed, which lines there are, what a person typed into them, and how that is kept. */

/* What is asked at a place: of the vessel, or at one wick. */
typedef struct
{
  GtkWidget *field; /* WbReadingField, kept from moment to moment and from sample to sample; NULL: not made yet */
  GtkLabel  *last;  /* beside the field; NULL: the field is not shown */
} WbReadingSlot;

/* One line, in its order on the screen. */
typedef struct
{
  guint    wick;
  WbColumn column;
  gboolean asked;  /* Enter comes to it */
  gboolean glow;   /* it asks how long it glowed */
} WbReadingLine;

struct _WbReadingFields
{
  GtkWidget         parent_instance;

  /* children */
  GtkGrid          *grid;

  /* owned */
  WbAppBenchSample *sample;
  WbReadingSlot              slots[WB_MOST_WICKS + 1][WB_N_COLUMNS]; /* 0: the vessel */
  GArray           *lines;               /* WbReadingLine, as shown */
  GPtrArray        *chain;               /* what Enter goes through; borrowed */

  /* state */
  WbAppAsk          ask;
  WbBurnKind        kind;                /* of the burn that is to be lit */
  guint             n_wicks;
  guint             out;                 /* wicks that were out when the lines were laid out, a bit each */
  double            widest_mm;           /* of the vessel that the fields were made for */
  gboolean          us_units;
  double            room_c;              /* the evening's, to be taken over; NAN: unknown */
  double            draught;
  const char       *untaken;             /* label of the field that was to be as last time, and there is no last time; NULL: none */
};

/* Made where it was not yet. */
WbReadingField *wb_reading_fields_ensure     (WbReadingFields *self, guint wick, WbColumn column);
/* Only where it was made. */
WbReadingField *wb_reading_fields_peek       (WbReadingFields *self, guint wick, WbColumn column);
gboolean        wb_reading_fields_is_shown   (WbReadingFields *self, guint wick, WbColumn column);
gboolean        wb_reading_fields_is_touched (WbReadingFields *self, guint wick, WbColumn column);

/* Says whether the wick may be left unsaid, after what happened. */
void            wb_reading_fields_ask_wick   (WbReadingFields *self);

/* wb-reading-fields-plan.c */

/* Any way to read the pool is one field. */
WbColumn wb_reading_fields_column       (int column);
/* int (WbColumn): what the protocol asks now; a burn for the throw asks for it, whatever the protocol says. Caller frees. */
GArray  *wb_reading_fields_dup_asked    (WbReadingFields *self);
/* WbReadingLine, none. Caller frees. */
GArray  *wb_reading_fields_plan_new     (void);
/* All lines: what is asked, in its order, what was typed already, what happened. Caller frees. */
GArray  *wb_reading_fields_plan         (WbReadingFields *self, const GArray *asked);
/* Appends a column, of the vessel or at all of its wicks. */
void     wb_reading_fields_plan_column  (WbReadingFields *self, GArray *plan, WbColumn column, gboolean asked);
/* Appends what happened, and once something did, at which wick and for how long. */
void     wb_reading_fields_plan_event   (WbReadingFields *self, GArray *plan);
gboolean wb_reading_fields_is_same_plan (const GArray *one, const GArray *other);

G_END_DECLS
