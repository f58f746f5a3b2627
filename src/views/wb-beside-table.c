/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-beside-table.h"

#include "wb-beside-order-private.h"
#include "wb-craft-beside-conditions.h"
#include "wb-figure-words.h"
#include "wb-plot-beside.h"
#include "wb-swatch.h"

#include <glib/gi18n.h>

/* CSS node: besidetable. */

struct _WbBesideTable
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *box;
  GtkLabel     *none;
  WbTextTable  *table;

  /* owned */
  GCancellable *cancellable; /* NULL: nothing is on its way */

  /* state */
  gboolean      us_units;
};

G_DEFINE_FINAL_TYPE (WbBesideTable, wb_beside_table, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_READY, N_PROPS };
static GParamSpec *properties[N_PROPS];

/* "2.4 h", then its range, then what is said of it against the others. Caller frees. */
static char *
dup_cell (const WbCraftBesideRow    *row,
          const WbCraftBesideFigure *figure,
          gboolean                   us_units)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *value = NULL, *range = NULL;
  const char *label = wb_craft_beside_mark_get_label (figure->mark);

  if (figure->lack != NULL)
    g_string_append (text, figure->lack);
  else
    {
      value = wb_figure_words_dup_value (row->figure, figure->interval.value, us_units);
      range = wb_figure_words_dup_range (row->figure, figure->interval, us_units);
      g_string_append (text, value);
      if (*range != '\0')
        g_string_append_printf (text, "\n%s", range);
      if (figure->beyond)
        g_string_append_printf (text, "\n%s", wb_craft_beside_get_beyond_wall ());
    }
  if (figure->mark == WB_CRAFT_BESIDE_NOT_READ || *label == '\0')
    return g_string_free (g_steal_pointer (&text), FALSE);
  g_string_append_printf (text, "\n%s", label);
  if (figure->why != NULL && *figure->why != '\0')
    g_string_append_printf (text, ": %s", figure->why);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
add_row (WbBesideTable          *self,
         const WbCraftBesideRow *row,
         gsize                   n)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) cells = NULL;

  g_strv_builder_add (builder, row->label);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *cell = dup_cell (row, &row->figures[i], self->us_units);

      g_strv_builder_add (builder, cell);
    }
  cells = g_strv_builder_end (builder);
  wb_text_table_add_row (self->table, (const char *const *) cells);
  for (gsize i = 0; i < n; i++)
    if (row->figures[i].mark == WB_CRAFT_BESIDE_BETTER)
      wb_text_table_stress (self->table, (guint) i + 1);
}

/* Before any figure: what is out, and why. */
static void
add_verdicts (WbBesideTable       *self,
              const WbCraftBeside *beside)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) cells = NULL;

  g_strv_builder_add (builder, _("Verdict and limits"));
  g_strv_builder_addv (builder, (const char **) beside->verdicts);
  cells = g_strv_builder_end (builder);
  wb_text_table_add_row (self->table, (const char *const *) cells);
}

/* In what they differ beside the wick, which their names tell. */
static void
add_unlike (WbBesideTable       *self,
            const WbCraftBeside *beside)
{
  for (guint i = 1; beside->n_picks > 1 && i < beside->conditions->len; i++)
    {
      const WbCraftBesideCondition *condition = g_ptr_array_index (beside->conditions, i);
      g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
      g_auto (GStrv) cells = NULL;
      g_autofree char *head = NULL;

      if (condition->likeness != WB_CRAFT_BESIDE_IS_UNLIKE)
        continue;
      /* Translators: a condition in which candles differ, "vessel" */
      head = g_strdup_printf (_("Unlike: %s"), condition->label);
      g_strv_builder_add (builder, head);
      g_strv_builder_addv (builder, (const char **) condition->values);
      cells = g_strv_builder_end (builder);
      wb_text_table_add_row (self->table, (const char *const *) cells);
    }
}

static void
fill (WbBesideTable       *self,
      const WbCraftBeside *beside,
      const WbBesideOrder *order)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) heads = NULL;

  wb_text_table_clear (self->table);
  gtk_label_set_text (self->none, beside->n_rows == 0 ? _("Nothing that can be compared was read of these.") : "");
  gtk_widget_set_visible (GTK_WIDGET (self->none), beside->n_rows == 0);
  if (beside->n_rows == 0)
    return;
  g_strv_builder_add (builder, _("Figure"));
  g_strv_builder_addv (builder, (const char **) beside->names);
  heads = g_strv_builder_end (builder);
  wb_text_table_set_heads (self->table, (const char *const *) heads);
  for (gsize i = 0; i < beside->n_picks; i++)
    wb_text_table_add_to_head (self->table, (guint) i + 1, wb_swatch_new (wb_plot_beside_get_series (order->picks, order->n, i)));
  add_verdicts (self, beside);
  add_unlike (self, beside);
  for (guint i = 0; i < beside->n_rows; i++)
    add_row (self, &beside->rows[i], beside->n_picks);
}

static void
work_out (GTask        *task,
          gpointer      source,
          gpointer      data,
          GCancellable *cancellable)
{
  const WbBesideOrder *order = data;

  g_task_return_pointer (task, wb_craft_beside_new (order->picks, order->n), (GDestroyNotify) wb_craft_beside_free);
}

static void
on_worked_out_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftBeside) beside = g_task_propagate_pointer (G_TASK (result), &error);
  WbBesideTable *self = WB_BESIDE_TABLE (source);

  /* Others were asked for since. */
  if (self->box == NULL || self->cancellable != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->cancellable);
  if (beside != NULL)
    fill (self, beside, g_task_get_task_data (G_TASK (result)));
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
}

static void
stop (WbBesideTable *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
wb_beside_table_get_property (GObject    *object,
                              guint       id,
                              GValue     *value,
                              GParamSpec *spec)
{
  if (id == PROP_READY)
    g_value_set_boolean (value, wb_beside_table_get_ready (WB_BESIDE_TABLE (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_beside_table_dispose (GObject *object)
{
  WbBesideTable *self = WB_BESIDE_TABLE (object);

  stop (self);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_beside_table_parent_class)->dispose (object);
}

static void
wb_beside_table_class_init (WbBesideTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->get_property = wb_beside_table_get_property;
  G_OBJECT_CLASS (klass)->dispose = wb_beside_table_dispose;
  properties[PROP_READY] = g_param_spec_boolean ("ready", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "besidetable");
}

static void
wb_beside_table_init (WbBesideTable *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->none = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "visible", FALSE, NULL);
  self->table = WB_TEXT_TABLE (wb_text_table_new (_("Figures side by side")));
  wb_text_table_fill_place (self->table);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->none));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->table));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_beside_table_new (void)
{
  return g_object_new (WB_TYPE_BESIDE_TABLE, NULL);
}

void
wb_beside_table_show (WbBesideTable     *self,
                      const WbCraftPick *picks,
                      gsize              n_picks,
                      gboolean           us_units)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (WB_IS_BESIDE_TABLE (self));
  g_return_if_fail (n_picks == 0 || picks != NULL);

  stop (self);
  self->us_units = us_units;
  if (n_picks == 0)
    {
      wb_text_table_clear (self->table);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
      return;
    }
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_worked_out_cb, NULL);
  g_task_set_task_data (task, wb_beside_order_new (picks, n_picks), (GDestroyNotify) wb_beside_order_free);
  g_task_run_in_thread (task, work_out);
}

gboolean
wb_beside_table_get_ready (WbBesideTable *self)
{
  g_return_val_if_fail (WB_IS_BESIDE_TABLE (self), FALSE);
  return self->cancellable == NULL;
}

WbTextTable *
wb_beside_table_get_table (WbBesideTable *self)
{
  g_return_val_if_fail (WB_IS_BESIDE_TABLE (self), NULL);
  return self->table;
}
