/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-today-page.h"

#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-clock.h"

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
  GtkListBox   *due_list;
  GtkListBox   *experiment_list;

  /* owned */
  GSignalGroup *experiments_signals;
  GSignalGroup *today_signals;
};

G_DEFINE_FINAL_TYPE (WbTodayPage, wb_today_page, WB_TYPE_PAGE)

static const char *
place_of (WbAppDueKind kind)
{
  switch (kind)
    {
    case WB_APP_DUE_CURE:
    case WB_APP_DUE_POUR:
      return "pour";
    case WB_APP_DUE_DECIDE:
      return "compare";
    case WB_APP_DUE_READING:
    case WB_APP_DUE_SNUFF:
    case WB_APP_DUE_WEIGH:
    case WB_APP_DUE_LIGHT:
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
      return _("Read");
    case WB_APP_DUE_SNUFF:
      return _("Snuff");
    case WB_APP_DUE_WEIGH:
      return _("Weigh");
    case WB_APP_DUE_LIGHT:
      return _("Light");
    case WB_APP_DUE_CURE:
      return _("Curing");
    case WB_APP_DUE_POUR:
      return _("Pour");
    case WB_APP_DUE_DECIDE:
    default:
      return _("Decide");
    }
}

static GtkWidget *
line_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   "single-line-mode", TRUE,
                                   NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static char *
dup_row_name (const char *word,
              const char *title,
              const char *detail,
              const char *end)
{
  const char *parts[] = { word, title, detail, end };
  GString *name = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i] != NULL && *parts[i] != '\0')
      g_string_append_printf (name, "%s%s", name->len > 0 ? ", " : "", parts[i]);
  return g_string_free (name, FALSE);
}

/* A row of a badge, two lines and a remark at the end; its accessible label is all of them. */
static GtkWidget *
row_new (WbBadgeKind  kind,
         const char  *word,
         const char  *title,
         const char  *detail,
         const char  *end)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *badge = wb_badge_new (kind, word);
  g_autofree char *name = dup_row_name (word, title, detail, end);

  gtk_widget_set_size_request (badge, 84, -1);
  gtk_widget_set_hexpand (lines, TRUE);
  gtk_widget_set_valign (lines, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (lines), line_new (title, NULL));
  if (detail != NULL && *detail != '\0')
    gtk_box_append (GTK_BOX (lines), line_new (detail, "dim-label"));
  gtk_box_append (GTK_BOX (box), badge);
  gtk_box_append (GTK_BOX (box), lines);
  if (end != NULL && *end != '\0')
    gtk_box_append (GTK_BOX (box), line_new (end, "numeric"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return row;
}

static GtkWidget *
create_due_row (gpointer item,
                gpointer user)
{
  WbAppDue *due = item;
  g_autofree char *at = NULL;

  g_object_get (due, "at", &at, NULL);
  return row_new (wb_app_due_get_overdue (due) ? WB_BADGE_ASK : WB_BADGE_NOTE, word_of (wb_app_due_get_kind (due)),
                  wb_app_due_get_title (due), wb_app_due_get_detail (due), at);
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

  return row_new (state == WB_CRAFT_STATE_FINISHED ? WB_BADGE_GOOD : WB_BADGE_PLAIN, wb_craft_state_get_label (state), title,
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
  gtk_widget_set_tooltip_text (self->last, path);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->last), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

static void
update_due (WbTodayPage *self,
            WbDesk      *desk)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (wb_desk_get_today (desk)));
  g_autofree char *day = wb_day_format_local (wb_instant_get_day (wb_clock_now (wb_clock_get ())));
  g_autofree char *summary = NULL;

  if (n == 0)
    summary = g_strdup (_("Nothing is due."));
  else
    summary = g_strdup_printf (ngettext ("%u thing to do, most urgent first", "%u things to do, most urgent first", n), n);
  gtk_label_set_text (self->day, day);
  gtk_label_set_text (self->summary, summary);
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
    shown = "empty";
  else
    {
      update_due (self, desk);
      shown = "due";
    }
  gtk_stack_set_visible_child_name (self->stack, shown);
}

static void
on_due_list_row_activated_cb (WbTodayPage   *self,
                              GtkListBoxRow *row)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));
  g_autoptr (WbAppDue) due = NULL;

  if (desk == NULL)
    return;
  due = g_list_model_get_item (G_LIST_MODEL (wb_desk_get_today (desk)), gtk_list_box_row_get_index (row));
  if (due != NULL)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", place_of (wb_app_due_get_kind (due)),
                                wb_app_due_get_experiment (due));
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
  gtk_list_box_bind_model (self->due_list, G_LIST_MODEL (wb_desk_get_today (desk)), create_due_row, self, NULL);
  gtk_list_box_bind_model (self->experiment_list, G_LIST_MODEL (wb_desk_get_experiments (desk)), create_experiment_row, self, NULL);
}

static void
wb_today_page_close (WbPage *page)
{
  WbTodayPage *self = WB_TODAY_PAGE (page);

  g_signal_group_set_target (self->experiments_signals, NULL);
  g_signal_group_set_target (self->today_signals, NULL);
  gtk_list_box_bind_model (self->due_list, NULL, NULL, NULL, NULL);
  gtk_list_box_bind_model (self->experiment_list, NULL, NULL, NULL, NULL);
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
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_TODAY_PAGE);
  G_OBJECT_CLASS (wb_today_page_parent_class)->dispose (object);
}

static void
wb_today_page_class_init (WbTodayPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

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
  gtk_widget_class_bind_template_child (widget_class, WbTodayPage, experiment_list);
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
}
