/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-fields.h"

#include "wb-bench-words.h"
#include "wb-focus-walk.h"
#include "wb-reading-field.h"
#include "wb-shortcut.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>

#define LABEL_CHARS 13
#define LAST_CHARS 9

struct _WbReadingFields
{
  GtkWidget         parent_instance;

  /* children */
  GtkGrid          *grid;
  GtkLabel         *last[WB_N_COLUMNS];  /* beside the field; NULL: the field is not shown */

  /* owned */
  WbAppBenchSample *sample;
  GtkWidget        *field[WB_N_COLUMNS]; /* WbReadingField, kept from moment to moment; NULL: not made yet */
  GPtrArray        *chain;               /* what Enter goes through; borrowed */

  /* state */
  WbAppAsk          ask;
  WbBurnKind        kind;                /* of the burn that is to be lit */
  int               n_lines;
  gboolean          us_units;
};

G_DEFINE_FINAL_TYPE (WbReadingFields, wb_reading_fields, GTK_TYPE_WIDGET)

enum { DONE, CHANGED, FINISHED, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static WbReadingField *
get_field (WbReadingFields *self,
           WbColumn         column)
{
  return WB_READING_FIELD (self->field[column]);
}

static gboolean
is_touched (WbReadingFields *self,
            WbColumn         column)
{
  return self->field[column] != NULL && wb_reading_field_get_touched (get_field (self, column));
}

static void
on_field_changed_cb (WbReadingFields *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_field_finished_cb (WbReadingFields *self)
{
  g_signal_emit (self, signals[FINISHED], 0);
}

static void
on_field_told_cb (WbReadingFields *self)
{
  g_signal_emit (self, signals[TOLD], 0);
}

static void
on_field_activate_cb (WbReadingFields *self,
                      WbReadingField  *field)
{
  guint at;

  if (!wb_reading_field_check (field))
    return;
  if (g_ptr_array_find (self->chain, field, &at) && at + 1 < self->chain->len)
    gtk_widget_grab_focus (g_ptr_array_index (self->chain, at + 1));
  else
    g_signal_emit (self, signals[DONE], 0);
}

/* On to the next line that is asked; in the last the keyboard stays, and Enter saves. */
static void
on_field_rated_cb (WbReadingFields *self,
                   WbReadingField  *field)
{
  guint at;

  if (g_ptr_array_find (self->chain, field, &at) && at + 1 < self->chain->len)
    gtk_widget_grab_focus (g_ptr_array_index (self->chain, at + 1));
}

/* As last time: taken over, and on to the next. */
static void
on_field_again_cb (WbReadingFields *self,
                   WbReadingField  *field)
{
  double values[WB_N_COLUMNS];

  if (!wb_app_bench_sample_get_last_values (self->sample, wb_reading_field_get_column (field), values))
    {
      gtk_widget_error_bell (GTK_WIDGET (self));
      return;
    }
  wb_reading_field_take (field, values);
  g_signal_emit (self, signals[FINISHED], 0);
  on_field_rated_cb (self, field);
}

static double
widest_mm (const WbVessel *vessel)
{
  if (vessel->shape != WB_SHAPE_ROUND && vessel->inner_width_mm > vessel->inner_diameter_mm)
    return vessel->inner_width_mm;
  return vessel->inner_diameter_mm;
}

static WbReadingField *
ensure_field (WbReadingFields *self,
              WbColumn         column)
{
  GtkWidget *field = self->field[column];

  if (field != NULL)
    return WB_READING_FIELD (field);
  field = wb_reading_field_new (column, widest_mm (wb_app_bench_sample_get_vessel (self->sample)), self->us_units);
  gtk_widget_set_hexpand (field, TRUE);
  g_signal_connect_object (field, "changed", G_CALLBACK (on_field_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "finished", G_CALLBACK (on_field_finished_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "activate", G_CALLBACK (on_field_activate_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "told", G_CALLBACK (on_field_told_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "rated", G_CALLBACK (on_field_rated_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "again", G_CALLBACK (on_field_again_cb), self, G_CONNECT_SWAPPED);
  wb_reading_field_set_told_elsewhere (WB_READING_FIELD (field), TRUE);
  self->field[column] = g_object_ref_sink (field);
  return WB_READING_FIELD (field);
}

static GtkWidget *
label_new (const char *text,
           int         chars,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "valign", GTK_ALIGN_START,
                                   "wrap", TRUE,
                                   "width-chars", chars,
                                   "max-width-chars", chars,
                                   NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

/* What the line is about, and by which key the hand comes to it. */
static GtkWidget *
line_label_new (WbReadingFields *self,
                WbColumn         column)
{
  gboolean glow = self->ask == WB_APP_ASK_AFTER_SNUFFING && column == WB_COLUMN_EVENT_S;
  GtkWidget *label = label_new (glow ? _("It glowed for") : wb_reading_field_get_label (get_field (self, column)), LABEL_CHARS,
                                "fieldlabel");
  g_autofree char *action = g_strdup_printf ("page.also::%s", wb_column_get_spec (column)->name);
  g_autofree char *keys = wb_shortcut_dup_label (action);

  wb_tooltip_set (label, keys);
  return label;
}

static void
add_line (WbReadingFields *self,
          WbColumn         column)
{
  WbReadingField *field = ensure_field (self, column);
  GtkWidget *last = label_new ("", LAST_CHARS, "lastvalue");

  gtk_widget_add_css_class (last, "numeric");
  gtk_grid_attach (self->grid, line_label_new (self, column), 0, self->n_lines, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (field), 1, self->n_lines, 1, 1);
  gtk_grid_attach (self->grid, last, 2, self->n_lines++, 1, 1);
  self->last[column] = GTK_LABEL (last);
}

/* Any way to read the pool is one field. */
static WbColumn
field_column (int column)
{
  return column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM ? WB_COLUMN_POOL_MM : (WbColumn) column;
}

static gboolean
is_throw_round (WbReadingFields *self)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (self->sample);

  return burn != NULL && burn->kind == WB_BURN_THROW && (self->ask == WB_APP_ASK_ROUND || self->ask == WB_APP_ASK_BEFORE_SNUFFING);
}

/* A burn for the throw asks for it, whatever the protocol says of the other burns; first, as a nose tires in the room. */
static void
ask_throw (WbReadingFields *self,
           GArray          *columns)
{
  static const int stated[] = { WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND };
  static const int rated[] = { WB_COLUMN_THROW };

  if (self->ask == WB_APP_ASK_LIGHTING && self->kind == WB_BURN_THROW)
    g_array_append_vals (columns, stated, G_N_ELEMENTS (stated));
  else if (is_throw_round (self))
    g_array_prepend_vals (columns, rated, G_N_ELEMENTS (rated));
}

static void
add_asked (WbReadingFields *self)
{
  g_autoptr (GArray) columns = wb_app_bench_dup_asked (wb_app_bench_sample_get_protocol (self->sample), self->ask);

  ask_throw (self, columns);

  for (guint i = 0; i < columns->len; i++)
    {
      int asked = g_array_index (columns, int, i);
      WbColumn column = field_column (asked);

      if (self->last[column] == NULL)
        {
          add_line (self, column);
          g_ptr_array_add (self->chain, self->field[column]);
        }
      if (asked == WB_COLUMN_POOL_B_MM)
        wb_reading_field_ask_two (get_field (self, column));
      if (asked == WB_COLUMN_RING_12_MM)
        wb_reading_field_ask_ring (get_field (self, column));
    }
  /* The program knows it, and the person can say otherwise: shown, and passed over by Enter. */
  if (is_throw_round (self) && self->last[WB_COLUMN_ALONE] == NULL)
    add_line (self, WB_COLUMN_ALONE);
}

static void
add_touched (WbReadingFields *self)
{
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (column != WB_COLUMN_EVENT && column != WB_COLUMN_EVENT_S && self->last[column] == NULL && is_touched (self, column))
      add_line (self, column);
}

/* What happened, and once something did, for how long. */
static void
add_event (WbReadingFields *self)
{
  if (self->ask == WB_APP_ASK_LIGHTING)
    return;
  if (self->last[WB_COLUMN_EVENT] == NULL)
    add_line (self, WB_COLUMN_EVENT);
  if (self->last[WB_COLUMN_EVENT_S] == NULL && is_touched (self, WB_COLUMN_EVENT))
    add_line (self, WB_COLUMN_EVENT_S);
}

static void
on_event_changed_cb (WbReadingFields *self)
{
  if (self->last[WB_COLUMN_EVENT] != NULL)
    add_event (self);
  g_signal_emit (self, signals[FINISHED], 0);
}

static gboolean
wb_reading_fields_grab_focus (GtkWidget *widget)
{
  return wb_reading_fields_focus_first (WB_READING_FIELDS (widget));
}

static void
wb_reading_fields_dispose (GObject *object)
{
  WbReadingFields *self = WB_READING_FIELDS (object);

  g_ptr_array_set_size (self->chain, 0);
  memset (self->last, 0, sizeof self->last);
  if (self->grid != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->grid));
  self->grid = NULL;
  for (int column = 0; column < WB_N_COLUMNS; column++)
    g_clear_object (&self->field[column]);
  g_clear_object (&self->sample);
  G_OBJECT_CLASS (wb_reading_fields_parent_class)->dispose (object);
}

static void
wb_reading_fields_finalize (GObject *object)
{
  g_ptr_array_unref (WB_READING_FIELDS (object)->chain);
  G_OBJECT_CLASS (wb_reading_fields_parent_class)->finalize (object);
}

static void
wb_reading_fields_class_init (WbReadingFieldsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_reading_fields_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_reading_fields_finalize;
  widget_class->grab_focus = wb_reading_fields_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[DONE] = g_signal_new ("done", WB_TYPE_READING_FIELDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_READING_FIELDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FINISHED] = g_signal_new ("finished", WB_TYPE_READING_FIELDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_READING_FIELDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
wb_reading_fields_init (WbReadingFields *self)
{
  self->chain = g_ptr_array_new ();
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_row_spacing (self->grid, 5);
  gtk_grid_set_column_spacing (self->grid, 8);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
}

GtkWidget *
wb_reading_fields_new (WbAppBenchSample *sample,
                       gboolean          us_units)
{
  WbReadingFields *self;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  self = g_object_new (WB_TYPE_READING_FIELDS, NULL);
  self->sample = g_object_ref (sample);
  self->us_units = us_units;
  g_signal_connect_object (ensure_field (self, WB_COLUMN_EVENT), "changed", G_CALLBACK (on_event_changed_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
wb_reading_fields_set_ask (WbReadingFields *self,
                           WbAppAsk         ask)
{
  GtkWidget *child;

  g_return_if_fail (WB_IS_READING_FIELDS (self));

  self->ask = ask;
  self->n_lines = 0;
  g_ptr_array_set_size (self->chain, 0);
  memset (self->last, 0, sizeof self->last);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))) != NULL)
    gtk_grid_remove (self->grid, child);
  add_asked (self);
  add_touched (self);
  add_event (self);
  wb_reading_fields_update (self);
}

void
wb_reading_fields_set_kind (WbReadingFields *self,
                            WbBurnKind       kind)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  self->kind = kind;
}

void
wb_reading_fields_propose (WbReadingFields *self,
                           WbColumn         column,
                           double           value)
{
  double values[WB_N_COLUMNS];

  g_return_if_fail (WB_IS_READING_FIELDS (self));
  if (self->last[column] == NULL || is_touched (self, column))
    return;
  wb_reading_field_get_values (get_field (self, column), values);
  if (isnan (values[column]) && !isnan (value))
    wb_reading_field_set_value (get_field (self, column), value);
}

void
wb_reading_fields_ask_also (WbReadingFields *self,
                            WbColumn         column)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  g_return_if_fail (column < WB_N_COLUMNS);

  if (column == WB_COLUMN_RING_12_MM)
    wb_reading_field_ask_ring (ensure_field (self, field_column (column)));
  column = field_column (column);
  if (self->last[column] == NULL)
    add_line (self, column);
  wb_reading_fields_update (self);
  gtk_widget_grab_focus (self->field[column]);
}

void
wb_reading_fields_update (WbReadingFields *self)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->last[column] != NULL && column != WB_COLUMN_EVENT && column != WB_COLUMN_EVENT_S)
      {
        g_autofree char *last = wb_bench_words_dup_last (self->sample, (WbColumn) column, self->us_units);

        if (!g_str_equal (gtk_label_get_text (self->last[column]), last))
          gtk_label_set_text (self->last[column], last);
      }
}

void
wb_reading_fields_get_values (WbReadingFields *self,
                              double           values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));

  for (int column = 0; column < WB_N_COLUMNS; column++)
    values[column] = NAN;
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->field[column] != NULL)
      wb_reading_field_get_values (get_field (self, column), values);
  /* A time alone, after the snuffer: how long it glowed. */
  if (self->ask == WB_APP_ASK_AFTER_SNUFFING && isnan (values[WB_COLUMN_EVENT]) && !isnan (values[WB_COLUMN_EVENT_S]))
    values[WB_COLUMN_EVENT] = WB_EVENT_AFTERGLOW;
  if (isnan (values[WB_COLUMN_EVENT]))
    values[WB_COLUMN_EVENT_S] = NAN;
}

GtkWidget *
wb_reading_fields_check (WbReadingFields *self)
{
  GtkWidget *first = NULL;

  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  for (guint i = 0; i < self->chain->len; i++)
    if (!wb_reading_field_check (g_ptr_array_index (self->chain, i)) && first == NULL)
      first = g_ptr_array_index (self->chain, i);
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->last[column] != NULL && !wb_reading_field_check (get_field (self, column)) && first == NULL)
      first = self->field[column];
  return first;
}

char *
wb_reading_fields_dup_problem (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  for (int column = 0; column < WB_N_COLUMNS; column++)
    {
      const char *problem = self->last[column] != NULL ? wb_reading_field_get_problem (get_field (self, (WbColumn) column)) : NULL;

      if (problem != NULL)
        return g_strdup_printf ("%s: %s", wb_reading_field_get_label (get_field (self, (WbColumn) column)), problem);
    }
  return NULL;
}

gboolean
wb_reading_fields_get_touched (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), FALSE);
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (is_touched (self, column))
      return TRUE;
  return FALSE;
}

gboolean
wb_reading_fields_focus_first (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), FALSE);
  /* After the snuffer there is one question that does not wait: how long it glows. */
  if (self->ask == WB_APP_ASK_AFTER_SNUFFING && self->last[WB_COLUMN_EVENT_S] != NULL
      && wb_app_bench_sample_get_last (self->sample, WB_COLUMN_EVENT) == WB_EVENT_SNUFFED)
    return gtk_widget_grab_focus (self->field[WB_COLUMN_EVENT_S]);
  return self->chain->len > 0 && gtk_widget_grab_focus (g_ptr_array_index (self->chain, 0));
}

void
wb_reading_fields_open_event (WbReadingFields *self)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  if (self->last[WB_COLUMN_EVENT] != NULL)
    wb_reading_field_open (get_field (self, WB_COLUMN_EVENT));
}

GtkWidget *
wb_reading_fields_get_field (WbReadingFields *self,
                             WbColumn         column)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  column = field_column (column);
  return self->last[column] != NULL ? self->field[column] : NULL;
}
