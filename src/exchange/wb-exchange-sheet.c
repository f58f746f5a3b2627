/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-sheet-private.h"

#include <math.h>
#include <string.h>

/* Serial number of 1970-01-01 in the 1900 date system of ECMA-376, part 1, 18.17.4.1. */
#define EPOCH_SERIAL 25569.0
#define DAY_S 86400.0

static void
note_error (WbExchangeSheet *self, lxw_error error)
{
  if (self->error == LXW_NO_ERROR)
    self->error = error;
}

void
wb_exchange_sheet_begin_row (WbExchangeSheet *self)
{
  self->column = 0;
}

void
wb_exchange_sheet_end_row (WbExchangeSheet *self)
{
  if (self->invented)
    wb_exchange_sheet_add_text (self, "invented data");
  self->row++;
}

void
wb_exchange_sheet_add_head (WbExchangeSheet *self,
                            const char      *title,
                            const char      *unit)
{
  g_autofree char *text = unit != NULL && unit[0] != '\0' ? g_strdup_printf ("%s (%s)", title, unit) : g_strdup (title);
  double width = CLAMP (g_utf8_strlen (text, -1) + 2, 9, 30);

  note_error (self, worksheet_set_column (self->worksheet, self->column, self->column, width, NULL));
  note_error (self, worksheet_write_string (self->worksheet, self->row, self->column++, text, self->head));
}

void
wb_exchange_sheet_set_decimals (WbExchangeSheet *self,
                                guint            decimals)
{
  g_return_if_fail (self->column > 0 && decimals <= WB_EXCHANGE_SHEET_DECIMALS);

  if (self->column <= WB_EXCHANGE_SHEET_COLUMNS)
    self->decimals[self->column - 1] = (guint8) decimals;
}

void
wb_exchange_sheet_end_head (WbExchangeSheet *self)
{
  if (self->invented)
    wb_exchange_sheet_add_head (self, "Invented data", NULL);
  self->row++;
  self->columns = self->column;
  worksheet_freeze_panes (self->worksheet, 1, 0);
  worksheet_repeat_rows (self->worksheet, 0, 0);
  worksheet_set_landscape (self->worksheet);
  if (self->invented)
    worksheet_set_header (self->worksheet, "&CInvented data");
}

void
wb_exchange_sheet_finish (WbExchangeSheet *self)
{
  if (self->row > 1)
    note_error (self, worksheet_autofilter (self->worksheet, 0, 0, self->row - 1, self->columns - 1));
}

/* XML 1.0 has no place for control characters, and a cell breaks its lines by LF alone. */
static char *
dup_printable (const char *text)
{
  g_autoptr (GString) out = g_string_sized_new (strlen (text));

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (c == '\r')
        g_string_append (out, p[1] == '\n' ? "" : "\n");
      else if ((c < 0x20 && c != '\n' && c != '\t') || c == 0xfffe || c == 0xffff)
        g_string_append (out, "\357\277\275");
      else
        g_string_append_unichar (out, c);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

void
wb_exchange_sheet_skip (WbExchangeSheet *self,
                        guint            cells)
{
  self->column += (lxw_col_t) cells;
}

void
wb_exchange_sheet_add_text (WbExchangeSheet *self,
                            const char      *text)
{
  if (text != NULL && text[0] != '\0')
    {
      g_autofree char *printable = dup_printable (text);

      /* A string cell is never run as a formula, whatever it begins with. */
      note_error (self, worksheet_write_string (self->worksheet, self->row, self->column, printable, NULL));
    }
  self->column++;
}

void
wb_exchange_sheet_add_number (WbExchangeSheet *self,
                              double           number)
{
  guint decimals = self->column < WB_EXCHANGE_SHEET_COLUMNS ? self->decimals[self->column] : 0;

  if (isfinite (number))
    note_error (self, worksheet_write_number (self->worksheet, self->row, self->column, number, self->decimal[decimals]));
  self->column++;
}

void
wb_exchange_sheet_add_integer (WbExchangeSheet *self,
                               gint64           number)
{
  wb_exchange_sheet_add_number (self, number != WB_INTEGER_NONE ? (double) number : NAN);
}

void
wb_exchange_sheet_add_day (WbExchangeSheet *self,
                           WbDay            day)
{
  if (day != WB_DAY_NONE)
    note_error (self, worksheet_write_number (self->worksheet, self->row, self->column, day + EPOCH_SERIAL, self->day));
  self->column++;
}

void
wb_exchange_sheet_add_instant (WbExchangeSheet *self,
                               WbInstant        instant)
{
  if (instant.known)
    {
      double wall_s = instant.utc_us / (double) G_USEC_PER_SEC + instant.offset_s;

      note_error (self, worksheet_write_number (self->worksheet, self->row, self->column, wall_s / DAY_S + EPOCH_SERIAL,
                                                self->instant));
    }
  self->column++;
}
