/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-materials-page.h"

#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-material-delete.h"
#include "wb-material-draft.h"
#include "wb-material-editor.h"
#include "wb-material-kind.h"
#include "wb-material-list.h"
#include "wb-measure-dialog.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-sizes-dialog.h"
#include "wb-transfer.h"

#include <glib/gi18n.h>

/* What the person asked for while something unsaved stood in the form; done once it may be dropped. */
typedef enum
{
  WANT_NOTHING,
  WANT_ITEM,   /* show wanted_id, of wanted_kind */
  WANT_KIND,   /* show wanted_kind */
  WANT_NEW
} Want;

struct _WbMaterialsPage
{
  WbPage                parent_instance;

  /* children */
  GtkBox               *kinds;
  GtkWidget            *add;
  GtkLabel             *add_label;
  GtkWidget            *sizes;
  GtkWidget            *ladder;
  WbMaterialList       *list;
  WbMaterialEditor     *editor;

  /* owned */
  WbAppMaterials       *materials; /* as last read; NULL: not yet */
  GCancellable         *cancellable;
  WbRecord             *sent;      /* the material that is being saved, or whose method is; NULL: nothing is */

  /* borrowed */
  const WbMaterialKind *kind;
  const WbMaterialKind *wanted_kind;

  /* state */
  Want                  want;
  gint64                wanted_id;
  gint64                show_id;   /* to be shown as soon as it is read; 0: what is shown stays */
  gint64                like;      /* what the new one was copied from; 0: nothing, or none is new */
  gboolean              sent_form; /* the material itself, not its method alone */
  gboolean              measuring; /* asked for before the materials were read */
  gboolean              read_draft; /* what was half typed before stands here again, or there was none */
};

G_DEFINE_FINAL_TYPE (WbMaterialsPage, wb_materials_page, WB_TYPE_PAGE)

static gboolean
is_us (WbMaterialsPage *self)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));
  const WbNotebook *settings = notebook != NULL ? wb_app_notebook_get_settings (notebook) : NULL;

  return settings != NULL && settings->us_units;
}

static void
select_shown (WbMaterialsPage *self)
{
  wb_material_list_select (self->list, wb_material_editor_get_id (self->editor));
}

/* What is half typed outlives the window. */
static void
keep_draft (WbMaterialsPage *self)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));

  /* one that can only be read shows no draft: that there is none here does not mean that it was dropped */
  if (notebook != NULL && self->read_draft && !wb_app_notebook_get_read_only (notebook))
    wb_material_draft_keep (wb_app_draft_of (notebook, "materials"), self->editor, self->like);
}

static void
show_record (WbMaterialsPage *self,
             gconstpointer    record)
{
  self->like = 0;
  wb_material_editor_show (self->editor, wb_page_get_notebook (WB_PAGE (self)), self->kind, record);
  if (record != NULL && self->materials != NULL)
    wb_material_editor_show_parts (self->editor, self->materials);
  select_shown (self);
  keep_draft (self);
  wb_page_update_actions (WB_PAGE (self));
}

/* It is stored, with all that was typed before into the form. */
static void
on_made_cb (WbMaterialsPage *self,
                gint64           id)
{
  self->show_id = id;
  wb_material_editor_show (self->editor, wb_page_get_notebook (WB_PAGE (self)), self->kind, NULL);
  wb_page_reload (WB_PAGE (self));
}

/* Who would rather fill in the form finds there what was typed already. */
static void
on_instead_cb (WbMaterialsPage *self,
               WbMeasureDialog *dialog)
{
  g_autoptr (GKeyFile) typed = g_key_file_new ();

  if (!wb_material_editor_has_record (self->editor) || self->kind->type != &wb_vessel_type || wb_material_editor_get_id (self->editor) != 0)
    return;
  wb_measure_dialog_keep (dialog, typed, "vessel");
  wb_material_editor_put_typed (self->editor, typed, "vessel");
  keep_draft (self);
  wb_page_update_actions (WB_PAGE (self));
}

/* A vessel, as the form has it now. */
static void
measure (WbMaterialsPage *self)
{
  g_autoptr (WbRecord) record = wb_material_editor_dup_record (self->editor);
  GtkWidget *dialog;

  if (record == NULL || record->type != &wb_vessel_type)
    return;
  self->measuring = self->materials == NULL;
  if (self->measuring)
    return;
  dialog = wb_measure_dialog_new (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), (const WbVessel *) (gpointer) record,
                                  self->materials->vessels);
  g_signal_connect_object (dialog, "saved", G_CALLBACK (on_made_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (dialog, "instead", G_CALLBACK (on_instead_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
show_new (WbMaterialsPage *self)
{
  g_autoptr (WbRecord) record = wb_material_kind_new_record (self->kind);

  show_record (self, record);
  gtk_widget_grab_focus (GTK_WIDGET (self->editor));
  /* A new vessel is measured; who would rather fill in the form closes it. */
  measure (self);
}

static void
fill_list (WbMaterialsPage *self)
{
  wb_material_list_fill (self->list, self->materials != NULL ? wb_material_kind_list (self->materials, self->kind->type) : NULL,
                         self->materials != NULL ? self->materials->lots : NULL, is_us (self));
}

static gconstpointer
find_record (WbMaterialsPage *self,
             gint64           id)
{
  GPtrArray *records = self->materials != NULL ? wb_material_kind_list (self->materials, self->kind->type) : NULL;

  for (guint i = 0; records != NULL && i < records->len; i++)
    if (((const WbRecord *) records->pdata[i])->id == id)
      return records->pdata[i];
  return NULL;
}

/* Where nothing else was asked for, the first of the list is shown: the page is never half empty without need. */
static gconstpointer
find_first (WbMaterialsPage *self)
{
  GPtrArray *records = self->materials != NULL ? wb_material_kind_list (self->materials, self->kind->type) : NULL;

  return records != NULL && records->len > 0 ? records->pdata[0] : NULL;
}

static void
set_kind (WbMaterialsPage      *self,
          const WbMaterialKind *kind)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (wb_page_get_actions (WB_PAGE (self))), "kind");

  self->kind = kind;
  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (kind->type->name));
  gtk_label_set_text (self->add_label, _(kind->new_title));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->add), GTK_ACCESSIBLE_PROPERTY_LABEL, _(kind->new_title), -1);
  gtk_widget_set_visible (self->sizes, kind->type == &wb_wick_type);
  gtk_widget_set_visible (self->ladder, kind->type == &wb_vessel_type);
  wb_material_list_clear_search (self->list);
  fill_list (self);
  show_record (self, find_first (self));
}

static void
do_wanted (WbMaterialsPage *self)
{
  Want want = self->want;

  self->want = WANT_NOTHING;
  switch (want)
    {
    case WANT_ITEM:
      if (self->kind != self->wanted_kind)
        set_kind (self, self->wanted_kind);
      show_record (self, find_record (self, self->wanted_id));
      break;
    case WANT_KIND:
      set_kind (self, self->wanted_kind);
      break;
    case WANT_NEW:
      show_new (self);
      break;
    case WANT_NOTHING:
    default:
      break;
    }
}

static void
on_discard_answered_cb (gboolean yes,
                        gpointer user)
{
  g_autoptr (WbMaterialsPage) self = user;

  if (self->editor == NULL)
    return;
  if (!yes)
    {
      self->want = WANT_NOTHING;
      select_shown (self);
      return;
    }
  show_record (self, find_record (self, wb_material_editor_get_id (self->editor)));
  do_wanted (self);
}

/* Does it at once, after the save that is under way, or after the person agreed to drop what is typed and not saved. */
static void
want (WbMaterialsPage *self,
      Want             what)
{
  self->want = what;
  if (!wb_material_editor_get_touched (self->editor))
    do_wanted (self);
  else if (self->sent == NULL)
    wb_question_ask (GTK_WIDGET (self), _("What you typed is not saved"), _("Save it first, or drop it."), _("_Drop it"), TRUE,
                     on_discard_answered_cb, g_object_ref (self));
}

static void
on_list_chosen_cb (WbMaterialsPage *self,
                   gint64           id)
{
  self->wanted_id = id;
  self->wanted_kind = self->kind;
  want (self, WANT_ITEM);
}

static void
on_editor_changed_cb (WbMaterialsPage *self)
{
  keep_draft (self);
  wb_page_typed (WB_PAGE (self));
}

/* Once for each notebook, as soon as both are read. */
static void
read_draft (WbMaterialsPage *self)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));
  WbAppDraft *draft = notebook != NULL ? wb_app_draft_of (notebook, "materials") : NULL;
  g_autoptr (WbRecord) record = NULL;
  const WbMaterialKind *kind;
  gint64 like = 0;

  if (self->read_draft || self->materials == NULL || draft == NULL || !wb_app_draft_get_loaded (draft))
    return;
  if (!wb_material_editor_get_touched (self->editor) && !wb_app_notebook_get_read_only (notebook))
    record = wb_material_draft_find (draft, self->materials, &kind, &like);
  if (record != NULL)
    {
      if (kind != self->kind)
        set_kind (self, kind);
      show_record (self, record);
      self->like = like;
      wb_material_draft_put_back (draft, self->editor);
      wb_page_update_actions (WB_PAGE (self));
    }
  self->read_draft = TRUE;
  keep_draft (self);
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbMaterialsPage *self;
  gint64 id;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_MATERIALS_PAGE (data);
  if (materials == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The materials could not be read"), error);
      return;
    }
  g_clear_pointer (&self->materials, wb_app_materials_free);
  self->materials = g_steal_pointer (&materials);
  id = self->show_id != 0 ? self->show_id : wb_material_editor_get_id (self->editor);
  self->show_id = 0;
  fill_list (self);
  /* A half-typed form is left alone; its save will say if somebody else changed the record. */
  if (wb_material_editor_get_touched (self->editor) || (id == 0 && wb_material_editor_has_record (self->editor)))
    {
      wb_material_editor_show_parts (self->editor, self->materials);
      select_shown (self);
    }
  else
    {
      gconstpointer record = find_record (self, id);

      show_record (self, record != NULL ? record : find_first (self));
    }
  if (self->measuring)
    measure (self);
  read_draft (self);
  wb_page_update_actions (WB_PAGE (self));
}

/* What the list and the next form are made of until it is read anew. */
static void
keep_stored (WbMaterialsPage *self,
             const WbRecord  *record)
{
  GPtrArray *records = self->materials != NULL ? wb_material_kind_list (self->materials, record->type) : NULL;

  for (guint i = 0; records != NULL && i < records->len; i++)
    if (((const WbRecord *) records->pdata[i])->id == record->id)
      {
        wb_record_free (records->pdata[i]);
        records->pdata[i] = wb_record_copy (record);
        return;
      }
  if (records != NULL)
    g_ptr_array_add (records, wb_record_copy (record));
}

static void
take_stored (WbMaterialsPage *self,
             WbRecord        *record,
             gint64           entry,
             const GArray    *ids)
{
  gint64 before = record->id;
  guint n_records = self->sent_form ? 1 : 0;
  gboolean shown;

  if (self->sent_form && ids != NULL && ids->len > 0)
    record->id = g_array_index (ids, gint64, 0);
  /* Entry 0: nothing was different from what is stored. */
  if (self->sent_form && entry != 0)
    record->entry = entry;
  if (self->sent_form)
    keep_stored (self, record);
  shown = self->sent_form ? wb_material_editor_take_stored (self->editor, record, before) : wb_material_editor_get_id (self->editor) == before;
  wb_material_editor_take_stored_method (self->editor, record->id, entry,
                                         ids != NULL && ids->len > n_records ? &g_array_index (ids, gint64, n_records) : NULL);
  if (shown)
    {
      wb_material_editor_set_saving (self->editor, wb_material_editor_get_touched (self->editor) ? WB_SAVE_IDLE : WB_SAVE_SAVED);
      if (self->sent_form && self->materials != NULL)
        wb_material_editor_show_parts (self->editor, self->materials);
    }
  fill_list (self);
  select_shown (self);
  keep_draft (self);
  wb_problem_clear (GTK_WIDGET (self), _("The material was not saved"));
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbMaterialsPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ids = NULL;
  g_autoptr (WbRecord) sent = NULL;
  gint64 entry = wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, &ids, &error);

  if (self->editor == NULL || WB_APP_NOTEBOOK (source) != wb_page_get_notebook (WB_PAGE (self)))
    return;
  sent = g_steal_pointer (&self->sent);
  if (error == NULL)
    {
      take_stored (self, sent, entry, ids);
      wb_page_reload (WB_PAGE (self));
      if (self->want != WANT_NOTHING)
        want (self, self->want);
    }
  else
    {
      self->want = WANT_NOTHING;
      select_shown (self);
      wb_material_editor_set_saving (self->editor, WB_SAVE_FAILED);
      wb_problem_show (GTK_WIDGET (self), _("The material was not saved"), error);
    }
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbMaterialsPage *self = user;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GPtrArray) records = NULL;
  g_autofree char *title = NULL;
  g_autofree char *why = NULL;
  g_autofree char *fault = NULL;
  const char *field;

  if (!wb_material_editor_check (self->editor))
    return;
  record = wb_material_editor_dup_record (self->editor);
  fault = wb_material_dup_fault (self->materials, record, is_us (self), &field);
  if (fault != NULL)
    {
      wb_material_editor_set_problem (self->editor, field, fault);
      return;
    }
  title = wb_material_dup_title (record);
  records = wb_material_editor_dup_method_changes (self->editor);
  self->sent_form = record->id == 0 || wb_material_editor_get_form_touched (self->editor) || records->len == 0;
  why = g_strdup_printf (record->id == 0 ? _("Add %s") : self->sent_form ? _("Change %s") : _("Method of %s"), title);
  if (self->sent_form)
    g_ptr_array_insert (records, 0, wb_record_copy (record));
  self->sent = wb_record_copy (record);
  wb_material_editor_set_problem (self->editor, NULL, NULL);
  wb_material_editor_set_saving (self->editor, WB_SAVE_SAVING);
  wb_page_update_actions (WB_PAGE (self));
  wb_app_notebook_save_async (wb_page_get_notebook (WB_PAGE (self)), why, records, NULL, on_saved_cb, g_object_ref (self));
}

static void
on_revert_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbMaterialsPage *self = user;

  show_record (self, find_record (self, wb_material_editor_get_id (self->editor)));
}

static void
on_new_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  want (WB_MATERIALS_PAGE (user), WANT_NEW);
}

static void
on_duplicate_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbMaterialsPage *self = user;
  g_autoptr (WbRecord) shown = wb_material_editor_dup_record (self->editor);
  g_autoptr (WbRecord) record = wb_material_dup_like (shown);

  show_record (self, record);
  self->like = shown->id;
  /* what is to be another of it */
  wb_material_editor_focus_field (self->editor, wb_material_get_identity_field (record->type));
}

static void
on_delete_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbMaterialsPage *self = user;
  gconstpointer record = find_record (self, wb_material_editor_get_id (self->editor));

  if (record != NULL)
    wb_material_delete (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), record);
}

static void
on_find_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_material_list_focus_search (WB_MATERIALS_PAGE (user)->list);
}

static void
on_measure_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  measure (WB_MATERIALS_PAGE (user));
}

/* Which wicks for the vessel that is shown. */
static void
on_ladder_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbMaterialsPage *self = user;
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));
  gint64 vessel = wb_material_editor_get_id (self->editor);

  gtk_widget_activate_action (window, "win.show", "s", "ladder");
  /* the page in front is the ladder's now */
  gtk_widget_activate_action (window, "page.ask", "x", vessel);
}

static void
on_add_paper_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  wb_material_editor_choose_papers (WB_MATERIALS_PAGE (user)->editor);
}

static void
on_sizes_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbMaterialsPage *self = user;
  const WbWick *like = self->kind->type == &wb_wick_type ? find_record (self, wb_material_editor_get_id (self->editor)) : NULL;
  GtkWidget *dialog = wb_sizes_dialog_new (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), like, self->materials);

  g_signal_connect_object (dialog, "saved", G_CALLBACK (on_made_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* In, out, or out of this kind alone. */
static void
on_transfer_cb (GSimpleAction *action, GVariant *parameter, gpointer user)
{
  const char *verb = g_action_get_name (G_ACTION (action));
  const WbRecordType *kind = WB_MATERIALS_PAGE (user)->kind->type;

  if (g_str_equal (verb, "import"))
    wb_transfer_import_materials (wb_host_find (user), kind);
  else
    wb_transfer_export_materials (wb_host_find (user), g_str_equal (verb, "export") ? NULL : kind);
}

/* NULL: none is called so. */
static const WbMaterialKind *
find_kind (const char *name)
{
  guint n;
  const WbMaterialKind *kinds = wb_material_kinds_get (&n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (kinds[i].type->name, name))
      return &kinds[i];
  return NULL;
}

static void
on_kind_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbMaterialsPage *self = user;
  const WbMaterialKind *kind = find_kind (g_variant_get_string (parameter, NULL));

  if (kind == NULL || kind == self->kind)
    return;
  self->wanted_kind = kind;
  want (self, WANT_KIND);
}

/* One material, of whichever kind. */
static void
on_open_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbMaterialsPage *self = user;
  const char *name;
  gint64 id;

  g_variant_get (parameter, "(&sx)", &name, &id);
  if (find_kind (name) == NULL)
    return;
  self->wanted_kind = find_kind (name);
  self->wanted_id = id;
  want (self, WANT_ITEM);
}

static const GActionEntry actions[] = {
  { "kind", on_kind_cb, "s", "'vessel'", NULL },
  { "open", on_open_cb, "(sx)", NULL, NULL },
  { "new", on_new_cb, NULL, NULL, NULL },
  { "save", on_save_cb, NULL, NULL, NULL },
  { "revert", on_revert_cb, NULL, NULL, NULL },
  { "duplicate", on_duplicate_cb, NULL, NULL, NULL },
  { "delete", on_delete_cb, NULL, NULL, NULL },
  { "find", on_find_cb, NULL, NULL, NULL },
  { "measure", on_measure_cb, NULL, NULL, NULL },
  { "sizes", on_sizes_cb, NULL, NULL, NULL },
  { "ladder", on_ladder_cb, NULL, NULL, NULL },
  { "add-paper", on_add_paper_cb, NULL, NULL, NULL },
  { "import", on_transfer_cb, NULL, NULL, NULL },
  { "export", on_transfer_cb, NULL, NULL, NULL },
  { "export-kind", on_transfer_cb, NULL, NULL, NULL },
};

static void
wb_materials_page_update_actions (WbPage *page)
{
  WbMaterialsPage *self = WB_MATERIALS_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook) && self->sent == NULL;
  gboolean touched = wb_material_editor_get_touched (self->editor);
  gboolean has = wb_material_editor_has_record (self->editor);
  gboolean stored = wb_material_editor_get_id (self->editor) != 0;

  wb_page_enable_action (page, "kind", notebook != NULL);
  wb_page_enable_action (page, "open", notebook != NULL);
  wb_page_enable_action (page, "new", writable);
  wb_page_enable_action (page, "save", writable && has && (touched || !stored));
  wb_page_enable_action (page, "revert", writable && has && (touched || !stored));
  wb_page_enable_action (page, "duplicate", writable && stored && !touched);
  wb_page_enable_action (page, "delete", writable && stored && !touched);
  wb_page_enable_action (page, "find", notebook != NULL);
  wb_page_enable_action (page, "import", writable);
  wb_page_enable_action (page, "export", notebook != NULL);
  wb_page_enable_action (page, "export-kind", notebook != NULL);
  wb_page_enable_action (page, "add-paper", writable && stored);
  wb_page_enable_action (page, "sizes", writable && !touched && self->materials != NULL && self->kind->type == &wb_wick_type);
  wb_page_enable_action (page, "ladder", notebook != NULL && stored && !touched && self->kind->type == &wb_vessel_type);
  wb_grey_say (self->ladder, touched ? _("What was typed of this vessel is not saved yet") : _("No vessel is chosen"));
  wb_page_enable_action (page, "measure", writable && has && self->kind->type == &wb_vessel_type);
}

static void
stop_reading (WbMaterialsPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
wb_materials_page_reload (WbPage *page)
{
  WbMaterialsPage *self = WB_MATERIALS_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);

  stop_reading (self);
  if (notebook == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  wb_app_query_materials_async (notebook, self->cancellable, on_loaded_cb, self);
}

static void
wb_materials_page_close (WbPage *page)
{
  WbMaterialsPage *self = WB_MATERIALS_PAGE (page);

  stop_reading (self);
  g_clear_pointer (&self->materials, wb_app_materials_free);
  g_clear_pointer (&self->sent, wb_record_free);
  self->want = WANT_NOTHING;
  self->measuring = FALSE;
  self->read_draft = FALSE;
  self->like = 0;
  fill_list (self);
  wb_material_editor_show (self->editor, NULL, self->kind, NULL);
  WB_PAGE_CLASS (wb_materials_page_parent_class)->close (page);
}

static void
wb_materials_page_open (WbPage *page,
                        WbDesk *desk)
{
  WB_PAGE_CLASS (wb_materials_page_parent_class)->open (page, desk);
  g_signal_connect_object (wb_app_draft_of (wb_desk_get_notebook (desk), "materials"), "loaded", G_CALLBACK (read_draft), page,
                           G_CONNECT_SWAPPED);
}

static gboolean
wb_materials_page_has_draft (WbPage *page)
{
  return wb_material_editor_get_touched (WB_MATERIALS_PAGE (page)->editor);
}

static guint
wb_materials_page_count_adding (WbPage *page)
{
  return wb_material_papers_count_adding (wb_material_editor_get_papers (WB_MATERIALS_PAGE (page)->editor));
}

static void
wb_materials_page_dispose (GObject *object)
{
  WbMaterialsPage *self = WB_MATERIALS_PAGE (object);

  stop_reading (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MATERIALS_PAGE);
  G_OBJECT_CLASS (wb_materials_page_parent_class)->dispose (object);
}

static void
wb_materials_page_finalize (GObject *object)
{
  g_clear_pointer (&WB_MATERIALS_PAGE (object)->materials, wb_app_materials_free);
  g_clear_pointer (&WB_MATERIALS_PAGE (object)->sent, wb_record_free);
  G_OBJECT_CLASS (wb_materials_page_parent_class)->finalize (object);
}

static void
wb_materials_page_class_init (WbMaterialsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_MATERIAL_EDITOR);
  g_type_ensure (WB_TYPE_MATERIAL_LIST);
  G_OBJECT_CLASS (klass)->dispose = wb_materials_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_materials_page_finalize;
  page_class->close = wb_materials_page_close;
  page_class->reload = wb_materials_page_reload;
  page_class->update_actions = wb_materials_page_update_actions;
  page_class->open = wb_materials_page_open;
  page_class->has_draft = wb_materials_page_has_draft;
  page_class->draft = "materials";
  page_class->count_adding = wb_materials_page_count_adding;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "materials-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, kinds);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, add);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, add_label);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, sizes);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, ladder);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, list);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialsPage, editor);
  gtk_widget_class_bind_template_callback (widget_class, on_editor_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_list_chosen_cb);
}

static void
add_kinds (WbMaterialsPage *self)
{
  guint n;
  const WbMaterialKind *kinds = wb_material_kinds_get (&n);

  for (guint i = 0; i < n; i++)
    {
      GtkWidget *button = gtk_toggle_button_new_with_label (_(kinds[i].title));

      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", kinds[i].type->name);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "page.kind");
      gtk_box_append (self->kinds, button);
    }
}

static void
wb_materials_page_init (WbMaterialsPage *self)
{
  guint n;

  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  add_kinds (self);
  set_kind (self, wb_material_kinds_get (&n));
  g_signal_connect_object (wb_material_editor_get_papers (self->editor), "went-on", G_CALLBACK (wb_page_went_on), self, G_CONNECT_SWAPPED);
  wb_page_update_actions (WB_PAGE (self));
}
