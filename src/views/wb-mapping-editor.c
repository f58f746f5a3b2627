/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-editor.h"

#include "wb-accessible-name.h"
#include "wb-app-mapping.h"
#include "wb-choice-list.h"
#include "wb-mapping-words.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: mappingeditor. Accessible: a group named by its column. */

#define MOST_WORDS 20
#define CHOICE_CHARACTERS 24

/* Places in the list of what a column may be read as, before the targets. */
enum { PASSED_OVER, SEVERAL, FIRST_TARGET };
/* Places in a word's list, before the words of the scale. */
enum { WORD_UNKNOWN, WORD_NOTHING, FIRST_WORD };

struct _WbMappingEditor
{
  GtkWidget           parent_instance;

  /* children */
  GtkWidget          *box;
  GtkLabel           *name;
  GtkLabel           *examples_label;
  GtkDropDown        *target;
  GtkWidget          *pattern_row;
  GtkEditable        *pattern;
  GtkWidget          *unit_row;
  GtkDropDown        *unit;
  GtkWidget          *minute_row;
  GtkEditable        *minute;
  GtkCheckButton     *repeat;
  GtkWidget          *words_box;
  GtkGrid            *words;

  /* borrowed */
  WbLogMappingColumn *column;
  char              **examples;

  /* state */
  GArray             *units;   /* WbUnit, as the list shows them */
  gboolean            filling;
};

G_DEFINE_FINAL_TYPE (WbMappingEditor, wb_mapping_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const WbLogTarget *
get_target (WbMappingEditor *self)
{
  return self->column != NULL ? wb_app_mapping_find_target (self->column->target) : NULL;
}

static void
tell (WbMappingEditor *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* A diameter has one word, and no scale. */
static const WbWord *
get_words (const WbLogTarget *target)
{
  static const WbWord full[] = { { "full", N_("at the wall") }, { NULL, NULL } };

  if (target == NULL)
    return NULL;
  return g_str_has_prefix (target->name, "pool_") ? full : target->words;
}

static WbLogPair *
find_word (WbMappingEditor *self,
           const char      *text,
           guint           *at)
{
  for (guint i = 0; i < self->column->words->len; i++)
    {
      WbLogPair *word = self->column->words->pdata[i];

      if (g_str_equal (word->key, text))
        {
          *at = i;
          return word;
        }
    }
  return NULL;
}

static void
on_word_selected_cb (WbMappingEditor *self,
                     GParamSpec      *spec,
                     GtkDropDown     *choice)
{
  const char *text = g_object_get_data (G_OBJECT (choice), "text");
  guint selected = gtk_drop_down_get_selected (choice), at;

  if (self->filling)
    return;
  if (find_word (self, text, &at) != NULL)
    g_ptr_array_remove_index (self->column->words, at);
  if (selected != WORD_UNKNOWN)
    wb_log_mapping_column_add_word (self->column, text, selected == WORD_NOTHING ? "" : get_words (get_target (self))[selected - FIRST_WORD].nick);
  tell (self);
}

/* Where a word stands by itself in the scale, or by the mapping. */
static guint
find_choice (WbMappingEditor *self,
             const WbWord    *words,
             const char      *text)
{
  guint at;
  const WbLogPair *word = find_word (self, text, &at);
  const char *wanted = word != NULL ? word->value : text;

  if (word != NULL && *word->value == '\0')
    return WORD_NOTHING;
  for (guint i = 0; words[i].nick != NULL; i++)
    if (g_ascii_strcasecmp (words[i].nick, wanted) == 0 || (word == NULL && (g_ascii_strcasecmp (words[i].label, wanted) == 0
                                                                             || g_ascii_strcasecmp (_(words[i].label), wanted) == 0)))
      return FIRST_WORD + i;
  return WORD_UNKNOWN;
}

static void
add_word (WbMappingEditor *self,
          int              line,
          const WbWord    *words,
          const char      *text)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new ((const char *const[]) { _("not known: refused"), _("nothing was taken"), NULL });
  g_autofree char *name = g_strdup_printf (_("“%s” is read as"), text);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "max-width-chars", 18,
                                   "tooltip-text", text, NULL);
  GtkWidget *choice;

  for (const WbWord *word = words; word->nick != NULL; word++)
    {
      /* A rating's number stands in front of its word, as on the bench. */
      g_autofree char *numbered = g_ascii_isdigit (*word->nick) ? g_strdup_printf ("%s  %s", word->nick, _(word->label)) : NULL;

      gtk_string_list_append (list, numbered != NULL ? numbered : _(word->label));
    }
  choice = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&list)), NULL);
  wb_choice_list_fit (GTK_DROP_DOWN (choice), 18);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), find_choice (self, words, text));
  wb_accessible_name_drop_down (GTK_DROP_DOWN (choice), name);
  g_object_set_data_full (G_OBJECT (choice), "text", g_strdup (text), g_free);
  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (on_word_selected_cb), self);
  gtk_grid_attach (self->words, label, 0, line, 1, 1);
  gtk_grid_attach (self->words, choice, 1, line, 1, 1);
}

static gboolean
is_number (const char *text)
{
  double value;

  return g_ascii_isdigit (*text) || wb_number_parse (text, &value, NULL);
}

static void
show_words (WbMappingEditor *self)
{
  const WbWord *words = get_words (get_target (self));
  GtkWidget *child;
  int n = 0;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->words))) != NULL)
    gtk_grid_remove (self->words, child);
  for (guint i = 0; words != NULL && self->examples != NULL && self->examples[i] != NULL && n < MOST_WORDS; i++)
    if (!is_number (self->examples[i]))
      add_word (self, n++, words, self->examples[i]);
  gtk_widget_set_visible (self->words_box, n > 0);
}

static void
show_units (WbMappingEditor *self)
{
  const WbLogTarget *target = get_target (self);
  gboolean has_unit = target != NULL && target->number && target->unit != WB_UNIT_NONE;
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  guint selected = 0;

  g_array_set_size (self->units, 0);
  for (int unit = 0; has_unit && unit < WB_N_UNITS; unit++)
    if (wb_unit_get_quantity (unit) == wb_unit_get_quantity (target->unit))
      {
        if (unit == (int) (self->column->unit == WB_N_UNITS ? target->unit : self->column->unit))
          selected = self->units->len;
        g_array_append_val (self->units, unit);
        gtk_string_list_append (list, wb_unit_get_symbol (unit));
      }
  gtk_drop_down_set_model (self->unit, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (self->unit, selected);
  gtk_widget_set_visible (self->unit_row, has_unit);
}

/* What depends on what the column is read as. */
static void
show_rest (WbMappingEditor *self)
{
  const WbLogTarget *target = get_target (self);
  g_autofree char *minute = !isnan (self->column->minute) ? wb_number_shortest (self->column->minute) : g_strdup ("");
  gboolean was = self->filling;

  self->filling = TRUE;
  gtk_widget_set_visible (self->pattern_row, self->column->pattern != NULL);
  gtk_editable_set_text (self->pattern, self->column->pattern != NULL ? self->column->pattern : "");
  gtk_widget_set_visible (self->minute_row, target != NULL && target->reading);
  gtk_editable_set_text (self->minute, minute);
  gtk_widget_remove_css_class (GTK_WIDGET (self->minute), "error");
  gtk_widget_set_visible (GTK_WIDGET (self->repeat), self->column->target != NULL || self->column->pattern != NULL);
  gtk_check_button_set_active (self->repeat, self->column->repeat);
  show_units (self);
  show_words (self);
  self->filling = was;
}

static void
on_target_selected_cb (WbMappingEditor *self)
{
  guint selected = gtk_drop_down_get_selected (self->target);
  const WbLogTarget *target;

  if (self->filling || self->column == NULL || selected == GTK_INVALID_LIST_POSITION)
    return;
  g_clear_pointer (&self->column->target, g_free);
  g_clear_pointer (&self->column->pattern, g_free);
  self->column->unit = WB_N_UNITS;
  g_ptr_array_set_size (self->column->words, 0);
  if (selected == SEVERAL)
    self->column->pattern = g_strdup ("{wick_series}-{wick_size}");
  else if (selected >= FIRST_TARGET)
    self->column->target = g_strdup (wb_app_mapping_get_target (selected - FIRST_TARGET)->name);
  target = get_target (self);
  if (target == NULL || !target->reading)
    self->column->minute = NAN;
  show_rest (self);
  tell (self);
}

static void
on_pattern_changed_cb (WbMappingEditor *self)
{
  if (self->filling || self->column == NULL || self->column->pattern == NULL)
    return;
  g_free (self->column->pattern);
  self->column->pattern = g_strdup (gtk_editable_get_text (self->pattern));
  tell (self);
}

static void
on_unit_selected_cb (WbMappingEditor *self)
{
  guint selected = gtk_drop_down_get_selected (self->unit);

  if (self->filling || self->column == NULL || selected >= self->units->len)
    return;
  self->column->unit = g_array_index (self->units, int, selected);
  tell (self);
}

/* Minutes, or a time with its unit: "90", "1 h". */
static void
on_minute_changed_cb (WbMappingEditor *self)
{
  const char *text = gtk_editable_get_text (self->minute);
  double seconds = NAN;
  gboolean good;

  if (self->filling || self->column == NULL)
    return;
  good = *text == '\0' || (wb_quantity_parse (WB_QUANTITY_DURATION, WB_UNIT_MINUTE, text, &seconds, NULL) && seconds >= 0 && seconds <= 2880 * 60);
  if (good)
    gtk_widget_remove_css_class (GTK_WIDGET (self->minute), "error");
  else
    gtk_widget_add_css_class (GTK_WIDGET (self->minute), "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->minute), GTK_ACCESSIBLE_STATE_INVALID,
                               good ? GTK_ACCESSIBLE_INVALID_FALSE : GTK_ACCESSIBLE_INVALID_TRUE, -1);
  if (!good)
    return;
  self->column->minute = *text == '\0' ? NAN : seconds / 60;
  tell (self);
}

static void
on_repeat_toggled_cb (WbMappingEditor *self)
{
  if (self->filling || self->column == NULL)
    return;
  self->column->repeat = gtk_check_button_get_active (self->repeat);
  tell (self);
}

static void
wb_mapping_editor_dispose (GObject *object)
{
  WbMappingEditor *self = WB_MAPPING_EDITOR (object);

  self->filling = TRUE;
  self->column = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_mapping_editor_parent_class)->dispose (object);
}

static void
wb_mapping_editor_finalize (GObject *object)
{
  g_array_unref (WB_MAPPING_EDITOR (object)->units);
  G_OBJECT_CLASS (wb_mapping_editor_parent_class)->finalize (object);
}

static void
wb_mapping_editor_class_init (WbMappingEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_mapping_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_mapping_editor_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_MAPPING_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "mappingeditor");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
label_new (const char *text,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "max-width-chars", 44, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* A labelled control with a sentence under it. */
static GtkWidget *
row_new (WbMappingEditor *self,
         const char      *title,
         GtkWidget       *control,
         const char      *hint)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_box_append (GTK_BOX (row), label_new (title, "fieldlabel"));
  gtk_box_append (GTK_BOX (row), control);
  if (hint != NULL)
    gtk_box_append (GTK_BOX (row), label_new (hint, "hint"));
  gtk_box_append (GTK_BOX (self->box), row);
  return row;
}

static GtkDropDown *
targets_new (void)
{
  GtkStringList *list = gtk_string_list_new ((const char *const[]) { _("Passed over"), _("Several things in one cell"), NULL });
  GtkWidget *targets;

  for (guint i = 0; i < wb_app_mapping_n_targets (); i++)
    gtk_string_list_append (list, wb_mapping_words_get_title (wb_app_mapping_get_target (i)));
  targets = gtk_drop_down_new (G_LIST_MODEL (list), gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (targets), TRUE);
  wb_choice_list_fit (GTK_DROP_DOWN (targets), CHOICE_CHARACTERS);
  wb_accessible_name_drop_down (GTK_DROP_DOWN (targets), _("Read as"));
  return GTK_DROP_DOWN (targets);
}

static GtkEditable *
entry_new (const char *name)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_EDITABLE (entry);
}

static void
wb_mapping_editor_init (WbMappingEditor *self)
{
  self->units = g_array_new (FALSE, FALSE, sizeof (int));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  self->name = GTK_LABEL (label_new (NULL, "heading"));
  self->examples_label = GTK_LABEL (label_new (NULL, "dim-label"));
  gtk_label_set_lines (self->examples_label, 3);
  gtk_label_set_ellipsize (self->examples_label, PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->name));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->examples_label));
  self->target = targets_new ();
  row_new (self, _("Read as"), GTK_WIDGET (self->target), NULL);
  self->pattern = entry_new (_("Pattern"));
  self->pattern_row = row_new (self, _("Pattern"), GTK_WIDGET (self->pattern),
                               _("Names of columns of the burn log in braces, and what stands between them: {wick_size}/{load_pct}%. {} is passed over."));
  self->unit = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  wb_accessible_name_drop_down (self->unit, _("Unit of a bare number"));
  self->unit_row = row_new (self, _("Unit of a bare number"), GTK_WIDGET (self->unit), NULL);
  self->minute = entry_new (_("Minutes since lighting"));
  self->minute_row = row_new (self, _("Minutes since lighting"), GTK_WIDGET (self->minute),
                              _("Where all of the column was read at one hour: 60, or 1 h. Empty: at the row's own time, or with the last hour filled."));
  self->repeat = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_("An empty cell says what stands above it")));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->repeat));
  self->words_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->words = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->words, 10);
  gtk_grid_set_row_spacing (self->words, 4);
  gtk_box_append (GTK_BOX (self->words_box), label_new (_("Words"), "fieldlabel"));
  gtk_box_append (GTK_BOX (self->words_box), GTK_WIDGET (self->words));
  gtk_box_append (GTK_BOX (self->box), self->words_box);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (self->box, FALSE);
  g_signal_connect_swapped (self->target, "notify::selected", G_CALLBACK (on_target_selected_cb), self);
  g_signal_connect_swapped (self->pattern, "changed", G_CALLBACK (on_pattern_changed_cb), self);
  g_signal_connect_swapped (self->unit, "notify::selected", G_CALLBACK (on_unit_selected_cb), self);
  g_signal_connect_swapped (self->minute, "changed", G_CALLBACK (on_minute_changed_cb), self);
  g_signal_connect_swapped (self->repeat, "toggled", G_CALLBACK (on_repeat_toggled_cb), self);
}

static guint
find_place (const WbLogMappingColumn *column)
{
  if (column->pattern != NULL)
    return SEVERAL;
  for (guint i = 0; column->target != NULL && i < wb_app_mapping_n_targets (); i++)
    if (g_str_equal (wb_app_mapping_get_target (i)->name, column->target))
      return FIRST_TARGET + i;
  return PASSED_OVER;
}

void
wb_mapping_editor_set_column (WbMappingEditor    *self,
                              WbLogMappingColumn *column,
                              char              **examples)
{
  g_autofree char *text = NULL;

  g_return_if_fail (WB_IS_MAPPING_EDITOR (self));

  self->column = column;
  self->examples = examples;
  gtk_widget_set_visible (self->box, column != NULL);
  if (column == NULL)
    return;
  self->filling = TRUE;
  text = examples != NULL && examples[0] != NULL ? g_strjoinv (" · ", examples) : g_strdup (examples != NULL ? _("empty") : _("not in this file"));
  gtk_label_set_text (self->name, column->source);
  gtk_label_set_text (self->examples_label, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, column->source, -1);
  gtk_drop_down_set_selected (self->target, find_place (column));
  show_rest (self);
  self->filling = FALSE;
}
