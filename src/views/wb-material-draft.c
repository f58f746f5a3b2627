/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-draft.h"

/* Groups: which material it is of, its fields, its method. */
#define OF WB_APP_DRAFT_MATERIAL
#define FORM "form"
#define METHOD "method"

void
wb_material_draft_keep (WbAppDraft       *draft,
                        WbMaterialEditor *editor,
                        gint64            like)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (WbRecord) record = NULL;

  g_return_if_fail (WB_IS_APP_DRAFT (draft));
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (editor));

  if (wb_material_editor_get_touched (editor))
    {
      record = wb_material_editor_dup_record (editor);
      g_key_file_set_string (file, OF, "kind", record->type->name);
      g_key_file_set_int64 (file, OF, "id", record->id);
      g_key_file_set_int64 (file, OF, "like", like);
      g_key_file_set_string (file, OF, "title", wb_material_editor_get_title (editor));
      wb_material_editor_keep (editor, file, FORM, METHOD);
    }
  wb_app_draft_set (draft, OF, file);
  wb_app_draft_set (draft, FORM, file);
  wb_app_draft_set (draft, METHOD, file);
}

static const WbMaterialKind *
find_kind (const char *name)
{
  guint n;
  const WbMaterialKind *kinds = wb_material_kinds_get (&n);

  for (guint i = 0; name != NULL && i < n; i++)
    if (g_str_equal (kinds[i].type->name, name))
      return &kinds[i];
  return NULL;
}

/* A notebook that was put back to an earlier state may have given the number to another. title NULL: any. */
static gconstpointer
find_record (GPtrArray  *records,
             gint64      id,
             const char *title)
{
  for (guint i = 0; i < records->len; i++)
    {
      g_autofree char *its = wb_material_dup_title (records->pdata[i]);

      if (((const WbRecord *) records->pdata[i])->id == id && (title == NULL || g_str_equal (its, title)))
        return records->pdata[i];
    }
  return NULL;
}

WbRecord *
wb_material_draft_find (WbAppDraft            *draft,
                        const WbAppMaterials  *materials,
                        const WbMaterialKind **kind,
                        gint64                *like)
{
  GKeyFile *file;
  g_autofree char *name = NULL, *title = NULL;
  GPtrArray *records;
  gconstpointer found;
  gint64 id;

  g_return_val_if_fail (WB_IS_APP_DRAFT (draft) && materials != NULL, NULL);

  file = wb_app_draft_get_file (draft);
  name = g_key_file_get_string (file, OF, "kind", NULL);
  title = g_key_file_get_string (file, OF, "title", NULL);
  *kind = find_kind (name);
  if (*kind == NULL)
    return NULL;
  id = g_key_file_get_int64 (file, OF, "id", NULL);
  *like = g_key_file_get_int64 (file, OF, "like", NULL);
  records = wb_material_kind_list (materials, (*kind)->type);
  if (id > 0)
    {
      found = find_record (records, id, title);
      return found != NULL ? wb_record_copy (found) : NULL;
    }
  found = find_record (records, *like, NULL);
  return found != NULL ? wb_material_dup_like (found) : wb_material_kind_new_record (*kind);
}

void
wb_material_draft_put_back (WbAppDraft       *draft,
                            WbMaterialEditor *editor)
{
  g_return_if_fail (WB_IS_APP_DRAFT (draft));
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (editor));
  wb_material_editor_put_back (editor, wb_app_draft_get_file (draft), FORM, METHOD);
}
