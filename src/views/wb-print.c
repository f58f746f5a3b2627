/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-print.h"

#include "wb-problem.h"

#include <glib/gi18n.h>
#include <math.h>

/* By its usual name where it has one, so that a printer finds its tray. */
static GtkPaperSize *
paper_size_new (double narrow,
                double wide)
{
  static const char *const names[] = { GTK_PAPER_NAME_A4, GTK_PAPER_NAME_LETTER };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      GtkPaperSize *size = gtk_paper_size_new (names[i]);

      if (fabs (gtk_paper_size_get_width (size, GTK_UNIT_POINTS) - narrow) < 1 && fabs (gtk_paper_size_get_height (size, GTK_UNIT_POINTS) - wide) < 1)
        return size;
      gtk_paper_size_free (size);
    }
  return gtk_paper_size_new_custom ("wickbench", _("Own size"), narrow, wide, GTK_UNIT_POINTS);
}

static GtkPageSetup *
page_setup_new (WbPaper *paper)
{
  GtkPageSetup *setup = gtk_page_setup_new ();
  double width, height;
  GtkPaperSize *size;

  wb_paper_get_size (paper, &width, &height);
  size = paper_size_new (MIN (width, height), MAX (width, height));
  gtk_page_setup_set_paper_size (setup, size);
  gtk_page_setup_set_orientation (setup, width > height ? GTK_PAGE_ORIENTATION_LANDSCAPE : GTK_PAGE_ORIENTATION_PORTRAIT);
  gtk_paper_size_free (size);
  return setup;
}

static void
on_draw_page_cb (GtkPrintOperation *operation,
                 GtkPrintContext   *context,
                 int                page,
                 WbPaper           *paper)
{
  wb_paper_draw (paper, gtk_print_context_get_cairo_context (context), (guint) page);
}

static void
on_done_cb (GtkPrintOperation      *operation,
            GtkPrintOperationResult result,
            GtkWidget              *where)
{
  WbPrinted printed = (WbPrinted) g_object_get_data (G_OBJECT (operation), "printed");
  g_autoptr (GError) error = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_APPLY && printed != NULL)
    printed (where);
  if (result != GTK_PRINT_OPERATION_RESULT_ERROR)
    return;
  gtk_print_operation_get_error (operation, &error);
  if (error != NULL)
    wb_problem_show (where, _("The paper was not printed"), error);
}

GtkPrintOperation *
wb_print_operation_new (WbPaper    *paper,
                        const char *name)
{
  GtkPrintOperation *operation;
  g_autoptr (GtkPageSetup) setup = NULL;

  g_return_val_if_fail (paper != NULL && name != NULL, NULL);

  operation = gtk_print_operation_new ();
  setup = page_setup_new (paper);
  gtk_print_operation_set_job_name (operation, name);
  gtk_print_operation_set_n_pages (operation, (int) wb_paper_get_n_pages (paper));
  gtk_print_operation_set_default_page_setup (operation, setup);
  /* the pages bring their own margins */
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_allow_async (operation, TRUE);
  gtk_print_operation_set_show_progress (operation, TRUE);
  g_signal_connect_data (operation, "draw-page", G_CALLBACK (on_draw_page_cb), wb_paper_ref (paper), (GClosureNotify) (void (*) (void)) wb_paper_unref, 0);
  return operation;
}

void
wb_print_paper (GtkWidget  *where,
                WbPaper    *paper,
                const char *name,
                WbPrinted   printed)
{
  g_autoptr (GtkPrintOperation) operation = NULL;
  GtkRoot *root;

  g_return_if_fail (GTK_IS_WIDGET (where));

  operation = wb_print_operation_new (paper, name);
  root = gtk_widget_get_root (where);
  g_object_set_data (G_OBJECT (operation), "printed", (gpointer) printed);
  g_signal_connect_object (operation, "done", G_CALLBACK (on_done_cb), where, 0);
  /* what goes wrong is told by "done" */
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, NULL);
}
