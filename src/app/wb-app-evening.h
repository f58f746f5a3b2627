/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * An evening that was written on paper, typed in afterwards: an experiment's samples down, in the order of the printed log
 * sheet, the moments of a burn across, with the fields that the protocol asks at each. Texts as typed go in, cell by cell;
 * the sheet says of every cell whether it can be read, can be so, and agrees with the record. Saving is one entry: session,
 * burns, readings, all or nothing. What the record has of that evening is shown and never written again.
 *
 * Main thread. Signal "changed": cells have to be looked at anew (something was typed, or the record has changed).
 */
#define WB_TYPE_APP_EVENING (wb_app_evening_get_type ())
G_DECLARE_FINAL_TYPE (WbAppEvening, wb_app_evening, WB, APP_EVENING, GObject)

/* What stands above the sheet. */
typedef enum
{
  WB_APP_EVENING_DAY,    /* on which it began, as wb_day_read() takes it */
  WB_APP_EVENING_OPENED, /* time of day at which it began; times before it are of the next day */
  WB_APP_EVENING_WHO,    /* who was at the bench; may be empty */
  WB_APP_EVENING_ROOM,   /* temperature at lighting, of the samples whose own cell is empty; may be empty */
  WB_N_APP_EVENING_HEADS
} WbAppEveningHead;

typedef struct
{
  WbAppAsk ask;
  guint    round; /* from 1; 0: no round */
  guint    first; /* column of its time */
  guint    n;     /* columns, that one included */
} WbAppEveningMoment;

typedef enum
{
  WB_APP_EVENING_TIME,  /* "19:30", "1930", past midnight too; after lighting also minutes since then: "62"; of a lighting "-": it was not lit */
  WB_APP_EVENING_PLACE, /* on the bench; of a throw burn its room */
  WB_APP_EVENING_TRIM,
  WB_APP_EVENING_BURN, /* kind of the burn, by its word or the beginning of it; standard where nothing is typed */
  WB_APP_EVENING_RATER, /* who smelt a throw burn; who was at the bench, where nothing is typed */
  WB_APP_EVENING_FIELD
} WbAppEveningKind;

typedef struct
{
  WbAppEveningKind kind;
  guint            moment;
  WbColumn         column; /* of a field; the pool as a whole is WB_COLUMN_POOL_MM: "54", "54/56", "full"; of several wicks "21/23" */
  gboolean         throw;  /* asked of throw burns only */
  gboolean         seldom; /* seldom typed: passed over where one goes along */
} WbAppEveningColumn;

typedef enum
{
  WB_APP_EVENING_EMPTY,   /* not taken */
  WB_APP_EVENING_FINE,
  WB_APP_EVENING_STORED,  /* in the record already */
  WB_APP_EVENING_DOUBTED, /* can hardly be; may be saved */
  WB_APP_EVENING_WRONG    /* cannot be saved */
} WbAppEveningState;

typedef struct
{
  WbAppEveningState state;
  const char       *stored;  /* STORED: what the record has, as it would be typed */
  const char       *problem; /* WRONG, and DOUBTED where it is not the value that is doubted: translated, a sentence */
  WbCraftDoubt      doubt;   /* DOUBTED with no problem */
} WbAppEveningCell;

/* The row of a moment's time that holds for all samples without one of their own. */
#define WB_APP_EVENING_ALL G_MAXUINT
#define WB_APP_EVENING_MOST_ROUNDS 12

/* The bench must be loaded. Begins empty, with the day of the last evening. */
WbAppEvening             *wb_app_evening_new         (WbAppBench *bench, gint64 experiment);
gint64                    wb_app_evening_get_experiment (WbAppEvening *self);

guint                     wb_app_evening_get_n_rows  (WbAppEvening *self);
WbAppBenchSample         *wb_app_evening_get_sample  (WbAppEvening *self, guint row); /* borrowed */
guint                     wb_app_evening_get_n_moments (WbAppEvening *self);
const WbAppEveningMoment *wb_app_evening_get_moment  (WbAppEvening *self, guint moment);
guint                     wb_app_evening_get_n_columns (WbAppEvening *self);
const WbAppEveningColumn *wb_app_evening_get_column  (WbAppEvening *self, guint column);
/* "Round 2", "Pool diameter, mm". Translated; caller frees. */
char                     *wb_app_evening_dup_moment_label (WbAppEvening *self, guint moment);
char                     *wb_app_evening_dup_column_label (WbAppEvening *self, guint column);
/* As many as the protocol has, until set; 1 to WB_APP_EVENING_MOST_ROUNDS, never fewer than hold something typed. */
guint                     wb_app_evening_get_rounds  (WbAppEvening *self);
/* FALSE: it is of throw burns, and no line is one, nor is anything typed there. */
gboolean                  wb_app_evening_is_shown    (WbAppEvening *self, guint column);
/* Is that asked of the row, which may not have been lit, and typed more often than not? */
gboolean                  wb_app_evening_is_asked    (WbAppEvening *self, guint row, guint column);
void                      wb_app_evening_set_rounds  (WbAppEvening *self, guint rounds);

/* As typed; "" where nothing is. Borrowed until it is typed anew. */
const char               *wb_app_evening_get_head    (WbAppEvening *self, WbAppEveningHead head);
void                      wb_app_evening_set_head    (WbAppEvening *self, WbAppEveningHead head, const char *text);
/* "yesterday" becomes the day that it is today, written out: the sheet may be taken up on another. A day that is none is left. */
void                      wb_app_evening_spell_day   (WbAppEvening *self);
/* What is wrong with it, NULL: nothing. */
const char               *wb_app_evening_get_head_problem (WbAppEvening *self, WbAppEveningHead head);
/* row: WB_APP_EVENING_ALL for a column of times. */
const char               *wb_app_evening_get_text    (WbAppEvening *self, guint row, guint column);
void                      wb_app_evening_set_text    (WbAppEvening *self, guint row, guint column, const char *text);
/* Borrowed until the next "changed". */
const WbAppEveningCell   *wb_app_evening_get_cell    (WbAppEvening *self, guint row, guint column);
/* Minutes after its lighting at which the sample was looked at then; NAN: not known. */
double                    wb_app_evening_get_minute  (WbAppEvening *self, guint row, guint moment);
/*
 * Whether no other scented candle burnt when the throw of that row was rated, by the lines of the sheet and the record: 1, 0; NAN:
 * nothing is rated then, or it is not said when. What the person types in the cell for it goes before.
 */
double                    wb_app_evening_foretell_alone (WbAppEvening *self, guint row, guint moment);
/* Why that rating will not be scored, a translated sentence; NULL: it will be, or there is none. Caller frees. */
char                     *wb_app_evening_dup_unscored (WbAppEvening *self, guint row, guint moment);
/* Limits that what is newly typed of a sample at a moment comes near or goes over: WbAppBenchHit, worst first. Caller frees. */
GPtrArray                *wb_app_evening_find_hits   (WbAppEvening *self, guint row, guint moment);

typedef struct
{
  guint burns, readings; /* new ones, that Save would write */
  guint wrong, doubted;  /* cells and heads */
} WbAppEveningCounts;
void                      wb_app_evening_count       (WbAppEvening *self, WbAppEveningCounts *counts);

/*
 * One entry of the record. Refused where a cell is wrong or nothing is new; doubts are no hindrance. The draft is forgotten
 * with it.
 */
void                      wb_app_evening_save_async  (WbAppEvening *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* TRUE when it is durable in the file. */
gboolean                  wb_app_evening_save_finish (WbAppEvening *self, GAsyncResult *result, GError **error);

/*
 * A half-typed sheet is kept in the person's state folder, one for each notebook, experiment and day. Nothing typed: none is kept.
 */
/* TRUE: something was typed since it was kept last. */
gboolean                  wb_app_evening_is_unkept   (WbAppEvening *self);
/* Writes it now; not synced. */
gboolean                  wb_app_evening_keep        (WbAppEvening *self, GError **error);
/*
 * The same from a thread, while typing goes on: nobody waits. FALSE (WB_APP_ERROR): an earlier one could not be written; this one is
 * tried all the same.
 */
gboolean                  wb_app_evening_keep_soon   (WbAppEvening *self, GError **error);
/* Takes up the sheet of that day (text as of its head), NULL: the newest one. FALSE: there is none. */
gboolean                  wb_app_evening_take_up     (WbAppEvening *self, const char *day);
/* Empties the sheet and forgets its draft. */
void                      wb_app_evening_begin_anew  (WbAppEvening *self);
/* TRUE: something stands in a cell. */
gboolean                  wb_app_evening_is_typed    (WbAppEvening *self);

G_END_DECLS
