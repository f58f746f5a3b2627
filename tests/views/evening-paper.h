/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-views.h"
#include "wb-evening-sheet.h"

/* A sheet of paper of an invented workshop's experiment, open over its bench. */
#define EVENING_PAPER_SAMPLES 12

typedef struct
{
  WbWindow       *window;
  char           *path;
  gint64          experiment;
  WbEveningSheet *sheet;
} EveningPaper;

/* Nine in the morning of a day, long after the pour. */
void            evening_paper_set_morning (void);
void            evening_paper_open        (EveningPaper *paper);
void            evening_paper_close       (EveningPaper *paper);
void            evening_paper_open_sheet  (EveningPaper *paper);
/* The open sheet; NULL: none. The second is a TestFunc that there is none. */
WbEveningSheet *evening_paper_find_sheet  (void);
gboolean        evening_paper_is_closed   (gpointer user);
/* Into the cell, which must have the keyboard. */
void            evening_paper_type        (EveningPaper *paper, guint row, guint column, const char *text);
/* As the key does: the grid's own controller is asked. TRUE: it took the key. */
gboolean        evening_paper_press       (EveningPaper *paper, guint keyval);
