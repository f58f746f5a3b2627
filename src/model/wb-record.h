/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"
#include "wb-quantity.h"
#include "wb-uuid.h"

#include <glib-object.h>

G_BEGIN_DECLS

/*
 * A record is a plain struct that begins with WbRecord and is described by a
 * WbRecordType: its table and its fields. Copying, freeing, comparing, the
 * store's statements, the canonical bytes that are hashed, forms on screen and
 * materials' CSV all read that one description.
 *
 * In a struct: REAL is a double, NAN where not known; INTEGER is gint64,
 * WB_INTEGER_NONE where not known; REFERENCE is gint64, 0 for none; ENUM is
 * int, -1 where not known; FLAG is gboolean; TEXT is an owned char *, NULL
 * where not known, never empty; INSTANT is WbInstant; DAY is WbDay; UUID WbUuid.
 */

#define WB_INTEGER_NONE G_MININT64

typedef enum
{
  WB_FIELD_REAL,
  WB_FIELD_INTEGER,
  WB_FIELD_REFERENCE,
  WB_FIELD_ENUM,
  WB_FIELD_FLAG,
  WB_FIELD_TEXT,
  WB_FIELD_INSTANT, /* two columns: NAME_us and NAME_offset_s */
  WB_FIELD_DAY,     /* ISO text in the file */
  WB_FIELD_UUID
} WbFieldType;

/* One word of an enumeration: what stands in the file, and what a person reads (untranslated; gettext it). */
typedef struct
{
  const char *nick;
  const char *label;
} WbWord;

typedef struct _WbRecordType WbRecordType;

typedef struct
{
  const char         *name;     /* column in the file, key in JSON and CSV */
  WbFieldType         type;
  gsize               offset;
  gboolean            required; /* NULL, NAN, none refused */
  WbQuantity          quantity; /* REAL only: stored in its stored unit */
  double              minimum;  /* REAL and INTEGER: permitted range, both ends included */
  double              maximum;  /* TEXT: the most characters */
  const WbWord       *words;    /* ENUM, and REAL whose value is the index, from its minimum on: ends with a NULL nick */
  const WbRecordType *target;   /* REFERENCE only; NULL: any record */
  const char         *label;    /* for a form, N_()-marked; NULL: not asked in forms */
  const char         *hint;     /* one sentence under the field, or NULL */
  gboolean            integer;  /* REAL only: whole numbers alone are permitted */
} WbFieldSpec;

struct _WbRecordType
{
  const char        *name;   /* table in the file: "vessel" */
  const char        *label;  /* for people, N_()-marked: "Vessel" */
  gsize              size;
  const WbFieldSpec *fields;
  guint              n_fields;
};

typedef struct
{
  const WbRecordType *type;
  gint64              id;      /* 0: not stored yet */
  gint64              entry;   /* entry that wrote this version; 0: not stored yet */
  gboolean            deleted;
} WbRecord;

typedef enum
{
  WB_RECORD_ERROR_REQUIRED, /* a required field is empty */
  WB_RECORD_ERROR_RANGE,    /* a number outside its range, or not finite */
  WB_RECORD_ERROR_TEXT,     /* text too long or not UTF-8 */
  WB_RECORD_ERROR_WORD,     /* not a word of the enumeration */
  WB_RECORD_ERROR_FIELD     /* no such field */
} WbRecordError;

#define WB_RECORD_ERROR (wb_record_error_quark ())
/* The domain of these codes. */
GQuark wb_record_error_quark (void);

#define WB_TEXT_MAXIMUM 10000 /* characters of a note */
#define WB_NAME_MAXIMUM 200   /* characters of a name */

/* A new record with every field not known; caller owns it. Types are told apart by address. */
gpointer           wb_record_new        (const WbRecordType *type);
gpointer           wb_record_copy       (gconstpointer record);
void               wb_record_free       (gpointer record);
/* TRUE if every field is equal (NAN equals NAN); id and entry are not compared. */
gboolean           wb_record_equal      (gconstpointer a, gconstpointer b);
gboolean           wb_record_field_equal (gconstpointer a, gconstpointer b, const WbFieldSpec *field);
/* Checks required fields, ranges, lengths, UTF-8; the message names table, field, value and rule. */
gboolean           wb_record_validate   (gconstpointer record, GError **error);
/* The same for one field. */
gboolean           wb_record_validate_field (gconstpointer record, const WbFieldSpec *field, GError **error);

/* NULL: the type has no such field. */
const WbFieldSpec *wb_record_type_find_field (const WbRecordType *type, const char *name);
/* One field of a record of that field's type: whether it has a value, and the value; texts are borrowed. */
gboolean           wb_record_is_known   (gconstpointer record, const WbFieldSpec *field);
double             wb_record_get_real   (gconstpointer record, const WbFieldSpec *field);
/* INTEGER, REFERENCE, ENUM, FLAG, DAY, each as the struct holds it (an unknown DAY is WB_DAY_NONE). */
gint64             wb_record_get_integer (gconstpointer record, const WbFieldSpec *field);
WbInstant          wb_record_get_instant (gconstpointer record, const WbFieldSpec *field);
WbUuid             wb_record_get_uuid    (gconstpointer record, const WbFieldSpec *field);
const char        *wb_record_get_text   (gconstpointer record, const WbFieldSpec *field);
void               wb_record_set_real   (gpointer record, const WbFieldSpec *field, double value);
/* WB_INTEGER_NONE makes it not known, whatever the type. */
void               wb_record_set_integer (gpointer record, const WbFieldSpec *field, gint64 value);
void               wb_record_set_instant (gpointer record, const WbFieldSpec *field, WbInstant value);
void               wb_record_set_uuid    (gpointer record, const WbFieldSpec *field, WbUuid value);
/* As wb_text_dup_clean() makes it: trimmed, in Unicode NFC, "" becomes NULL. */
void               wb_record_set_text   (gpointer record, const WbFieldSpec *field, const char *text);
int                wb_words_find        (const WbWord *words, const char *nick); /* -1: none */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbRecord, wb_record_free)

G_END_DECLS
