/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The only place that knows GtkFileChooserNative. */

typedef enum
{
  WB_FILE_NOTEBOOK, /* *.wickbench */
  WB_FILE_LOG,      /* *.csv, *.tsv, *.txt */
  WB_FILE_SHELF,    /* the same endings, of lists of materials */
  WB_FILE_MAPPING,  /* *.mapping */
  WB_FILE_PDF,
  WB_FILE_PICTURE,  /* *.png, *.svg, *.pdf */
  WB_FILE_TABLE,    /* *.csv, *.xlsx, *.json, *.ics */
  WB_FILE_WORKBOOK, /* *.xlsx */
  WB_FILE_CSV,      /* *.csv */
  WB_FILE_JSON,     /* *.json */
  WB_FILE_CALENDAR, /* *.ics */
  WB_FILE_PHOTO,    /* *.jpg, *.jpeg, *.png, in small letters or large */
  WB_FILE_LOGO,     /* the same endings */
  WB_FILE_ANY,
  WB_N_FILES
} WbFileKind;

/* Its name ends as those of that kind do, in small letters or large. */
gboolean wb_file_choice_fits (const char *path, WbFileKind kind);

/* path: absolute, with the kind's ending where the person typed none; NULL: cancelled. */
typedef void (*WbFileFunc) (const char *path, gpointer user);

void wb_file_choice_open (GtkWidget *where, const char *title, WbFileKind kind, WbFileFunc callback, gpointer user);
/* files: GFile, of the callback's time; NULL: cancelled. */
typedef void (*WbFilesFunc) (GListModel *files, gpointer user);
void wb_file_choice_open_several (GtkWidget *where, const char *title, WbFileKind kind, WbFilesFunc callback, gpointer user);
/* `name` is the suggested name with its ending. The chooser asks before a file is overwritten. */
void wb_file_choice_save (GtkWidget *where, const char *title, WbFileKind kind, const char *name, WbFileFunc callback, gpointer user);
/* Each of `kinds`, which are static, is a choice of its own, the first is proposed; the name's ending goes with the choice. `name` has no ending. */
void wb_file_choice_save_as (GtkWidget *where, const char *title, const WbFileKind *kinds, gsize n_kinds, const char *name,
                             WbFileFunc callback, gpointer user);
/* The name with that kind's ending in the place of another kind's; with it at its end where it has none. Caller frees. */
char *wb_file_choice_dup_renamed (const char *name, WbFileKind kind);

G_END_DECLS
