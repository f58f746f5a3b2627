/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-window-private.h"

#include "wb-bundle.h"
#include "wb-calm-bin.h"
#include "wb-clock.h"
#include "wb-focus-walk.h"
#include "wb-grey.h"
#include "wb-question.h"
#include "wb-stack-pages.h"
#include "wb-take-back.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

#define LARGE_DPI (96 * 1024 * 14 / 10)

#define CLOCK_INTERVAL_S 10
#define FILE_ENDING ".wickbench"

static void wb_window_host_init (WbHostInterface *interface);

G_DEFINE_FINAL_TYPE_WITH_CODE (WbWindow, wb_window, GTK_TYPE_APPLICATION_WINDOW,
                               G_IMPLEMENT_INTERFACE (WB_TYPE_HOST, wb_window_host_init))

WbAppNotebook *
wb_window_get_notebook (WbWindow *self)
{
  return self->desk != NULL ? wb_desk_get_notebook (self->desk) : NULL;
}

static void
enable (WbWindow   *self,
        const char *name,
        gboolean    enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

static void
actions_update (WbWindow *self)
{
  WbAppNotebook *notebook = wb_window_get_notebook (self);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);

  enable (self, "undo", writable && wb_app_notebook_get_can_undo (notebook));
  enable (self, "redo", writable && wb_app_notebook_get_can_redo (notebook));
  enable (self, "new-experiment", writable && wb_places_find ("plan") != NULL);
  enable (self, "open-experiment", notebook != NULL);
  enable (self, "import", writable);
  enable (self, "export", notebook != NULL);
  enable (self, "export-calendar", notebook != NULL);
  enable (self, "rate-blind", writable);
  enable (self, "restore", notebook != NULL);
  enable (self, "export-experiment", notebook != NULL && self->experiment != 0);
  enable (self, "bench-plan", notebook != NULL && self->experiment != 0);
  enable (self, "log-sheet", notebook != NULL && self->experiment != 0);
  enable (self, "evening", writable && self->experiment != 0);
}

/* What a notebook without a title is called: its file, without the ending. Caller frees. */
static char *
dup_file_title (const char *path)
{
  char *name = g_filename_display_basename (path);

  if (g_str_has_suffix (name, FILE_ENDING))
    name[strlen (name) - strlen (FILE_ENDING)] = '\0';
  return name;
}

static void
update_head (WbWindow *self)
{
  WbAppNotebook *notebook = wb_window_get_notebook (self);
  const char *title = notebook != NULL ? wb_app_notebook_get_title (notebook) : NULL;
  g_autofree char *file = NULL, *whole = NULL;

  if (title == NULL && notebook != NULL)
    title = file = dup_file_title (wb_app_notebook_get_path (notebook));
  whole = title != NULL ? g_strdup_printf ("%s – Wickbench", title) : g_strdup ("Wickbench");
  gtk_window_set_title (GTK_WINDOW (self), whole);
  gtk_label_set_text (self->heading, title != NULL ? title : "Wickbench");
  wb_tooltip_set (GTK_WIDGET (self->heading), notebook != NULL ? wb_app_notebook_get_path (notebook) : NULL);
  wb_badge_set (self->invented, WB_BADGE_NOTE,
                notebook != NULL && wb_app_notebook_get_invented (notebook) ? _("Invented data") : NULL);
  wb_badge_set (self->read_only, WB_BADGE_ASK,
                notebook != NULL && wb_app_notebook_get_read_only (notebook) ? _("Read-only") : NULL);
  wb_take_back_name (self->undo, _("Undo"), notebook != NULL ? wb_app_notebook_get_undo_label (notebook) : NULL);
  wb_take_back_name (self->redo, _("Redo"), notebook != NULL ? wb_app_notebook_get_redo_label (notebook) : NULL);
  wb_grey_say (GTK_WIDGET (self->undo), notebook != NULL && wb_app_notebook_get_read_only (notebook) ? _("The notebook can be read only") : _("There is nothing to undo"));
  wb_grey_say (GTK_WIDGET (self->redo), notebook != NULL && wb_app_notebook_get_read_only (notebook) ? _("The notebook can be read only") : _("There is nothing to redo"));
}

/* Borrowed by the caller for this turn only; NULL: none is open, or the list does not hold it. */
static WbAppExperiment *
find_experiment (WbWindow *self,
                 gint64    id)
{
  GListModel *list;

  if (self->desk == NULL || id == 0)
    return NULL;
  list = G_LIST_MODEL (wb_desk_get_experiments (self->desk));
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      if (wb_app_experiment_get_id (experiment) == id)
        return experiment;
    }
  return NULL;
}

static void
update_experiment_bar (WbWindow *self)
{
  WbAppExperiment *experiment = find_experiment (self, self->experiment);
  gboolean shown = self->place != NULL && self->place->of_experiment;

  wb_experiment_bar_set_experiment (self->experiment_bar, experiment);
  gtk_widget_set_visible (GTK_WIDGET (self->experiment_bar), shown);
  gtk_label_set_text (self->subheading, shown && experiment != NULL ? wb_app_experiment_get_title (experiment) : "");
  gtk_widget_set_visible (GTK_WIDGET (self->subheading), shown && experiment != NULL);
}

static WbPage *
find_page (WbWindow      *self,
           const WbPlace *place)
{
  GtkWidget *page = gtk_stack_get_child_by_name (self->stack, place->name);

  return page != NULL ? WB_PAGE (page) : NULL;
}

static void
on_page_released_cb (WbWindow *self)
{
  const WbPlace *wanted = self->wanted;

  self->wanted = NULL;
  if (self->wants_close)
    gtk_window_close (GTK_WINDOW (self));
  else if (wanted != NULL)
    wb_window_go (self, wanted->name, self->wanted_experiment);
}

static guint
count_adding (WbWindow *self)
{
  guint n = 0;

  for (GtkWidget *page = gtk_widget_get_first_child (GTK_WIDGET (self->stack)); page != NULL; page = gtk_widget_get_next_sibling (page))
    n += wb_page_count_adding (WB_PAGE (page));
  return n;
}

static void
on_page_went_on_cb (WbWindow *self,
                    gboolean  well)
{
  guint n_adding = count_adding (self);

  if (self->watch != NULL)
    wb_watch_set_adding (self->watch, n_adding);
  wb_close_wait_went_on (self->close_wait, n_adding, well);
}

/* Title, marked row and what is exported are those of the candle in hand, whoever's page of the bench it is. */
static void
on_page_turned_to_cb (WbWindow *self,
                      gint64    experiment)
{
  if (!self->place->of_experiment || experiment == self->experiment)
    return;
  self->experiment = experiment;
  wb_sidebar_select (self->sidebar, self->place->name, experiment);
  update_experiment_bar (self);
  actions_update (self);
}

static WbPage *
ensure_page (WbWindow      *self,
             const WbPlace *place)
{
  WbPage *page = find_page (self, place);

  if (page != NULL)
    return page;
  page = g_object_new (place->get_type (), NULL);
  g_signal_connect_object (page, "released", G_CALLBACK (on_page_released_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (page, "turned-to", G_CALLBACK (on_page_turned_to_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (page, "went-on", G_CALLBACK (on_page_went_on_cb), self, G_CONNECT_SWAPPED);
  gtk_stack_add_named (self->stack, GTK_WIDGET (page), place->name);
  if (self->desk != NULL)
    wb_page_open (page, self->desk);
  return page;
}

static void
set_place_state (WbWindow   *self,
                 const char *name)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "show");

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (name));
}

/* Where a click on an experiment leads: to what it waits for, as far as there is a page of it. */
static const char *
place_for (WbAppExperiment *experiment)
{
  static const char *const wanted[] = {
    [WB_CRAFT_STATE_PLANNED] = "pour",
    [WB_CRAFT_STATE_CURING] = "pour",
    [WB_CRAFT_STATE_BURNING] = "burn",
    [WB_CRAFT_STATE_FINISHED] = "compare",
  };
  const char *name = wanted[wb_app_experiment_get_state (experiment)];

  if (wb_places_find (name) != NULL)
    return name;
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    if (place->of_experiment)
      return place->name;
  return NULL;
}

/*
 * The keyboard follows to the page that was gone to. Where it stands in the bar of the experiment's pages it stays:
 * a person walks along them.
 */
void
wb_window_go_and_focus (WbWindow   *self,
                        const char *name,
                        gint64      experiment)
{
  WbPage *page;

  if (!wb_window_go (self, name, experiment))
    return;
  page = wb_window_get_page (self);
  if (!wb_focus_walk_is_within (GTK_WIDGET (page)) && !wb_focus_walk_is_within (GTK_WIDGET (self->experiment_bar)))
    wb_page_take_focus (page);
}

void
wb_window_open_experiment (WbWindow *self,
                           gint64    id,
                           gboolean  focus)
{
  WbAppExperiment *experiment = find_experiment (self, id);
  const char *place = experiment != NULL ? place_for (experiment) : NULL;

  if (place != NULL && focus)
    wb_window_go_and_focus (self, place, id);
  else if (place != NULL)
    wb_window_go (self, place, id);
}

static void
on_sidebar_chosen_cb (WbWindow   *self,
                      const char *place,
                      gint64      experiment)
{
  /* The keyboard stays in the list, where the arrows walk on. */
  if (experiment != 0)
    wb_window_open_experiment (self, experiment, FALSE);
  else
    wb_window_go (self, place, 0);
  /* Where the page would not be left, the list goes back to what is open. */
  wb_sidebar_select (self->sidebar, self->place->name, self->place->of_experiment ? self->experiment : 0);
}

static void
on_notebook_notify_cb (WbWindow *self)
{
  update_head (self);
  actions_update (self);
}

/* The place of a page that holds something typed, and would lose it; NULL: none does. */
static const WbPlace *
find_draft (WbWindow *self)
{
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    {
      WbPage *page = find_page (self, place);

      if (page != NULL && wb_page_has_draft (page) && !wb_page_keeps_draft (page))
        return place;
    }
  return NULL;
}

static void
on_drop_drafts_cb (gboolean yes,
                   gpointer user)
{
  g_autoptr (WbWindow) self = user;

  self->may_drop = yes;
  if (yes)
    gtk_window_close (GTK_WINDOW (self));
  /* It was said of this closing: where that comes to nothing, what is typed later is asked about anew. */
  self->may_drop = self->may_drop && self->asks_alight;
}

static void
on_leave_alight_cb (gboolean yes,
                    gpointer user)
{
  g_autoptr (WbWindow) self = user;

  self->asks_alight = FALSE;
  self->may_close = yes;
  if (yes)
    gtk_window_close (GTK_WINDOW (self));
  self->may_close = FALSE;
  self->may_drop = FALSE;
}

static gboolean
wb_window_close_request (GtkWindow *window)
{
  WbWindow *self = WB_WINDOW (window);
  const WbPlace *draft;
  int width, height;

  if (self->place != NULL && !wb_page_leave (ensure_page (self, self->place)))
    {
      self->wants_close = TRUE;
      return TRUE;
    }
  if (wb_close_wait_hold (self->close_wait, count_adding (self)))
    return TRUE;
  draft = find_draft (self);
  if (draft != NULL && !self->may_drop)
    {
      g_autofree char *heading = g_strdup_printf (_("What you typed under %s is not saved"), _(draft->title));

      wb_question_ask (GTK_WIDGET (self), heading, _("It is lost when the window closes."), _("_Close all the same"), TRUE,
                       on_drop_drafts_cb, g_object_ref (self));
      return TRUE;
    }
  if (self->desk != NULL && wb_app_bench_get_alight (wb_desk_get_bench (self->desk)) > 0 && !self->may_close)
    {
      self->asks_alight = TRUE;
      wb_question_ask (GTK_WIDGET (self), _("Candles are still alight"),
                       _("Wickbench will not remind you of their readings while it is closed. Never leave a burning candle alone; "
                         "snuff them, or stay with them."),
                       _("_Close all the same"), TRUE, on_leave_alight_cb, g_object_ref (self));
      return TRUE;
    }
  gtk_window_get_default_size (window, &width, &height);
  wb_app_settings_set_window (self->settings, width, height, gtk_window_is_maximized (window));
  if (self->keeper != NULL)
    wb_keeper_leave (self->keeper);
  return GTK_WINDOW_CLASS (wb_window_parent_class)->close_request (window);
}

static void
wb_window_dispose (GObject *object)
{
  WbWindow *self = WB_WINDOW (object);

  if (self->stack != NULL)
    wb_window_set_notebook (self, NULL);
  g_clear_handle_id (&self->clock_id, g_source_remove);
  if (self->close_wait != NULL)
    g_object_run_dispose (G_OBJECT (self->close_wait));
  g_clear_object (&self->close_wait);
  if (self->scanner != NULL)
    g_object_run_dispose (G_OBJECT (self->scanner));
  g_clear_object (&self->scanner);
  g_clear_object (&self->notebook_signals);
  g_clear_object (&self->experiments_signals);
  g_clear_object (&self->settings);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_WINDOW);
  G_OBJECT_CLASS (wb_window_parent_class)->dispose (object);
}

static WbDesk *
wb_window_get_desk (WbHost *host)
{
  return WB_WINDOW (host)->desk;
}

static WbProblemBar *
wb_window_get_problem_bar (WbHost *host)
{
  return WB_WINDOW (host)->problem_bar;
}

static WbJobBar *
wb_window_get_job_bar (WbHost *host)
{
  return WB_WINDOW (host)->job_bar;
}

static void
wb_window_say (WbHost     *host,
               const char *text)
{
  wb_status_line_say (WB_WINDOW (host)->status_line, text);
}

static void
wb_window_typed (WbHost *host)
{
  wb_status_line_typed (WB_WINDOW (host)->status_line);
}

static void
wb_window_host_init (WbHostInterface *interface)
{
  interface->get_desk = wb_window_get_desk;
  interface->get_problem_bar = wb_window_get_problem_bar;
  interface->get_job_bar = wb_window_get_job_bar;
  interface->say = wb_window_say;
  interface->typed = wb_window_typed;
}

static void
wb_window_class_init (WbWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  g_type_ensure (WB_TYPE_CALM_BIN);
  g_type_ensure (WB_TYPE_EXPERIMENT_BAR);
  g_type_ensure (WB_TYPE_JOB_BAR);
  g_type_ensure (WB_TYPE_NOTICE);
  g_type_ensure (WB_TYPE_PROBLEM_BAR);
  g_type_ensure (WB_TYPE_SIDEBAR);
  g_type_ensure (WB_TYPE_STATUS_LINE);
  G_OBJECT_CLASS (klass)->dispose = wb_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = wb_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "window.ui");
  gtk_widget_class_bind_template_child (widget_class, WbWindow, invented);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, read_only);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, test_clock);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, heading);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, subheading);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, problem_bar);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, notice);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, job_bar);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, paned);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, sidebar);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, experiment_bar);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, across);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, stack);
  gtk_widget_class_bind_template_child (widget_class, WbWindow, status_line);
  gtk_widget_class_bind_template_callback (widget_class, on_sidebar_chosen_cb);
}

static void
connect_signals (WbWindow *self)
{
  self->notebook_signals = g_signal_group_new (WB_TYPE_APP_NOTEBOOK);
  g_signal_group_connect_swapped (self->notebook_signals, "notify", G_CALLBACK (on_notebook_notify_cb), self);
  self->experiments_signals = g_signal_group_new (WB_TYPE_APP_EXPERIMENTS);
  g_signal_group_connect_swapped (self->experiments_signals, "items-changed", G_CALLBACK (update_experiment_bar), self);
}

static gboolean
on_clock_cb (gpointer user)
{
  g_autofree char *when = wb_instant_format_short (wb_clock_now (wb_clock_get ()));
  g_autofree char *text = g_strdup_printf (_("Test clock: %s"), when);

  wb_badge_set (WB_WINDOW (user)->test_clock, WB_BADGE_NOTE, text);
  return G_SOURCE_CONTINUE;
}

/* Of letters so large a page that is larger than the window is scrolled, instead of pushing the window off the screen. */
static void
on_dpi_cb (WbWindow *self)
{
  GtkPolicyType policy;
  int dpi = 0;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-xft-dpi", &dpi, NULL);
  policy = dpi >= LARGE_DPI ? GTK_POLICY_AUTOMATIC : GTK_POLICY_NEVER;
  gtk_scrolled_window_set_policy (self->across, policy, policy);
}

static void
wb_window_init (WbWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->close_wait = wb_close_wait_new (GTK_WINDOW (self), self->job_bar);
  wb_stack_pages_hide_others (self->stack);
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-xft-dpi", G_CALLBACK (on_dpi_cb), self, G_CONNECT_SWAPPED);
  on_dpi_cb (self);
  wb_status_line_set_notice (self->status_line, self->notice);
  wb_window_add_verbs (self);
  wb_window_follow_scanner (self);
  connect_signals (self);
  if (wb_clock_is_test (wb_clock_get ()))
    {
      on_clock_cb (self);
      self->clock_id = g_timeout_add_seconds (CLOCK_INTERVAL_S, on_clock_cb, self);
    }
}

GtkWidget *
wb_window_new (GtkApplication *application,
               WbAppSettings  *settings)
{
  WbWindow *self;
  gboolean maximized;
  int width, height;

  g_return_val_if_fail (WB_IS_APP_SETTINGS (settings), NULL);

  self = g_object_new (WB_TYPE_WINDOW, "application", application, NULL);
  self->settings = g_object_ref (settings);
  wb_app_settings_get_window (settings, &width, &height, &maximized);
  gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (maximized)
    gtk_window_maximize (GTK_WINDOW (self));
  wb_window_set_notebook (self, NULL);
  return GTK_WIDGET (self);
}

void
wb_window_set_notebook (WbWindow      *self,
                        WbAppNotebook *notebook)
{
  GtkWidget *page;

  g_return_if_fail (WB_IS_WINDOW (self));
  g_return_if_fail (notebook == NULL || WB_IS_APP_NOTEBOOK (notebook));

  g_signal_group_set_target (self->notebook_signals, NULL);
  g_signal_group_set_target (self->experiments_signals, NULL);
  wb_status_line_set_desk (self->status_line, NULL);
  wb_sidebar_set_experiments (self->sidebar, NULL);
  for (page = gtk_widget_get_first_child (GTK_WIDGET (self->stack)); page != NULL; page = gtk_widget_get_next_sibling (page))
    if (self->desk != NULL)
      wb_page_close (WB_PAGE (page));
  if (self->watch != NULL)
    g_object_run_dispose (G_OBJECT (self->watch));
  g_clear_object (&self->watch);
  if (self->keeper != NULL)
    g_object_run_dispose (G_OBJECT (self->keeper));
  g_clear_object (&self->keeper);
  if (self->desk != NULL)
    wb_app_notebook_close (wb_desk_get_notebook (self->desk));
  g_clear_object (&self->desk);

  if (notebook != NULL)
    {
      self->desk = wb_desk_new (notebook, self->settings);
      self->watch = wb_watch_new (GTK_WINDOW (self), self->desk, self->notice);
      self->keeper = wb_keeper_new (GTK_WIDGET (self), self->desk);
      g_signal_group_set_target (self->notebook_signals, notebook);
      g_signal_group_set_target (self->experiments_signals, wb_desk_get_experiments (self->desk));
      wb_status_line_set_desk (self->status_line, self->desk);
      wb_sidebar_set_experiments (self->sidebar, wb_desk_get_experiments (self->desk));
      for (page = gtk_widget_get_first_child (GTK_WIDGET (self->stack)); page != NULL; page = gtk_widget_get_next_sibling (page))
        wb_page_open (WB_PAGE (page), self->desk);
    }
  self->place = NULL;
  self->experiment = 0;
  wb_window_go (self, "today", 0);
  on_notebook_notify_cb (self);
}

WbPage *
wb_window_get_page (WbWindow *self)
{
  g_return_val_if_fail (WB_IS_WINDOW (self), NULL);
  return self->place != NULL ? find_page (self, self->place) : NULL;
}

gboolean
wb_window_go (WbWindow   *self,
              const char *name,
              gint64      experiment)
{
  const WbPlace *place;
  WbPage *page;

  g_return_val_if_fail (WB_IS_WINDOW (self), FALSE);

  place = wb_places_find (name);
  if (place == NULL || (self->desk == NULL && !g_str_equal (name, "today")))
    return FALSE;
  /* A tab without an experiment has nothing to show, except the plan of a new one. */
  if (place->of_experiment && experiment == 0 && !g_str_equal (name, "plan"))
    return FALSE;
  if (self->place != NULL && (place != self->place || experiment != wb_page_get_experiment (ensure_page (self, self->place))) &&
      !wb_page_leave (ensure_page (self, self->place)))
    {
      self->wanted = place;
      self->wanted_experiment = experiment;
      self->wants_close = FALSE;
      return FALSE;
    }

  page = ensure_page (self, place);
  self->place = place;
  if (place->of_experiment)
    self->experiment = experiment;
  if (place->of_experiment)
    wb_page_set_experiment (page, experiment);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "page", G_ACTION_GROUP (wb_page_get_actions (page)));
  gtk_stack_set_visible_child (self->stack, GTK_WIDGET (page));
  set_place_state (self, name);
  wb_sidebar_select (self->sidebar, name, place->of_experiment ? self->experiment : 0);
  update_experiment_bar (self);
  actions_update (self);
  return TRUE;
}
