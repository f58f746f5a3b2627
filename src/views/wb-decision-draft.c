/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-decision-draft.h"

#define SIGNER "signed_by"
#define RECIPE WB_APP_DRAFT_DECISION_RECIPE /* no field is called so */

struct _WbDecisionDraft
{
  WbAppDraft *draft;  /* NULL: nothing outlives this */
  char       *uuid;   /* of the experiment */
  GKeyFile   *typed;  /* its groups, as they are called in the draft */
  GHashTable *before; /* char *: groups that an earlier dialog left */
};

WbDecisionDraft *
wb_decision_draft_new (WbAppDraft         *draft,
                       const WbExperiment *experiment)
{
  WbDecisionDraft *self;

  g_return_val_if_fail (draft == NULL || WB_IS_APP_DRAFT (draft), NULL);
  g_return_val_if_fail (experiment != NULL, NULL);

  self = g_new0 (WbDecisionDraft, 1);
  g_set_object (&self->draft, draft);
  self->uuid = wb_uuid_format (&experiment->uuid);
  self->typed = g_key_file_new ();
  self->before = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

void
wb_decision_draft_free (WbDecisionDraft *self)
{
  if (self == NULL)
    return;
  g_clear_object (&self->draft);
  g_free (self->uuid);
  g_key_file_unref (self->typed);
  g_hash_table_unref (self->before);
  g_free (self);
}

/* Whatever was typed of a cell, for whichever recipe it then was. */
static char *
dup_cell (WbDecisionDraft *self,
          gint64           cell)
{
  return g_strdup_printf ("%s" WB_APP_DRAFT_DECISION_DIVIDER "%" G_GINT64_FORMAT WB_APP_DRAFT_DECISION_DIVIDER, self->uuid, cell);
}

/*
 * A cell whose load or wick is changed is another recipe: what was typed for the one must never stand under the other, so that each
 * has a group of its own.
 */
static char *
dup_group (WbDecisionDraft *self,
           gint64           cell,
           const char      *recipe)
{
  g_autofree char *of = dup_cell (self, cell), *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, recipe, -1);

  return g_strconcat (of, sum, NULL);
}

static char *
dup_group_of_all (WbDecisionDraft *self)
{
  return g_strconcat (self->uuid, WB_APP_DRAFT_DECISION_DIVIDER WB_APP_DRAFT_DECISION_SIGNER, NULL);
}

static void
store (WbDecisionDraft *self,
       const char      *group)
{
  if (self->draft != NULL)
    wb_app_draft_set (self->draft, group, self->typed);
}

static void
drop (WbDecisionDraft *self,
      const char      *group)
{
  g_key_file_remove_group (self->typed, group, NULL);
  g_hash_table_remove (self->before, group);
  if (self->draft != NULL)
    wb_app_draft_drop (self->draft, group);
}

/* What stands in the notebook's draft and not here was left by a dialog that is gone. */
static void
fetch (WbDecisionDraft *self,
       const char      *group)
{
  GKeyFile *kept = self->draft != NULL ? wb_app_draft_get_file (self->draft) : NULL;
  g_auto (GStrv) keys = NULL;

  if (kept == NULL || g_key_file_has_group (self->typed, group) || !g_key_file_has_group (kept, group))
    return;
  keys = g_key_file_get_keys (kept, group, NULL, NULL);
  for (guint i = 0; keys[i] != NULL; i++)
    {
      g_autofree char *value = g_key_file_get_value (kept, group, keys[i], NULL);

      g_key_file_set_value (self->typed, group, keys[i], value);
    }
  g_hash_table_add (self->before, g_strdup (group));
}

void
wb_decision_draft_keep (WbDecisionDraft *self,
                        gint64           cell,
                        const char      *recipe,
                        WbRecordForm    *form)
{
  g_autofree char *group = NULL, *all = NULL, *signer = NULL;
  g_auto (GStrv) keys = NULL;

  g_return_if_fail (self != NULL && recipe != NULL);
  g_return_if_fail (WB_IS_RECORD_FORM (form));

  if (!wb_record_form_get_touched (form))
    return;
  group = dup_group (self, cell, recipe);
  wb_record_form_keep (form, self->typed, group);
  signer = g_key_file_get_string (self->typed, group, SIGNER, NULL);
  if (signer != NULL)
    {
      all = dup_group_of_all (self);
      g_key_file_set_string (self->typed, all, SIGNER, signer);
      g_key_file_remove_key (self->typed, group, SIGNER, NULL);
      store (self, all);
    }
  g_key_file_remove_key (self->typed, group, RECIPE, NULL);
  keys = g_key_file_get_keys (self->typed, group, NULL, NULL);
  if (keys == NULL || keys[0] == NULL)
    g_key_file_remove_group (self->typed, group, NULL);
  else
    g_key_file_set_string (self->typed, group, RECIPE, recipe);
  store (self, group);
}

gboolean
wb_decision_draft_put_back (WbDecisionDraft *self,
                            gint64           cell,
                            const char      *recipe,
                            WbRecordForm    *form)
{
  g_autofree char *group = NULL, *all = NULL;

  g_return_val_if_fail (self != NULL && recipe != NULL, FALSE);
  g_return_val_if_fail (WB_IS_RECORD_FORM (form), FALSE);

  group = dup_group (self, cell, recipe);
  all = dup_group_of_all (self);
  fetch (self, all);
  fetch (self, group);
  wb_record_form_put_back (form, self->typed, all);
  wb_record_form_put_back (form, self->typed, group);
  return g_hash_table_contains (self->before, group);
}

void
wb_decision_draft_forget (WbDecisionDraft *self,
                          gint64           cell)
{
  g_autofree char *of = NULL;
  g_auto (GStrv) typed = NULL, kept = NULL;

  g_return_if_fail (self != NULL);

  of = dup_cell (self, cell);
  typed = g_key_file_get_groups (self->typed, NULL);
  kept = self->draft != NULL ? g_key_file_get_groups (wb_app_draft_get_file (self->draft), NULL) : NULL;
  for (guint i = 0; typed[i] != NULL; i++)
    if (g_str_has_prefix (typed[i], of))
      drop (self, typed[i]);
  for (guint i = 0; kept != NULL && kept[i] != NULL; i++)
    if (g_str_has_prefix (kept[i], of))
      drop (self, kept[i]);
}

void
wb_decision_draft_forget_signer (WbDecisionDraft *self)
{
  g_autofree char *all = NULL;

  g_return_if_fail (self != NULL);

  all = dup_group_of_all (self);
  drop (self, all);
}

gboolean
wb_decision_draft_is_empty (WbDecisionDraft *self)
{
  g_auto (GStrv) groups = NULL;

  g_return_val_if_fail (self != NULL, TRUE);

  groups = g_key_file_get_groups (self->typed, NULL);
  return groups[0] == NULL;
}
