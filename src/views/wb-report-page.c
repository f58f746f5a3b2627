/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-page.h"

#include "wb-accessible-name.h"
#include "wb-app-document.h"
#include "wb-app-query.h"
#include "wb-app-report.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-host.h"
#include "wb-job-bar.h"
#include "wb-paper-view.h"
#include "wb-print.h"
#include "wb-problem.h"
#include "wb-report-choice.h"

#include <glib/gi18n.h>

/*
 * A report is made in two jobs off the main thread: the answer, which the other
 * pages share, then its pages. A PDF is a job of its own, which goes on while the page shows something else.
 */

struct _WbReportPage
{
  WbPage         parent_instance;

  /* children */
  GtkStack      *stack;
  GtkLabel      *empty;
  WbJobBar      *job_bar;
  GtkDropDown   *paper;
  WbReportChoice *choice;
  GtkLabel      *number;
  WbPaperView   *preview;

  /* owned */
  WbCraftAnswer *answer;
  WbAppJob      *job;         /* of the preview */
  WbAppJob      *writing;     /* of the PDF */

  /* state */
  int            chosen;      /* WbReportPaper that the person chose; -1: none, the notebook's */
  gboolean       filling;
  gboolean       has_logo;    /* as far as is known */
};

G_DEFINE_FINAL_TYPE (WbReportPage, wb_report_page, WB_TYPE_PAGE)

static void
update_job_bar (WbReportPage *self)
{
  if (self->job_bar == NULL)
    return;
  if (self->writing != NULL)
    wb_job_bar_set_job (self->job_bar, self->writing, _("Writing the PDF"));
  else
    wb_job_bar_set_job (self->job_bar, self->job, _("Making the report"));
}

static void
stop_job (WbReportPage *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  update_job_bar (self);
}

static int
get_paper (WbReportPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->paper);

  return selected == GTK_INVALID_LIST_POSITION ? WB_REPORT_A4 : (int) selected;
}

static void
get_choice (WbReportPage      *self,
            WbAppReportChoice *choice)
{
  wb_report_choice_get (self->choice, choice);
  choice->paper = get_paper (self);
}

static void
say_nothing (WbReportPage *self,
             const char   *why)
{
  gtk_label_set_text (self->empty, why);
  gtk_stack_set_visible_child_name (self->stack, "empty");
}

static void
drop_report (WbReportPage *self)
{
  stop_job (self);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  if (self->preview != NULL)
    wb_paper_view_set_paper (self->preview, NULL);
}

/* ---- The preview ---- */

/* What was asked of a job; once the page has another one, or none, nobody waits for it. */
typedef struct
{
  WbReportPage *page;
  WbAppJob     *job;
} Asked;

static Asked *
ask (WbReportPage *self)
{
  Asked *asked = g_new0 (Asked, 1);

  stop_job (self);
  self->job = wb_app_job_new ();
  update_job_bar (self);
  asked->page = g_object_ref (self);
  asked->job = g_object_ref (self->job);
  return asked;
}

/* The page if it still waits, else NULL; its job is over. Takes what was asked; the caller owns the page. */
static WbReportPage *
asked_end (Asked *asked)
{
  WbReportPage *self = asked->page;
  gboolean waits = self->job == asked->job;

  g_object_unref (asked->job);
  g_free (asked);
  if (!waits)
    {
      g_object_unref (self);
      return NULL;
    }
  g_clear_object (&self->job);
  update_job_bar (self);
  return self;
}

static void
fail (WbReportPage *self,
      const GError *error)
{
  /* who cancelled sees so */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      if (wb_paper_view_get_paper (self->preview) == NULL)
        say_nothing (self, _("The report was not made. Come back to this page to make it."));
      return;
    }
  wb_problem_show (GTK_WIDGET (self), _("The report could not be made"), error);
}

static void
on_made_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbReportPage) self = NULL;
  g_autoptr (GError) error = NULL;
  WbReportDocument *document = wb_app_report_make_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (WbPaper) paper = document != NULL ? wb_paper_new (document) : NULL;

  self = asked_end (user);
  if (self == NULL)
    return;
  if (paper == NULL)
    {
      fail (self, error);
      return;
    }
  wb_paper_view_set_paper (self->preview, paper);
  gtk_stack_set_visible_child_name (self->stack, "report");
  wb_page_update_actions (WB_PAGE (self));
}

static void
make (WbReportPage *self)
{
  Asked *asked = ask (self);
  WbAppReportChoice choice;

  get_choice (self, &choice);
  wb_app_report_make_async (wb_page_get_notebook (WB_PAGE (self)), self->answer, &choice, self->job, on_made_cb, asked);
}

static void
select_paper (WbReportPage *self)
{
  WbReportOptions options;

  wb_report_options_init (&options, self->answer->data->notebook);
  self->filling = TRUE;
  gtk_drop_down_set_selected (self->paper, self->chosen >= 0 ? (guint) self->chosen : (guint) options.paper);
  self->filling = FALSE;
}

static void
show_answer (WbReportPage *self)
{
  if (self->answer->data->burns->len == 0)
    {
      wb_paper_view_set_paper (self->preview, NULL);
      say_nothing (self, _("There is nothing to report yet: no sample of this experiment has burnt. After the first burns the report stands here, "
                           "with what is still missing."));
      return;
    }
  select_paper (self);
  make (self);
}

static void
on_answer_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_get_finish (WB_APP_ANSWERS (source), result, &error);
  g_autoptr (WbReportPage) self = asked_end (user);

  if (self == NULL)
    return;
  if (answer == NULL)
    {
      fail (self, error);
      return;
    }
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = g_steal_pointer (&answer);
  show_answer (self);
  wb_page_update_actions (WB_PAGE (self));
}

/* The newest logo among what is kept with the notebook's settings; NULL: none is. */
static const WbAttachment *
find_logo (const GPtrArray *kept)
{
  for (guint i = 0; kept != NULL && i < kept->len; i++)
    if (((const WbAttachment *) g_ptr_array_index (kept, i))->role == WB_ATTACHMENT_PHOTO)
      return g_ptr_array_index (kept, i);
  return NULL;
}

static void
on_logo_known_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  g_autoptr (WbReportPage) self = user;
  /* Where it cannot be read, the report says so. */
  g_autoptr (GPtrArray) kept = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, NULL);

  if (self->job_bar == NULL || wb_page_get_notebook (WB_PAGE (self)) != WB_APP_NOTEBOOK (source))
    return;
  self->has_logo = find_logo (kept) != NULL;
  wb_page_update_actions (WB_PAGE (self));
}

static void
list_logos (WbReportPage       *self,
            GAsyncReadyCallback callback)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));

  if (notebook != NULL)
    wb_app_query_list_by_async (notebook, &wb_attachment_type, "owner", wb_app_notebook_get_settings (notebook)->record.id, NULL,
                                callback, g_object_ref (self));
}

static void
wb_report_page_reload (WbPage *page)
{
  WbReportPage *self = WB_REPORT_PAGE (page);
  WbDesk *desk = wb_page_get_desk (page);
  Asked *asked;

  stop_job (self);
  list_logos (self, on_logo_known_cb);
  if (desk == NULL || wb_page_get_experiment (page) == 0)
    {
      say_nothing (self, _("Choose an experiment on the left."));
      return;
    }
  asked = ask (self);
  wb_app_answers_get_async (wb_desk_get_answers (desk), wb_page_get_experiment (page), WB_CRAFT_WITHIN_SCENT, 0, self->job, on_answer_cb,
                            asked);
}

static void
wb_report_page_set_experiment (WbPage *page,
                               gint64  experiment)
{
  WbReportPage *self = WB_REPORT_PAGE (page);

  if (experiment != wb_page_get_experiment (page))
    {
      drop_report (self);
      say_nothing (self, "");
    }
  WB_PAGE_CLASS (wb_report_page_parent_class)->set_experiment (page, experiment);
}

static void
wb_report_page_open (WbPage *page,
                     WbDesk *desk)
{
  WbAppReportChoice choice;

  WB_PAGE_CLASS (wb_report_page_parent_class)->open (page, desk);
  wb_app_report_choice_parse (&choice, wb_app_settings_get_report_choice (wb_desk_get_settings (desk)));
  wb_report_choice_set (WB_REPORT_PAGE (page)->choice, &choice);
}

static void
wb_report_page_close (WbPage *page)
{
  WbReportPage *self = WB_REPORT_PAGE (page);

  drop_report (self);
  self->chosen = -1;
  self->has_logo = FALSE;
  say_nothing (self, "");
  WB_PAGE_CLASS (wb_report_page_parent_class)->close (page);
}

static void
on_page_changed_cb (WbReportPage *self)
{
  WbPaper *paper = wb_paper_view_get_paper (self->preview);
  g_autofree char *text = NULL;

  if (paper != NULL)
    /* Translators: number of the page, then how many there are. */
    text = g_strdup_printf (_("Page %u of %u"), wb_paper_view_get_page (self->preview) + 1, wb_paper_get_n_pages (paper));
  gtk_label_set_text (self->number, text != NULL ? text : "");
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_paper_selected_cb (WbReportPage *self)
{
  if (self->filling || self->answer == NULL)
    return;
  self->chosen = get_paper (self);
  make (self);
}

static void
on_choice_changed_cb (WbReportPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  WbAppReportChoice choice;
  g_autofree char *text = NULL;

  get_choice (self, &choice);
  text = wb_app_report_choice_format (&choice);
  if (desk != NULL)
    wb_app_settings_set_report_choice (wb_desk_get_settings (desk), text);
  if (self->answer != NULL)
    make (self);
  wb_page_update_actions (WB_PAGE (self));
}

/* ---- The PDF ---- */

/* A PDF between the question for its file and its end: of the answer that was shown when it was asked for. */
typedef struct
{
  WbReportPage  *page;
  WbAppNotebook *notebook;
  WbCraftAnswer *answer;
  WbAppReportChoice choice;
  gboolean       key;      /* of the names, not the report */
  char          *path;
} Output;

static void
output_free (Output *output)
{
  g_object_unref (output->page);
  g_object_unref (output->notebook);
  wb_craft_answer_unref (output->answer);
  g_free (output->path);
  g_free (output);
}

static Output *
output_new (WbReportPage *self)
{
  Output *output = g_new0 (Output, 1);

  output->page = g_object_ref (self);
  output->notebook = g_object_ref (wb_page_get_notebook (WB_PAGE (self)));
  output->answer = wb_craft_answer_ref (self->answer);
  get_choice (self, &output->choice);
  return output;
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  Output *output = user;
  WbReportPage *self = output->page;
  g_autoptr (GError) error = NULL;
  gboolean written = wb_app_report_write_finish (output->notebook, result, &error);
  WbHost *host = wb_host_find (GTK_WIDGET (self));

  g_clear_object (&self->writing);
  update_job_bar (self);
  if (!written && host != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The PDF was not written"), error);
  else if (host != NULL)
    {
      g_autofree char *words = g_strdup_printf (_("Written: %s"), output->path);

      wb_host_say (host, words);
    }
  if (self->job_bar != NULL)
    wb_page_update_actions (WB_PAGE (self));
  output_free (output);
}

/* Takes the output. */
static void
write_output (Output     *output,
              const char *path)
{
  WbReportPage *self = output->page;

  output->path = g_strdup (path);
  self->writing = wb_app_job_new ();
  update_job_bar (self);
  wb_page_update_actions (WB_PAGE (self));
  if (output->key)
    wb_app_report_write_key_async (output->notebook, output->answer, &output->choice, path, self->writing, on_written_cb, output);
  else
    wb_app_report_write_async (output->notebook, output->answer, &output->choice, path, self->writing, on_written_cb, output);
}

static void
on_path_cb (const char *path,
            gpointer    user)
{
  Output *output = user;

  /* the page may have gone while the question stood */
  if (path != NULL && output->page->job_bar != NULL && output->page->writing == NULL)
    write_output (output, path);
  else
    output_free (output);
}

/* ---- Actions ---- */

char *
wb_report_page_dup_name (WbReportPage *self)
{
  WbAppReportChoice choice;
  char *name;

  g_return_val_if_fail (WB_IS_REPORT_PAGE (self), NULL);

  get_choice (self, &choice);
  /* Translators: name of a file and a print job: a report that keeps all names back, the experiment's too. */
  name = g_strdup (choice.anonymous || self->answer == NULL ? _("Test report") : self->answer->data->experiment->code);
  /* a code is any text; a file's name is not */
  return g_strdelimit (name, "/", '-');
}

static void
on_write_pdf_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbReportPage *self = user;
  g_autofree char *name = wb_report_page_dup_name (self);
  g_autofree char *file = g_strconcat (name, ".pdf", NULL);

  wb_file_choice_save (GTK_WIDGET (self), _("Write the report as a PDF"), WB_FILE_PDF, file, on_path_cb, output_new (self));
}

/* Its name says that it is none of the customer's. */
static void
on_write_key_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbReportPage *self = user;
  /* Translators: a file's name; code of the experiment. */
  g_autofree char *name = g_strdup_printf (_("%s key, private.pdf"), self->answer->data->experiment->code);
  Output *output = output_new (self);

  g_strdelimit (name, "/", '-');
  output->key = TRUE;
  wb_file_choice_save (GTK_WIDGET (self), _("Write the key as a PDF"), WB_FILE_PDF, name, on_path_cb, output);
}

/* ---- The logo ---- */

static void
on_logo_added_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  g_autoptr (WbReportPage) self = user;
  g_autoptr (GError) error = NULL;

  /* the notebook changed: the page is reloaded with it */
  if (!wb_app_document_add_finish (WB_APP_NOTEBOOK (source), result, &error) && wb_host_find (GTK_WIDGET (self)) != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The logo was not kept"), error);
}

static void
keep_logo (WbReportPage *self,
           const char   *path)
{
  WbAppNotebook *notebook = wb_page_get_notebook (WB_PAGE (self));
  g_autoptr (GFile) file = g_file_new_for_path (path);

  wb_app_document_add_picture_async (notebook, wb_app_notebook_get_settings (notebook)->record.id, _("the letterhead"), file, NULL,
                                     on_logo_added_cb, g_object_ref (self));
}

static void
on_logo_path_cb (const char *path,
                 gpointer    user)
{
  g_autoptr (WbReportPage) self = user;

  if (path != NULL && wb_page_get_notebook (WB_PAGE (self)) != NULL)
    keep_logo (self, path);
}

static void
on_choose_logo_cb (GSimpleAction *action,
                   GVariant      *parameter,
                   gpointer       user)
{
  wb_file_choice_open (GTK_WIDGET (user), _("Choose a logo for the letterhead"), WB_FILE_LOGO, on_logo_path_cb, g_object_ref (user));
}

static void take_logos_off (WbReportPage *self);

static void
on_logo_off_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (WbReportPage) self = user;
  g_autoptr (GError) error = NULL;

  if (wb_app_attachment_finish (WB_APP_NOTEBOOK (source), result, &error))
    take_logos_off (self);
  else if (wb_host_find (GTK_WIDGET (self)) != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The logo was not taken off"), error);
}

/* One after the other: an older logo would come back in the place of a newer one. */
static void
on_logos_listed_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      user)
{
  g_autoptr (WbReportPage) self = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) kept = wb_app_query_list_finish (WB_APP_NOTEBOOK (source), result, &error);
  const WbAttachment *logo;

  logo = find_logo (kept);
  if (logo != NULL)
    wb_app_attachment_take_out_async (WB_APP_NOTEBOOK (source), logo, _("Taken off the letterhead"), NULL, on_logo_off_cb,
                                      g_object_ref (self));
  if (kept == NULL && wb_host_find (GTK_WIDGET (self)) != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The logo was not taken off"), error);
}

static void
take_logos_off (WbReportPage *self)
{
  list_logos (self, on_logos_listed_cb);
}

static void
on_remove_logo_cb (GSimpleAction *action,
                   GVariant      *parameter,
                   gpointer       user)
{
  take_logos_off (user);
}

static void
on_print_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbReportPage *self = user;
  g_autofree char *name = wb_report_page_dup_name (self);
  WbAppReportChoice choice;

  get_choice (self, &choice);
  if (!choice.anonymous)
    {
      g_free (name);
      /* Translators: name of the print job; code of the experiment. */
      name = g_strdup_printf (_("Report %s"), self->answer->data->experiment->code);
    }
  wb_print_paper (GTK_WIDGET (self), wb_paper_view_get_paper (self->preview), name, NULL);
}

static void
on_previous_page_cb (GSimpleAction *action,
                     GVariant      *parameter,
                     gpointer       user)
{
  WbReportPage *self = user;

  wb_paper_view_show_page (self->preview, wb_paper_view_get_page (self->preview) - 1);
}

static void
on_next_page_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbReportPage *self = user;

  wb_paper_view_show_page (self->preview, wb_paper_view_get_page (self->preview) + 1);
}

static void
on_paper_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  int paper = wb_report_paper_from_key (g_variant_get_string (parameter, NULL));

  if (paper >= 0)
    gtk_drop_down_set_selected (WB_REPORT_PAGE (user)->paper, (guint) paper);
}

static const GActionEntry actions[] = {
  { "write-pdf", on_write_pdf_cb, NULL, NULL, NULL },
  { "write-key", on_write_key_cb, NULL, NULL, NULL },
  { "choose-logo", on_choose_logo_cb, NULL, NULL, NULL },
  { "remove-logo", on_remove_logo_cb, NULL, NULL, NULL },
  { "print", on_print_cb, NULL, NULL, NULL },
  { "previous-page", on_previous_page_cb, NULL, NULL, NULL },
  { "next-page", on_next_page_cb, NULL, NULL, NULL },
  { "paper", on_paper_cb, "s", NULL, NULL },
};

static void
wb_report_page_update_actions (WbPage *page)
{
  WbReportPage *self = WB_REPORT_PAGE (page);
  WbPaper *paper = wb_paper_view_get_paper (self->preview);
  guint at = wb_paper_view_get_page (self->preview);
  WbAppReportChoice choice;

  get_choice (self, &choice);
  wb_page_enable_action (page, "write-key", paper != NULL && self->answer != NULL && self->writing == NULL && choice.anonymous);
  /* The letterhead is the notebook's: it waits for no report. */
  wb_page_enable_action (page, "choose-logo", wb_page_get_notebook (page) != NULL);
  wb_page_enable_action (page, "remove-logo", wb_page_get_notebook (page) != NULL && self->has_logo);
  wb_page_enable_action (page, "write-pdf", paper != NULL && self->answer != NULL && self->writing == NULL);
  wb_page_enable_action (page, "print", paper != NULL && self->answer != NULL);
  wb_page_enable_action (page, "previous-page", paper != NULL && at > 0);
  wb_page_enable_action (page, "next-page", paper != NULL && at + 1 < wb_paper_get_n_pages (paper));
  wb_page_enable_action (page, "paper", self->answer != NULL);
}

/* ---- Class ---- */

static void
wb_report_page_dispose (GObject *object)
{
  WbReportPage *self = WB_REPORT_PAGE (object);

  /* a PDF that is being written is finished: it was asked for */
  g_clear_object (&self->writing);
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_REPORT_PAGE);
  G_OBJECT_CLASS (wb_report_page_parent_class)->dispose (object);
}

static void
wb_report_page_class_init (WbReportPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_PAPER_VIEW);
  g_type_ensure (WB_TYPE_REPORT_CHOICE);
  G_OBJECT_CLASS (klass)->dispose = wb_report_page_dispose;
  page_class->open = wb_report_page_open;
  page_class->reload = wb_report_page_reload;
  page_class->close = wb_report_page_close;
  page_class->set_experiment = wb_report_page_set_experiment;
  page_class->update_actions = wb_report_page_update_actions;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "report-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, empty);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, paper);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, choice);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, number);
  gtk_widget_class_bind_template_child (widget_class, WbReportPage, preview);
  gtk_widget_class_bind_template_callback (widget_class, on_paper_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_choice_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_page_changed_cb);
}

static void
wb_report_page_init (WbReportPage *self)
{
  self->chosen = -1;
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->filling = FALSE;
  wb_accessible_name_drop_down (self->paper, _("Paper"));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  say_nothing (self, "");
  wb_page_update_actions (WB_PAGE (self));
}

void
wb_report_page_write (WbReportPage *self,
                      const char   *path)
{
  g_return_if_fail (WB_IS_REPORT_PAGE (self) && path != NULL);
  g_return_if_fail (self->answer != NULL && self->writing == NULL);

  write_output (output_new (self), path);
}

void
wb_report_page_keep_logo (WbReportPage *self,
                          const char   *path)
{
  g_return_if_fail (WB_IS_REPORT_PAGE (self) && path != NULL);
  g_return_if_fail (wb_page_get_notebook (WB_PAGE (self)) != NULL);

  keep_logo (self, path);
}

void
wb_report_page_write_key (WbReportPage *self,
                          const char   *path)
{
  Output *output;

  g_return_if_fail (WB_IS_REPORT_PAGE (self) && path != NULL);
  g_return_if_fail (self->answer != NULL && self->writing == NULL);

  output = output_new (self);
  output->key = TRUE;
  write_output (output, path);
}
