/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-fields-private.h"

#include "wb-bench-words.h"
#include "wb-focus-walk.h"
#include "wb-shortcut.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>

#define LABEL_CHARS 13
#define LAST_CHARS 9
/* Translators: one letter to be typed where it is asked at which wick: at all of them. */
#define ALL_WICKS _("A")

G_DEFINE_FINAL_TYPE (WbReadingFields, wb_reading_fields, GTK_TYPE_WIDGET)

enum { DONE, CHANGED, FINISHED, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

WbReadingField *
wb_reading_fields_peek (WbReadingFields *self,
                        guint            wick,
                        WbColumn         column)
{
  return WB_READING_FIELD (self->slots[wick][column].field);
}

gboolean
wb_reading_fields_is_shown (WbReadingFields *self,
                            guint            wick,
                            WbColumn         column)
{
  return self->slots[wick][column].last != NULL;
}

gboolean
wb_reading_fields_is_touched (WbReadingFields *self,
                              guint            wick,
                              WbColumn         column)
{
  return self->slots[wick][column].field != NULL && wb_reading_field_get_touched (wb_reading_fields_peek (self, wick, column));
}

/* What was said of a field that could not be as last time goes with the next step. */
static void
forget_untaken (WbReadingFields *self)
{
  if (self->untaken == NULL)
    return;
  self->untaken = NULL;
  g_signal_emit (self, signals[TOLD], 0);
}

static void
on_field_changed_cb (WbReadingFields *self)
{
  forget_untaken (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_field_finished_cb (WbReadingFields *self)
{
  forget_untaken (self);
  g_signal_emit (self, signals[FINISHED], 0);
}

static void
on_field_told_cb (WbReadingFields *self)
{
  g_signal_emit (self, signals[TOLD], 0);
}

static gboolean
is_event_of_wick (WbReadingFields *self)
{
  double values[WB_N_COLUMNS];

  wb_reading_field_get_values (wb_reading_fields_peek (self, 0, WB_COLUMN_EVENT), values);
  return wb_event_is_of_wick (values[WB_COLUMN_EVENT]);
}

/* Left unsaid it would put out a whole candle of which one flame still burns. */
void
wb_reading_fields_ask_wick (WbReadingFields *self)
{
  if (self->slots[0][WB_COLUMN_WICK_NUMBER].field != NULL)
    wb_reading_field_ask_which (wb_reading_fields_peek (self, 0, WB_COLUMN_WICK_NUMBER), is_event_of_wick (self), ALL_WICKS);
}

/* Of several wicks it is asked at which it happened, before Enter saves. */
static gboolean
go_to_wick (WbReadingFields *self,
            WbReadingField  *field)
{
  return wb_reading_field_get_column (field) == WB_COLUMN_EVENT && wb_reading_fields_is_shown (self, 0, WB_COLUMN_WICK_NUMBER)
         && is_event_of_wick (self) && !wb_reading_fields_is_touched (self, 0, WB_COLUMN_WICK_NUMBER) && gtk_widget_grab_focus (self->slots[0][WB_COLUMN_WICK_NUMBER].field);
}

/* From there on to how long it lasted, where that is asked. */
static gboolean
go_on_from_wick (WbReadingFields *self,
                 WbReadingField  *field)
{
  GtkWidget *event_s = self->slots[0][WB_COLUMN_EVENT_S].field;

  return wb_reading_field_get_column (field) == WB_COLUMN_WICK_NUMBER && g_ptr_array_find (self->chain, event_s, NULL)
         && gtk_widget_grab_focus (event_s);
}

static void
on_field_activate_cb (WbReadingFields *self,
                      WbReadingField  *field)
{
  guint at;

  if (!wb_reading_field_check (field) || go_to_wick (self, field) || go_on_from_wick (self, field))
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

/* One room, however many candles burn in it: what was read of it with another is as good. */
static gboolean
take_of_evening (WbReadingFields *self,
                 WbColumn         column,
                 double           values[WB_N_COLUMNS])
{
  values[column] = column == WB_COLUMN_ROOM_C ? self->room_c : column == WB_COLUMN_DRAUGHT ? self->draught : NAN;
  return !isnan (values[column]);
}

/* As last time: taken over, and on to the next. */
static void
on_field_again_cb (WbReadingFields *self,
                   WbReadingField  *field)
{
  WbColumn column = wb_reading_field_get_column (field);
  guint wick = wb_reading_field_get_wick (field);
  double values[WB_N_COLUMNS];
  gboolean taken;

  if (wick > 0)
    {
      values[column] = wb_app_bench_sample_get_wick_last (self->sample, wick, column, NULL);
      taken = !isnan (values[column]);
    }
  else
    {
      taken = wb_app_bench_sample_get_last_values (self->sample, column, values) || take_of_evening (self, column, values);
    }
  if (!taken)
    {
      gtk_widget_error_bell (GTK_WIDGET (self));
      self->untaken = wb_reading_field_get_label (field);
      g_signal_emit (self, signals[TOLD], 0);
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

static void on_event_changed_cb (WbReadingFields *self);

WbReadingField *
wb_reading_fields_ensure (WbReadingFields *self,
                          guint            wick,
                          WbColumn         column)
{
  GtkWidget *field = self->slots[wick][column].field;

  if (field != NULL)
    return WB_READING_FIELD (field);
  field = wb_reading_field_new (column, wick, self->widest_mm, self->us_units);
  gtk_widget_set_hexpand (field, TRUE);
  g_signal_connect_object (field, "changed", G_CALLBACK (on_field_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "finished", G_CALLBACK (on_field_finished_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "activate", G_CALLBACK (on_field_activate_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "told", G_CALLBACK (on_field_told_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "rated", G_CALLBACK (on_field_rated_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (field, "again", G_CALLBACK (on_field_again_cb), self, G_CONNECT_SWAPPED);
  if (column == WB_COLUMN_EVENT)
    g_signal_connect_object (field, "changed", G_CALLBACK (on_event_changed_cb), self, G_CONNECT_SWAPPED);
  if (column == WB_COLUMN_WICK_NUMBER)
    wb_reading_field_set_maximum (WB_READING_FIELD (field), self->n_wicks);
  wb_reading_field_set_told_elsewhere (WB_READING_FIELD (field), TRUE);
  self->slots[wick][column].field = g_object_ref_sink (field);
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

/* Its column has a line above already. */
static gboolean
is_told_above (WbReadingFields     *self,
               const WbReadingLine *line)
{
  for (guint wick = 1; wick < line->wick; wick++)
    if (wb_reading_fields_is_shown (self, wick, line->column))
      return TRUE;
  return FALSE;
}

/* Of several wicks the first line has the words, the others below it the number alone. Caller frees. */
static char *
dup_line_words (WbReadingFields *self,
                const WbReadingLine *line)
{
  if (line->glow)
    return g_strdup (_("It glowed for"));
  if (line->column == WB_COLUMN_WICK_NUMBER)
    return g_strdup_printf (_("At wick (1 to %u; %s: all)"), self->n_wicks, ALL_WICKS);
  if (is_told_above (self, line))
    return g_strdup_printf (_("wick %u"), line->wick);
  return g_strdup (wb_reading_field_get_label (wb_reading_fields_peek (self, line->wick, line->column)));
}

/* What the line is about, and by which key the hand comes to it. */
static GtkWidget *
line_label_new (WbReadingFields *self,
                const WbReadingLine *line)
{
  g_autofree char *words = dup_line_words (self, line);
  GtkWidget *label = label_new (words, LABEL_CHARS, "fieldlabel");
  g_autofree char *action = g_strdup_printf ("page.also::%s", wb_column_get_spec (line->column)->name);
  g_autofree char *keys = wb_shortcut_dup_label (action);

  if (is_told_above (self, line))
    {
      gtk_label_set_xalign (GTK_LABEL (label), 1.0);
      gtk_widget_set_hexpand (label, FALSE);
    }
  wb_tooltip_set (label, keys);
  return label;
}

static void
add_line (WbReadingFields *self,
          const WbReadingLine      *line)
{
  WbReadingField *field = wb_reading_fields_ensure (self, line->wick, line->column);
  GtkWidget *last = label_new ("", LAST_CHARS, "lastvalue");
  int at = (int) self->lines->len;

  gtk_widget_add_css_class (last, "numeric");
  gtk_grid_attach (self->grid, line_label_new (self, line), 0, at, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (field), 1, at, 1, 1);
  gtk_grid_attach (self->grid, last, 2, at, 1, 1);
  self->slots[line->wick][line->column].last = GTK_LABEL (last);
  if (line->asked)
    g_ptr_array_add (self->chain, field);
  g_array_append_val (self->lines, *line);
}

/* Ways to read the pool that the protocol asks for. */
static void
set_pool (WbReadingFields *self,
          const GArray    *columns)
{
  for (guint i = 0; i < columns->len; i++)
    {
      int asked = g_array_index (columns, int, i);

      if (asked == WB_COLUMN_POOL_B_MM)
        wb_reading_field_ask_two (wb_reading_fields_ensure (self, 0, wb_reading_fields_column (asked)));
      if (asked == WB_COLUMN_RING_12_MM)
        wb_reading_field_ask_ring (wb_reading_fields_ensure (self, 0, wb_reading_fields_column (asked)));
    }
}

static void
on_event_changed_cb (WbReadingFields *self)
{
  g_autoptr (GArray) plan = NULL;

  if (wb_reading_fields_is_shown (self, 0, WB_COLUMN_EVENT))
    {
      plan = wb_reading_fields_plan_new ();
      wb_reading_fields_plan_event (self, plan);
      for (guint i = 0; i < plan->len; i++)
        {
          const WbReadingLine *line = &g_array_index (plan, WbReadingLine, i);

          if (!wb_reading_fields_is_shown (self, line->wick, line->column))
            add_line (self, line);
        }
      wb_reading_fields_ask_wick (self);
    }
  g_signal_emit (self, signals[FINISHED], 0);
}

static void
remove_lines (WbReadingFields *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->chain, 0);
  g_array_set_size (self->lines, 0);
  for (guint wick = 0; wick <= WB_MOST_WICKS; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      self->slots[wick][column].last = NULL;
  while (self->grid != NULL && (child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))) != NULL)
    gtk_grid_remove (self->grid, child);
}

static void
drop_fields (WbReadingFields *self)
{
  remove_lines (self);
  self->untaken = NULL;
  for (guint wick = 0; wick <= WB_MOST_WICKS; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      g_clear_object (&self->slots[wick][column].field);
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

  drop_fields (self);
  if (self->grid != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->grid));
  self->grid = NULL;
  g_clear_object (&self->sample);
  G_OBJECT_CLASS (wb_reading_fields_parent_class)->dispose (object);
}

static void
wb_reading_fields_finalize (GObject *object)
{
  g_ptr_array_unref (WB_READING_FIELDS (object)->chain);
  g_array_unref (WB_READING_FIELDS (object)->lines);
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
  self->lines = wb_reading_fields_plan_new ();
  self->n_wicks = 1;
  self->room_c = self->draught = NAN;
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_row_spacing (self->grid, 5);
  gtk_grid_set_column_spacing (self->grid, 8);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
}

GtkWidget *
wb_reading_fields_new (void)
{
  return g_object_new (WB_TYPE_READING_FIELDS, NULL);
}

void
wb_reading_fields_set_sample (WbReadingFields  *self,
                              WbAppBenchSample *sample,
                              gboolean          us_units)
{
  double widest;
  guint n_wicks;

  g_return_if_fail (WB_IS_READING_FIELDS (self));
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));

  g_set_object (&self->sample, sample);
  widest = widest_mm (wb_app_bench_sample_get_vessel (sample));
  n_wicks = wb_app_bench_sample_get_n_wicks (sample);
  /* Made for another size or unit they are made anew; else emptied, which is what an evening's turns are kept short by. */
  if (widest != self->widest_mm || us_units != self->us_units || n_wicks != self->n_wicks)
    drop_fields (self);
  self->widest_mm = widest;
  self->us_units = us_units;
  self->n_wicks = n_wicks;
  for (guint wick = 0; wick <= n_wicks; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      if (self->slots[wick][column].field != NULL)
        wb_reading_field_clear (wb_reading_fields_peek (self, wick, column));
}

void
wb_reading_fields_set_ask (WbReadingFields *self,
                           WbAppAsk         ask)
{
  g_autoptr (GArray) columns = NULL, plan = NULL;

  g_return_if_fail (WB_IS_READING_FIELDS (self) && self->sample != NULL);

  self->ask = ask;
  self->out = wb_app_bench_sample_get_wicks_out (self->sample);
  columns = wb_reading_fields_dup_asked (self);
  plan = wb_reading_fields_plan (self, columns);
  if (!wb_reading_fields_is_same_plan (plan, self->lines))
    {
      remove_lines (self);
      for (guint i = 0; i < plan->len; i++)
        add_line (self, &g_array_index (plan, WbReadingLine, i));
    }
  set_pool (self, columns);
  wb_reading_fields_update (self);
}

void
wb_reading_fields_set_evening (WbReadingFields *self,
                               double           room_c,
                               double           draught)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  self->room_c = room_c;
  self->draught = draught;
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
  if (!wb_reading_fields_is_shown (self, 0, column) || wb_reading_fields_is_touched (self, 0, column))
    return;
  wb_reading_field_get_values (wb_reading_fields_peek (self, 0, column), values);
  if (isnan (values[column]) && !isnan (value))
    wb_reading_field_set_value (wb_reading_fields_peek (self, 0, column), value);
}

void
wb_reading_fields_ask_also (WbReadingFields *self,
                            WbColumn         column)
{
  g_autoptr (GArray) plan = NULL;

  g_return_if_fail (WB_IS_READING_FIELDS (self));
  g_return_if_fail (column < WB_N_COLUMNS);

  if (column == WB_COLUMN_RING_12_MM)
    wb_reading_field_ask_ring (wb_reading_fields_ensure (self, 0, wb_reading_fields_column (column)));
  column = wb_reading_fields_column (column);
  plan = wb_reading_fields_plan_new ();
  wb_reading_fields_plan_column (self, plan, column, FALSE);
  for (guint i = 0; i < plan->len; i++)
    if (!wb_reading_fields_is_shown (self, g_array_index (plan, WbReadingLine, i).wick, column))
      add_line (self, &g_array_index (plan, WbReadingLine, i));
  wb_reading_fields_update (self);
  gtk_widget_grab_focus (self->slots[g_array_index (plan, WbReadingLine, 0).wick][column].field);
}

/* A wick went out, or was relit: nothing is moved under a hand that types. */
static void
follow_wicks (WbReadingFields *self)
{
  gboolean had_focus = (gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;

  if (self->out == wb_app_bench_sample_get_wicks_out (self->sample) || wb_reading_fields_get_touched (self))
    return;
  wb_reading_fields_set_ask (self, self->ask);
  if (had_focus)
    wb_reading_fields_focus_first (self);
}

void
wb_reading_fields_update (WbReadingFields *self)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  follow_wicks (self);
  for (guint i = 0; i < self->lines->len; i++)
    {
      const WbReadingLine *line = &g_array_index (self->lines, WbReadingLine, i);
      GtkLabel *label = self->slots[line->wick][line->column].last;
      g_autofree char *last = NULL;

      if (line->column == WB_COLUMN_EVENT || line->column == WB_COLUMN_EVENT_S || line->column == WB_COLUMN_WICK_NUMBER)
        continue;
      last = wb_bench_words_dup_last (self->sample, line->wick, line->column, self->us_units);
      if (!g_str_equal (gtk_label_get_text (label), last))
        gtk_label_set_text (label, last);
    }
}

gboolean
wb_reading_fields_focus_first (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), FALSE);
  /* After the snuffer there is one question that does not wait: how long it glows. */
  if (self->ask == WB_APP_ASK_AFTER_SNUFFING && wb_reading_fields_is_shown (self, 0, WB_COLUMN_EVENT_S)
      && wb_app_bench_sample_get_last (self->sample, WB_COLUMN_EVENT) == WB_EVENT_SNUFFED)
    return gtk_widget_grab_focus (self->slots[0][WB_COLUMN_EVENT_S].field);
  return self->chain->len > 0 && gtk_widget_grab_focus (g_ptr_array_index (self->chain, 0));
}

void
wb_reading_fields_say_event (WbReadingFields *self,
                             WbEvent          event)
{
  double values[WB_N_COLUMNS];

  g_return_if_fail (WB_IS_READING_FIELDS (self));
  if (!wb_reading_fields_is_shown (self, 0, WB_COLUMN_EVENT))
    return;
  values[WB_COLUMN_EVENT] = event;
  wb_reading_field_take (wb_reading_fields_peek (self, 0, WB_COLUMN_EVENT), values);
  go_to_wick (self, wb_reading_fields_peek (self, 0, WB_COLUMN_EVENT));
}

void
wb_reading_fields_open_event (WbReadingFields *self)
{
  g_return_if_fail (WB_IS_READING_FIELDS (self));
  if (wb_reading_fields_is_shown (self, 0, WB_COLUMN_EVENT))
    wb_reading_field_open (wb_reading_fields_peek (self, 0, WB_COLUMN_EVENT));
}

GtkWidget *
wb_reading_fields_get_wick_field (WbReadingFields *self,
                                  guint            wick,
                                  WbColumn         column)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  g_return_val_if_fail (wick <= WB_MOST_WICKS && column < WB_N_COLUMNS, NULL);
  column = wb_reading_fields_column (column);
  return wb_reading_fields_is_shown (self, wick, column) ? self->slots[wick][column].field : NULL;
}

GtkWidget *
wb_reading_fields_get_field (WbReadingFields *self,
                             WbColumn         column)
{
  GtkWidget *field = wb_reading_fields_get_wick_field (self, 0, column);

  return field != NULL ? field : wb_reading_fields_get_wick_field (self, 1, column);
}
