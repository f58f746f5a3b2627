/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-label-sheet.h"

G_BEGIN_DECLS

/*
 * A person's own sheets of labels by their names, which one was used last, and by how much the printer prints askew. Kept in
 * the settings of this machine, not in the notebook: printer and drawer are the same for every notebook, and a sheet is no
 * part of the record.
 */
typedef struct
{
  char              *name;
  WbReportLabelSheet sheet;
  guint              next;  /* the first label, from 0, that is still on the sheet that was begun; 0: none was */
} WbAppLabelSheet;

typedef struct
{
  GPtrArray *own;              /* WbAppLabelSheet, in the order in which they were first kept */
  char      *chosen;           /* key of a preset, or name of an own sheet; "": none yet */
  double     shift_x, shift_y; /* mm */
  guint      next[WB_REPORT_LABELS_N]; /* the same of the program's sheets */
} WbAppLabelSheets;

/* What of the text can be read; an own sheet whose labels do not lie on its page is left out. Caller frees. */
WbAppLabelSheets      *wb_app_label_sheets_parse  (const char *text);
char                  *wb_app_label_sheets_format (const WbAppLabelSheets *self);
void                   wb_app_label_sheets_free   (WbAppLabelSheets *self);
/* NULL: there is none of that name. Borrowed. */
const WbAppLabelSheet *wb_app_label_sheets_find   (const WbAppLabelSheets *self, const char *name);
/* Under that name, over one that has it. */
void                   wb_app_label_sheets_keep   (WbAppLabelSheets *self, const char *name, const WbReportLabelSheet *sheet);
void                   wb_app_label_sheets_forget (WbAppLabelSheets *self, const char *name);
/* Where the next print on a sheet begins, by its key or name as in `chosen`; 0 for one that is not known. */
guint                  wb_app_label_sheets_get_next (const WbAppLabelSheets *self, const char *chosen);
/* So many were printed from `first` on; a sheet that is full is followed by a new one. */
void                   wb_app_label_sheets_use      (WbAppLabelSheets *self, const char *chosen, guint first, guint n);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLabelSheets, wb_app_label_sheets_free)

G_END_DECLS
