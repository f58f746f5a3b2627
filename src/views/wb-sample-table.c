/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sample-table.h"

#include "wb-focus-walk.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* CSS node: sampletable. Each field is named by its sample's code and by what it asks. */

/* Lines laid in one turn of the main loop: their fields take some milliseconds. */
#define LINES_A_TURN 4

#define MOST WB_APP_N_POURED

static const WbAppPoured usual[] = { WB_APP_POURED_TARE, WB_APP_POURED_FILL, WB_APP_POURED_HEIGHT, WB_APP_POURED_OFFSET };

typedef struct
{
  gint64           sample;
  char            *code;
  char            *name;               /* of its cell */
  WbSample        *record;             /* a copy, as it stood */
  double           known[MOST];        /* what stands in the record, by field */
  WbQuantityEntry *entries[MOST];      /* borrowed; NULL: not laid yet */
  GtkWidget       *deviation;          /* an entry, borrowed; NULL: not asked */
  char            *waiting[MOST];      /* typed before, for a line that is not laid yet; NULL: nothing */
  char            *waiting_words;
} Line;

struct _WbSampleTable
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *wrong;    /* keeps its place above the lines */
  GtkWidget *grid;

  /* owned */
  GPtrArray *lines;    /* Line */

  /* state */
  WbAppPoured fields[MOST];
  guint      n_fields;
  gboolean   deviations; /* asks what went otherwise, in words */
  guint      laid;
  guint      idle_id;
  gboolean   us_units;
};

G_DEFINE_FINAL_TYPE (WbSampleTable, wb_sample_table, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
line_free (gpointer data)
{
  Line *line = data;

  wb_record_free (line->record);
  for (guint k = 0; k < MOST; k++)
    g_free (line->waiting[k]);
  g_free (line->waiting_words);
  g_free (line->code);
  g_free (line->name);
  g_free (line);
}

static const WbFieldSpec *
get_spec (WbSampleTable *self,
          guint          field)
{
  return wb_app_poured_get_spec (self->fields[field]);
}

static void
on_entry_changed_cb (WbSampleTable *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* What is wrong with the first field that is: no line below moves. */
static void
on_entry_told_cb (WbSampleTable *self)
{
  g_autofree char *words = NULL;

  for (guint i = 0; i < self->laid && words == NULL; i++)
    for (guint k = 0; k < self->n_fields && words == NULL; k++)
      {
        const Line *line = self->lines->pdata[i];
        const char *problem = line->entries[k] != NULL ? wb_quantity_entry_get_problem (line->entries[k]) : NULL;

        if (problem != NULL)
          words = g_strdup_printf ("%s, %s: %s", line->code, _(get_spec (self, k)->label), problem);
      }
  gtk_label_set_text (GTK_LABEL (self->wrong), words != NULL ? words : "");
}

/* The field of a column in a line: behind the values the words. NULL: not asked, or not laid yet. */
static GtkWidget *
get_cell (WbSampleTable *self,
          guint          line,
          guint          column)
{
  const Line *at = self->lines->pdata[line];

  return column < self->n_fields ? (GtkWidget *) at->entries[column] : at->deviation;
}

static gboolean
is_cell_empty (WbSampleTable *self,
               guint          line,
               guint          column)
{
  const Line *at = self->lines->pdata[line];

  if (column >= self->n_fields)
    return *gtk_editable_get_text (GTK_EDITABLE (at->deviation)) == '\0';
  return *wb_quantity_entry_get_text (at->entries[column]) == '\0';
}

static gboolean
find_focus (WbSampleTable *self,
            guint         *line,
            guint         *column)
{
  for (*line = 0; *line < self->laid; (*line)++)
    for (*column = 0; *column <= self->n_fields; (*column)++)
      {
        GtkWidget *cell = get_cell (self, *line, *column);

        if (cell != NULL && wb_focus_walk_is_within (cell))
          return TRUE;
      }
  return FALSE;
}

static void
on_entry_activate_cb (WbSampleTable *self)
{
  wb_sample_table_go_on (self);
}

static GtkWidget *
label_new (const char *text,
           const char *style,
           int         most)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "single-line-mode", TRUE,
                                   "max-width-chars", most, "tooltip-text", text, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* Whole, but for one longer than any label takes. */
static GtkWidget *
code_new (const Line *line)
{
  GtkWidget *label = label_new (line->code, "strong", 12);
  g_autofree char *tip = g_strdup_printf ("%s, %s", line->code, line->name);

  gtk_label_set_width_chars (GTK_LABEL (label), (int) MIN (g_utf8_strlen (line->code, -1) + 1, 12));
  gtk_widget_set_tooltip_text (label, tip);
  return label;
}

static WbQuantityEntry *
entry_new (WbSampleTable *self,
           const Line    *line,
           guint          field)
{
  const WbFieldSpec *spec = get_spec (self, field);
  GtkWidget *entry = wb_quantity_entry_new (spec->quantity, wb_quantity_get_shown_unit (spec->quantity, self->us_units));
  g_autofree char *name = g_strdup_printf ("%s, %s", line->code, _(spec->label));

  wb_quantity_entry_set_width_chars (WB_QUANTITY_ENTRY (entry), self->deviations ? 5 : 6);
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (entry), spec->minimum, spec->maximum);
  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (entry), name);
  wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (entry), line->known[field]);
  wb_quantity_entry_set_integer (WB_QUANTITY_ENTRY (entry), spec->type == WB_FIELD_INTEGER);
  gtk_widget_set_valign (entry, GTK_ALIGN_START);
  wb_quantity_entry_set_told_elsewhere (WB_QUANTITY_ENTRY (entry), TRUE);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_entry_changed_cb), self);
  g_signal_connect_swapped (entry, "told", G_CALLBACK (on_entry_told_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_entry_activate_cb), self);
  return WB_QUANTITY_ENTRY (entry);
}

static const char *
get_words (const Line *line)
{
  return line->record->deviation != NULL ? line->record->deviation : "";
}

static gboolean
has_other_words (const Line *line)
{
  return line->deviation != NULL && g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (line->deviation)), get_words (line)) != 0;
}

/* Something was typed before of a line that is still to be laid. */
static gboolean
waits (WbSampleTable *self,
       const Line    *line)
{
  for (guint k = 0; k < self->n_fields; k++)
    if (line->waiting[k] != NULL)
      return TRUE;
  return line->waiting_words != NULL;
}

static void
lay_line (WbSampleTable *self,
          guint          place)
{
  Line *line = self->lines->pdata[place];
  int row = (int) place + 1;

  /* seven columns leave no room for a second one of words: the glass is known by the code on its label */
  gtk_grid_attach (GTK_GRID (self->grid), code_new (line), 0, row, 1, 1);
  if (!self->deviations)
    gtk_grid_attach (GTK_GRID (self->grid), label_new (line->name, "dim-label", 18), 1, row, 1, 1);
  for (guint k = 0; k < self->n_fields; k++)
    {
      line->entries[k] = entry_new (self, line, k);
      if (line->waiting[k] != NULL)
        wb_quantity_entry_put_typed (line->entries[k], line->waiting[k]);
      gtk_grid_attach (GTK_GRID (self->grid), GTK_WIDGET (line->entries[k]), 2 + (int) k, row, 1, 1);
    }
  if (self->deviations)
    {
      g_autofree char *name = g_strdup_printf ("%s, %s", line->code, _(wb_record_type_find_field (&wb_sample_type, "deviation")->label));

      line->deviation = g_object_new (GTK_TYPE_ENTRY, "text", line->waiting_words != NULL ? line->waiting_words : get_words (line), "width-chars", 8, "hexpand", TRUE, "valign", GTK_ALIGN_START, NULL);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line->deviation), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
      g_signal_connect_swapped (line->deviation, "changed", G_CALLBACK (on_entry_changed_cb), self);
      gtk_grid_attach (GTK_GRID (self->grid), line->deviation, 2 + (int) self->n_fields, row, 1, 1);
    }
}

static gboolean
on_idle_cb (gpointer user)
{
  WbSampleTable *self = user;

  for (guint i = 0; i < LINES_A_TURN && self->laid < self->lines->len; i++)
    lay_line (self, self->laid++);
  if (self->laid < self->lines->len)
    return G_SOURCE_CONTINUE;
  self->idle_id = 0;
  return G_SOURCE_REMOVE;
}

static void
lay_heads (WbSampleTable *self)
{
  for (guint k = 0; k < self->n_fields; k++)
    {
      GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", _(get_spec (self, k)->label), "xalign", 0.0, "yalign", 1.0, "wrap", TRUE,
                                      "wrap-mode", PANGO_WRAP_WORD_CHAR, "max-width-chars", self->deviations ? 9 : 12, NULL);

      gtk_widget_add_css_class (head, "dim-label");
      gtk_grid_attach (GTK_GRID (self->grid), head, 2 + (int) k, 0, 1, 1);
    }
  if (self->deviations)
    {
      GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", _("What went otherwise"), "xalign", 0.0, "yalign", 1.0, "wrap", TRUE, NULL);

      gtk_widget_add_css_class (head, "dim-label");
      gtk_grid_attach (GTK_GRID (self->grid), head, 2 + (int) self->n_fields, 0, 1, 1);
    }
}

static void
clear (WbSampleTable *self)
{
  GtkWidget *child;

  g_clear_handle_id (&self->idle_id, g_source_remove);
  g_ptr_array_set_size (self->lines, 0);
  self->laid = 0;
  while ((child = gtk_widget_get_first_child (self->grid)) != NULL)
    gtk_grid_remove (GTK_GRID (self->grid), child);
}

static gboolean
are_same_samples (WbSampleTable   *self,
                  const GPtrArray *samples)
{
  if (self->lines->len != samples->len)
    return FALSE;
  for (guint i = 0; i < samples->len; i++)
    if (((const Line *) self->lines->pdata[i])->sample != ((const WbSample *) samples->pdata[i])->record.id)
      return FALSE;
  return TRUE;
}

/* What there is to show of a field: what was typed before and taken back, else what the sample's record says. */
static double
get_known (WbSampleTable  *self,
           const WbSample *sample,
           const GArray   *typed,
           guint           k)
{
  for (guint i = 0; i < typed->len; i++)
    {
      const WbAppPouredSample *poured = &g_array_index (typed, WbAppPouredSample, i);

      if (poured->sample == sample->record.id)
        return poured->values[self->fields[k]];
    }
  return wb_app_poured_get (sample, self->fields[k]);
}

static gboolean
is_known_already (WbSampleTable   *self,
                  const GPtrArray *samples,
                  const GArray    *typed)
{
  for (guint i = 0; i < samples->len; i++)
    for (guint k = 0; k < self->n_fields; k++)
      {
        double known = ((const Line *) self->lines->pdata[i])->known[k];
        double now = get_known (self, samples->pdata[i], typed, k);

        if (known != now && !(isnan (known) && isnan (now)))
          return FALSE;
      }
  return TRUE;
}

/* What was typed goes onto the samples as they are now: somebody may have kept one as a reference meanwhile. */
static void
renew_records (WbSampleTable   *self,
               const GPtrArray *samples)
{
  for (guint i = 0; i < samples->len; i++)
    {
      Line *line = self->lines->pdata[i];
      /* words in which nobody typed are the new ones */
      gboolean other = has_other_words (line);

      wb_record_free (line->record);
      line->record = wb_record_copy (samples->pdata[i]);
      if (line->deviation != NULL && !other)
        gtk_editable_set_text (GTK_EDITABLE (line->deviation), get_words (line));
    }
}

static char *
dup_cell_name (const WbDataset *data,
               const WbSample  *sample)
{
  for (guint i = 0; i < data->samples->len; i++)
    if (data->samples->pdata[i] == sample)
      return wb_dataset_dup_cell_name (data, g_array_index (data->sample_cell, guint, i));
  return g_strdup ("");
}

static void
wb_sample_table_dispose (GObject *object)
{
  WbSampleTable *self = WB_SAMPLE_TABLE (object);

  g_clear_handle_id (&self->idle_id, g_source_remove);
  g_ptr_array_set_size (self->lines, 0);
  self->laid = 0;
  g_clear_pointer (&self->wrong, gtk_widget_unparent);
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_sample_table_parent_class)->dispose (object);
}

static void
wb_sample_table_finalize (GObject *object)
{
  g_ptr_array_unref (WB_SAMPLE_TABLE (object)->lines);
  G_OBJECT_CLASS (wb_sample_table_parent_class)->finalize (object);
}

static void
wb_sample_table_class_init (WbSampleTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_sample_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_sample_table_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_SAMPLE_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "sampletable");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_sample_table_init (WbSampleTable *self)
{
  self->lines = g_ptr_array_new_with_free_func (line_free);
  wb_sample_table_set_fields (self, usual, G_N_ELEMENTS (usual), FALSE);
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 10);
  self->wrong = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "single-line-mode", TRUE, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
  gtk_widget_add_css_class (self->wrong, "problem");
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_parent (self->wrong, GTK_WIDGET (self));
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Samples of the batch"), -1);
}

GtkWidget *
wb_sample_table_new (void)
{
  return g_object_new (WB_TYPE_SAMPLE_TABLE, NULL);
}

void
wb_sample_table_fill (WbSampleTable   *self,
                      const WbDataset *data,
                      const GPtrArray *samples,
                      const GArray    *typed,
                      gboolean         us_units)
{
  g_return_if_fail (WB_IS_SAMPLE_TABLE (self));
  g_return_if_fail (data != NULL && samples != NULL && typed != NULL);

  if (are_same_samples (self, samples))
    renew_records (self, samples);
  if (are_same_samples (self, samples)
      && (wb_sample_table_get_touched (self) || (self->us_units == us_units && is_known_already (self, samples, typed))))
    return;
  clear (self);
  self->us_units = us_units;
  for (guint i = 0; i < samples->len; i++)
    {
      const WbSample *sample = samples->pdata[i];
      Line *line = g_new0 (Line, 1);

      line->sample = sample->record.id;
      line->record = wb_record_copy (sample);
      line->code = g_strdup (sample->code);
      line->name = dup_cell_name (data, sample);
      for (guint k = 0; k < self->n_fields; k++)
        line->known[k] = get_known (self, sample, typed, k);
      g_ptr_array_add (self->lines, line);
    }
  lay_heads (self);
  if (self->lines->len > 0)
    self->idle_id = g_idle_add (on_idle_cb, self);
}

GArray *
wb_sample_table_dup_poured (WbSampleTable *self)
{
  GArray *poured;

  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), NULL);

  poured = g_array_new (FALSE, FALSE, sizeof (WbAppPouredSample));
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      WbAppPouredSample sample = { .sample = line->sample };

      for (WbAppPoured k = 0; k < WB_APP_N_POURED; k++)
        sample.values[k] = NAN;
      for (guint k = 0; k < self->n_fields; k++)
        sample.values[self->fields[k]] = line->entries[k] != NULL ? wb_quantity_entry_get_value (line->entries[k]) : line->known[k];
      g_array_append_val (poured, sample);
    }
  return poured;
}

GPtrArray *
wb_sample_table_dup_samples (WbSampleTable *self)
{
  GPtrArray *samples = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), samples);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      WbSample *sample = wb_record_copy (line->record);

      for (guint k = 0; k < self->n_fields; k++)
        if (line->entries[k] != NULL && wb_quantity_entry_get_touched (line->entries[k]))
          wb_app_poured_set (sample, self->fields[k], wb_quantity_entry_get_value (line->entries[k]));
      if (has_other_words (line))
        wb_record_set_text (sample, wb_record_type_find_field (&wb_sample_type, "deviation"), gtk_editable_get_text (GTK_EDITABLE (line->deviation)));
      g_ptr_array_add (samples, sample);
    }
  return samples;
}

void
wb_sample_table_set_fields (WbSampleTable     *self,
                            const WbAppPoured *fields,
                            guint              n_fields,
                            gboolean           deviations)
{
  g_return_if_fail (WB_IS_SAMPLE_TABLE (self));
  g_return_if_fail (n_fields > 0 && n_fields <= MOST);

  if (self->n_fields == n_fields && memcmp (self->fields, fields, n_fields * sizeof *fields) == 0 && self->deviations == deviations)
    return;
  if (self->grid != NULL)
    clear (self);
  memcpy (self->fields, fields, n_fields * sizeof *fields);
  self->n_fields = n_fields;
  self->deviations = deviations;
}

gboolean
wb_sample_table_check (WbSampleTable *self)
{
  GtkWidget *first = NULL;

  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), FALSE);

  for (guint i = 0; i < self->laid; i++)
    for (guint k = 0; k < self->n_fields; k++)
      {
        WbQuantityEntry *entry = ((const Line *) self->lines->pdata[i])->entries[k];

        if (!wb_quantity_entry_check (entry) && first == NULL)
          first = GTK_WIDGET (entry);
      }
  if (first != NULL)
    gtk_widget_grab_focus (first);
  return first == NULL;
}

gboolean
wb_sample_table_get_touched (WbSampleTable *self)
{
  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), FALSE);

  for (guint i = 0; i < self->laid; i++)
    for (guint k = 0; k < self->n_fields; k++)
      if (wb_quantity_entry_get_touched (((const Line *) self->lines->pdata[i])->entries[k]))
        return TRUE;
  for (guint i = 0; i < self->laid; i++)
    if (has_other_words (self->lines->pdata[i]))
      return TRUE;
  for (guint i = self->laid; i < self->lines->len; i++)
    if (waits (self, self->lines->pdata[i]))
      return TRUE;
  return FALSE;
}

gboolean
wb_sample_table_go_on (WbSampleTable *self)
{
  guint line, column;

  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), FALSE);

  if (!find_focus (self, &line, &column))
    return FALSE;
  if (line + 1 < self->laid)
    return gtk_widget_grab_focus (get_cell (self, line + 1, column));
  for (column++; column < self->n_fields + (self->deviations ? 1 : 0); column++)
    for (line = 0; line < self->laid; line++)
      if (is_cell_empty (self, line, column))
        return gtk_widget_grab_focus (get_cell (self, line, column));
  return FALSE;
}

GPtrArray *
wb_sample_table_dup_lacking (WbSampleTable *self,
                             WbAppPoured    poured)
{
  GPtrArray *codes = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) values = NULL;

  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), codes);

  values = wb_sample_table_dup_poured (self);
  for (guint i = 0; i < values->len; i++)
    if (isnan (g_array_index (values, WbAppPouredSample, i).values[poured]))
      g_ptr_array_add (codes, g_strdup (((const Line *) self->lines->pdata[i])->code));
  if (codes->len == values->len)
    g_ptr_array_set_size (codes, 0);
  return codes;
}

gboolean
wb_sample_table_get_laid (WbSampleTable *self)
{
  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), FALSE);
  return self->laid == self->lines->len;
}

GtkWidget *
wb_sample_table_get_field (WbSampleTable *self,
                           guint          line,
                           guint          field)
{
  g_return_val_if_fail (WB_IS_SAMPLE_TABLE (self), NULL);
  g_return_val_if_fail (field < self->n_fields, NULL);
  return line < self->laid ? GTK_WIDGET (((const Line *) self->lines->pdata[line])->entries[field]) : NULL;
}

/* ---- What is half typed ---- */

#define WORDS_KEY "deviation"

/* Of a sample's field in a file. Caller frees. */
static char *
dup_key (const Line *line,
         const char *field)
{
  g_autofree char *uuid = wb_uuid_format (&line->record->uuid);

  return g_strdup_printf ("%s %s", uuid, field);
}

/* NULL: nothing was typed there. */
static const char *
get_typed (const Line *line,
           guint       k)
{
  if (line->entries[k] == NULL)
    return line->waiting[k];
  return wb_quantity_entry_get_touched (line->entries[k]) ? wb_quantity_entry_get_text (line->entries[k]) : NULL;
}

static const char *
get_typed_words (const Line *line)
{
  if (line->deviation == NULL)
    return line->waiting_words;
  return has_other_words (line) ? gtk_editable_get_text (GTK_EDITABLE (line->deviation)) : NULL;
}

static void
keep_text (GKeyFile   *file,
           const char *group,
           const Line *line,
           const char *field,
           const char *text)
{
  g_autofree char *key = dup_key (line, field);

  if (text != NULL)
    g_key_file_set_string (file, group, key, text);
}

void
wb_sample_table_keep (WbSampleTable *self,
                      GKeyFile      *file,
                      const char    *group)
{
  g_return_if_fail (WB_IS_SAMPLE_TABLE (self));
  g_return_if_fail (file != NULL && group != NULL);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];

      for (guint k = 0; k < self->n_fields; k++)
        keep_text (file, group, line, get_spec (self, k)->name, get_typed (line, k));
      keep_text (file, group, line, WORDS_KEY, get_typed_words (line));
    }
}

/* NULL: nothing was kept of it. Caller frees. */
static char *
dup_kept (GKeyFile   *file,
          const char *group,
          const Line *line,
          const char *field)
{
  g_autofree char *key = dup_key (line, field);

  return g_key_file_get_string (file, group, key, NULL);
}

void
wb_sample_table_put_back (WbSampleTable *self,
                          GKeyFile      *file,
                          const char    *group)
{
  g_return_if_fail (WB_IS_SAMPLE_TABLE (self));
  g_return_if_fail (file != NULL && group != NULL);

  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = self->lines->pdata[i];

      for (guint k = 0; k < self->n_fields; k++)
        {
          g_free (line->waiting[k]);
          line->waiting[k] = dup_kept (file, group, line, get_spec (self, k)->name);
          if (line->waiting[k] != NULL && line->entries[k] != NULL)
            wb_quantity_entry_put_typed (line->entries[k], line->waiting[k]);
        }
      g_free (line->waiting_words);
      line->waiting_words = self->deviations ? dup_kept (file, group, line, WORDS_KEY) : NULL;
      if (line->waiting_words != NULL && line->deviation != NULL)
        gtk_editable_set_text (GTK_EDITABLE (line->deviation), line->waiting_words);
    }
}
