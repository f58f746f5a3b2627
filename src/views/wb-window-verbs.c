/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-window-private.h"

#include "wb-blind-dialog.h"
#include "wb-evening-sheet.h"
#include "wb-paperwork.h"
#include "wb-restore-dialog.h"
#include "wb-take-back.h"
#include "wb-transfer.h"

#include <glib/gi18n.h>

/* The window's verbs, as actions of the group "win". */

static void
on_undo_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_take_back_undo (GTK_WIDGET (WB_WINDOW (user)->stack));
}

static void
on_redo_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_take_back_redo (GTK_WIDGET (WB_WINDOW (user)->stack));
}

static void
on_show_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbWindow *self = user;

  wb_window_go_and_focus (self, g_variant_get_string (parameter, NULL), self->experiment);
}

static void
on_go_cb (GSimpleAction *action,
          GVariant      *parameter,
          gpointer       user)
{
  const char *place;
  gint64 experiment;

  g_variant_get (parameter, "(&sx)", &place, &experiment);
  wb_window_go_and_focus (WB_WINDOW (user), place, experiment);
}

static void
on_open_experiment_cb (GSimpleAction *action,
                       GVariant      *parameter,
                       gpointer       user)
{
  wb_window_open_experiment (WB_WINDOW (user), g_variant_get_int64 (parameter), TRUE);
}

static void
on_new_experiment_cb (GSimpleAction *action,
                      GVariant      *parameter,
                      gpointer       user)
{
  wb_window_go_and_focus (WB_WINDOW (user), "plan", 0);
}

static void
on_import_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_transfer_import (WB_HOST (user));
}

static void
on_export_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_transfer_export (WB_HOST (user), 0);
}

static void
on_export_calendar_cb (GSimpleAction *action,
                       GVariant      *parameter,
                       gpointer       user)
{
  wb_transfer_export_calendar (WB_HOST (user));
}

static void
on_export_experiment_cb (GSimpleAction *action,
                         GVariant      *parameter,
                         gpointer       user)
{
  wb_transfer_export (WB_HOST (user), WB_WINDOW (user)->experiment);
}

static void
on_log_sheet_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  wb_paperwork_log (WB_HOST (user), WB_WINDOW (user)->experiment);
}

static void
on_bench_plan_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  wb_paperwork_bench_plan (WB_HOST (user), WB_WINDOW (user)->experiment);
}

static void
on_evening_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  wb_evening_sheet_open (WB_HOST (user), WB_WINDOW (user)->experiment);
}

static void
on_rate_blind_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  gtk_window_present (GTK_WINDOW (wb_blind_dialog_new (GTK_WIDGET (user), WB_WINDOW (user)->desk)));
}

static void
on_restore_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbAppNotebook *notebook = wb_window_get_notebook (WB_WINDOW (user));

  gtk_window_present (GTK_WINDOW (wb_restore_dialog_new (GTK_WIDGET (user), wb_app_notebook_get_path (notebook),
                                                         wb_app_notebook_get_who (notebook), wb_app_notebook_get_damage (notebook))));
}

/* From wherever the person is: at the bench every flame is seen, elsewhere the one's own experiment is gone to. */
static void
on_next_due_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  WbWindow *self = user;
  WbAppBenchSample *next = self->desk != NULL ? wb_app_bench_get_next_due (wb_desk_get_bench (self->desk)) : NULL;
  gboolean there = self->place != NULL && g_str_equal (self->place->name, "burn");

  if (next == NULL)
    {
      wb_status_line_say (self->status_line, _("No candle burns."));
      return;
    }
  if (!there && !wb_window_go (self, "burn", wb_app_bench_sample_get_experiment (next)))
    return;
  gtk_widget_activate_action (GTK_WIDGET (self), "page.choose", "x", wb_app_bench_sample_get_id (next));
}

static void
on_close_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  gtk_window_close (GTK_WINDOW (user));
}

static const GActionEntry actions[] = {
  { "show", on_show_cb, "s", "'today'", NULL },
  { "go", on_go_cb, "(sx)", NULL, NULL },
  { "open-experiment", on_open_experiment_cb, "x", NULL, NULL },
  { "new-experiment", on_new_experiment_cb, NULL, NULL, NULL },
  { "import", on_import_cb, NULL, NULL, NULL },
  { "export", on_export_cb, NULL, NULL, NULL },
  { "export-calendar", on_export_calendar_cb, NULL, NULL, NULL },
  { "export-experiment", on_export_experiment_cb, NULL, NULL, NULL },
  { "bench-plan", on_bench_plan_cb, NULL, NULL, NULL },
  { "log-sheet", on_log_sheet_cb, NULL, NULL, NULL },
  { "evening", on_evening_cb, NULL, NULL, NULL },
  { "rate-blind", on_rate_blind_cb, NULL, NULL, NULL },
  { "restore", on_restore_cb, NULL, NULL, NULL },
  { "undo", on_undo_cb, NULL, NULL, NULL },
  { "redo", on_redo_cb, NULL, NULL, NULL },
  { "next-due", on_next_due_cb, NULL, NULL, NULL },
  { "close", on_close_cb, NULL, NULL, NULL },
};

void
wb_window_add_verbs (WbWindow *self)
{
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
}
