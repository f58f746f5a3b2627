/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json-list.h"

#include "wb-exchange-json.h"

char *
wb_exchange_json_list (const WbNotebook         *notebook,
                       const WbExchangeListItem *items,
                       guint                     n)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_mark (json, notebook);
  wb_exchange_json_begin_array (json, "experiments");
  for (guint i = 0; i < n; i++)
    {
      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "code", items[i].code);
      wb_exchange_json_add_text (json, "title", items[i].title);
      wb_exchange_json_add_text (json, "state", items[i].state);
      wb_exchange_json_add_integer (json, "cells", items[i].cells);
      wb_exchange_json_add_integer (json, "samples", items[i].samples);
      wb_exchange_json_add_integer (json, "burns", items[i].burns);
      wb_exchange_json_add_integer (json, "readings", items[i].readings);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
  return wb_exchange_json_to_text (json, TRUE);
}

static void
add_remarks (WbExchangeJson *json, const char *name, const GPtrArray *remarks)
{
  wb_exchange_json_begin_array (json, name);
  for (guint i = 0; remarks != NULL && i < remarks->len; i++)
    {
      const WbLogRemark *remark = g_ptr_array_index (remarks, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_integer (json, "line", (gint64) remark->line);
      wb_exchange_json_add_text (json, "column", remark->column);
      wb_exchange_json_add_text (json, "rule", remark->rule);
      wb_exchange_json_add_texts (json, "also", (const char *const *) remark->also);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

char *
wb_exchange_json_import (const WbExchangeImportTold *told)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  char delimiter[] = { told->delimiter, '\0' }, decimal[] = { told->decimal, '\0' };

  wb_exchange_json_add_integer (json, "rows", (gint64) told->rows);
  wb_exchange_json_add_integer (json, "lines", (gint64) told->lines);
  wb_exchange_json_add_integer (json, "samples", (gint64) told->samples);
  wb_exchange_json_add_integer (json, "accepted", (gint64) told->accepted);
  wb_exchange_json_add_integer (json, "known", (gint64) told->known);
  add_remarks (json, "refused", told->refused);
  wb_exchange_json_add_integer (json, "refused_rows", (gint64) told->refused_rows);
  add_remarks (json, "warnings", told->warnings);
  wb_exchange_json_add_texts (json, "kept", told->kept);
  wb_exchange_json_add_text (json, "delimiter", delimiter);
  wb_exchange_json_add_text (json, "decimal", decimal);
  wb_exchange_json_add_flag (json, "dry_run", told->dry_run);
  return wb_exchange_json_to_text (json, TRUE);
}
