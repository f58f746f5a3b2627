/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-page.h"

#include "wb-accessible-name.h"
#include "wb-app-backup.h"
#include "wb-app-record.h"
#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-entry-item.h"
#include "wb-file-choice.h"
#include "wb-grey.h"
#include "wb-job-bar.h"
#include "wb-problem.h"
#include "wb-question.h"

#include <glib/gi18n.h>

#define ENTRIES_A_PAGE 200

struct _WbRecordPage
{
  WbPage              parent_instance;

  /* children */
  GtkLabel           *fingerprint;
  GtkEntry           *noted;
  WbJobBar           *job_bar;
  GtkWidget          *result_box;
  WbBadge            *result_badge;
  GtkLabel           *result;
  GtkColumnView      *view;
  GtkLabel           *count;
  GtkWidget      *show_older;
  GtkWidget      *take_back;

  /* owned */
  GListStore         *entries;   /* WbEntryItem, newest first */
  GtkSingleSelection *selection;
  GCancellable       *cancellable;

  /* state */
  gboolean            more;      /* there are older ones */
  gboolean            older;     /* what is being read goes below what is there */
};

G_DEFINE_FINAL_TYPE (WbRecordPage, wb_record_page, WB_TYPE_PAGE)

static const struct { WbEntryText text; const char *title; gboolean expand; } columns[] = {
  { WB_ENTRY_NUMBER, N_("No."), FALSE },
  { WB_ENTRY_WHEN, N_("When"), FALSE },
  { WB_ENTRY_WHAT, N_("What"), TRUE },
  { WB_ENTRY_KIND, N_("By"), FALSE },
  { WB_ENTRY_WHO, N_("Who"), FALSE },
};

static const WbAppEntry *
get_selected (WbRecordPage *self)
{
  WbEntryItem *item = gtk_single_selection_get_selected_item (self->selection);

  return item != NULL ? wb_entry_item_get (item) : NULL;
}

/* "NUMBER:HEX" of the newest entry; NULL while there is none. Caller frees. */
static char *
dup_fingerprint (WbRecordPage *self)
{
  g_autoptr (WbEntryItem) item = g_list_model_get_item (G_LIST_MODEL (self->entries), 0);

  if (item == NULL)
    return NULL;
  return g_strdup_printf ("%" G_GINT64_FORMAT ":%s", wb_entry_item_get (item)->number, wb_entry_item_get (item)->hash);
}

static void
show_result (WbRecordPage *self,
             WbBadgeKind   kind,
             const char   *word,
             const char   *text)
{
  gtk_widget_set_visible (self->result_box, text != NULL);
  wb_badge_set (self->result_badge, kind, word);
  gtk_label_set_text (self->result, text != NULL ? text : "");
}

static void
show_entries (WbRecordPage *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->entries));
  g_autofree char *fingerprint = dup_fingerprint (self);
  g_autofree char *count = g_strdup_printf (ngettext ("%u entry shown", "%u entries shown", n), n);

  gtk_label_set_text (self->fingerprint, fingerprint != NULL ? fingerprint : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->fingerprint), fingerprint);
  gtk_label_set_text (self->count, count);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_entries_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = wb_app_record_entries_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (GPtrArray) items = NULL;
  WbRecordPage *self;
  guint n;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_RECORD_PAGE (data);
  if (entries == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The record could not be read"), error);
      return;
    }
  items = g_ptr_array_new_with_free_func (g_object_unref);
  n = entries->len;
  g_ptr_array_set_free_func (entries, NULL);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (items, wb_entry_item_new (entries->pdata[i]));
  if (self->older)
    g_list_store_splice (self->entries, g_list_model_get_n_items (G_LIST_MODEL (self->entries)), 0, items->pdata, items->len);
  else
    g_list_store_splice (self->entries, 0, g_list_model_get_n_items (G_LIST_MODEL (self->entries)), items->pdata, items->len);
  self->more = n == ENTRIES_A_PAGE;
  show_entries (self);
}

static void
stop_reading (WbRecordPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

/* before 0: anew from the newest. */
static void
read_entries (WbRecordPage *self,
              gint64        before)
{
  stop_reading (self);
  self->older = before != 0;
  self->cancellable = g_cancellable_new ();
  wb_app_record_entries_async (wb_page_get_notebook (WB_PAGE (self)), before, ENTRIES_A_PAGE, self->cancellable, on_entries_cb, self);
}

static void
show_check (WbRecordPage     *self,
            const WbAppCheck *check)
{
  g_autofree char *entries = NULL;
  g_autofree char *text = NULL;

  if (check->sound)
    {
      entries = g_strdup_printf (ngettext ("%d entry recomputed, nothing amiss.", "%d entries recomputed, nothing amiss.",
                                           (gulong) check->entries), (int) check->entries);
      text = g_strdup_printf ("%s %s", entries,
                              _("This finds damage, and changes by someone who did not also recompute the record; it proves no more."));
      show_result (self, WB_BADGE_GOOD, _("Sound"), text);
    }
  else
    show_result (self, WB_BADGE_STOP, _("Not sound"), check->finding);
}

static void
on_checked_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbRecordPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self->job_bar == NULL)
    return;
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  wb_page_update_actions (WB_PAGE (self));
  if (WB_APP_NOTEBOOK (source) != wb_page_get_notebook (WB_PAGE (self)))
    return;
  if (check != NULL)
    show_check (self, check);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    show_result (self, WB_BADGE_STOP, _("Not checked"), error->message);
}

static void
on_check_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbRecordPage *self = user;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autofree char *noted = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->noted))));

  show_result (self, WB_BADGE_PLAIN, NULL, NULL);
  wb_job_bar_set_job (self->job_bar, job, _("Checking"));
  wb_page_update_actions (WB_PAGE (self));
  wb_app_record_check_async (wb_page_get_notebook (WB_PAGE (self)), *noted != '\0' ? noted : NULL, job, on_checked_cb,
                             g_object_ref (self));
}

static void
on_noted_activate_cb (WbRecordPage *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "page.check", NULL);
}

static void
on_copy_fingerprint_cb (GSimpleAction *action,
                        GVariant      *parameter,
                        gpointer       user)
{
  g_autofree char *fingerprint = dup_fingerprint (WB_RECORD_PAGE (user));

  if (fingerprint != NULL)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (user)), fingerprint);
}

static void
on_backed_up_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      data)
{
  g_autoptr (WbRecordPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_backup_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self->job_bar == NULL)
    return;
  wb_job_bar_set_job (self->job_bar, NULL, NULL);
  wb_page_update_actions (WB_PAGE (self));
  if (WB_APP_NOTEBOOK (source) != wb_page_get_notebook (WB_PAGE (self)))
    return;
  if (done)
    show_result (self, WB_BADGE_GOOD, _("Backed up"), _("The copy is whole, and on the disk."));
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    show_result (self, WB_BADGE_STOP, _("Not backed up"), error->message);
}

static void
on_backup_path_cb (const char *path,
                   gpointer    user)
{
  g_autoptr (WbRecordPage) self = user;

  if (path != NULL && self->job_bar != NULL && wb_page_get_notebook (WB_PAGE (self)) != NULL)
    wb_record_page_back_up (self, path);
}

static void
on_back_up_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbPage *page = user;
  g_autofree char *name = wb_app_backup_dup_name (wb_page_get_notebook (page),
                                                  wb_instant_get_day (wb_clock_now (wb_clock_get ())));

  wb_file_choice_save (GTK_WIDGET (page), _("Back up the notebook"), WB_FILE_NOTEBOOK, name, on_backup_path_cb, g_object_ref (page));
}

static void
on_older_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbRecordPage *self = user;
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->entries));
  g_autoptr (WbEntryItem) last = n > 0 ? g_list_model_get_item (G_LIST_MODEL (self->entries), n - 1) : NULL;

  if (last != NULL)
    read_entries (self, wb_entry_item_get (last)->number);
}

static void
on_taken_back_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      data)
{
  g_autoptr (WbRecordPage) self = data;
  g_autoptr (GError) error = NULL;

  if (wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error) == 0 && self->job_bar != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The import was not taken back"), error);
}

static void
on_take_back_answered_cb (gboolean yes,
                          gpointer user)
{
  g_autoptr (WbRecordPage) self = user;
  const WbAppEntry *entry = self->job_bar != NULL ? get_selected (self) : NULL;

  if (yes && entry != NULL)
    wb_app_record_take_back_async (wb_page_get_notebook (WB_PAGE (self)), entry->number, NULL, on_taken_back_cb, g_object_ref (self));
}

static void
on_take_back_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbRecordPage *self = user;
  const WbAppEntry *entry = get_selected (self);

  wb_question_ask (GTK_WIDGET (self), _("Take back this import?"), entry->why, _("_Take back"), TRUE, on_take_back_answered_cb,
                   g_object_ref (self));
}

static const GActionEntry actions[] = {
  { "back-up", on_back_up_cb, NULL, NULL, NULL },
  { "check", on_check_cb, NULL, NULL, NULL },
  { "copy-fingerprint", on_copy_fingerprint_cb, NULL, NULL, NULL },
  { "older", on_older_cb, NULL, NULL, NULL },
  { "take-back", on_take_back_cb, NULL, NULL, NULL },
};

static void
wb_record_page_update_actions (WbPage *page)
{
  WbRecordPage *self = WB_RECORD_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  const WbAppEntry *entry = get_selected (self);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);

  wb_page_enable_action (page, "back-up", notebook != NULL && wb_job_bar_get_job (self->job_bar) == NULL);
  wb_page_enable_action (page, "check", notebook != NULL && wb_job_bar_get_job (self->job_bar) == NULL);
  wb_page_enable_action (page, "copy-fingerprint", g_list_model_get_n_items (G_LIST_MODEL (self->entries)) > 0);
  wb_page_enable_action (page, "older", notebook != NULL && self->more);
  wb_grey_say (self->show_older, _("All entries are shown"));
  wb_grey_say (self->take_back, !writable ? _("The notebook can be read only") : entry != NULL && entry->taken_back ? _("This one is taken back already")
                                : _("Choose the entry of an import first"));
  wb_page_enable_action (page, "take-back",
                         writable && entry != NULL && g_strcmp0 (entry->kind, "import") == 0 && !entry->taken_back);
}

static void
wb_record_page_reload (WbPage *page)
{
  if (wb_page_get_notebook (page) != NULL)
    read_entries (WB_RECORD_PAGE (page), 0);
}

static void
wb_record_page_close (WbPage *page)
{
  WbRecordPage *self = WB_RECORD_PAGE (page);

  stop_reading (self);
  if (wb_job_bar_get_job (self->job_bar) != NULL)
    wb_app_job_cancel (wb_job_bar_get_job (self->job_bar));
  g_list_store_remove_all (self->entries);
  self->more = FALSE;
  show_result (self, WB_BADGE_PLAIN, NULL, NULL);
  WB_PAGE_CLASS (wb_record_page_parent_class)->close (page);
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *list_item,
             gpointer                  user)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  gtk_widget_add_css_class (label, "numeric");
  gtk_list_item_set_child (list_item, label);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *list_item,
            gpointer                  user)
{
  GtkWidget *label = gtk_list_item_get_child (list_item);
  g_autofree char *text = wb_entry_item_dup_text (gtk_list_item_get_item (list_item), GPOINTER_TO_INT (user));

  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, *text != '\0' ? text : NULL);
}

static void
wb_record_page_dispose (GObject *object)
{
  WbRecordPage *self = WB_RECORD_PAGE (object);

  stop_reading (self);
  if (self->view != NULL)
    gtk_column_view_set_model (self->view, NULL);
  g_clear_object (&self->selection);
  g_clear_object (&self->entries);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_RECORD_PAGE);
  G_OBJECT_CLASS (wb_record_page_parent_class)->dispose (object);
}

static void
wb_record_page_class_init (WbRecordPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  g_type_ensure (WB_TYPE_JOB_BAR);
  G_OBJECT_CLASS (klass)->dispose = wb_record_page_dispose;
  page_class->reload = wb_record_page_reload;
  page_class->close = wb_record_page_close;
  page_class->update_actions = wb_record_page_update_actions;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "record-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, fingerprint);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, noted);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, result_box);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, result_badge);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, result);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, view);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, count);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, show_older);
  gtk_widget_class_bind_template_child (widget_class, WbRecordPage, take_back);
  gtk_widget_class_bind_template_callback (widget_class, on_noted_activate_cb);
}

static void
add_columns (WbRecordPage *self)
{
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
      g_autoptr (GtkColumnViewColumn) column = NULL;

      g_signal_connect (factory, "setup", G_CALLBACK (on_setup_cb), NULL);
      g_signal_connect (factory, "bind", G_CALLBACK (on_bind_cb), GINT_TO_POINTER (columns[i].text));
      column = gtk_column_view_column_new (_(columns[i].title), factory);
      gtk_column_view_column_set_expand (column, columns[i].expand);
      gtk_column_view_column_set_resizable (column, TRUE);
      gtk_column_view_append_column (self->view, column);
    }
}

static void
wb_record_page_init (WbRecordPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  self->entries = g_list_store_new (WB_TYPE_ENTRY_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->entries)));
  add_columns (self);
  gtk_column_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  wb_accessible_name_column_view (self->view, _("Entries"));
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (wb_page_update_actions), self, G_CONNECT_SWAPPED);
  wb_page_update_actions (WB_PAGE (self));
}

void
wb_record_page_back_up (WbRecordPage *self,
                        const char   *path)
{
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  g_return_if_fail (WB_IS_RECORD_PAGE (self));
  g_return_if_fail (path != NULL);

  show_result (self, WB_BADGE_PLAIN, NULL, NULL);
  wb_job_bar_set_job (self->job_bar, job, _("Backing up"));
  wb_page_update_actions (WB_PAGE (self));
  wb_app_backup_async (wb_page_get_notebook (WB_PAGE (self)), path, job, on_backed_up_cb, g_object_ref (self));
}
