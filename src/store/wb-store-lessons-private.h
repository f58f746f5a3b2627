/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-lessons.h"

#include <sqlite3.h>

G_BEGIN_DECLS

#define WB_STORE_LESSON_DIGEST_SIZE 32

typedef enum
{
  WB_STORE_LESSON_REAL,    /* double; NAN is NULL */
  WB_STORE_LESSON_INTEGER, /* gint64; WB_INTEGER_NONE is NULL */
  WB_STORE_LESSON_WHOLE,   /* int, guint, gboolean or an enumeration */
  WB_STORE_LESSON_TEXT     /* char * */
} WbStoreLessonKind;

/* A field of a struct as a column. */
typedef struct
{
  const char       *name;
  WbStoreLessonKind kind;
  gsize             offset;
} WbStoreLessonColumn;

typedef struct
{
  const char                *table;
  const char                *head;   /* columns before those of the struct, with a comma after each */
  guint                      n_head;
  const char                *order;
  const WbStoreLessonColumn *columns;
  guint                      n;
} WbStoreLessonTable;

/* Of WbLesson, which has its digest as one column more at the end; WbLessonCell; WbLessonFigure. */
extern const WbStoreLessonTable wb_store_lesson_heads, wb_store_lesson_cells, wb_store_lesson_figures;

/* Binds all but the head. Texts are copied. */
void     wb_store_lesson_bind   (const WbStoreLessonTable *table, gconstpointer item, sqlite3_stmt *statement);
/*
 * Reads all but the head into a zeroed struct, the first n columns; the rest, which must be REAL, is NAN. FALSE: something of it was
 * never written by this program.
 */
gboolean wb_store_lesson_read   (const WbStoreLessonTable *table, sqlite3_stmt *statement, guint n, gpointer item);
/* The columns of a figure that is no curve. */
#define WB_STORE_LESSON_N_PLAIN 13
/* wb_store_load_lessons, in which a figure that is no curve may have something where only curves have; it is then read, too. */
GPtrArray *wb_store_load_lessons_wholly (WbStore *store, GError **error);
/* SHA-256 of all that the lesson says, by which an edit behind the program's back is found. */
void     wb_store_lesson_digest (const WbLesson *lesson, guint8 digest[WB_STORE_LESSON_DIGEST_SIZE]);

/* The same of the school's bytes. */
void     wb_store_school_digest (gconstpointer bytes, gsize size, guint8 digest[WB_STORE_LESSON_DIGEST_SIZE]);

/* Empties all of it, in the transaction that is open. */
gboolean wb_store_lessons_clear (WbStore *store, GError **error);
/* Whether each is as it was kept and names what there is: `misfit` NULL, or the name of what does not (caller frees). FALSE with error. */
gboolean wb_store_lessons_check (WbStore *store, char **misfit, GError **error);

G_END_DECLS
