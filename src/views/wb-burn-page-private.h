/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-advice-line.h"
#include "wb-bench-bar.h"
#include "wb-bench-hand.h"
#include "wb-bench-round.h"
#include "wb-bench-view.h"
#include "wb-burn-page.h"
#include "wb-check-strip.h"
#include "wb-row-bar.h"

G_BEGIN_DECLS

/* The page in eight files: what it follows, how a finished experiment comes back to it, which sample the hand is at and how keys come to another, what it can do, what it asks before, what a hazard is answered, and what outlives the program. */

typedef enum { WB_BURN_DEED_LIGHT, WB_BURN_DEED_READ, WB_BURN_DEED_END } WbBurnDeed;

struct _WbBurnPage
{
  WbPage          parent_instance;

  /* children */
  WbBenchBar     *bar;
  WbHazardBar    *hazard;
  WbRowBar       *row_bar;
  WbAdviceLine   *next;     /* while nothing burns */
  GtkWidget      *finished; /* the line above the bench of a finished experiment */
  GtkLabel       *finished_words;
  GtkWidget      *reopen;
  GtkLabel       *empty;
  GtkWidget      *finder;   /* NULL: not asked for yet */
  GtkWidget      *mover;    /* the same */
  GtkStack       *content;
  GtkWidget      *view_scroll;
  WbBenchView    *view;
  WbReadingStack *stack;
  WbReadingLog   *log;
  WbPhotoStrip   *photos;
  WbLoggerStrip  *loggers;
  WbCheckStrip   *checks;

  /* owned */
  WbBenchHand    *hand;
  GSignalGroup   *bench_signals;
  WbBenchRound   *round;
  GHashTable     *answers;  /* sample (gint64 *) -> what was answered and is not in the record yet */
  GHashTable     *ending;   /* samples (gint64 *) whose end is on its way to the file */
  GHashTable     *unread;   /* samples (gint64 *) saved and not read back: the bench has them as they were */

  /* owned, while it is asked whether what was typed is so */
  WbReadingPanel *doubted;  /* NULL: nothing is asked */
  char           *doubt;    /* its words */

  /* owned: what is half typed, and kept */
  GKeyFile       *kept;      /* as it was kept last; NULL: not read yet */
  char           *kept_text; /* the same */
  GKeyFile       *later;     /* of it what waits for the page of its experiment */
  GCancellable   *loading_drafts;

  /* owned, while it is asked whether its flame is out */
  WbReadingPanel *drowned;  /* NULL: nothing is asked */

  /* state */
  guint           keeping;  /* source id; 0: none */
  gboolean        doubted_place;  /* nothing but the place on the bench */
  guint           doubted_wick;   /* 0: of the vessel */
  WbColumn        doubted_column;
  gint64          doubted_earlier; /* the reading that may be wrong instead; 0: none */
  gint64          amend_sample;    /* whose earlier reading is amended once its new one is saved; 0: none */
  gint64          amend_reading;
  WbColumn        amend_column;
  WbBurnDeed      deed;     /* what is done if it is so */
  WbEvent         event;
  gint64          chosen;
  gint64          snuffing; /* sample that the snuff key was last pressed for; 0: none */
  gint64          held;     /* sample that stays in hand, as what was read of it is over a limit; 0: none */
  guint           scroll;   /* source id; 0: none */
};

/* Of a bench that the maker stated, the row where the chosen one stands or would stand; else all that may be lit. */
typedef enum { WB_BURN_ROW_LIGHT, WB_BURN_ROW_LIGHT_ALL, WB_BURN_ROW_SNUFF } WbBurnRow;

/* wb-burn-page.c */

/* Shows all as the bench has it now. */
void              wb_burn_page_follow           (WbBurnPage *self);
/* A limit is told when a value stands, before it is saved. */
void              wb_burn_page_tell             (WbBurnPage *self, WbReadingPanel *panel);

/* wb-burn-page-answer.c */

/* For the page's `answers`. */
GHashTable       *wb_burn_page_answers_new      (void);
/* The signal "answered" of the hazard bar. */
void              wb_burn_page_answer           (WbBurnPage *self, gint64 id, gboolean out, gboolean typed, const char *text);
/* What a hand saves of that sample is on its way; ends: and ends its burn. */
void              wb_burn_page_answer_started   (WbBurnPage *self, gint64 id, gboolean ends);
/* It is in the file: what was answered meanwhile goes after it. */
void              wb_burn_page_answer_saved     (WbBurnPage *self, gint64 id);
/* It is not: what was answered goes back to the panel, and an end is asked again. */
void              wb_burn_page_answer_failed    (WbBurnPage *self, WbAppBenchSample *sample);
/* A record says as much as what was just typed: a hot vessel that nobody has seen to is told, after a restart too. */
void              wb_burn_page_look_at_record   (WbBurnPage *self);

/* wb-burn-page-doubt.c */

/* Carries out what a panel holds; where that can hardly be, the person is asked first. event: for the end of a burn. */
void              wb_burn_page_do               (WbBurnPage *self, WbReadingPanel *panel, WbBurnDeed deed, WbEvent event);

/* wb-burn-page-draft.c */

/* Reads what was kept of the bench that was just opened. */
void              wb_burn_page_load_drafts      (WbBurnPage *self);
/* Puts back what is in the page's round, when the bench and it are read; the rest waits. */
void              wb_burn_page_put_drafts_back  (WbBurnPage *self);
/* Keeps what is half typed, in a moment or now; what is not any more is forgotten. */
void              wb_burn_page_keep_drafts_soon (WbBurnPage *self);
void              wb_burn_page_keep_drafts      (WbBurnPage *self);
/* Follows the bench no more; what is kept stays kept. */
void              wb_burn_page_drop_drafts      (WbBurnPage *self);

/* wb-burn-page-choice.c */

/* NULL: no notebook is open. Borrowed, as are the samples below. */
WbAppBench       *wb_burn_page_get_bench        (WbBurnPage *self);
gboolean          wb_burn_page_uses_us_units    (WbBurnPage *self);
gboolean          wb_burn_page_is_alight        (WbAppBenchSample *sample);
/* NULL: none is chosen, or it is gone. */
WbAppBenchSample *wb_burn_page_get_chosen       (WbBurnPage *self);
/* Where the hand goes after what was asked; NULL: nowhere. */
WbAppBenchSample *wb_burn_page_find_next        (WbBurnPage *self, WbAppAsk after);
/* The flame that is to be read first after the chosen one was; NULL: no other burns. */
WbAppBenchSample *wb_burn_page_find_due         (WbBurnPage *self);
/* The flame that is to be snuffed after the chosen one; NULL: no other burns. */
WbAppBenchSample *wb_burn_page_find_to_snuff    (WbBurnPage *self);
/* NULL: none. */
void              wb_burn_page_choose           (WbBurnPage *self, WbAppBenchSample *sample);
void              wb_burn_page_choose_and_focus (WbBurnPage *self, WbAppBenchSample *sample);
/* The same for the next flame: its panel asks for the lighting, also where its last burn was not weighed. */
void              wb_burn_page_choose_to_light  (WbBurnPage *self, WbAppBenchSample *sample);
/* Chooses where nothing is chosen, or what was is gone. */
void              wb_burn_page_ensure_choice    (WbBurnPage *self);
/* What was noted last goes to the panel that shows, which there must be. */
void              wb_burn_page_give_notes       (WbBurnPage *self);
/* The evening's room goes to the panel that shows, for "=". */
void              wb_burn_page_give_evening     (WbBurnPage *self);
void              wb_burn_page_show_ask         (WbBurnPage *self);
void              wb_burn_page_propose_place    (WbBurnPage *self);
/* Places in a row of the bench as the maker stated it, and all its places; 0: it is not stated. */
guint             wb_burn_page_get_stated_columns (WbBurnPage *self, guint *places);
/* Says in the panel what becomes of a rating of the throw, or what a lighting would spoil. */
void              wb_burn_page_tell_throw       (WbBurnPage *self);
/* Brings the chosen one into sight once what is new has its place. */
void              wb_burn_page_scroll_later     (WbBurnPage *self);

/* wb-burn-page-go.c */

/* where: "left", "right", "up", "down". */
void              wb_burn_page_go_beside        (WbBurnPage *self, const char *where);
/* Asks where the chosen flame stands now. */
void              wb_burn_page_move             (WbBurnPage *self);
/* Asks for a code or a place. */
void              wb_burn_page_go_by_name       (WbBurnPage *self);
/* What a row would be made of, in its order: WbAppBenchSample, borrowed. Caller frees the array. */
GPtrArray        *wb_burn_page_list_row         (WbBurnPage *self, WbBurnRow row);
void              wb_burn_page_start_row        (WbBurnPage *self, WbBurnRow row);
/* To the next of the row that is on. */
void              wb_burn_page_go_on_in_row     (WbBurnPage *self);

/* wb-burn-page-verbs.c */

void              wb_burn_page_add_verbs        (WbBurnPage *self);
/* WbPageClass.update_actions. */
void              wb_burn_page_update_verbs     (WbPage *page);

/* The open experiment is finished: its candles are off the bench. */
gboolean wb_burn_page_is_finished   (WbBurnPage *self);
void     wb_burn_page_show_finished (WbBurnPage *self);
void     wb_burn_page_reopen        (WbBurnPage *self);

G_END_DECLS
