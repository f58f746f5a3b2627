/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-log-sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-house.h"
#include "wb-reading.h"
#include "wb-report-cautions-private.h"
#include "wb-report-options-private.h"
#include "wb-report-words-private.h"

#define BOX 20.0        /* points: a line of handwriting */
#define BLANK_ROWS 8
#define MOST_COLUMNS 14

/* ---- Before the first light ---- */

static void
add_check (WbReportDocument *document)
{
  const char *heads[] = { _("Date"), _("Place"), _("Who stays with the flames, and until when"), _("Room temperature"), _("Thermometer, and where it reads") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1, 1.3, 2, 1, 1.6 };
  const char *empty[G_N_ELEMENTS (heads)] = { NULL };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  wb_report_cautions_add_check (document);
  wb_report_table_set_boxes (table, BOX);
  wb_report_table_add_row (table, empty, FALSE);
  wb_report_document_add_table (document, table);
}

/* ---- While it burns ---- */

static void
add_hazards (WbReportDocument *document)
{
  wb_report_document_add_heading (document, 1, _("While it burns"));
  wb_report_document_add_warning (document, _("High flame, smoke, or too hot: snuff it with a long tool."));
  wb_report_document_add_warning (document, _("The whole surface or debris alight: smother it with a metal lid. No water, do not blow, do not move it. "
                                              "If it does not go out, leave and call the fire service."));
  wb_report_document_add_warning (document, _("Cracked or leaking: do not lift it. Put it out only if that needs no reaching over it. Keep away until the wax is set."));
  wb_report_document_add_warning (document, _("Never carry a lit or liquid candle. At the end nobody leaves until no wick glows."));
}

static char *
dup_bound (const WbReportOptions *options,
           const WbLimit         *limit,
           double                 bound)
{
  return wb_report_dup_set (options->us_units, wb_limit_kind_get_unit ((WbLimitKind) limit->kind), bound);
}

/* Where to look closer and where to snuff, for what is measured or timed; what may not happen at all, in one sentence. */
static void
add_limits (WbReportDocument       *document,
            const WbReportLogSheet *sheet,
            const WbReportOptions  *options)
{
  const char *heads[] = { _("Limit"), _("Look closer from"), _("Snuff above"), _("Whose limit") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.4, 1, 1, 3 };
  g_autoptr (GPtrArray) never = wb_report_list_new ();
  g_autofree char *names = NULL;
  g_autofree char *sentence = NULL;
  WbReportTable *table;

  if (sheet->limits == NULL || sheet->limits->len == 0)
    return;
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  for (guint i = 0; i < sheet->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (sheet->limits, i);
      g_autofree char *name = wb_report_dup_sentence (g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label ((WbLimitKind) limit->kind)));
      g_autofree char *ask = dup_bound (options, limit, limit->ask_at);
      g_autofree char *stop = dup_bound (options, limit, limit->stop_at);
      const char *cells[] = { name, ask, stop, limit->house ? _("house limit") : wb_house_translate (limit->source) };

      if (limit->off)
        continue;
      if (limit->stop_at > 0)
        wb_report_table_add_row (table, cells, FALSE);
      else
        wb_report_list_add (never, g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label ((WbLimitKind) limit->kind)));
    }
  names = wb_report_list_join (never, G_MAXUINT);
  sentence = g_strdup_printf (_("None of these may happen at all; if one does, snuff that sample at once and write it down: %s."), names);
  wb_report_document_add_heading (document, 1, _("Limits"));
  wb_report_document_add_table (document, table);
  if (never->len > 0)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, sentence);
}

/* ---- Tables to fill in ---- */

/* Fields of a moment in the protocol's order; names that are no columns are passed over. */
static GArray *
read_asked (const char *names)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (int));
  g_auto (GStrv) parts = names != NULL ? g_strsplit (names, ",", -1) : NULL;

  for (guint i = 0; parts != NULL && parts[i] != NULL && columns->len < MOST_COLUMNS; i++)
    {
      int column = wb_column_find (g_strstrip (parts[i]));

      if (column >= 0)
        g_array_append_val (columns, column);
    }
  return columns;
}

static char *
dup_head (const WbReportOptions *options,
          int                    column)
{
  const WbColumnSpec *spec = wb_column_get_spec ((WbColumn) column);
  const char *label = g_dgettext (GETTEXT_PACKAGE, spec->label);
  const char *symbol = spec->words != NULL ? "" : wb_unit_get_symbol (wb_report_get_shown (options->us_units, wb_quantity_get_stored_unit (spec->quantity)));

  return *symbol == '\0' ? g_strdup (label) : g_strdup_printf ("%s, %s", label, symbol);
}

/* Heads of a moment: the sample, what comes first, then the fields asked. */
static WbReportTable *
table_new (const WbReportOptions *options,
           const char *const     *first,
           const GArray          *columns)
{
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  g_autofree WbReportAlign *aligns = NULL;
  g_autofree double *shares = NULL;
  WbReportTable *table;

  g_ptr_array_add (heads, g_strdup (_("Sample")));
  for (guint i = 0; first[i] != NULL; i++)
    g_ptr_array_add (heads, g_strdup (first[i]));
  for (guint i = 0; i < columns->len; i++)
    g_ptr_array_add (heads, dup_head (options, g_array_index (columns, int, i)));
  aligns = g_new0 (WbReportAlign, heads->len);
  shares = g_new (double, heads->len);
  for (guint i = 0; i < heads->len; i++)
    shares[i] = 1;
  table = wb_report_table_new (heads->len, (const char *const *) heads->pdata, aligns, shares);
  wb_report_table_set_boxes (table, BOX);
  return table;
}

/* A row for each sample, or blank ones; up to three cells are filled in beforehand. */
static void
add_sample_rows (WbReportTable          *table,
                 const WbReportLogSheet *sheet,
                 gboolean                with_place)
{
  for (guint i = 0; i < MAX (sheet->n_rows, sheet->n_rows == 0 ? BLANK_ROWS : 0); i++)
    {
      const WbReportLogRow *row = sheet->n_rows > 0 ? &sheet->rows[i] : NULL;
      const char *cells[MOST_COLUMNS + 5] = { NULL };
      g_autofree char *burn = row != NULL && row->burn > 0 ? g_strdup_printf ("%u", row->burn) : NULL;

      cells[0] = row != NULL ? row->code : NULL;
      if (with_place && row != NULL)
        {
          cells[1] = row->cell;
          cells[2] = row->place;
          cells[3] = burn;
        }
      wb_report_table_add_row (table, cells, FALSE);
    }
}

static void
add_moment (WbReportDocument       *document,
            const WbReportLogSheet *sheet,
            const WbReportOptions  *options,
            const char             *heading,
            const char             *advice,
            const char *const      *first,
            const char             *asked,
            gboolean                with_place)
{
  g_autoptr (GArray) columns = read_asked (asked);
  WbReportTable *table = table_new (options, first, columns);

  add_sample_rows (table, sheet, with_place);
  wb_report_document_add_heading (document, 1, heading);
  if (advice != NULL)
    wb_report_document_add_paragraph (document, WB_REPORT_TEXT_BODY, advice);
  wb_report_document_keep_with_next (document);
  wb_report_document_add_table (document, table);
}

static void
add_rounds (WbReportDocument       *document,
            const WbReportLogSheet *sheet,
            const WbReportOptions  *options)
{
  const char *first[] = { _("Minute"), NULL };

  for (guint i = 1; i <= wb_protocol_count_rounds (sheet->protocol); i++)
    {
      g_autofree char *due = wb_quantity_format_duration (i * sheet->protocol->interval_upper_s);
      g_autofree char *heading = g_strdup_printf (_("Round %u"), i);
      g_autofree char *advice = g_strdup_printf (_("Due %s after each sample's own lighting; write down the minute at which it was really read."), due);

      add_moment (document, sheet, options, heading, advice, first, sheet->protocol->ask_round, FALSE);
    }
}

/* A sheet of its own for a sample that comes into its last inch. */
static void
add_last_inch (WbReportDocument       *document,
               const WbReportLogSheet *sheet,
               const WbReportOptions  *options,
               const WbReportLogRow   *row)
{
  static const char asked[] = "flame_mm,flame_max_mm,vessel_c,base_c,smoke,event";
  const char *first[] = { _("Minute"), NULL };
  g_autoptr (GArray) columns = read_asked (asked);
  WbReportTable *table = table_new (options, first, columns);
  g_autofree char *heading = g_strdup_printf (_("In the last inch: %s"), row->code);
  g_autofree char *interval = wb_quantity_format_duration (sheet->protocol->last_inch_interval_s);
  g_autofree char *advice = g_strdup_printf (_("Read it every %s, side and base temperature too. Somebody stays in the room. At the stated end: snuff it."), interval);
  double times = sheet->protocol->burn_s / sheet->protocol->last_inch_interval_s;
  guint n = isfinite (times) ? (guint) CLAMP (times, 1, 48) : 1;

  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *minute = wb_number_format_trimmed (i * sheet->protocol->last_inch_interval_s / 60, 0, NULL);
      const char *cells[MOST_COLUMNS + 5] = { row->code, minute };

      wb_report_table_add_row (table, cells, FALSE);
    }
  wb_report_document_add_heading (document, 1, heading);
  wb_report_document_add_warning (document, advice);
  wb_report_document_keep_with_next (document);
  wb_report_document_add_table (document, table);
}

/* ---- Words of the ratings ---- */

static void
append_scale (GString *text,
              int      column)
{
  const WbColumnSpec *spec = wb_column_get_spec ((WbColumn) column);

  g_string_append_printf (text, "%s%s:", text->len > 0 ? " " : "", g_dgettext (GETTEXT_PACKAGE, spec->label));
  for (int i = 0; spec->words[i].nick != NULL; i++)
    {
      if (i < spec->minimum)
        continue;
      g_string_append (text, i > spec->minimum ? ", " : " ");
      if (g_ascii_isdigit (spec->words[i].nick[0])) /* a rating; other nicks are for files */
        g_string_append_printf (text, "%s ", spec->words[i].nick);
      g_string_append (text, g_dgettext (GETTEXT_PACKAGE, spec->words[i].label));
    }
  g_string_append_c (text, '.');
}

/* In one paragraph, so that no page holds a single line of it. */
static void
add_scales (WbReportDocument *document,
            const WbProtocol *protocol)
{
  const char *moments[] = { protocol->ask_lighting, protocol->ask_round, protocol->ask_before_snuffing, protocol->ask_after_snuffing, protocol->ask_next_day };
  gboolean said[WB_N_COLUMNS] = { FALSE };
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      g_autoptr (GArray) columns = read_asked (moments[i]);

      for (guint k = 0; k < columns->len; k++)
        {
          int column = g_array_index (columns, int, k);

          if (wb_column_get_spec ((WbColumn) column)->words != NULL && !said[column])
            append_scale (text, column);
          said[column] = TRUE;
        }
    }
  if (text->len == 0)
    return;
  wb_report_document_add_heading (document, 1, _("Words of the ratings"));
  wb_report_document_add_paragraph (document, WB_REPORT_TEXT_SMALL, text->str);
}

WbReportDocument *
wb_report_log_sheet_new (const WbReportLogSheet *sheet,
                         const WbReportOptions  *options)
{
  WbReportDocument *document;
  const char *lighting[] = { _("Combination"), _("Place"), _("Burn"), _("Lit at"), _("Trimmed to"), NULL };
  const char *minute[] = { _("Minute"), NULL };
  const char *none[] = { NULL };
  g_autofree char *below = NULL;
  g_autofree char *day = NULL;

  g_return_val_if_fail (sheet != NULL && sheet->protocol != NULL && options != NULL, NULL);

  day = wb_report_options_dup_day (options);
  /* Translators: experiment; protocol; day on which the sheet was made. */
  below = g_strdup_printf (_("%s · %s · printed %s"), sheet->experiment, wb_house_translate (sheet->protocol->name), day);
  document = wb_report_options_begin (options, _("Log sheet"), sheet->experiment, _("Local codes take precedence."));
  wb_report_document_set_landscape (document);
  wb_report_document_add_title (document, _("Log sheet of an evening"), below);
  add_check (document);
  add_hazards (document);
  add_limits (document, sheet, options);
  add_moment (document, sheet, options, _("At lighting"), NULL, lighting, sheet->protocol->ask_lighting, TRUE);
  add_rounds (document, sheet, options);
  for (guint i = 0; i < sheet->n_rows; i++)
    if (sheet->rows[i].last_inch)
      add_last_inch (document, sheet, options, &sheet->rows[i]);
  add_moment (document, sheet, options, _("Before snuffing"), NULL, minute, sheet->protocol->ask_before_snuffing, FALSE);
  add_moment (document, sheet, options, _("After snuffing"), _("Snuff with a long tool, do not blow. Stay until no wick glows."), minute,
              sheet->protocol->ask_after_snuffing, FALSE);
  add_moment (document, sheet, options, _("Next day"), _("When the wax has set: weigh, and look at what the pool left."), none,
              sheet->protocol->ask_next_day, FALSE);
  add_scales (document, sheet->protocol);
  return document;
}
