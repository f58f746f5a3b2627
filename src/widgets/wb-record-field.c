/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-field.h"

#include "wb-accessible-name.h"
#include "wb-choice-list.h"
#include "wb-focus-walk.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbRecordField
{
  GtkWidget          parent_instance;

  /* children */
  GtkWidget         *control; /* what is in the window: a frame around a text view, else the control itself */
  GtkWidget         *inner;   /* what holds the value */
  GtkWidget         *line;    /* a stack below: the hint, or what is wrong, in the place of the larger */
  GtkWidget         *hint;
  GtkWidget         *wrong;

  /* owned */
  GArray            *ids;     /* gint64, of a reference's choices */
  char              *problem; /* NULL: nothing is wrong, or was told */
  char              *said;    /* hint in place of the spec's; NULL: that one */
  char              *caution; /* in place of any hint; NULL: none */

  /* borrowed */
  const WbFieldSpec *spec;

  /* state */
  gboolean           touched;
  gboolean           sent;    /* as it stands */
  gboolean           quiet;
};

G_DEFINE_FINAL_TYPE (WbRecordField, wb_record_field, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_control_changed_cb (WbRecordField *self)
{
  if (self->quiet)
    return;
  self->touched = TRUE;
  self->sent = FALSE;
  wb_record_field_set_problem (self, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_control_activate_cb (WbRecordField *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

/* TRUE: one of its words is chosen, though it is stored as a number. */
static gboolean
is_rating (const WbFieldSpec *spec)
{
  return spec->type == WB_FIELD_REAL && spec->words != NULL;
}

/* A choice that need not be made, a tick and a note are never wrong: no line is kept free below them. */
static gboolean
can_be_wrong (const WbFieldSpec *spec)
{
  switch (spec->type)
    {
    case WB_FIELD_REAL:
      return spec->words == NULL || spec->required;
    case WB_FIELD_INTEGER:
    case WB_FIELD_DAY:
      return TRUE;
    case WB_FIELD_TEXT:
      return spec->required || spec->maximum <= WB_NAME_MAXIMUM;
    case WB_FIELD_ENUM:
    case WB_FIELD_REFERENCE:
      return spec->required;
    case WB_FIELD_FLAG:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      return FALSE;
    }
}

/* "": none. */
static const char *
get_hint (WbRecordField *self)
{
  return self->caution != NULL ? self->caution : self->said != NULL ? self->said : self->spec->hint != NULL ? _(self->spec->hint) : "";
}

/* What is wrong stands where the hint stood, so that no field below moves under the hand. */
static void
show_line (WbRecordField *self)
{
  gtk_label_set_text (GTK_LABEL (self->wrong), self->problem != NULL ? self->problem : "");
  gtk_stack_set_visible_child (GTK_STACK (self->line), self->problem != NULL ? self->wrong : self->hint);
  gtk_widget_set_visible (self->line, self->problem != NULL || *get_hint (self) != '\0' || can_be_wrong (self->spec));
}

static GtkWidget *
add_words (WbRecordField *self,
           const char    *text,
           const char    *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "yalign", 0.0, "wrap", TRUE, NULL);

  gtk_widget_add_css_class (label, style);
  gtk_stack_add_child (GTK_STACK (self->line), label);
  return label;
}

static void
set_line (WbRecordField *self,
          const char    *problem)
{
  if (g_strcmp0 (problem, self->problem) == 0)
    return;
  g_free (self->problem);
  self->problem = g_strdup (problem);
  show_line (self);
}

static void
on_quantity_told_cb (WbRecordField *self)
{
  set_line (self, wb_quantity_entry_get_problem (WB_QUANTITY_ENTRY (self->inner)));
}

static gboolean
is_long_text (const WbFieldSpec *spec)
{
  return spec->type == WB_FIELD_TEXT && spec->maximum > WB_NAME_MAXIMUM;
}

/* What lasts as long as an hour is typed in minutes. */
static WbUnit
choose_unit (const WbFieldSpec *spec,
             WbQuantity         quantity,
             gboolean           us_units)
{
  if (quantity == WB_QUANTITY_DURATION && spec->maximum >= 3600)
    return WB_UNIT_MINUTE;
  return wb_quantity_get_shown_unit (quantity, us_units);
}

static GtkWidget *
quantity_new (WbRecordField *self,
              gboolean       us_units)
{
  WbQuantity quantity = self->spec->type == WB_FIELD_REAL ? self->spec->quantity : WB_QUANTITY_PLAIN;
  GtkWidget *entry = wb_quantity_entry_new (quantity, choose_unit (self->spec, quantity, us_units));

  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (entry), self->spec->minimum, self->spec->maximum);
  wb_quantity_entry_set_integer (WB_QUANTITY_ENTRY (entry), self->spec->type == WB_FIELD_INTEGER || self->spec->integer);
  wb_quantity_entry_set_required (WB_QUANTITY_ENTRY (entry), self->spec->required);
  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (entry), _(self->spec->label));
  wb_quantity_entry_set_told_elsewhere (WB_QUANTITY_ENTRY (entry), TRUE);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_control_changed_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_control_activate_cb), self);
  g_signal_connect_swapped (entry, "told", G_CALLBACK (on_quantity_told_cb), self);
  return entry;
}

static void
name_control (WbRecordField *self,
              GtkWidget     *control)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (control),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _(self->spec->label),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, get_hint (self),
                                  -1);
}

static GtkWidget *
entry_new (WbRecordField *self)
{
  GtkWidget *entry = gtk_entry_new ();

  if (self->spec->type == WB_FIELD_DAY)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _("year-month-day"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_REQUIRED, self->spec->required, -1);
  name_control (self, entry);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_control_changed_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_control_activate_cb), self);
  return entry;
}

/* A short text view in a frame; Tab leaves it, as in any other field. */
static GtkWidget *
text_new (WbRecordField *self)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  self->inner = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (self->inner), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (self->inner), FALSE);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (self->inner), 8);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (self->inner), 8);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (self->inner), 6);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (self->inner), 6);
  name_control (self, self->inner);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), self->inner);
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), 72);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 160);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  g_signal_connect_swapped (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->inner)), "changed",
                            G_CALLBACK (on_control_changed_cb), self);
  return scrolled;
}

static GtkWidget *
drop_down_new (WbRecordField *self)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  GtkWidget *drop;

  /* The first line is "not said"; word i stands at i + 1, of a rating its lowest at 1. */
  gtk_string_list_append (list, "–");
  for (guint i = is_rating (self->spec) ? (guint) self->spec->minimum : 0; self->spec->words != NULL && self->spec->words[i].nick != NULL; i++)
    gtk_string_list_append (list, _(self->spec->words[i].label));
  drop = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&list)), NULL);
  wb_choice_list_fit (GTK_DROP_DOWN (drop), 16);
  name_control (self, drop);
  wb_accessible_name_drop_down (GTK_DROP_DOWN (drop), _(self->spec->label));
  g_signal_connect_swapped (drop, "notify::selected", G_CALLBACK (on_control_changed_cb), self);
  return drop;
}

static GtkWidget *
check_new (WbRecordField *self)
{
  GtkWidget *check = gtk_check_button_new_with_label (_(self->spec->label));

  name_control (self, check);
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_control_changed_cb), self);
  return check;
}

static GtkWidget *
control_new (WbRecordField *self,
             gboolean       us_units)
{
  switch (self->spec->type)
    {
    case WB_FIELD_REAL:
      return is_rating (self->spec) ? drop_down_new (self) : quantity_new (self, us_units);
    case WB_FIELD_INTEGER:
      return quantity_new (self, us_units);
    case WB_FIELD_ENUM:
    case WB_FIELD_REFERENCE:
      return drop_down_new (self);
    case WB_FIELD_FLAG:
      return check_new (self);
    case WB_FIELD_TEXT:
      return is_long_text (self->spec) ? text_new (self) : entry_new (self);
    case WB_FIELD_DAY:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      return entry_new (self);
    }
}

static char *
dup_text (WbRecordField *self)
{
  GtkTextBuffer *buffer;
  GtkTextIter start, end;
  char *text;

  if (!GTK_IS_TEXT_VIEW (self->inner))
    return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->inner))));
  buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->inner));
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  text = gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
  return g_strstrip (text);
}

static void
set_text (WbRecordField *self,
          const char    *text)
{
  if (GTK_IS_TEXT_VIEW (self->inner))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->inner)), text != NULL ? text : "", -1);
  else
    gtk_editable_set_text (GTK_EDITABLE (self->inner), text != NULL ? text : "");
}

/* What is wrong with a text, a day or a choice; NULL: nothing. Caller frees. */
static char *
find_fault (WbRecordField *self)
{
  g_autofree char *text = NULL;
  glong length;
  WbDay day;

  if (GTK_IS_DROP_DOWN (self->inner))
    return self->spec->required && gtk_drop_down_get_selected (GTK_DROP_DOWN (self->inner)) == 0
             ? g_strdup (_("Choose one of the list")) : NULL;
  if (GTK_IS_CHECK_BUTTON (self->inner))
    return NULL;
  text = dup_text (self);
  if (*text == '\0')
    return self->spec->required ? g_strdup (_("A value is needed here")) : NULL;
  if (self->spec->type == WB_FIELD_DAY)
    return wb_day_read (text, WB_DAY_NONE, &day, NULL) ? NULL : g_strdup (_("Write a day such as 14 Mar 2026, or 2026-03-14"));
  length = g_utf8_strlen (text, -1);
  if (length > (glong) self->spec->maximum)
    return g_strdup_printf (_("At most %ld characters; these are %ld"), (glong) self->spec->maximum, length);
  return NULL;
}

static gint64
get_choice (WbRecordField *self)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->inner));

  if (self->spec->type == WB_FIELD_ENUM)
    return selected == GTK_INVALID_LIST_POSITION ? -1 : (gint64) selected - 1;
  if (selected == 0 || selected > self->ids->len)
    return 0;
  return g_array_index (self->ids, gint64, selected - 1);
}

static guint
place_of_choice (WbRecordField *self,
                 gint64         value)
{
  if (self->spec->type == WB_FIELD_ENUM)
    return value < 0 ? 0 : (guint) value + 1;
  for (guint i = 0; i < self->ids->len; i++)
    if (g_array_index (self->ids, gint64, i) == value)
      return i + 1;
  return 0;
}

static double
get_rating (WbRecordField *self)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->inner));

  return selected == 0 || selected == GTK_INVALID_LIST_POSITION ? NAN : self->spec->minimum + selected - 1;
}

static guint
place_of_rating (WbRecordField *self,
                 double         value)
{
  return isnan (value) ? 0 : (guint) lround (value - self->spec->minimum) + 1;
}

static gboolean
wb_record_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_RECORD_FIELD (widget)->inner);
}

static void
wb_record_field_dispose (GObject *object)
{
  WbRecordField *self = WB_RECORD_FIELD (object);

  g_clear_pointer (&self->control, gtk_widget_unparent);
  g_clear_pointer (&self->line, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_record_field_parent_class)->dispose (object);
}

static void
wb_record_field_finalize (GObject *object)
{
  g_array_unref (WB_RECORD_FIELD (object)->ids);
  g_free (WB_RECORD_FIELD (object)->problem);
  g_free (WB_RECORD_FIELD (object)->caution);
  g_free (WB_RECORD_FIELD (object)->said);
  G_OBJECT_CLASS (wb_record_field_parent_class)->finalize (object);
}

static void
wb_record_field_class_init (WbRecordFieldClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_record_field_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_record_field_finalize;
  widget_class->grab_focus = wb_record_field_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_RECORD_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_RECORD_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "recordfield");
}

static void
wb_record_field_init (WbRecordField *self)
{
  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
}

GtkWidget *
wb_record_field_new (const WbFieldSpec *spec,
                     gboolean           us_units)
{
  WbRecordField *self;

  g_return_val_if_fail (spec != NULL && spec->label != NULL, NULL);

  self = g_object_new (WB_TYPE_RECORD_FIELD, NULL);
  self->spec = spec;
  self->quiet = TRUE;
  self->control = control_new (self, us_units);
  if (self->inner == NULL)
    self->inner = self->control;
  self->line = gtk_stack_new ();
  self->hint = add_words (self, get_hint (self), "hint");
  gtk_widget_add_css_class (self->hint, "fieldhint");
  self->wrong = add_words (self, "", "problem");
  show_line (self);
  gtk_widget_set_parent (self->control, GTK_WIDGET (self));
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
  self->quiet = FALSE;
  return GTK_WIDGET (self);
}

const WbFieldSpec *
wb_record_field_get_spec (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), NULL);
  return self->spec;
}

void
wb_record_field_set_choices (WbRecordField      *self,
                             const gint64       *ids,
                             const char *const  *titles)
{
  GtkStringList *list;
  gint64 chosen;

  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  g_return_if_fail (self->spec->type == WB_FIELD_REFERENCE);
  g_return_if_fail (titles != NULL);

  chosen = get_choice (self);
  list = gtk_string_list_new (NULL);
  g_array_set_size (self->ids, 0);
  gtk_string_list_append (list, "–");
  for (guint i = 0; titles[i] != NULL; i++)
    {
      g_array_append_val (self->ids, ids[i]);
      gtk_string_list_append (list, titles[i]);
    }
  self->quiet = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->inner), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->inner), place_of_choice (self, chosen));
  self->quiet = FALSE;
  g_object_unref (list);
}

void
wb_record_field_set_unit (WbRecordField *self,
                          WbUnit         unit,
                          const char    *words,
                          const char    *hint)
{
  WbQuantityEntry *entry;

  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self->inner) && self->spec->quantity == WB_QUANTITY_PLAIN);
  g_return_if_fail (hint != NULL);

  entry = WB_QUANTITY_ENTRY (self->inner);
  self->quiet = TRUE;
  wb_quantity_entry_set_quantity (entry, wb_unit_get_quantity (unit), unit);
  if (words != NULL)
    wb_quantity_entry_set_unit_words (entry, words);
  wb_quantity_entry_set_label (entry, _(self->spec->label));
  self->quiet = FALSE;
  g_free (self->said);
  self->said = g_strdup (hint);
  gtk_label_set_text (GTK_LABEL (self->hint), hint);
  show_line (self);
}

void
wb_record_field_read (WbRecordField *self,
                      gconstpointer  record)
{
  const WbFieldSpec *spec;
  g_autofree char *day = NULL;

  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  g_return_if_fail (record != NULL);

  spec = self->spec;
  self->quiet = TRUE;
  if (is_rating (spec))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->inner), place_of_rating (self, wb_record_get_real (record, spec)));
  else if (spec->type == WB_FIELD_REAL)
    wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (self->inner), wb_record_get_real (record, spec));
  else if (spec->type == WB_FIELD_INTEGER)
    wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (self->inner),
                                 wb_record_is_known (record, spec) ? (double) wb_record_get_integer (record, spec) : NAN);
  else if (GTK_IS_DROP_DOWN (self->inner))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->inner), place_of_choice (self, wb_record_get_integer (record, spec)));
  else if (GTK_IS_CHECK_BUTTON (self->inner))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->inner), wb_record_get_integer (record, spec) != 0);
  else if (spec->type == WB_FIELD_DAY)
    {
      if (wb_record_is_known (record, spec))
        day = wb_day_format ((WbDay) wb_record_get_integer (record, spec));
      set_text (self, day);
    }
  else if (spec->type == WB_FIELD_TEXT)
    set_text (self, wb_record_get_text (record, spec));
  self->quiet = FALSE;
  self->touched = FALSE;
  self->sent = FALSE;
  wb_record_field_set_problem (self, NULL);
}

void
wb_record_field_write (WbRecordField *self,
                       gpointer       record)
{
  const WbFieldSpec *spec;
  g_autofree char *text = NULL;
  WbDay day = WB_DAY_NONE;
  double value;

  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  g_return_if_fail (record != NULL);

  spec = self->spec;
  if (WB_IS_QUANTITY_ENTRY (self->inner))
    {
      value = wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (self->inner));
      if (spec->type == WB_FIELD_REAL)
        wb_record_set_real (record, spec, value);
      else
        wb_record_set_integer (record, spec, isnan (value) ? WB_INTEGER_NONE : (gint64) value);
    }
  else if (is_rating (spec))
    wb_record_set_real (record, spec, get_rating (self));
  else if (GTK_IS_DROP_DOWN (self->inner))
    wb_record_set_integer (record, spec, get_choice (self));
  else if (GTK_IS_CHECK_BUTTON (self->inner))
    wb_record_set_integer (record, spec, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->inner)));
  else
    {
      text = dup_text (self);
      if (spec->type == WB_FIELD_TEXT)
        wb_record_set_text (record, spec, text);
      else if (spec->type == WB_FIELD_DAY && (*text == '\0' || wb_day_read (text, WB_DAY_NONE, &day, NULL)))
        wb_record_set_integer (record, spec, day);
    }
}

gboolean
wb_record_field_check (WbRecordField *self)
{
  g_autofree char *fault = NULL;

  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), FALSE);

  if (WB_IS_QUANTITY_ENTRY (self->inner))
    return wb_quantity_entry_check (WB_QUANTITY_ENTRY (self->inner));
  fault = find_fault (self);
  wb_record_field_set_problem (self, fault);
  return fault == NULL;
}

void
wb_record_field_set_problem (WbRecordField *self,
                             const char    *text)
{
  g_return_if_fail (WB_IS_RECORD_FIELD (self));

  if (WB_IS_QUANTITY_ENTRY (self->inner))
    {
      if (text != NULL)
        wb_quantity_entry_set_problem (WB_QUANTITY_ENTRY (self->inner), text);
      return;
    }
  set_line (self, text);
  if (text != NULL)
    gtk_widget_add_css_class (self->inner, "error");
  else
    gtk_widget_remove_css_class (self->inner, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->inner), GTK_ACCESSIBLE_STATE_INVALID,
                               text != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->inner), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  text != NULL ? text : get_hint (self), -1);
}

void
wb_record_field_set_caution (WbRecordField *self,
                             const char    *text)
{
  g_return_if_fail (WB_IS_RECORD_FIELD (self));

  if (g_strcmp0 (text, self->caution) == 0)
    return;
  g_free (self->caution);
  self->caution = g_strdup (text);
  gtk_label_set_text (GTK_LABEL (self->hint), get_hint (self));
  (text != NULL ? gtk_widget_add_css_class : gtk_widget_remove_css_class) (self->hint, "caution");
  (text != NULL ? gtk_widget_remove_css_class : gtk_widget_add_css_class) (self->hint, "hint");
  show_line (self);
  if (self->problem == NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (self->inner), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, get_hint (self), -1);
}

const char *
wb_record_field_get_caution (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), NULL);
  return self->caution;
}

const char *
wb_record_field_get_problem (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), NULL);

  if (WB_IS_QUANTITY_ENTRY (self->inner))
    return wb_quantity_entry_get_problem (WB_QUANTITY_ENTRY (self->inner));
  return self->problem;
}

gboolean
wb_record_field_get_touched (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), FALSE);
  return self->touched;
}

void
wb_record_field_mark_sent (WbRecordField *self)
{
  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  self->sent = TRUE;
}

gboolean
wb_record_field_get_sent (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), FALSE);
  return self->sent || !self->touched;
}

/* A word of the list as the file has it, a rating or a reference by its number; "": none is chosen. */
static char *
dup_chosen (WbRecordField *self)
{
  if (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->inner)) == 0)
    return g_strdup ("");
  if (is_rating (self->spec))
    return g_strdup_printf ("%d", (int) get_rating (self));
  if (self->spec->type == WB_FIELD_ENUM)
    return g_strdup (self->spec->words[get_choice (self)].nick);
  return g_strdup_printf ("%" G_GINT64_FORMAT, get_choice (self));
}

/* Where such a text stands in the list; what is none of it any more is at 0. */
static guint
place_of_chosen (WbRecordField *self,
                 const char    *text)
{
  if (*text == '\0')
    return 0;
  if (is_rating (self->spec))
    return place_of_rating (self, CLAMP (g_ascii_strtod (text, NULL), self->spec->minimum, self->spec->maximum));
  if (self->spec->type == WB_FIELD_ENUM)
    return place_of_choice (self, wb_words_find (self->spec->words, text));
  return place_of_choice (self, g_ascii_strtoll (text, NULL, 10));
}

char *
wb_record_field_dup_typed (WbRecordField *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FIELD (self), NULL);

  if (!self->touched)
    return NULL;
  if (GTK_IS_DROP_DOWN (self->inner))
    return dup_chosen (self);
  if (GTK_IS_CHECK_BUTTON (self->inner))
    return g_strdup (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->inner)) ? "yes" : "no");
  return WB_IS_QUANTITY_ENTRY (self->inner) ? g_strdup (wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (self->inner))) : dup_text (self);
}

void
wb_record_field_put_typed (WbRecordField *self,
                           const char    *text)
{
  g_return_if_fail (WB_IS_RECORD_FIELD (self));
  g_return_if_fail (text != NULL);

  self->quiet = TRUE;
  if (GTK_IS_DROP_DOWN (self->inner))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->inner), place_of_chosen (self, text));
  else if (GTK_IS_CHECK_BUTTON (self->inner))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->inner), g_str_equal (text, "yes"));
  else if (WB_IS_QUANTITY_ENTRY (self->inner))
    wb_quantity_entry_put_typed (WB_QUANTITY_ENTRY (self->inner), text);
  else
    set_text (self, text);
  self->quiet = FALSE;
  self->touched = TRUE;
  self->sent = FALSE;
}
