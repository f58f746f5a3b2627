/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-dataset.h"

#include "wb-store-private.h"
#include "wb-store-statement-private.h"

/*
 * Readings with a version that an entry of the topic wrote over an earlier one, and that no undo took back since. Few
 * rows have an earlier version: an index holds those.
 */
static gboolean
count (WbStore    *self,
       gint64      experiment,
       const char *topic,
       gboolean    deleted,
       gint64     *n,
       GError    **error)
{
  sqlite3_stmt *statement =
    wb_store_statement (self, "SELECT count (DISTINCT v.id) FROM reading AS v JOIN entry AS e ON e.number = v.entry "
                              "WHERE v.previous IS NOT NULL AND e.topic = ?2 AND e.undoes IS NULL AND (v.deleted <> 0) = ?3 "
                              "AND NOT EXISTS (SELECT 1 FROM entry AS u WHERE u.undoes = e.number "
                              "AND NOT EXISTS (SELECT 1 FROM entry AS r WHERE r.undoes = u.number)) "
                              "AND ?3 = (SELECT n.deleted <> 0 FROM reading AS n WHERE n.id = v.id ORDER BY n.entry DESC LIMIT 1) "
                              "AND v.burn IN (SELECT b.id FROM burn AS b JOIN sample AS s ON s.id = b.sample WHERE s.experiment = ?1)",
                        error);

  if (statement != NULL)
    {
      sqlite3_bind_int64 (statement, 1, experiment);
      sqlite3_bind_text (statement, 2, topic, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int (statement, 3, deleted);
    }
  return wb_store_get_integer (self, statement, 0, n, error);
}

gboolean
wb_store_count_amended (WbStore    *self,
                        gint64      experiment,
                        const char *topic,
                        gint64     *amended,
                        gint64     *taken_out,
                        GError    **error)
{
  g_return_val_if_fail (self != NULL && topic != NULL && amended != NULL && taken_out != NULL, FALSE);

  return count (self, experiment, topic, FALSE, amended, error) && count (self, experiment, topic, TRUE, taken_out, error);
}
