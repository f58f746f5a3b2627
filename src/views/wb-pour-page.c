/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-page.h"

#include "wb-bundle.h"
#include "wb-pour-book.h"

struct _WbPourPage
{
  WbPage    parent_instance;

  /* children */
  GtkStack *books;  /* a WbPourBook for the open experiment, and for each in which something is typed, by its id */
};

G_DEFINE_FINAL_TYPE (WbPourPage, wb_pour_page, WB_TYPE_PAGE)

/* NULL: none is open. */
static WbPourBook *
get_book (WbPourPage *self)
{
  GtkWidget *book = wb_page_get_experiment (WB_PAGE (self)) != 0 ? gtk_stack_get_visible_child (self->books) : NULL;

  return book != NULL ? WB_POUR_BOOK (book) : NULL;
}

static void
drop_books (WbPourPage *self,
            gboolean    all)
{
  GtkWidget *next;

  for (GtkWidget *book = gtk_widget_get_first_child (GTK_WIDGET (self->books)); book != NULL; book = next)
    {
      next = gtk_widget_get_next_sibling (book);
      if (all || !wb_pour_book_get_touched (WB_POUR_BOOK (book)))
        gtk_stack_remove (self->books, book);
    }
}

static void
on_book_changed_cb (WbPourPage *self)
{
  wb_page_update_actions (WB_PAGE (self));
}

static void
show_book (WbPourPage *self,
           WbDesk     *desk,
           gint64      experiment)
{
  g_autofree char *name = g_strdup_printf ("%" G_GINT64_FORMAT, experiment);
  GtkWidget *book = gtk_stack_get_child_by_name (self->books, name);

  if (book == NULL)
    {
      book = wb_pour_book_new (desk, experiment);
      g_signal_connect_object (book, "changed", G_CALLBACK (on_book_changed_cb), self, G_CONNECT_SWAPPED);
      g_signal_connect_object (book, "typed", G_CALLBACK (wb_page_typed), self, G_CONNECT_SWAPPED);
      gtk_stack_add_named (self->books, book, name);
    }
  gtk_stack_set_visible_child (self->books, book);
}

static void
wb_pour_page_set_experiment (WbPage *page,
                             gint64  experiment)
{
  WbPourPage *self = WB_POUR_PAGE (page);

  if (experiment != wb_page_get_experiment (page))
    drop_books (self, FALSE);
  WB_PAGE_CLASS (wb_pour_page_parent_class)->set_experiment (page, experiment);
  if (experiment != 0)
    show_book (self, wb_page_get_desk (page), experiment);
}

static void
wb_pour_page_reload (WbPage *page)
{
  WbPourBook *book = get_book (WB_POUR_PAGE (page));

  if (book != NULL)
    wb_pour_book_reload (book);
}

static void
wb_pour_page_close (WbPage *page)
{
  drop_books (WB_POUR_PAGE (page), TRUE);
  WB_PAGE_CLASS (wb_pour_page_parent_class)->close (page);
}

static gboolean
wb_pour_page_has_draft (WbPage *page)
{
  WbPourPage *self = WB_POUR_PAGE (page);

  for (GtkWidget *book = gtk_widget_get_first_child (GTK_WIDGET (self->books)); book != NULL; book = gtk_widget_get_next_sibling (book))
    if (wb_pour_book_get_touched (WB_POUR_BOOK (book)))
      return TRUE;
  return FALSE;
}

static void
on_mark_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_pour_book_mark (get_book (WB_POUR_PAGE (user)));
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbPourBook *book = get_book (WB_POUR_PAGE (user));

  if (wb_pour_book_can_note (book))
    wb_pour_book_note (book);
  else
    wb_pour_book_keep (book);
}

static void
on_batch_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  wb_pour_book_select (get_book (WB_POUR_PAGE (user)), g_variant_get_uint32 (parameter));
}

static void
on_batch_of_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  wb_pour_book_select_code (get_book (WB_POUR_PAGE (user)), g_variant_get_string (parameter, NULL));
}

static void
on_print_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  wb_pour_book_print (get_book (WB_POUR_PAGE (user)));
}

static void
on_labels_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_pour_book_ask_labels (get_book (WB_POUR_PAGE (user)));
}

static const GActionEntry actions[] = {
  { "mark", on_mark_cb, NULL, NULL, NULL },
  { "save", on_save_cb, NULL, NULL, NULL }, /* what Ctrl+S does on every page that takes something in */
  { "batch", on_batch_cb, "u", NULL, NULL },
  { "batch-of", on_batch_of_cb, "s", NULL, NULL },
  { "print", on_print_cb, NULL, NULL, NULL },
  { "labels", on_labels_cb, NULL, NULL, NULL },
};

static void
wb_pour_page_update_actions (WbPage *page)
{
  WbPourBook *book = get_book (WB_POUR_PAGE (page));
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);

  wb_page_enable_action (page, "mark", writable && book != NULL && wb_pour_book_can_mark (book));
  wb_page_enable_action (page, "save", writable && book != NULL && (wb_pour_book_can_mark (book) || wb_pour_book_can_note (book)));
  wb_page_enable_action (page, "batch", book != NULL);
  wb_page_enable_action (page, "batch-of", book != NULL);
  wb_page_enable_action (page, "print", book != NULL && wb_pour_book_can_print (book));
  wb_page_enable_action (page, "labels", book != NULL && wb_pour_book_can_label (book));
}

/* The first field of the sheet in front; a batch that is poured has none. */
static void
wb_pour_page_take_focus (WbPage *page)
{
  WbPourBook *book = get_book (WB_POUR_PAGE (page));
  GtkWidget *sheet = book != NULL ? wb_pour_book_get_sheet (book) : NULL;

  if (sheet != NULL && !gtk_widget_child_focus (sheet, GTK_DIR_TAB_FORWARD))
    WB_PAGE_CLASS (wb_pour_page_parent_class)->take_focus (page);
}

static void
wb_pour_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_POUR_PAGE);
  G_OBJECT_CLASS (wb_pour_page_parent_class)->dispose (object);
}

static void
wb_pour_page_class_init (WbPourPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pour_page_dispose;
  page_class->reload = wb_pour_page_reload;
  page_class->close = wb_pour_page_close;
  page_class->set_experiment = wb_pour_page_set_experiment;
  page_class->update_actions = wb_pour_page_update_actions;
  page_class->has_draft = wb_pour_page_has_draft;
  page_class->draft = "pour";
  page_class->take_focus = wb_pour_page_take_focus;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "pour-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPourPage, books);
}

static void
wb_pour_page_init (WbPourPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
  wb_page_update_actions (WB_PAGE (self));
}
