/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-table-private.h"

#include "wb-commands-output-private.h"

typedef struct
{
  char           *title;
  WbCommandsAlign align;
} Column;

struct _WbCommandsTable
{
  GArray    *columns; /* Column */
  GPtrArray *cells;   /* char *, row by row */
};

static void
column_clear (gpointer column)
{
  g_free (((Column *) column)->title);
}

WbCommandsTable *
wb_commands_table_new (void)
{
  WbCommandsTable *self = g_new0 (WbCommandsTable, 1);

  self->columns = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (self->columns, column_clear);
  self->cells = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
wb_commands_table_free (WbCommandsTable *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->columns);
  g_ptr_array_unref (self->cells);
  g_free (self);
}

void
wb_commands_table_add_column (WbCommandsTable *self,
                              const char      *title,
                              WbCommandsAlign  align)
{
  Column column = { g_strdup (title), align };

  g_return_if_fail (self->cells->len == 0);
  g_array_append_val (self->columns, column);
}

void
wb_commands_table_add (WbCommandsTable *self,
                       const char      *text)
{
  wb_commands_table_take (self, g_strdup (text != NULL ? text : ""));
}

void
wb_commands_table_take (WbCommandsTable *self,
                        char            *text)
{
  g_ptr_array_add (self->cells, g_strdelimit (text, "\r\n\t", ' '));
}

/* Columns of a terminal that the text takes. */
static guint
text_width (const char *text)
{
  guint width = 0;

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (!g_unichar_iszerowidth (c))
        width += g_unichar_iswide (c) ? 2 : 1;
    }
  return width;
}

static void
append_cell (GString    *line,
             const char *text,
             guint       width,
             gboolean    right)
{
  guint pad = width - text_width (text);

  if (right)
    g_string_append_printf (line, "%*s%s", (int) pad, "", text);
  else
    g_string_append_printf (line, "%s%*s", text, (int) pad, "");
}

static void
end_line (GString *lines)
{
  while (lines->len > 0 && lines->str[lines->len - 1] == ' ')
    g_string_truncate (lines, lines->len - 1);
  g_string_append_c (lines, '\n');
}

static guint *
find_widths (WbCommandsTable *self)
{
  guint *widths = g_new0 (guint, self->columns->len);

  for (guint i = 0; i < self->columns->len; i++)
    widths[i] = text_width (g_array_index (self->columns, Column, i).title);
  for (guint i = 0; i < self->cells->len; i++)
    widths[i % self->columns->len] = MAX (widths[i % self->columns->len], text_width (g_ptr_array_index (self->cells, i)));
  return widths;
}

char *
wb_commands_table_to_text (WbCommandsTable *self)
{
  g_autofree guint *widths = NULL;
  GString *lines = g_string_new (NULL);
  guint n = self->columns->len;

  g_return_val_if_fail (n > 0 && self->cells->len % n == 0, g_string_free (lines, FALSE));
  widths = find_widths (self);
  for (guint i = 0; i < n + self->cells->len; i++)
    {
      const Column *column = &g_array_index (self->columns, Column, i % n);
      const char *text = i < n ? column->title : g_ptr_array_index (self->cells, i - n);

      append_cell (lines, text, widths[i % n], column->align == WB_COMMANDS_RIGHT);
      if (i % n == n - 1)
        end_line (lines);
      else
        g_string_append (lines, "  ");
    }
  return g_string_free (lines, FALSE);
}

void
wb_commands_table_print (WbCommandsTable *self)
{
  g_autofree char *text = wb_commands_table_to_text (self);

  wb_commands_write (text);
}
