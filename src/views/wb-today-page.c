/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-today-page.h"

#include "wb-advice-line.h"
#include "wb-app-query.h"
#include "wb-bench-words.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-decision-dialog.h"
#include "wb-due-row.h"
#include "wb-retain-dialog.h"
#include "wb-tooltip.h"
#include "wb-touched-dialog.h"
#include "wb-week-list.h"

#include <glib/gi18n.h>

struct _WbTodayPage
{
  WbPage        parent_instance;

  /* children */
  GtkStack     *stack;
  GtkWidget    *last;
  GtkLabel     *last_label;
  GtkLabel     *day;
  GtkLabel     *summary;
  GtkListBox   *alight_list; /* one row, or hidden */
  GtkListBox   *due_list;
  WbWeekList   *week;
  GtkListBox   *experiment_list;
  GtkLabel     *empty_title;
  GtkLabel     *empty_holds; /* what the notebook has, while no experiment is planned */
  GtkListBox   *empty_due;
  GtkWidget    *empty_advice; /* where to begin; gone once there is enough for a plan */
  GtkWidget    *empty_enter;
  GtkWidget    *empty_plan;

  /* owned */
  GSignalGroup *experiments_signals;
  GSignalGroup *today_signals;
  GSignalGroup *bench_signals;
  GCancellable *cancellable;  /* of reading what there is; NULL: nobody reads */
  char         *alight_words; /* what the row says; NULL: nothing burns */
};

G_DEFINE_FINAL_TYPE (WbTodayPage, wb_today_page, WB_TYPE_PAGE)

static const char *
place_of (WbAppDueKind kind)
{
  switch (kind)
    {
    case WB_APP_DUE_CURE:
    case WB_APP_DUE_POUR:
    case WB_APP_DUE_DRAFT:
    case WB_APP_DUE_STEP:
      return "pour";
    case WB_APP_DUE_DECIDE:
    case WB_APP_DUE_UNSIGNED:
    case WB_APP_DUE_TOUCHED:
      return "compare";
    case WB_APP_DUE_READING:
    case WB_APP_DUE_SNUFF:
    case WB_APP_DUE_CROSSED:
    case WB_APP_DUE_WEIGH:
    case WB_APP_DUE_LIGHT:
    case WB_APP_DUE_REFERENCE:
    default:
      return "burn";
    }
}

static const char *
word_of (WbAppDueKind kind)
{
  switch (kind)
    {
    case WB_APP_DUE_READING:
      return _("read");
    case WB_APP_DUE_SNUFF:
      return _("snuff");
    case WB_APP_DUE_CROSSED:
      return _("limit");
    case WB_APP_DUE_WEIGH:
      return _("weigh");
    case WB_APP_DUE_TOUCHED:
      return _("changed");
    case WB_APP_DUE_DRAFT:
    case WB_APP_DUE_UNSIGNED:
      /* Translators: badge of a form that was left half typed. */
      return _("typed");
    case WB_APP_DUE_REFERENCE:
      return _("kept");
    case WB_APP_DUE_LIGHT:
      /* Translators: a verb: what is to be done now, as on the badges beside it. */
      return C_("what is due", "light");
    case WB_APP_DUE_CURE:
      return _("wait");
    case WB_APP_DUE_POUR:
    case WB_APP_DUE_STEP:
      /* Translators: a verb: what is to be done now, as on the badges beside it. */
      return C_("what is due", "pour");
    case WB_APP_DUE_DECIDE:
    default:
      return _("decide");
    }
}

static GtkWidget *
create_due_row (gpointer item,
                gpointer user)
{
  WbAppDue *due = item;
  WbDesk *desk = wb_page_get_desk (WB_PAGE (user));
  g_autofree char *at = NULL;
  GtkWidget *row;

  /* A cure is counted in days. */
  if (wb_app_due_get_kind (due) == WB_APP_DUE_CURE)
    at = wb_instant_format_date (wb_app_due_get_at (due));
  else
    g_object_get (due, "at", &at, NULL);
  row = wb_due_row_new (wb_app_due_get_overdue (due) ? WB_BADGE_ASK : WB_BADGE_NOTE, word_of (wb_app_due_get_kind (due)),
                        wb_app_due_get_title (due), wb_app_due_get_detail (due), at);
  /* while candles burn nobody is sent to light others */
  if (wb_app_due_get_kind (due) == WB_APP_DUE_LIGHT && wb_app_bench_get_alight (wb_desk_get_bench (desk)) == 0)
    {
      GtkWidget *line = g_object_new (WB_TYPE_ADVICE_LINE, NULL);

      wb_due_row_add_line (GTK_LIST_BOX_ROW (row), line, "text");
      wb_advice_line_set (WB_ADVICE_LINE (line), desk, wb_app_due_get_experiment (due));
    }
  return row;
}

static GtkWidget *
create_experiment_row (gpointer item,
                       gpointer user)
{
  WbAppExperiment *experiment = item;
  WbCraftState state = wb_app_experiment_get_state (experiment);
  guint samples = wb_app_experiment_get_samples (experiment);
  guint burns = wb_app_experiment_get_burns (experiment);
  g_autofree char *title = g_strdup_printf ("%s  %s", wb_app_experiment_get_code (experiment),
                                            wb_app_experiment_get_title (experiment));
  g_autofree char *poured = g_strdup_printf (ngettext ("%u sample", "%u samples", samples), samples);
  g_autofree char *burnt = g_strdup_printf (ngettext ("%u burn", "%u burns", burns), burns);
  g_autofree char *end = g_strdup_printf ("%s · %s", poured, burnt);

  return wb_due_row_new (state == WB_CRAFT_STATE_FINISHED ? WB_BADGE_GOOD : WB_BADGE_PLAIN, wb_app_experiment_get_word (experiment), title,
                  state != WB_CRAFT_STATE_FINISHED ? wb_app_experiment_get_waits_for (experiment) : NULL, end);
}

static void
update_last (WbTodayPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkApplication *application = GTK_IS_WINDOW (root) ? gtk_window_get_application (GTK_WINDOW (root)) : NULL;
  g_autofree char *path = NULL;
  g_autofree char *name = NULL;
  g_autofree char *text = NULL;
  GAction *action;

  /* The application keeps what was open last as the state of its action. */
  action = application != NULL ? g_action_map_lookup_action (G_ACTION_MAP (application), "open-last") : NULL;
  if (action != NULL)
    {
      g_autoptr (GVariant) state = g_action_get_state (action);

      path = g_strdup (state != NULL ? g_variant_get_string (state, NULL) : "");
    }
  gtk_widget_set_visible (self->last, path != NULL && *path != '\0');
  if (path == NULL || *path == '\0')
    return;
  name = g_path_get_basename (path);
  text = g_strdup_printf (_("Open %s again"), name);
  gtk_label_set_text (self->last_label, text);
  wb_tooltip_set (self->last, path);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->last), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

/* A flame comes before all else that is due, and is seen though its reading is far. Rebuilt only when it says something else. */
static void
update_alight (WbTodayPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  WbAppBench *bench = desk != NULL ? wb_desk_get_bench (desk) : NULL;
  guint n = bench != NULL ? wb_app_bench_get_alight (bench) : 0;
  WbAppBenchSample *next = n > 0 ? wb_app_bench_get_next_due (bench) : NULL;
  g_autofree char *title = n > 0 ? g_strdup_printf (ngettext ("%u candle burns", "%u candles burn", n), n) : NULL;
  g_autofree char *state = next != NULL ? wb_bench_words_dup_state (next) : NULL;
  g_autofree char *detail = next != NULL ? g_strdup_printf (_("First to read: %s, %s"), wb_app_bench_sample_get_code (next), state) : NULL;
  g_autofree char *words = n > 0 ? g_strdup_printf ("%s\n%s", title, detail != NULL ? detail : "") : NULL;
  GtkListBoxRow *row;

  gtk_widget_set_visible (GTK_WIDGET (self->alight_list), n > 0);
  if (g_strcmp0 (words, self->alight_words) == 0)
    return;
  g_free (self->alight_words);
  self->alight_words = g_steal_pointer (&words);
  row = gtk_list_box_get_row_at_index (self->alight_list, 0);
  if (row == NULL && n > 0)
    gtk_list_box_append (self->alight_list, wb_due_row_new (WB_BADGE_ASK, _("alight"), title, detail, NULL));
  else if (row != NULL && n > 0)
    wb_due_row_fill (row, WB_BADGE_ASK, _("alight"), title, detail, NULL);
}

static void
update_due (WbTodayPage *self,
            WbDesk      *desk)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (wb_desk_get_today (desk)));
  g_autofree char *day = wb_day_format_local (wb_instant_get_day (wb_clock_now (wb_clock_get ())));
  g_autofree char *summary = NULL;

  if (n == 0)
    summary = g_strdup (wb_app_bench_get_alight (wb_desk_get_bench (desk)) > 0 ? _("Nothing is due yet.") : _("Nothing is due. The bench is free."));
  else
    summary = g_strdup_printf (ngettext ("%u thing waits, most urgent first", "%u things wait, most urgent first", n), n);
  gtk_label_set_text (self->day, day);
  gtk_label_set_text (self->summary, summary);
  gtk_widget_set_visible (GTK_WIDGET (self->due_list), n > 0);
  update_alight (self);
}

/* Takes the text; left out where there is none of it. */
static void
add_count (GString *words,
           guint    n,
           char    *text)
{
  if (n > 0)
    g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", text);
  g_free (text);
}

/* "1 vessel, 1 wax, 8 wicks"; empty: nothing. */
static char *
dup_holds (const WbAppMaterials *materials)
{
  GString *words = g_string_new (NULL);
  guint vessels = materials->vessels->len, waxes = materials->waxes->len, wicks = materials->wicks->len, lots = materials->lots->len;
  guint fragrances = materials->fragrances->len, dyes = materials->dyes->len, additives = materials->additives->len;

  add_count (words, vessels, g_strdup_printf (ngettext ("%u\302\240vessel", "%u\302\240vessels", vessels), vessels));
  add_count (words, waxes, g_strdup_printf (ngettext ("%u\302\240wax", "%u\302\240waxes", waxes), waxes));
  add_count (words, wicks, g_strdup_printf (ngettext ("%u\302\240wick", "%u\302\240wicks", wicks), wicks));
  add_count (words, fragrances, g_strdup_printf (ngettext ("%u\302\240fragrance", "%u\302\240fragrances", fragrances), fragrances));
  add_count (words, dyes, g_strdup_printf (ngettext ("%u\302\240dye", "%u\302\240dyes", dyes), dyes));
  add_count (words, additives, g_strdup_printf (ngettext ("%u\302\240additive", "%u\302\240additives", additives), additives));
  add_count (words, lots, g_strdup_printf (ngettext ("%u\302\240lot", "%u\302\240lots", lots), lots));
  return g_string_free (words, FALSE);
}

static void
suggest (GtkWidget *button,
         gboolean   suggested)
{
  if (suggested)
    gtk_widget_add_css_class (button, "suggested-action");
  else
    gtk_widget_remove_css_class (button, "suggested-action");
}

static void
show_holds (WbTodayPage          *self,
            const WbAppMaterials *materials)
{
  g_autofree char *holds = dup_holds (materials);
  g_autofree char *text = g_strdup_printf (_("The notebook holds %s."), holds);
  gboolean enough = materials->vessels->len > 0 && materials->waxes->len > 0 && materials->wicks->len > 0;

  gtk_label_set_text (self->empty_title, *holds != '\0' ? _("No experiment is planned yet") : _("The notebook is empty"));
  gtk_label_set_text (self->empty_holds, text);
  gtk_widget_set_visible (GTK_WIDGET (self->empty_holds), *holds != '\0');
  gtk_widget_set_visible (self->empty_advice, !enough);
  suggest (self->empty_enter, !enough);
  suggest (self->empty_plan, enough);
}

static void
stop_reading (WbTodayPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

/* What cannot be read is told where it is shown, on its own page. */
static void
on_materials_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&WB_TODAY_PAGE (user)->cancellable);
  if (materials != NULL)
    show_holds (user, materials);
}

/* Before the first experiment: what there is, and what waits. */
static void
update_empty (WbTodayPage *self,
              WbDesk      *desk)
{
  gtk_widget_set_visible (GTK_WIDGET (self->empty_due), g_list_model_get_n_items (G_LIST_MODEL (wb_desk_get_today (desk))) > 0);
  stop_reading (self);
  self->cancellable = g_cancellable_new ();
  wb_app_query_materials_async (wb_desk_get_notebook (desk), self->cancellable, on_materials_cb, self);
}

static void
update (WbTodayPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  const char *shown;

  if (desk == NULL)
    {
      update_last (self);
      shown = "welcome";
    }
  else if (!wb_app_experiments_get_loaded (wb_desk_get_experiments (desk)))
    shown = "loading";
  else if (g_list_model_get_n_items (G_LIST_MODEL (wb_desk_get_experiments (desk))) == 0)
    {
      update_empty (self, desk);
      shown = "empty";
    }
  else
    {
      update_due (self, desk);
      shown = "due";
    }
  gtk_stack_set_visible_child_name (self->stack, shown);
}

static void
on_alight_list_row_activated_cb (WbTodayPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  WbAppBenchSample *next = desk != NULL ? wb_app_bench_get_next_due (wb_desk_get_bench (desk)) : NULL;

  gint64 sample = next != NULL ? wb_app_bench_sample_get_id (next) : 0;

  if (next == NULL)
    return;
  gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", "burn", wb_app_bench_sample_get_experiment (next));
  gtk_widget_activate_action (GTK_WIDGET (self), "page.choose", "x", sample);
}

static void
on_due_list_row_activated_cb (WbTodayPage   *self,
                              GtkListBoxRow *row)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  g_autoptr (WbAppDue) due = NULL;
  WbAppTouched *touched;
  const WbSample *reference;

  if (desk == NULL)
    return;
  due = g_list_model_get_item (G_LIST_MODEL (wb_desk_get_today (desk)), gtk_list_box_row_get_index (row));
  if (due == NULL)
    return;
  touched = wb_app_touched_list_find (wb_app_today_get_touched (wb_desk_get_today (desk)), wb_app_due_get_decision (due));
  if (touched != NULL && touched->open > 0)
    {
      gtk_window_present (GTK_WINDOW (wb_touched_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (desk), touched)));
      return;
    }
  if (wb_app_due_get_kind (due) == WB_APP_DUE_DRAFT && wb_app_due_get_experiment (due) == 0)
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.show", "s", "materials");
      return;
    }
  if (wb_app_due_get_kind (due) == WB_APP_DUE_DECIDE)
    {
      gtk_window_present (GTK_WINDOW (wb_decision_dialog_new (GTK_WIDGET (self), desk, wb_app_due_get_experiment (due), 0)));
      return;
    }
  if (wb_app_due_get_kind (due) == WB_APP_DUE_UNSIGNED)
    {
      GtkWidget *dialog = wb_decision_dialog_new (GTK_WIDGET (self), desk, wb_app_due_get_experiment (due), wb_app_due_get_cell (due));

      wb_decision_dialog_begin_with (WB_DECISION_DIALOG (dialog), wb_app_due_get_cell (due));
      gtk_window_present (GTK_WINDOW (dialog));
      return;
    }
  reference = wb_app_due_get_kind (due) == WB_APP_DUE_REFERENCE
                ? wb_app_retained_find (wb_app_today_get_retained (wb_desk_get_today (desk)), wb_app_due_get_sample (due)) : NULL;
  if (reference != NULL)
    {
      gtk_window_present (GTK_WINDOW (wb_retain_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (desk), reference)));
      return;
    }
  gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", place_of (wb_app_due_get_kind (due)), wb_app_due_get_experiment (due));
  if (wb_app_due_get_batch (due) != NULL)
    gtk_widget_activate_action (GTK_WIDGET (self), "page.batch-of", "s", wb_app_due_get_batch (due));
  /* Of one candle: the hand is at it. */
  if (wb_app_due_get_sample (due) != 0 && g_str_equal (place_of (wb_app_due_get_kind (due)), "burn"))
    gtk_widget_activate_action (GTK_WIDGET (self), "page.choose", "x", wb_app_due_get_sample (due));
}

static void
on_experiment_list_row_activated_cb (WbTodayPage   *self,
                                     GtkListBoxRow *row)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  g_autoptr (WbAppExperiment) experiment = NULL;

  if (desk == NULL)
    return;
  experiment = g_list_model_get_item (G_LIST_MODEL (wb_desk_get_experiments (desk)), gtk_list_box_row_get_index (row));
  if (experiment != NULL)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.open-experiment", "x", wb_app_experiment_get_id (experiment));
}

static void
wb_today_page_open (WbPage *page,
                    WbDesk *desk)
{
  WbTodayPage *self = WB_TODAY_PAGE (page);

  WB_PAGE_CLASS (wb_today_page_parent_class)->open (page, desk);
  g_signal_group_set_target (self->experiments_signals, wb_desk_get_experiments (desk));
  g_signal_group_set_target (self->today_signals, wb_desk_get_today (desk));
  g_signal_group_set_target (self->bench_signals, wb_desk_get_bench (desk));
  gtk_list_box_bind_model (self->due_list, G_LIST_MODEL (wb_desk_get_today (desk)), create_due_row, self, NULL);
  gtk_list_box_bind_model (self->empty_due, G_LIST_MODEL (wb_desk_get_today (desk)), create_due_row, self, NULL);
  gtk_list_box_bind_model (self->experiment_list, G_LIST_MODEL (wb_desk_get_experiments (desk)), create_experiment_row, self, NULL);
  wb_week_list_set_calendar (self->week, wb_desk_get_calendar (desk));
}

static void
wb_today_page_close (WbPage *page)
{
  WbTodayPage *self = WB_TODAY_PAGE (page);

  g_signal_group_set_target (self->experiments_signals, NULL);
  g_signal_group_set_target (self->today_signals, NULL);
  g_signal_group_set_target (self->bench_signals, NULL);
  gtk_list_box_bind_model (self->due_list, NULL, NULL, NULL, NULL);
  gtk_list_box_bind_model (self->empty_due, NULL, NULL, NULL, NULL);
  stop_reading (self);
  gtk_list_box_bind_model (self->experiment_list, NULL, NULL, NULL, NULL);
  wb_week_list_set_calendar (self->week, NULL);
  WB_PAGE_CLASS (wb_today_page_parent_class)->close (page);
}

static void
wb_today_page_reload (WbPage *page)
{
  update (WB_TODAY_PAGE (page));
}

static void
wb_today_page_dispose (GObject *object)
{
  WbTodayPage *self = WB_TODAY_PAGE (object);

  g_clear_object (&self->experiments_signals);
  g_clear_object (&self->today_signals);
  g_clear_object (&self->bench_signals);
  g_clear_pointer (&self->alight_words, g_free);
  stop_reading (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_TODAY_PAGE);
  G_OBJECT_CLASS (wb_today_page_parent_class)->dispose (object);
}

static void
wb_today_page_class_init (WbTodayPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_WEEK_LIST);
  G_OBJECT_CLASS (klass)->dispose = wb_today_page_dispose;
  page_class->open = wb_today_page_open;
  page_class->close = wb_today_page_close;
  page_class->reload = wb_today_page_reload;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "today-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, last);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, last_label);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, day);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, summary);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, due_list);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, alight_list);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, experiment_list);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_title);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_holds);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_due);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_advice);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_enter);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, empty_plan);
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, week);
  gtk_widget_class_bind_template_callback (widget_class, on_alight_list_row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_due_list_row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_experiment_list_row_activated_cb);
}

static void
wb_today_page_init (WbTodayPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->experiments_signals = g_signal_group_new (WB_TYPE_APP_EXPERIMENTS);
  g_signal_group_connect_swapped (self->experiments_signals, "items-changed", G_CALLBACK (update), self);
  g_signal_group_connect_swapped (self->experiments_signals, "notify::loaded", G_CALLBACK (update), self);
  self->today_signals = g_signal_group_new (WB_TYPE_APP_TODAY);
  g_signal_group_connect_swapped (self->today_signals, "items-changed", G_CALLBACK (update), self);
  self->bench_signals = g_signal_group_new (WB_TYPE_APP_BENCH);
  g_signal_group_connect_swapped (self->bench_signals, "tick", G_CALLBACK (update_alight), self);
}
