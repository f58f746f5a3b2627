/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lot-trace.h"

#include "wb-exchange-output.h"
#include "wb-exchange-text.h"

/* A trace as a file that a spreadsheet reads: heads and keys in English, days in ISO 8601, as in every file of the program. */

static void
add_cell (GString    *text,
          const char *cell,
          gboolean    last)
{
  g_autofree char *guarded = cell != NULL && wb_exchange_text_needs_guard (cell) ? g_strconcat ("'", cell, NULL) : g_strdup (cell != NULL ? cell : "");

  wb_exchange_output_add_cell (text, guarded);
  g_string_append (text, last ? "\r\n" : ",");
}

/* RFC 4180. */
static char *
dup_csv (const WbAppLotTrace *self)
{
  static const char *const heads[] = { "material", "lot", "kind", "experiment", "code", "combination", "day", "state", "limit_crossed", "rests_on" };
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    add_cell (text, heads[i], i + 1 == G_N_ELEMENTS (heads));
  for (guint i = 0; i < self->uses->len; i++)
    {
      const WbAppLotUse *use = g_ptr_array_index (self->uses, i);
      g_autofree char *day = use->day != WB_DAY_NONE ? wb_day_format (use->day) : NULL;
      const char *cells[] = { self->title, self->code, wb_app_lot_use_kind_get_key (use->kind), use->experiment_code, use->code, use->cell,
                              day, use->state, use->worst, use->lots };

      for (guint k = 0; k < G_N_ELEMENTS (cells); k++)
        add_cell (text, cells[k], k + 1 == G_N_ELEMENTS (cells));
    }
  return g_string_free (text, FALSE);
}

typedef struct
{
  char *text;
  char *path;
} Writing;

static void
writing_free (gpointer data)
{
  Writing *self = data;

  g_free (self->text);
  g_free (self->path);
  g_free (self);
}

static void
write_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      data,
                 GCancellable *cancellable)
{
  Writing *self = data;
  g_autoptr (GFile) file = g_file_new_for_path (self->path);
  GError *error = NULL;
  g_autoptr (WbExchangeOutput) output = wb_exchange_output_new (file, NULL, &error);

  if (output != NULL)
    g_string_append (wb_exchange_output_get_text (output), self->text);
  if (output != NULL && wb_exchange_output_close (output, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
wb_app_lot_trace_write_async (const WbAppLotTrace *self,
                              const char          *path,
                              GAsyncReadyCallback  callback,
                              gpointer             user)
{
  g_autoptr (GTask) task = NULL;
  Writing *writing;

  g_return_if_fail (self != NULL && path != NULL);

  task = g_task_new (NULL, NULL, callback, user);
  writing = g_new0 (Writing, 1);
  writing->text = dup_csv (self);
  writing->path = g_strdup (path);
  g_task_set_source_tag (task, wb_app_lot_trace_write_async);
  g_task_set_task_data (task, writing, writing_free);
  g_task_run_in_thread (task, write_in_thread);
}

gboolean
wb_app_lot_trace_write_finish (GAsyncResult *result,
                               GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
