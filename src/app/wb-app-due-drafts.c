/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-due-private.h"

#include <glib/gi18n-lib.h>

/* Half typed is no record: nobody else tells that it waits. */

static void
add_material (GPtrArray  *due,
              WbAppDraft *draft)
{
  GKeyFile *file = wb_app_draft_get_file (draft);
  g_autofree char *title = NULL;

  if (!g_key_file_has_group (file, WB_APP_DRAFT_MATERIAL))
    return;
  title = g_key_file_get_string (file, WB_APP_DRAFT_MATERIAL, "title", NULL);
  g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_DRAFT, g_strdup (_("A material is half typed and not saved")),
                                        g_steal_pointer (&title), 0, 0, WB_INSTANT_NONE, FALSE));
}

/* A batch of the experiment has a group, whatever is the same for all. */
static gboolean
has_pour (WbAppDraft         *draft,
          const WbExperiment *experiment)
{
  g_autofree char *uuid = wb_uuid_format (&experiment->uuid), *of = g_strconcat (uuid, WB_APP_DRAFT_POUR_DIVIDER, NULL);
  g_auto (GStrv) groups = g_key_file_get_groups (wb_app_draft_get_file (draft), NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    if (g_str_has_prefix (groups[i], of) && !g_str_equal (groups[i] + strlen (of), WB_APP_DRAFT_POUR_TERMS))
      return TRUE;
  return FALSE;
}

/* A recipe has a group; a name that was typed alone is no work that is lost. */
static void
add_decisions (GPtrArray       *due,
               WbAppDraft      *draft,
               WbAppExperiment *experiment)
{
  GKeyFile *file = wb_app_draft_get_file (draft);
  g_autofree char *uuid = wb_uuid_format (&wb_app_experiment_get_record (experiment)->uuid);
  g_autofree char *of = g_strconcat (uuid, WB_APP_DRAFT_DECISION_DIVIDER, NULL);
  g_auto (GStrv) groups = g_key_file_get_groups (file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      WbAppDue *item;

      if (!g_str_has_prefix (groups[i], of) || g_str_equal (groups[i] + strlen (of), WB_APP_DRAFT_DECISION_SIGNER))
        continue;
      item = wb_app_due_new (WB_APP_DUE_UNSIGNED,
                             /* Translators: code of an experiment */
                             g_strdup_printf (_("The decision of %s is half typed and not signed"), wb_app_experiment_get_code (experiment)),
                             g_key_file_get_string (file, groups[i], WB_APP_DRAFT_DECISION_RECIPE, NULL), wb_app_experiment_get_id (experiment), 0,
                             WB_INSTANT_NONE, FALSE);
      wb_app_due_set_cell (item, g_ascii_strtoll (groups[i] + strlen (of), NULL, 10));
      g_ptr_array_add (due, item);
    }
}

void
wb_app_due_add_drafts (GPtrArray  *due,
                       WbAppDraft *materials,
                       WbAppDraft *pour,
                       WbAppDraft *decision,
                       GListModel *experiments)
{
  add_material (due, materials);
  for (guint i = 0; i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);

      add_decisions (due, decision, experiment);
      if (has_pour (pour, wb_app_experiment_get_record (experiment)))
        g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_DRAFT,
                                              /* Translators: code of an experiment */
                                              g_strdup_printf (_("The pour of %s is half written down and not saved"),
                                                               wb_app_experiment_get_code (experiment)),
                                              g_strdup (wb_app_experiment_get_title (experiment)),
                                              wb_app_experiment_get_id (experiment), 0, WB_INSTANT_NONE, FALSE));
    }
}
