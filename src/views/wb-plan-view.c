/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-view.h"

#include "wb-bench-plan-view.h"
#include "wb-bundle.h"
#include "wb-craft-repeat.h"
#include "wb-fact-list.h"
#include "wb-house.h"
#include "wb-plan-cells.h"
#include "wb-plan-words.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbPlanView
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *scrolled;
  GtkLabel   *title;
  GtkLabel   *question;
  GtkLabel   *repeated;
  WbFactList *facts;
  GtkLabel   *summary;
  WbCellGrid *cells;
  WbBenchPlanView *bench;
  WbFactList *protocol;
  WbFactList *limits;
};

G_DEFINE_FINAL_TYPE (WbPlanView, wb_plan_view, GTK_TYPE_WIDGET)

static const char *const asked_of_burns[] = {
  "burn_s", "interval_upper_s", "interval_middle_s", "interval_lower_s", "last_inch_interval_s", "trim_mm", "cool_s"
};
static const char *const asked_of_test[] = { "samples_wanted", "stop_sure_pct", "note" };

static void
add_fields (WbFactList        *list,
            const WbProtocol  *protocol,
            const char *const *names,
            guint              n,
            gboolean           us_units)
{
  for (guint i = 0; i < n; i++)
    wb_fact_list_add_field (list, protocol, names[i], us_units);
}

/* Two fields that say one thing. */
static void
add_room (WbFactList       *list,
          const WbProtocol *protocol,
          gboolean          us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units);
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  g_autofree char *text = NULL;

  if (isnan (protocol->room_low_c) || isnan (protocol->room_high_c))
    {
      wb_fact_list_add_field (list, protocol, "room_low_c", us_units);
      wb_fact_list_add_field (list, protocol, "room_high_c", us_units);
      return;
    }
  low = wb_quantity_format (unit, protocol->room_low_c, -1);
  high = wb_quantity_format (unit, protocol->room_high_c, -1);
  text = g_strdup_printf (_("%s to %s"), low, high);
  wb_fact_list_add (list, _("Room"), text);
}

static void
add_window (WbFactList       *list,
            const WbProtocol *protocol)
{
  g_autofree char *low = wb_number_format_trimmed (protocol->window_low, 3, NULL);
  g_autofree char *high = wb_number_format_trimmed (protocol->window_high, 3, NULL);
  g_autofree char *text = g_strdup_printf (_("%s to %s of one hour per inch of inner diameter"), low, high);

  wb_fact_list_add (list, _("Full melt pool due"), text);
}

static void
add_end (WbFactList       *list,
         const WbProtocol *protocol,
         gboolean          us_units)
{
  g_autofree char *text = NULL;

  if (protocol->end_rule == WB_END_RESIDUE && !isnan (protocol->end_residue_mm))
    {
      g_autofree char *left = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), protocol->end_residue_mm, -1);

      text = g_strdup_printf (_("when %s of wax is left"), left);
    }
  else if (protocol->end_rule == WB_END_BURNS && protocol->end_burns > 0)
    text = g_strdup_printf (ngettext ("after %d burn (a partial test)", "after %d burns (a partial test)", (gulong) protocol->end_burns),
                            (int) protocol->end_burns);
  if (text != NULL)
    wb_fact_list_add (list, _("The test ends"), text);
  else
    wb_fact_list_add_field (list, protocol, "end_rule", us_units);
}

static void
show_protocol (WbPlanView       *self,
               const WbProtocol *protocol,
               gboolean          us_units)
{
  wb_fact_list_clear (self->protocol);
  add_fields (self->protocol, protocol, asked_of_burns, G_N_ELEMENTS (asked_of_burns), us_units);
  add_room (self->protocol, protocol, us_units);
  add_window (self->protocol, protocol);
  add_end (self->protocol, protocol, us_units);
  add_fields (self->protocol, protocol, asked_of_test, G_N_ELEMENTS (asked_of_test), us_units);
}

static char *
dup_limit (const WbLimit *limit,
           gboolean       us_units)
{
  WbUnit stored = wb_limit_kind_get_unit (limit->kind);
  WbUnit unit = wb_quantity_get_shown_unit (wb_unit_get_quantity (stored), us_units);
  g_autofree char *stop = NULL;
  g_autofree char *ask = NULL;
  g_autofree char *text = NULL;

  if (limit->off)
    return g_strdup_printf (_("Off: %s"), limit->off_reason != NULL ? limit->off_reason : "");
  if (unit == WB_UNIT_NONE || limit->stop_at == 0)
    text = g_strdup (_("None is permitted"));
  else
    {
      stop = wb_quantity_format (unit, limit->stop_at, -1);
      ask = isnan (limit->ask_at) ? NULL : wb_quantity_format (unit, limit->ask_at, -1);
      text = ask != NULL ? g_strdup_printf (_("Ask from %s, stop above %s"), ask, stop) : g_strdup_printf (_("Stop above %s"), stop);
    }
  if (limit->house)
    return g_strdup_printf (_("%s (house limit)"), text);
  return limit->source != NULL ? g_strdup_printf ("%s (%s)", text, wb_house_translate (limit->source)) : g_steal_pointer (&text);
}

static void
show_limits (WbPlanView      *self,
             const GPtrArray *limits,
             gboolean         us_units)
{
  wb_fact_list_clear (self->limits);
  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = limits->pdata[i];
      g_autofree char *value = dup_limit (limit, us_units);

      wb_fact_list_add (self->limits, _(wb_limit_kind_get_label (limit->kind)), value);
    }
}

/* "Ochre 0.05 % of the wax". */
static void
add_share (WbPlanView *self,
           const char *label,
           const char *name,
           double      share_pct)
{
  g_autofree char *number = isnan (share_pct) ? g_strdup ("?") : wb_number_format_trimmed (share_pct, 4, NULL);
  g_autofree char *value = g_strdup_printf (_("%s %s\302\240%% of the wax"), name, number);

  wb_fact_list_add (self->facts, label, value);
}

/* The grid names sizes alone where all are of one series. */
static void
add_series (WbPlanView      *self,
            const WbDataset *data)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < data->cells->len; i++)
    {
      const WbWick *wick = wb_dataset_get_wick (data, i);

      if (!wb_dataset_get_cell (data, i)->left_out && g_hash_table_add (seen, wick->series))
        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", wick->series);
    }
  if (names->len > 0)
    wb_fact_list_add (self->facts, _("Series of the wicks"), names->str);
}

static void
show_facts (WbPlanView      *self,
            const WbDataset *data)
{
  wb_fact_list_clear (self->facts);
  if (data->wax != NULL)
    wb_fact_list_add (self->facts, _("Wax"), data->wax->name);
  add_series (self, data);
  if (data->dye != NULL)
    add_share (self, _("Dye"), data->dye->name, data->experiment->dye_pct);
  if (data->additive != NULL)
    add_share (self, _("Additive"), data->additive->name, data->experiment->additive_pct);
  if (data->experiment->note != NULL)
    wb_fact_list_add (self->facts, _("Note"), data->experiment->note);
}

static void
show_summary (WbPlanView      *self,
              const WbDataset *data)
{
  guint n_cells = 0, n_poured = 0;
  g_autofree char *samples = g_strdup_printf (ngettext ("%u sample", "%u samples", data->samples->len), data->samples->len);
  g_autofree char *cells = NULL;
  g_autofree char *key = wb_plan_words_dup_code_key (data);
  g_autofree char *text = NULL;

  for (guint i = 0; i < data->cells->len; i++)
    n_cells += !wb_dataset_get_cell (data, i)->left_out;
  for (guint i = 0; i < data->samples->len; i++)
    n_poured += wb_dataset_get_sample (data, i)->poured_on != WB_DAY_NONE;
  cells = g_strdup_printf (ngettext ("%u combination", "%u combinations", n_cells), n_cells);
  /* Translators: "12 samples of 4 combinations, 6 of them poured". */
  text = n_poured > 0 ? g_strdup_printf (_("%s of %s, %u of them poured"), samples, cells, n_poured)
                      : g_strdup_printf (_("%s of %s, none poured yet"), samples, cells);
  if (key != NULL)
    {
      g_autofree char *both = g_strdup_printf ("%s\n%s", text, key);

      gtk_label_set_text (self->summary, both);
    }
  else
    gtk_label_set_text (self->summary, text);
}

static void
wb_plan_view_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_PLAN_VIEW);
  G_OBJECT_CLASS (wb_plan_view_parent_class)->dispose (object);
}

static void
wb_plan_view_class_init (WbPlanViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BENCH_PLAN_VIEW);
  g_type_ensure (WB_TYPE_CELL_GRID);
  g_type_ensure (WB_TYPE_FACT_LIST);
  G_OBJECT_CLASS (klass)->dispose = wb_plan_view_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "plan-view.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, title);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, question);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, repeated);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, facts);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, summary);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, cells);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, bench);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, protocol);
  gtk_widget_class_bind_template_child (widget_class, WbPlanView, limits);
}

static void
wb_plan_view_init (WbPlanView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
wb_plan_view_show (WbPlanView      *self,
                   const WbDataset *data,
                   gboolean         us_units)
{
  const char *question;

  g_return_if_fail (WB_IS_PLAN_VIEW (self));
  g_return_if_fail (data != NULL);

  question = data->experiment->question;
  gtk_label_set_text (self->title, data->experiment->title);
  gtk_label_set_text (self->question, question != NULL ? question : "");
  gtk_widget_set_visible (GTK_WIDGET (self->question), question != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->repeated), FALSE);
  show_facts (self, data);
  show_summary (self, data);
  wb_plan_cells_fill_with_codes (self->cells, data);
  show_protocol (self, data->protocol, us_units);
  show_limits (self, data->limits, us_units);
}

void
wb_plan_view_show_bench (WbPlanView    *self,
                         WbAppNotebook *notebook,
                         gint64         experiment)
{
  g_return_if_fail (WB_IS_PLAN_VIEW (self));
  wb_bench_plan_view_set (self->bench, notebook, experiment);
}

void
wb_plan_view_show_repeated (WbPlanView      *self,
                            const WbDataset *data,
                            const WbDataset *repeated)
{
  g_autoptr (WbCraftPlanned) before = NULL;
  g_autoptr (WbCraftPlanned) after = NULL;
  g_autoptr (GPtrArray) changes = NULL;
  g_autofree char *words = NULL;
  g_autofree char *warning = NULL;

  g_return_if_fail (WB_IS_PLAN_VIEW (self));
  g_return_if_fail (data != NULL && repeated != NULL);

  before = wb_craft_planned_of_data (repeated);
  after = wb_craft_planned_of_data (data);
  changes = wb_craft_repeat_compare (before, after);
  words = wb_craft_repeat_dup_words (changes, repeated->experiment->code);
  warning = wb_craft_repeat_dup_warning (changes);
  if (warning != NULL)
    {
      g_autofree char *both = g_strdup_printf ("%s %s", words, warning);

      gtk_label_set_text (self->repeated, both);
    }
  else
    gtk_label_set_text (self->repeated, words);
  gtk_widget_set_visible (GTK_WIDGET (self->repeated), TRUE);
}
