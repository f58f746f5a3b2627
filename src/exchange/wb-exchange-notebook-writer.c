/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-notebook-writer.h"

#include "wb-exchange-json.h"
#include "wb-exchange-output.h"

#include <string.h>

/* json-glib keeps a whole document in memory, so it makes the records one by one and what stands round them is written here. */
struct _WbExchangeNotebookWriter
{
  WbExchangeOutput *output;
  GHashTable       *parts;   /* names of those begun; a member must not stand twice */
  const char       *part;    /* the open one; NULL: none yet */
};

WbExchangeNotebookWriter *
wb_exchange_notebook_writer_new (GFile            *file,
                                 const WbNotebook *notebook,
                                 GCancellable     *cancellable,
                                 GError          **error)
{
  g_autoptr (WbExchangeOutput) output = wb_exchange_output_new (file, cancellable, error);

  if (output == NULL)
    return NULL;

  WbExchangeNotebookWriter *self = g_new0 (WbExchangeNotebookWriter, 1);

  self->output = g_steal_pointer (&output);
  self->parts = g_hash_table_new (g_str_hash, g_str_equal);
  g_string_append (wb_exchange_output_get_text (self->output), "{\"format\":\"wickbench-notebook\",\n\"version\":1");
  if (notebook != NULL && notebook->invented)
    g_string_append (wb_exchange_output_get_text (self->output), ",\n\"invented_data\":true");
  return self;
}

void
wb_exchange_notebook_writer_free (WbExchangeNotebookWriter *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->output, wb_exchange_output_free);
  g_hash_table_unref (self->parts);
  g_free (self);
}

/* One element of the part of that name, which is opened if it is not. */
static gboolean
add_element (WbExchangeNotebookWriter *self, const char *part, WbExchangeJson *json, GError **error)
{
  GString *text = wb_exchange_output_get_text (self->output);
  g_autofree char *element = wb_exchange_json_to_text (json, FALSE);

  if (self->part != part)
    {
      g_return_val_if_fail (g_hash_table_add (self->parts, (gpointer) part), FALSE);
      g_string_append_printf (text, "%s,\n\"%s\":[\n", self->part != NULL ? "\n]" : "", part);
      self->part = part;
    }
  else
    g_string_append (text, ",\n");
  g_string_append_len (text, element, strlen (element) - 1);
  return wb_exchange_output_flush (self->output, error);
}

gboolean
wb_exchange_notebook_writer_add (WbExchangeNotebookWriter *self,
                                 gconstpointer             record,
                                 GError                  **error)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_record (json, record);
  return add_element (self, ((const WbRecord *) record)->type->name, json, error);
}

gboolean
wb_exchange_notebook_writer_add_version (WbExchangeNotebookWriter *self,
                                         gconstpointer             record,
                                         GError                  **error)
{
  static const char part[] = "history";
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_text (json, "table", ((const WbRecord *) record)->type->name);
  wb_exchange_json_add_record (json, record);
  return add_element (self, part, json, error);
}

static void
add_known (WbExchangeJson *json, const char *name, const char *text)
{
  if (text != NULL && text[0] != '\0')
    wb_exchange_json_add_text (json, name, text);
}

gboolean
wb_exchange_notebook_writer_add_entry (WbExchangeNotebookWriter *self,
                                       const WbExchangeEntry    *entry,
                                       GError                  **error)
{
  static const char part[] = "entries";
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  g_autofree char *at = wb_instant_format (entry->at);

  wb_exchange_json_add_integer (json, "number", entry->number);
  wb_exchange_json_add_text (json, "at", at);
  add_known (json, "zone", entry->zone);
  add_known (json, "kind", entry->kind);
  add_known (json, "topic", entry->topic);
  add_known (json, "who", entry->who);
  add_known (json, "why", entry->why);
  if (entry->undoes != 0)
    wb_exchange_json_add_integer (json, "undoes", entry->undoes);
  add_known (json, "hash", entry->hash);
  return add_element (self, part, json, error);
}

gboolean
wb_exchange_notebook_writer_add_cell (WbExchangeNotebookWriter *self,
                                      gint64                    reading,
                                      const char               *column,
                                      const char               *cell,
                                      GError                  **error)
{
  static const char part[] = "unknown_cells";
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_integer (json, "reading", reading);
  wb_exchange_json_add_text (json, "column", column);
  wb_exchange_json_add_text (json, "cell", cell);
  return add_element (self, part, json, error);
}

gboolean
wb_exchange_notebook_writer_add_attachment (WbExchangeNotebookWriter *self,
                                            const char               *sha256,
                                            GBytes                   *bytes,
                                            GError                  **error)
{
  static const char part[] = "attachments";
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  gsize size;
  const guchar *data = g_bytes_get_data (bytes, &size);
  g_autofree char *base64 = g_base64_encode (data, size);

  wb_exchange_json_add_text (json, "sha256", sha256);
  wb_exchange_json_add_text (json, "base64", base64);
  return add_element (self, part, json, error);
}

gboolean
wb_exchange_notebook_writer_close (WbExchangeNotebookWriter *self,
                                   GError                  **error)
{
  g_string_append (wb_exchange_output_get_text (self->output), self->part != NULL ? "\n]}\n" : "}\n");
  return wb_exchange_output_close (self->output, error);
}
