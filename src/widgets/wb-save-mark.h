/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  WB_SAVE_IDLE,   /* nothing was saved yet: empty */
  WB_SAVE_SAVING,
  WB_SAVE_SAVED,  /* durable in the file */
  WB_SAVE_FAILED
} WbSaveState;

/* Says beside a field or in the status line where a save stands. */
#define WB_TYPE_SAVE_MARK (wb_save_mark_get_type ())
G_DECLARE_FINAL_TYPE (WbSaveMark, wb_save_mark, WB, SAVE_MARK, GtkWidget)

GtkWidget  *wb_save_mark_new       (void);
/* text: NULL for the usual word; the reason of a failure. */
void        wb_save_mark_set       (WbSaveMark *self, WbSaveState state, const char *text);
WbSaveState wb_save_mark_get_state (WbSaveMark *self);
const char *wb_save_mark_get_text  (WbSaveMark *self);

G_END_DECLS
