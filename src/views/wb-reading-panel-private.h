/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-badge.h"
#include "wb-quantity-entry.h"
#include "wb-reading-details.h"
#include "wb-reading-fields.h"
#include "wb-reading-panel.h"
#include "wb-time-entry.h"

G_BEGIN_DECLS

/* The panel in files: what it shows, what a person typed into it, quick notes, and burns for the throw. */

struct _WbReadingPanel
{
  GtkWidget         parent_instance;

  /* children */
  GtkLabel         *code;
  WbBadge          *badge;
  GtkLabel         *title;
  GtkLabel         *caution;
  GtkLabel         *deviations;
  GtkLabel         *kept;     /* that it stands here from before the program stopped */
  GMenu            *also_menu;
  GtkBox           *moments;
  GtkWidget        *lighting;
  GtkLabel         *trim_asked;
  WbQuantityEntry  *trim;
  GtkLabel         *place_label;
  GtkEditable      *place;
  GtkDropDown      *kind;
  GtkBox           *fields_box;
  WbReadingFields  *fields;
  GtkLabel         *throw_words;
  GtkWidget        *note_label;
  GtkWidget        *note;
  GtkLabel         *quick;
  GtkLabel         *time_label;
  WbTimeEntry      *time;
  WbReadingDetails *details;
  GtkWidget        *light;
  GtkWidget        *save;
  GtkWidget        *snuff;
  WbSaveMark       *mark;
  GtkLabel         *wrong;    /* keeps its place, so that nothing moves under the hand */
  GtkLabel         *problem;
  GtkLabel         *hint;
  GtkWidget        *scroll;

  /* owned */
  WbAppBenchSample *sample;
  char             *sworn;           /* NULL: nothing was doubted, or not answered */
  char            **quick_notes;     /* what was noted last; NULL: not asked yet */

  /* state */
  gboolean          out;             /* the person said that the flame which drowned is out */
  WbAppAsk          ask;
  WbAppAsk          due;
  gboolean          us_units;
  gboolean          quiet;
  gboolean          taken_trim;      /* the wick's length was taken over, not typed */
  gboolean          untaken_trim;    /* and there was none */
  gboolean          seen_to;         /* what the values tell was answered */
  gint64            typed_us;        /* when something was typed last, by the wall clock; 0: never */
  gboolean          place_touched;   /* a person said where it stands, or that it stands nowhere */
};

/* wb-reading-panel-quick.c */

/* Once, after the template. */
void wb_reading_panel_add_quick (WbReadingPanel *self);

/* wb-reading-panel-throw.c */

/* TRUE: what is to be lit is a throw burn. */
gboolean    wb_reading_panel_lights_throw (WbReadingPanel *self);
/* TRUE: what is to be lit is one, or what burns is, and its throw is asked now. */
gboolean    wb_reading_panel_is_throw_burn (WbReadingPanel *self);
/* Before the moment's fields are laid out: what a throw burn asks at its lighting. */
void        wb_reading_panel_prepare_throw (WbReadingPanel *self);
/* What keeps a throw burn from being lit; translated, NULL: nothing. */
const char *wb_reading_panel_get_throw_problem (WbReadingPanel *self);

G_END_DECLS
