/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-draft.h"

#include "wb-pour-sheet.h"
#include "wb-poured-sheet.h"

#include <string.h>

/* A group of their own, which no sheet's name is like. */
#define TERMS WB_APP_DRAFT_POUR_TERMS
#define OF_BEFORE "wb-pour-draft-of-before"

static const char *const term_keys[WB_POUR_N_TERMS] = { "overage_pct", "hold_back_pct", "resolution_g" };

/* Of this experiment, whatever number it has in a notebook that was put back. Caller frees. */
static char *
dup_group (const WbDataset *data,
           const char      *name)
{
  g_autofree char *uuid = wb_uuid_format (&data->experiment->uuid);

  return g_strconcat (uuid, WB_APP_DRAFT_POUR_DIVIDER, name, NULL);
}

/* Caller frees. */
static char *
dup_name (GtkStack  *sheets,
          GtkWidget *sheet)
{
  char *name = NULL;

  g_object_get (gtk_stack_get_page (sheets, sheet), "name", &name, NULL);
  return name;
}

gboolean
wb_pour_draft_is_touched (GtkWidget *sheet)
{
  return WB_IS_POUR_SHEET (sheet) ? wb_pour_sheet_get_touched (WB_POUR_SHEET (sheet)) : wb_poured_sheet_get_touched (WB_POURED_SHEET (sheet));
}

void
wb_pour_draft_keep (WbAppDraft      *draft,
                    const WbDataset *data,
                    GtkStack        *sheets)
{
  g_return_if_fail (WB_IS_APP_DRAFT (draft) && data != NULL);

  for (GtkWidget *sheet = gtk_widget_get_first_child (GTK_WIDGET (sheets)); sheet != NULL; sheet = gtk_widget_get_next_sibling (sheet))
    {
      g_autofree char *name = dup_name (sheets, sheet), *group = dup_group (data, name);
      g_autoptr (GKeyFile) file = g_key_file_new ();

      if (wb_pour_draft_is_touched (sheet) && WB_IS_POUR_SHEET (sheet))
        wb_pour_sheet_keep (WB_POUR_SHEET (sheet), file, group);
      else if (wb_pour_draft_is_touched (sheet))
        wb_poured_sheet_keep (WB_POURED_SHEET (sheet), file, group);
      wb_app_draft_set (draft, group, file);
    }
}

void
wb_pour_draft_put_back (WbAppDraft      *draft,
                        const WbDataset *data,
                        GtkWidget       *sheet,
                        const char      *name)
{
  g_autofree char *group = NULL;

  g_return_if_fail (WB_IS_APP_DRAFT (draft) && data != NULL);

  group = dup_group (data, name);
  if (!wb_app_draft_get_loaded (draft) || !g_key_file_has_group (wb_app_draft_get_file (draft), group) || wb_pour_draft_is_touched (sheet))
    return;
  if (WB_IS_POUR_SHEET (sheet))
    wb_pour_sheet_put_back (WB_POUR_SHEET (sheet), wb_app_draft_get_file (draft), group);
  else
    wb_poured_sheet_put_back (WB_POURED_SHEET (sheet), wb_app_draft_get_file (draft), group);
  g_object_set_data (G_OBJECT (sheet), OF_BEFORE, GINT_TO_POINTER (TRUE));
}

gboolean
wb_pour_draft_is_of_before (GtkWidget *sheet)
{
  return sheet != NULL && g_object_get_data (G_OBJECT (sheet), OF_BEFORE) != NULL && wb_pour_draft_is_touched (sheet);
}

void
wb_pour_draft_put_all_back (WbAppDraft      *draft,
                            const WbDataset *data,
                            GtkStack        *sheets)
{
  for (GtkWidget *sheet = gtk_widget_get_first_child (GTK_WIDGET (sheets)); sheet != NULL; sheet = gtk_widget_get_next_sibling (sheet))
    {
      g_autofree char *name = dup_name (sheets, sheet);

      wb_pour_draft_put_back (draft, data, sheet, name);
    }
  wb_pour_draft_forget_gone (draft, data, sheets);
}

void
wb_pour_draft_forget_gone (WbAppDraft      *draft,
                           const WbDataset *data,
                           GtkStack        *sheets)
{
  g_autofree char *own = NULL;
  g_auto (GStrv) groups = NULL;

  g_return_if_fail (WB_IS_APP_DRAFT (draft) && data != NULL);

  if (!wb_app_draft_get_loaded (draft))
    return;
  own = dup_group (data, "");
  groups = g_key_file_get_groups (wb_app_draft_get_file (draft), NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      const char *name = groups[i] + strlen (own);

      if (g_str_has_prefix (groups[i], own) && !g_str_equal (name, TERMS) && gtk_stack_get_child_by_name (sheets, name) == NULL)
        wb_app_draft_drop (draft, groups[i]);
    }
}

void
wb_pour_draft_keep_terms (WbAppDraft            *draft,
                          const WbDataset       *data,
                          WbQuantityEntry *const terms[WB_POUR_N_TERMS])
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *group = NULL;

  g_return_if_fail (WB_IS_APP_DRAFT (draft) && data != NULL);

  group = dup_group (data, TERMS);
  for (guint i = 0; i < WB_POUR_N_TERMS; i++)
    if (wb_quantity_entry_get_touched (terms[i]))
      g_key_file_set_string (file, group, term_keys[i], wb_quantity_entry_get_text (terms[i]));
  wb_app_draft_set (draft, group, file);
}

void
wb_pour_draft_put_terms_back (WbAppDraft            *draft,
                              const WbDataset       *data,
                              WbQuantityEntry *const terms[WB_POUR_N_TERMS])
{
  g_autofree char *group = NULL;

  g_return_if_fail (WB_IS_APP_DRAFT (draft) && data != NULL);

  if (!wb_app_draft_get_loaded (draft))
    return;
  group = dup_group (data, TERMS);
  for (guint i = 0; i < WB_POUR_N_TERMS; i++)
    {
      g_autofree char *text = g_key_file_get_string (wb_app_draft_get_file (draft), group, term_keys[i], NULL);

      if (text != NULL && !wb_quantity_entry_get_touched (terms[i]))
        wb_quantity_entry_put_typed (terms[i], text);
    }
}
