/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-output.h"

#include "wb-exchange-place.h"

#include <csv.h>
#include <string.h>

#define PIECE (64 * 1024)

struct _WbExchangeOutput
{
  WbExchangePlace *place;
  GOutputStream   *stream;
  GCancellable    *cancellable;
  GString         *text;
};

WbExchangeOutput *
wb_exchange_output_new (GFile        *file,
                        GCancellable *cancellable,
                        GError      **error)
{
  g_autoptr (WbExchangeOutput) self = g_new0 (WbExchangeOutput, 1);

  g_set_object (&self->cancellable, cancellable);
  self->text = g_string_sized_new (2 * PIECE);
  self->place = wb_exchange_place_new (file, cancellable, error);
  if (self->place == NULL)
    return NULL;
  self->stream = G_OUTPUT_STREAM (g_file_append_to (wb_exchange_place_get_file (self->place), G_FILE_CREATE_NONE, cancellable,
                                                    error));
  return self->stream != NULL ? g_steal_pointer (&self) : NULL;
}

void
wb_exchange_output_free (WbExchangeOutput *self)
{
  if (self == NULL)
    return;
  g_clear_object (&self->stream);
  g_clear_pointer (&self->place, wb_exchange_place_free);
  g_clear_object (&self->cancellable);
  g_string_free (self->text, TRUE);
  g_free (self);
}

GString *
wb_exchange_output_get_text (WbExchangeOutput *self)
{
  return self->text;
}

static gboolean
write_out (WbExchangeOutput *self, GError **error)
{
  gboolean good = g_output_stream_write_all (self->stream, self->text->str, self->text->len, NULL, self->cancellable, error);

  g_string_truncate (self->text, 0);
  return good;
}

gboolean
wb_exchange_output_flush (WbExchangeOutput *self,
                          GError          **error)
{
  return self->text->len < PIECE || write_out (self, error);
}

gboolean
wb_exchange_output_close (WbExchangeOutput *self,
                          GError          **error)
{
  return write_out (self, error) && g_output_stream_close (self->stream, self->cancellable, error)
         && wb_exchange_place_commit (self->place, self->cancellable, error);
}

static gboolean
needs_quotes (const char *cell)
{
  gsize length = strlen (cell);

  if (length == 0)
    return FALSE;
  return strpbrk (cell, ",\"\r\n") != NULL || strchr (" \t", cell[0]) != NULL || strchr (" \t", cell[length - 1]) != NULL;
}

void
wb_exchange_output_add_cell (GString    *text,
                             const char *cell)
{
  if (!needs_quotes (cell))
    {
      g_string_append (text, cell);
      return;
    }

  gsize length = strlen (cell), before = text->len, size = csv_write (NULL, 0, cell, length);

  g_string_set_size (text, before + size);
  csv_write (text->str + before, size, cell, length);
}
