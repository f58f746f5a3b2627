/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-xlsx.h"

#include "wb-exchange-error.h"
#include "wb-exchange-place.h"
#include "wb-exchange-xlsx-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>

/* LXW_ROW_MAX less the head row. */
#define ROWS_MAXIMUM (LXW_ROW_MAX - 1)
#define INSTANT_FORMAT "yyyy-mm-dd hh:mm:ss"

struct _WbExchangeXlsx
{
  WbExchangePlace         *place;
  GCancellable            *cancellable;
  lxw_workbook            *workbook;   /* NULL once closed */
  gboolean                 invented;
  WbExchangeSheet          ranking, grid, figures, readings;
  guint                    reading_sheets;
  guint                    rows_maximum;
  WbExchangeLogFill       *fill;
  char                   **extra;
};

/* `system` is errno as the library left it: its own words for a full disk are "Zip generic error". */
static gboolean
set_error (GError **error, lxw_error failure, int system)
{
  if (system != 0)
    {
      g_set_error_literal (error, G_IO_ERROR, (int) g_io_error_from_errno (system), g_strerror (system));
      return FALSE;
    }
  g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FAILED, lxw_strerror (failure));
  return FALSE;
}

static lxw_format *
add_format (WbExchangeXlsx *self, gboolean bold, const char *number)
{
  lxw_format *format = workbook_add_format (self->workbook);

  if (bold)
    format_set_bold (format);
  if (number != NULL)
    format_set_num_format (format, number);
  return format;
}

static void
open_sheet (WbExchangeXlsx *self, WbExchangeSheet *sheet, const char *name)
{
  sheet->worksheet = workbook_add_worksheet (self->workbook, name);
  sheet->invented = self->invented;
  sheet->row = 0;
}

/* Untranslated: a file is the same whatever the language. */
static void
add_about (WbExchangeXlsx *self, const WbNotebook *notebook, WbInstant now)
{
  WbExchangeSheet about = self->ranking;
  const guint made = 3; /* its line */
  const char *lines[][2] = {
    { "What", "Burn tests of container candles, exported by Wickbench" },
    { "Notebook", notebook != NULL ? notebook->title : NULL },
    { "Maker", notebook != NULL ? notebook->maker : NULL },
    { "Made at, local time", NULL },
    { "Data", self->invented ? "INVENTED DATA: no real vessel, wick or wax is meant" : "as recorded" },
    { "Sheets", "Ranking: the answer, a row a combination; those of one vessel and scent are ranked within a group. Grid: what was planned, poured and lit, a row a sample. "
                "Figures: a row a burn. Readings: a row a reading" },
    { "Units", "stated in the heads; times are those of the clock on the wall" },
    { "Intervals", "90 %" },
    { "Caution", "A maker's own test, not a certification. Suppliers' data sheets, local codes and an accredited laboratory "
                 "take precedence." },
  };

  about.instant = add_format (self, FALSE, INSTANT_FORMAT);
  format_set_align (about.instant, LXW_ALIGN_LEFT);
  open_sheet (self, &about, "About");
  about.invented = FALSE;
  worksheet_set_column (about.worksheet, 0, 0, 22, about.head);
  worksheet_set_column (about.worksheet, 1, 1, 90, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      wb_exchange_sheet_begin_row (&about);
      wb_exchange_sheet_add_text (&about, lines[i][0]);
      if (i == made)
        wb_exchange_sheet_add_instant (&about, now);
      else
        wb_exchange_sheet_add_text (&about, lines[i][1]);
      wb_exchange_sheet_end_row (&about);
    }
}

static void
open_readings (WbExchangeXlsx *self)
{
  g_autofree char *name = self->reading_sheets == 0 ? g_strdup ("Readings")
                                                    : g_strdup_printf ("Readings %u", self->reading_sheets + 1);

  open_sheet (self, &self->readings, name);
  self->reading_sheets++;
  wb_exchange_sheet_begin_row (&self->readings);
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if ((self->fill->columns >> i & 1) != 0)
      {
        const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);

        wb_exchange_sheet_add_head (&self->readings, column->title, column->unit);
      }
  for (guint i = 0; self->extra[i] != NULL; i++)
    if (wb_exchange_log_fill_has_extra (self->fill, i))
      wb_exchange_sheet_add_head (&self->readings, self->extra[i], NULL);
  wb_exchange_sheet_end_head (&self->readings);
}

static WbExchangeLogFill *
fill_copy (const WbExchangeLogFill *fill)
{
  WbExchangeLogFill *copy = wb_exchange_log_fill_new (fill->n_extra);

  copy->columns = fill->columns;
  for (guint i = 0; i <= fill->n_extra / 64; i++)
    copy->extra[i] = fill->extra[i];
  return copy;
}

static void
open_sheets (WbExchangeXlsx *self, const WbNotebook *notebook, WbInstant now)
{
  WbExchangeSheet formats = {
    .head = add_format (self, TRUE, NULL),
    .day = add_format (self, FALSE, "yyyy-mm-dd"),
    .instant = add_format (self, FALSE, INSTANT_FORMAT),
    .decimal = { NULL, add_format (self, FALSE, "0.0"), add_format (self, FALSE, "0.00"), add_format (self, FALSE, "0.000") },
  };
  lxw_doc_properties properties = {
    .title = (char *) "Burn tests",
    .comments = (char *) (self->invented ? "Invented data" : ""),
    .created = now.known ? (time_t) (now.utc_us / G_USEC_PER_SEC) : 0,
  };

  workbook_set_properties (self->workbook, &properties);
  self->ranking = self->grid = self->figures = self->readings = formats;
  add_about (self, notebook, now);
  open_sheet (self, &self->ranking, "Ranking");
  wb_exchange_sheet_add_ranking_heads (&self->ranking);
  open_sheet (self, &self->grid, "Grid");
  wb_exchange_sheet_add_grid_heads (&self->grid);
  open_sheet (self, &self->figures, "Figures");
  wb_exchange_sheet_add_figure_heads (&self->figures);
  open_readings (self);
}

WbExchangeXlsx *
wb_exchange_xlsx_new (GFile                   *file,
                      const WbNotebook        *notebook,
                      const WbExchangeLogFill *fill,
                      const char *const       *extra,
                      WbInstant                now,
                      GCancellable            *cancellable,
                      GError                 **error)
{
  static const char *const none[] = { NULL };
  g_autoptr (WbExchangeXlsx) self = g_new0 (WbExchangeXlsx, 1);

  g_set_object (&self->cancellable, cancellable);
  self->fill = fill_copy (fill);
  self->extra = g_strdupv ((char **) (extra != NULL ? extra : none));
  self->rows_maximum = ROWS_MAXIMUM;
  self->invented = notebook != NULL && notebook->invented;
  self->place = wb_exchange_place_new (file, cancellable, error);
  if (self->place == NULL)
    return NULL;

  g_autofree char *path = g_file_get_path (wb_exchange_place_get_file (self->place));

  if (path == NULL)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, _("A workbook can only be written to a local folder"));
      return NULL;
    }

  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = (char *) g_get_tmp_dir () };

  self->workbook = workbook_new_opt (path, &options);
  if (self->workbook == NULL)
    {
      set_error (error, LXW_ERROR_MEMORY_MALLOC_FAILED, 0);
      return NULL;
    }
  open_sheets (self, notebook, now);
  return g_steal_pointer (&self);
}

void
wb_exchange_xlsx_free (WbExchangeXlsx *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->workbook, lxw_workbook_free);
  g_clear_pointer (&self->place, wb_exchange_place_free);
  g_clear_pointer (&self->fill, wb_exchange_log_fill_free);
  g_clear_object (&self->cancellable);
  g_strfreev (self->extra);
  g_free (self);
}

void
wb_exchange_xlsx_set_rows_maximum (WbExchangeXlsx *self,
                                   guint           rows)
{
  self->rows_maximum = rows;
}

static gboolean
check_sheet (WbExchangeXlsx *self, const WbExchangeSheet *sheet, GError **error)
{
  if (g_cancellable_set_error_if_cancelled (self->cancellable, error))
    return FALSE;
  return sheet->error == LXW_NO_ERROR || set_error (error, sheet->error, 0);
}

gboolean
wb_exchange_xlsx_add_answer (WbExchangeXlsx      *self,
                             const WbCraftAnswer *answer,
                             GError             **error)
{
  wb_exchange_sheet_add_ranking (&self->ranking, answer);
  wb_exchange_sheet_add_grid (&self->grid, answer);
  wb_exchange_sheet_add_figures (&self->figures, answer);
  return check_sheet (self, &self->ranking, error) && check_sheet (self, &self->grid, error)
         && check_sheet (self, &self->figures, error);
}

static void
add_pool (WbExchangeSheet *sheet, const WbExchangeLogColumn *column, const WbLogRow *row)
{
  double bits = row->values[WB_COLUMN_POOL_FULL];

  if (!isnan (bits) && ((guint) bits & column->full_bit) != 0)
    wb_exchange_sheet_add_text (sheet, "full");
  else
    wb_exchange_sheet_add_number (sheet, row->values[column->column]);
}

/* A log leaves the usual kind of burn unsaid; who filters by it looks for its name. */
static void
add_word (WbExchangeSheet *sheet, const WbWord *words, int word)
{
  if (word < 0 && words == wb_burn_kind_words)
    word = WB_BURN_STANDARD;
  wb_exchange_sheet_add_text (sheet, word >= 0 ? words[word].nick : NULL);
}

static void
add_column (WbExchangeSheet *sheet, const WbExchangeLogColumn *column, const WbLogRow *row)
{
  gconstpointer at = (const char *) row + column->offset;

  switch (column->kind)
    {
    case WB_EXCHANGE_LOG_NAME:
      wb_exchange_sheet_add_text (sheet, *(char *const *) at);
      break;
    case WB_EXCHANGE_LOG_INTEGER:
      wb_exchange_sheet_add_integer (sheet, *(const gint64 *) at);
      break;
    case WB_EXCHANGE_LOG_WORD:
      add_word (sheet, column->words, *(const int *) at);
      break;
    case WB_EXCHANGE_LOG_READ_WORD:
      wb_exchange_sheet_add_text (sheet, !isnan (*(const double *) at) ? column->words[(int) *(const double *) at].nick : NULL);
      break;
    case WB_EXCHANGE_LOG_DAY:
      wb_exchange_sheet_add_day (sheet, *(const WbDay *) at);
      break;
    case WB_EXCHANGE_LOG_INSTANT:
      wb_exchange_sheet_add_instant (sheet, *(const WbInstant *) at);
      break;
    case WB_EXCHANGE_LOG_READ_POOL:
      add_pool (sheet, column, row);
      break;
    case WB_EXCHANGE_LOG_REAL:
    case WB_EXCHANGE_LOG_READ_REAL:
    case WB_EXCHANGE_LOG_READ_WHOLE:
      wb_exchange_sheet_add_number (sheet, *(const double *) at);
      break;
    default:
      g_assert_not_reached ();
    }
}

gboolean
wb_exchange_xlsx_add_row (WbExchangeXlsx *self,
                          const WbLogRow *row,
                          GError        **error)
{
  WbExchangeSheet *sheet = &self->readings;
  guint n_extra = row->extra != NULL ? g_strv_length (row->extra) : 0;

  if (sheet->row > self->rows_maximum)
    {
      wb_exchange_sheet_finish (sheet);
      open_readings (self);
    }
  wb_exchange_sheet_begin_row (sheet);
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if ((self->fill->columns >> i & 1) != 0)
      add_column (sheet, wb_exchange_log_column_get (i), row);
  for (guint i = 0; self->extra[i] != NULL; i++)
    if (wb_exchange_log_fill_has_extra (self->fill, i))
      wb_exchange_sheet_add_text (sheet, i < n_extra ? row->extra[i] : NULL);
  wb_exchange_sheet_end_row (sheet);
  return check_sheet (self, sheet, error);
}

static void
finish_sheets (WbExchangeXlsx *self)
{
  wb_exchange_sheet_finish (&self->ranking);
  wb_exchange_sheet_finish (&self->grid);
  wb_exchange_sheet_finish (&self->figures);
  wb_exchange_sheet_finish (&self->readings);
}

gboolean
wb_exchange_xlsx_close (WbExchangeXlsx *self,
                        GError        **error)
{
  finish_sheets (self);
  errno = 0;

  lxw_error failure = workbook_close (g_steal_pointer (&self->workbook));
  gboolean of_file = failure >= LXW_ERROR_CREATING_XLSX_FILE && failure <= LXW_ERROR_ZIP_CLOSE;

  if (failure != LXW_NO_ERROR)
    return set_error (error, failure, of_file ? errno : 0);
  return wb_exchange_place_commit (self->place, self->cancellable, error);
}
