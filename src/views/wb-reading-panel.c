/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-panel-private.h"

#include "wb-accessible-name.h"
#include "wb-bench-words.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-problem.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: readingpanel. A group called by the sample's code. */

G_DEFINE_FINAL_TYPE (WbReadingPanel, wb_reading_panel, GTK_TYPE_WIDGET)

/* So much is seen above and below the field with the keyboard. */
#define AROUND_PX 24

enum { DONE, CHANGED, FINISHED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const struct
{
  const char *name;
  const char *title;
  gboolean    alight; /* asked while it burns */
} moments[] = {
  [WB_APP_ASK_LIGHTING] = { "lighting", N_("Lighting"), FALSE },
  [WB_APP_ASK_ROUND] = { "round", N_("Round"), TRUE },
  [WB_APP_ASK_BEFORE_SNUFFING] = { "before-snuffing", N_("Before snuffing"), TRUE },
  [WB_APP_ASK_AFTER_SNUFFING] = { "after-snuffing", N_("After snuffing"), FALSE },
  [WB_APP_ASK_NEXT_DAY] = { "next-day", N_("Next day"), FALSE },
};

static gboolean
is_alight (WbReadingPanel *self)
{
  return wb_app_bench_sample_get_state (self->sample) == WB_APP_BENCH_ALIGHT;
}

static void
on_told_cb (WbReadingPanel *self)
{
  const char *trim = wb_quantity_entry_get_problem (self->trim);
  g_autofree char *words = NULL;

  if (self->ask == WB_APP_ASK_LIGHTING && trim != NULL)
    words = g_strdup_printf ("%s: %s", _("Wick trimmed to"), trim);
  else if (self->ask == WB_APP_ASK_LIGHTING && self->untaken_trim)
    words = g_strdup_printf (_("%s: nothing to take over"), _("Wick trimmed to"));
  else
    words = wb_reading_fields_dup_problem (self->fields);

  gtk_label_set_text (self->wrong, words != NULL ? words : "");
  wb_tooltip_set (GTK_WIDGET (self->wrong), words);
}

static void
on_changed_cb (WbReadingPanel *self)
{
  if (self->quiet)
    return;
  if (self->untaken_trim)
    {
      self->untaken_trim = FALSE;
      on_told_cb (self);
    }
  self->typed_us = wb_clock_now (wb_clock_get ()).utc_us;
  if (!wb_reading_panel_is_half_typed (self))
    gtk_widget_set_visible (GTK_WIDGET (self->kept), FALSE);
  /* The words of an old failure go as soon as something is typed anew. */
  if (wb_save_mark_get_state (self->mark) != WB_SAVE_SAVING)
    wb_reading_panel_set_saving (self, WB_SAVE_IDLE, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_finished_cb (WbReadingPanel *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[FINISHED], 0);
}

/* Who smelt it is asked before a throw burn is lit or read: Enter stops there once, and from there goes on. */
static void
on_done_cb (WbReadingPanel *self)
{
  if (wb_reading_panel_is_throw_burn (self) && wb_reading_details_go_to_rater (self->details))
    return;
  g_signal_emit (self, signals[DONE], 0);
}

/* Another kind asks other things; what is typed stays, but for a number of the bench, which is no room's name. */
static void
on_kind_selected_cb (WbReadingPanel *self)
{
  if (self->sample == NULL || self->quiet)
    return;
  if (wb_reading_panel_lights_throw (self) && wb_reading_panel_get_place_number (self) > 0)
    self->place_touched = FALSE;
  wb_reading_panel_set_ask (self, self->ask);
  on_changed_cb (self);
}

/* The lighting is walked as it stands: trim, place, kind, what is asked; only the last one lights. */
static void
on_trim_activate_cb (WbReadingPanel *self)
{
  if (wb_quantity_entry_check (self->trim))
    gtk_widget_grab_focus (GTK_WIDGET (self->place));
}

/* As at its last burn, and on; before a first burn there is none. */
static void
take_trim (WbReadingPanel *self)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (self->sample);

  self->untaken_trim = burn == NULL || isnan (burn->trim_mm);
  on_told_cb (self);
  if (self->untaken_trim)
    {
      gtk_widget_error_bell (GTK_WIDGET (self));
      return;
    }
  wb_quantity_entry_set_value (self->trim, burn->trim_mm);
  self->taken_trim = TRUE;
  on_changed_cb (self);
  on_trim_activate_cb (self);
}

static gboolean
on_trim_key_pressed_cb (GtkEventControllerKey *controller,
                        guint                  keyval,
                        guint                  keycode,
                        GdkModifierType        state,
                        WbReadingPanel        *self)
{
  if ((keyval != GDK_KEY_equal && keyval != GDK_KEY_KP_Equal) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  take_trim (self);
  return GDK_EVENT_STOP;
}

static void
on_place_changed_cb (WbReadingPanel *self)
{
  if (!self->quiet)
    self->place_touched = TRUE;
  on_changed_cb (self);
}

static void
on_place_activate_cb (WbReadingPanel *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->kind));
}

/* The list would take Enter to open itself, which Space does; inside the open list Enter chooses. */
static gboolean
on_kind_key_pressed_cb (GtkEventControllerKey *controller,
                        guint                  keyval,
                        guint                  keycode,
                        GdkModifierType        state,
                        WbReadingPanel        *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter && keyval != GDK_KEY_ISO_Enter)
      || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0
      || (focus != NULL && gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL))
    return GDK_EVENT_PROPAGATE;
  if (!wb_reading_fields_focus_first (self->fields))
    on_done_cb (self);
  return GDK_EVENT_STOP;
}

static void
catch_keys (WbReadingPanel *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *trim = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (trim, GTK_PHASE_CAPTURE);
  g_signal_connect (trim, "key-pressed", G_CALLBACK (on_trim_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->trim), trim);

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_kind_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->kind), keys);
}

/* Caller frees; NULL: none. */
static char *
dup_caution (WbReadingPanel *self)
{
  g_autofree char *last_inch = wb_bench_words_dup_last_inch (self->sample);

  /* Said and not done: fields that change under a hand take its figures for others. */
  if (self->ask == WB_APP_ASK_ROUND && wb_app_bench_get_ask (self->sample) == WB_APP_ASK_BEFORE_SNUFFING)
    return g_strdup (_("The burn comes to its length: what is asked before snuffing stands under \"Before snuffing\"."));
  if (wb_app_bench_sample_is_last_inch (self->sample))
    return g_steal_pointer (&last_inch);
  if (wb_bench_words_get_mood (self->sample) == WB_BENCH_MOOD_CROSSED)
    return g_strdup (_("It crossed a limit: it is not to be lit again. Keep it as evidence; set it aside only for a fault of the tester, such as a wick off centre. "
                       "Whoever lights it to learn how it ends stays beside it the whole time."));
  if (wb_bench_words_get_mood (self->sample) == WB_BENCH_MOOD_STOP)
    return g_strdup (_("The burn has its length. Take what is asked before snuffing, then snuff it with a long tool."));
  return g_steal_pointer (&last_inch);
}

/* Recorded, never forbidden: of the burn that is asked about, as they arise. */
static void
update_deviations (WbReadingPanel *self)
{
  g_autofree char *words = self->ask != WB_APP_ASK_LIGHTING ? wb_bench_words_dup_deviations (self->sample) : NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->deviations), words != NULL);
  if (words == NULL || g_str_equal (gtk_label_get_text (self->deviations), words))
    return;
  gtk_label_set_text (self->deviations, words);
  wb_tooltip_set (GTK_WIDGET (self->deviations), words);
}

static const char *
get_hint (WbReadingPanel *self)
{
  if (self->ask == WB_APP_ASK_LIGHTING)
    return _("Enter goes on to the next field, and in the last one lights. =: as last time. A deviation is noted, never forbidden.");
  if (wb_reading_fields_get_field (self->fields, WB_COLUMN_POOL_MM) != NULL)
    return _("Enter goes on, and in the last field saves and turns to the next one due. A digit rates and goes on. "
             "=: as last time. Alt and a letter: to that field (Ctrl+? lists them). Pool: F full, X a second diameter, R a ring.");
  return _("Enter goes on, and in the last field saves. =: as last time.");
}

/* Of the burn that is asked about: the next one only where it is to be lit. */
static int
get_burn_number (WbReadingPanel *self)
{
  int next = wb_app_bench_sample_get_burn_number (self->sample);

  return is_alight (self) || self->ask == WB_APP_ASK_LIGHTING ? next : MAX (next - 1, 1);
}

static void
update_moments (WbReadingPanel *self)
{
  GtkWidget *button = gtk_widget_get_first_child (GTK_WIDGET (self->moments));
  gboolean lit = is_alight (self), burnt = wb_app_bench_sample_get_burn (self->sample) != NULL;
  guint shown = 0;

  for (guint i = 0; i < G_N_ELEMENTS (moments); i++, button = gtk_widget_get_next_sibling (button))
    {
      gboolean visible = moments[i].alight == lit && (lit || burnt || i == WB_APP_ASK_LIGHTING);

      gtk_widget_set_visible (button, visible);
      shown += visible;
    }
  gtk_widget_set_visible (GTK_WIDGET (self->moments), shown > 1);
}

static void
wb_reading_panel_dispose (GObject *object)
{
  WbReadingPanel *self = WB_READING_PANEL (object);
  GtkWidget *child;

  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_READING_PANEL);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&self->sample);
  G_OBJECT_CLASS (wb_reading_panel_parent_class)->dispose (object);
}

static void
wb_reading_panel_finalize (GObject *object)
{
  g_free (WB_READING_PANEL (object)->sworn);
  g_strfreev (WB_READING_PANEL (object)->quick_notes);
  G_OBJECT_CLASS (wb_reading_panel_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, scroll);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, code);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, badge);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, title);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, caution);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, deviations);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, kept);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, also_menu);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, moments);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, lighting);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, trim_asked);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, trim);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, place_label);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, place);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, kind);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, fields_box);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, throw_words);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, note_label);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, note);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, quick);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, time_label);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, time);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, details);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, light);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, save);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, snuff);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, mark);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, problem);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, wrong);
  gtk_widget_class_bind_template_child (widget_class, WbReadingPanel, hint);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_told_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_done_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_trim_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_place_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_place_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_kind_selected_cb);
}

static void
wb_reading_panel_class_init (WbReadingPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  g_type_ensure (WB_TYPE_READING_DETAILS);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  g_type_ensure (WB_TYPE_TIME_ENTRY);
  G_OBJECT_CLASS (klass)->dispose = wb_reading_panel_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_reading_panel_finalize;
  signals[DONE] = g_signal_new ("done", WB_TYPE_READING_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_READING_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FINISHED] = g_signal_new ("finished", WB_TYPE_READING_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_css_name (widget_class, "readingpanel");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "reading-panel.ui");
  bind_children (widget_class);
}

static void
add_moments (WbReadingPanel *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      GtkWidget *button = gtk_toggle_button_new_with_label (_(moments[i].title));

      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", moments[i].name);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "page.ask");
      gtk_box_append (self->moments, button);
    }
}

/* What may be seen and is not always asked; the pool is one field, and events with their wick have lines of their own. */
static void
add_also (WbReadingPanel *self)
{
  for (int column = 0; column < WB_N_COLUMNS; column++)
    {
      const WbColumnSpec *spec = wb_column_get_spec ((WbColumn) column);
      g_autofree char *action = g_strdup_printf ("page.also::%s", spec->name);

      if ((column > WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM && column != WB_COLUMN_RING_12_MM) || column == WB_COLUMN_EVENT
          || column == WB_COLUMN_EVENT_S || column == WB_COLUMN_WICK_NUMBER)
        continue;
      g_menu_append (self->also_menu, column == WB_COLUMN_RING_12_MM ? _("Ring left at the four sides") : _(spec->label), action);
    }
}

static void
add_fields (WbReadingPanel *self)
{
  self->fields = WB_READING_FIELDS (wb_reading_fields_new ());
  gtk_box_append (self->fields_box, GTK_WIDGET (self->fields));
  g_signal_connect_object (self->fields, "changed", G_CALLBACK (on_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->fields, "finished", G_CALLBACK (on_finished_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->fields, "told", G_CALLBACK (on_told_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->fields, "done", G_CALLBACK (on_done_cb), self, G_CONNECT_SWAPPED);
}

static void
wb_reading_panel_init (WbReadingPanel *self)
{
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);

  gtk_widget_init_template (GTK_WIDGET (self));
  add_moments (self);
  add_fields (self);
  add_also (self);
  wb_reading_panel_add_quick (self);
  for (guint i = 0; wb_burn_kind_words[i].nick != NULL; i++)
    gtk_string_list_append (kinds, _(wb_burn_kind_words[i].label));
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (kinds));
  wb_accessible_name_drop_down (self->kind, _("Kind of burn"));
  catch_keys (self);
  wb_quantity_entry_set_range (self->trim, 0, 100);
  wb_quantity_entry_set_width_chars (self->trim, 6);
  wb_quantity_entry_set_told_elsewhere (self->trim, TRUE);
}

static void
set_up_trim (WbReadingPanel *self)
{
  double trim_mm = wb_app_bench_sample_get_protocol (self->sample)->trim_mm;
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, self->us_units);
  g_autofree char *wanted = isnan (trim_mm) ? g_strdup ("") : wb_quantity_format (unit, trim_mm, -1);
  g_autofree char *text = *wanted != '\0' ? g_strdup_printf (_("asked: %s"), wanted) : g_strdup ("");

  wb_quantity_entry_set_quantity (self->trim, WB_QUANTITY_LENGTH, unit);
  wb_quantity_entry_set_label (self->trim, _("Wick trimmed to"));
  gtk_label_set_text (self->trim_asked, text);
}

/* What was typed for the sample before, and how that was saved. */
static void
forget (WbReadingPanel *self)
{
  wb_quantity_entry_set_value (self->trim, NAN);
  gtk_editable_set_text (self->place, "");
  self->place_touched = FALSE;
  gtk_drop_down_set_selected (self->kind, WB_BURN_STANDARD);
  gtk_editable_set_text (GTK_EDITABLE (self->note), "");
  wb_time_entry_set_text (self->time, "");
  wb_reading_details_clear (self->details);
  self->out = FALSE;
  g_clear_pointer (&self->sworn, g_free);
  self->seen_to = FALSE;
  self->untaken_trim = FALSE;
  self->taken_trim = FALSE;
  self->typed_us = 0;
  gtk_widget_set_visible (GTK_WIDGET (self->kept), FALSE);
  wb_reading_panel_set_throw_words (self, NULL);
  wb_reading_panel_set_saving (self, WB_SAVE_IDLE, NULL);
}

void
wb_reading_panel_set_sample (WbReadingPanel   *self,
                             WbAppBenchSample *sample,
                             gboolean          us_units)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));

  self->quiet = TRUE;
  g_set_object (&self->sample, sample);
  self->us_units = us_units;
  forget (self);
  wb_reading_fields_set_sample (self->fields, sample, us_units);
  set_up_trim (self);
  self->quiet = FALSE;
  gtk_label_set_text (self->code, wb_app_bench_sample_get_code (sample));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, wb_app_bench_sample_get_code (sample), -1);
  wb_reading_details_propose (self->details, WB_READING_TEXT_INSTRUMENT,
                              wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_INSTRUMENT));
  wb_reading_details_propose (self->details, WB_READING_TEXT_INSTRUMENT_PLACE,
                              wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_INSTRUMENT_PLACE));
  wb_reading_panel_set_due (self, wb_app_bench_get_ask (sample));
}

GtkWidget *
wb_reading_panel_new (WbAppBenchSample *sample,
                      gboolean          us_units)
{
  WbReadingPanel *self;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  self = g_object_new (WB_TYPE_READING_PANEL, NULL);
  wb_reading_panel_set_sample (self, sample, us_units);
  return GTK_WIDGET (self);
}

WbAppBenchSample *
wb_reading_panel_get_sample (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return self->sample;
}

static void
show_moment (WbReadingPanel *self)
{
  gboolean lighting = self->ask == WB_APP_ASK_LIGHTING;
  const WbBurn *burn = wb_app_bench_sample_get_burn (self->sample);
  WbInstant earliest = WB_INSTANT_NONE;

  if (lighting)
    earliest = wb_app_bench_sample_get_out_at (self->sample);
  else if (burn != NULL)
    earliest = wb_app_bench_sample_get_lit_at (self->sample);

  gtk_widget_set_visible (self->lighting, lighting);
  gtk_widget_set_visible (self->note_label, !lighting);
  gtk_widget_set_visible (self->note, !lighting);
  gtk_widget_set_visible (GTK_WIDGET (self->details), !lighting || wb_reading_panel_lights_throw (self));
  gtk_widget_set_visible (self->light, lighting);
  gtk_widget_set_visible (self->save, !lighting);
  gtk_widget_set_visible (self->snuff, is_alight (self));
  gtk_label_set_text (self->time_label, lighting ? _("Lit at") : _("Seen at"));
  wb_time_entry_set_label (self->time, lighting ? _("Lit at") : _("Seen at"));
  wb_time_entry_set_earliest (self->time, earliest, lighting ? _("It burnt then: its last burn had not ended") : _("That was before it was lit"));
}

void
wb_reading_panel_set_ask (WbReadingPanel *self,
                          WbAppAsk        ask)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));

  self->ask = ask;
  self->quiet = TRUE;
  wb_reading_panel_prepare_throw (self);
  wb_reading_fields_set_ask (self->fields, ask);
  wb_reading_details_ask (self->details, wb_reading_fields_get_field (self->fields, WB_COLUMN_VESSEL_C) != NULL
                                           || wb_reading_fields_get_field (self->fields, WB_COLUMN_BASE_C) != NULL);
  show_moment (self);
  self->quiet = FALSE;
  on_told_cb (self);
  wb_reading_panel_update (self);
}

void
wb_reading_panel_ask_also (WbReadingPanel *self,
                           WbColumn        column)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  wb_reading_fields_ask_also (self->fields, column);
}

WbAppAsk
wb_reading_panel_get_ask (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), WB_APP_ASK_ROUND);
  return self->ask;
}

WbAppAsk
wb_reading_panel_get_due (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), WB_APP_ASK_ROUND);
  return self->due;
}

void
wb_reading_panel_set_due (WbReadingPanel *self,
                          WbAppAsk        due)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  self->due = due;
  wb_reading_panel_set_ask (self, due);
}

const char *
wb_reading_panel_get_ask_name (WbAppAsk ask)
{
  g_return_val_if_fail (ask < G_N_ELEMENTS (moments), NULL);
  return moments[ask].name;
}

int
wb_reading_panel_find_ask (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (moments); i++)
    if (g_strcmp0 (moments[i].name, name) == 0)
      return (int) i;
  return -1;
}

void
wb_reading_panel_update (WbReadingPanel *self)
{
  g_autofree char *state = NULL;
  g_autofree char *title = NULL;
  g_autofree char *caution = NULL;

  g_return_if_fail (WB_IS_READING_PANEL (self));

  title = g_strdup_printf (_("%s, burn %d"), wb_app_bench_sample_get_title (self->sample), get_burn_number (self));
  gtk_label_set_text (self->title, title);
  state = wb_bench_words_dup_state (self->sample);
  if (g_strcmp0 (wb_badge_get_text (self->badge), state) != 0)
    wb_badge_set (self->badge, wb_bench_words_get_badge (wb_bench_words_get_mood (self->sample)), state);
  wb_reading_fields_update (self->fields);
  caution = dup_caution (self);
  gtk_label_set_text (self->caution, caution != NULL ? caution : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caution), caution != NULL);
  update_deviations (self);
  gtk_label_set_text (self->hint, get_hint (self));
  update_moments (self);
}

void
wb_reading_panel_focus_first (WbReadingPanel *self)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  if (self->ask == WB_APP_ASK_LIGHTING)
    gtk_widget_grab_focus (GTK_WIDGET (self->trim));
  else if (!wb_reading_fields_focus_first (self->fields))
    gtk_widget_grab_focus (self->note);
}

void
wb_reading_panel_focus_part (WbReadingPanel *self,
                             const char     *part)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  if (g_str_equal (part, "event"))
    wb_reading_fields_open_event (self->fields);
  else if (g_str_equal (part, "note"))
    gtk_widget_grab_focus (self->note);
  else if (g_str_equal (part, "place"))
    gtk_widget_grab_focus (GTK_WIDGET (self->place));
  else if (g_str_equal (part, "time"))
    gtk_widget_grab_focus (GTK_WIDGET (self->time));
}

void
wb_reading_panel_show_focus (WbReadingPanel *self)
{
  GtkRoot *root;
  GtkWidget *focus, *viewport, *inside;
  graphene_rect_t bounds;

  g_return_if_fail (WB_IS_READING_PANEL (self));
  root = gtk_widget_get_root (GTK_WIDGET (self));
  focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  viewport = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (self->scroll));
  inside = GTK_IS_VIEWPORT (viewport) ? gtk_viewport_get_child (GTK_VIEWPORT (viewport)) : viewport;
  if (focus == NULL || !gtk_widget_is_ancestor (focus, inside) || !gtk_widget_compute_bounds (focus, inside, &bounds))
    return;
  gtk_adjustment_clamp_page (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroll)), bounds.origin.y - AROUND_PX,
                             bounds.origin.y + bounds.size.height + AROUND_PX);
}

void
wb_reading_panel_say_event (WbReadingPanel *self,
                            WbEvent         event)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  wb_reading_fields_say_event (self->fields, event);
}

/* An entry that turns insensitive with the keyboard in it is never told that it lost it. */
static void
let_go_of_focus (WbReadingPanel *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)))
    gtk_root_set_focus (root, NULL);
}

void
wb_reading_panel_set_saving (WbReadingPanel *self,
                             WbSaveState     state,
                             const char     *detail)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  wb_save_mark_set (self->mark, state, NULL);
  wb_problem_tell (self->problem, detail);
  /* What is on its way to the file is not changed underneath it. */
  if (state == WB_SAVE_SAVING)
    let_go_of_focus (self);
  gtk_widget_set_sensitive (GTK_WIDGET (self), state != WB_SAVE_SAVING);
}

WbSaveState
wb_reading_panel_get_saving (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), WB_SAVE_IDLE);
  return wb_save_mark_get_state (self->mark);
}

GtkWidget *
wb_reading_panel_get_field (WbReadingPanel *self,
                            WbColumn        column)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return wb_reading_fields_get_field (self->fields, column);
}

GtkWidget *
wb_reading_panel_get_wick_field (WbReadingPanel *self,
                                 guint           wick,
                                 WbColumn        column)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return wb_reading_fields_get_wick_field (self->fields, wick, column);
}
