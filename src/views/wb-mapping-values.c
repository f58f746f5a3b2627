/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-values.h"

#include "wb-app-mapping.h"
#include "wb-mapping-words.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* CSS node: mappingvalues. Accessible: a group; each field is named by what it is and whether it is needed. */

/* What is asked, in this order; everything else that a sheet lacks is simply not known. */
static const char *const asked[] = {
  "experiment", "vessel", "inner_diameter_mm", "wax", "wick_series", "wick_size", "load_pct", "sample", "burn", "elapsed_min",
  "lit_at", WB_LOG_TARGET_LIT_ON, WB_LOG_TARGET_LIT_TIME, "fragrance", "load_basis", "wick_count", "wick_step", "dye", "poured_on", "cure_days",
  "tare_g", "fill_g", "trim_mm", "burn_kind", "room_c", "draught", "rater",
};

struct _WbMappingValues
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *box;
  GtkWidget    *titles[G_N_ELEMENTS (asked)];
  GtkEditable  *entries[G_N_ELEMENTS (asked)];
  GtkEditable  *nothing;

  /* borrowed */
  WbLogMapping *mapping;

  /* state */
  gboolean      filling;
};

G_DEFINE_FINAL_TYPE (WbMappingValues, wb_mapping_values, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_entry_changed_cb (WbMappingValues *self,
                     GtkEditable     *entry)
{
  const char *text = gtk_editable_get_text (entry);

  if (self->filling || self->mapping == NULL)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    if (self->entries[i] == entry)
      wb_log_mapping_set_fixed (self->mapping, asked[i], text[strspn (text, " \t")] != '\0' ? text : NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* Texts between semicolons. */
static void
on_nothing_changed_cb (WbMappingValues *self)
{
  g_autoptr (GStrvBuilder) builder = NULL;
  g_auto (GStrv) parts = NULL;

  if (self->filling || self->mapping == NULL)
    return;
  builder = g_strv_builder_new ();
  parts = g_strsplit (gtk_editable_get_text (self->nothing), ";", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    if (*g_strstrip (parts[i]) != '\0')
      g_strv_builder_add (builder, parts[i]);
  g_strfreev (self->mapping->nothing);
  self->mapping->nothing = g_strv_builder_end (builder);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
wb_mapping_values_dispose (GObject *object)
{
  g_clear_pointer (&WB_MAPPING_VALUES (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_mapping_values_parent_class)->dispose (object);
}

static void
wb_mapping_values_class_init (WbMappingValuesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_mapping_values_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_MAPPING_VALUES, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "mappingvalues");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
label_new (const char *text,
           const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "max-width-chars", 70, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

/* The words that a field takes, as its example. */
static char *
dup_example (const WbLogTarget *target)
{
  GString *text = g_string_new (NULL);

  if (strcmp (target->name, "burn") == 0)
    g_string_append_printf (text, _("a number, or %s: each new lighting of a sample is its next burn"), WB_LOG_COUNTED);
  else if (strcmp (target->name, "lit_at") == 0)
    g_string_append_printf (text, _("%s: of each burn, by day and time of its readings"), WB_LOG_FIRST_READING);
  for (const WbWord *word = target->words; word != NULL && word->nick != NULL; word++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _(word->label));
  return g_string_free (text, FALSE);
}

static void
add_field (WbMappingValues *self,
           GtkGrid         *grid,
           guint            i)
{
  const WbLogTarget *target = wb_app_mapping_find_target (asked[i]);
  g_autofree char *title = wb_mapping_words_dup_title (target), *example = dup_example (target);
  g_autofree char *needed = target->required ? g_strdup_printf (_("%s (needed)"), title) : g_strdup (title);

  self->titles[i] = label_new (needed, "fieldlabel");
  self->entries[i] = GTK_EDITABLE (gtk_entry_new ());
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entries[i]), example);
  gtk_editable_set_width_chars (self->entries[i], 34);
  gtk_widget_set_hexpand (GTK_WIDGET (self->entries[i]), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entries[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, needed, -1);
  gtk_grid_attach (grid, self->titles[i], 0, (int) i, 1, 1);
  gtk_grid_attach (grid, GTK_WIDGET (self->entries[i]), 1, (int) i, 1, 1);
  g_signal_connect_swapped (self->entries[i], "changed", G_CALLBACK (on_entry_changed_cb), self);
}

static void
wb_mapping_values_init (WbMappingValues *self)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 6, "column-spacing", 14, NULL);
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  gtk_box_append (GTK_BOX (inside), label_new (_("What the file does not say, for all of its rows. {Name of a column} takes what stands in that column, so that a sample can be named {Wick}-{No}."), "dim-label"));
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    add_field (self, GTK_GRID (grid), i);
  gtk_box_append (GTK_BOX (inside), grid);
  gtk_box_append (GTK_BOX (inside), label_new (_("Says nothing"), "fieldlabel"));
  self->nothing = GTK_EDITABLE (gtk_entry_new ());
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->nothing), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Texts that say no more than an empty cell"), -1);
  gtk_box_append (GTK_BOX (inside), GTK_WIDGET (self->nothing));
  gtk_box_append (GTK_BOX (inside), label_new (_("Texts that say no more than an empty cell, with semicolons between them: -; n/a"), "hint"));
  g_signal_connect_swapped (self->nothing, "changed", G_CALLBACK (on_nothing_changed_cb), self);
  gtk_widget_set_margin_end (inside, 12);
  self->box = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "vexpand", TRUE, "child", inside, NULL);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What the file does not say"), -1);
}

static gboolean
is_read (const WbLogMapping *mapping,
         const char         *target)
{
  g_autofree char *braced = g_strdup_printf ("{%s}", target);
  gboolean hours = FALSE, timed = FALSE, lit_on = FALSE, lit_at = FALSE;

  for (guint i = 0; i < mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (g_strcmp0 (column->target, target) == 0 || (column->pattern != NULL && strstr (column->pattern, braced) != NULL))
        return TRUE;
      hours |= !isnan (column->minute) && column->target != NULL;
      lit_on |= g_strcmp0 (column->target, WB_LOG_TARGET_LIT_ON) == 0;
      lit_at |= g_strcmp0 (column->target, "lit_at") == 0;
      timed |= g_strcmp0 (column->target, WB_LOG_TARGET_READ_TIME) == 0 || g_strcmp0 (column->target, WB_LOG_TARGET_READ_AT) == 0;
    }
  /* The same told another way. */
  if (strcmp (target, "lit_at") == 0 && lit_on)
    return TRUE;
  if ((strcmp (target, WB_LOG_TARGET_LIT_ON) == 0 || strcmp (target, WB_LOG_TARGET_LIT_TIME) == 0) && lit_at)
    return TRUE;
  /* Minutes since lighting are worked out of these. */
  return (hours || timed) && strcmp (target, "elapsed_min") == 0;
}

void
wb_mapping_values_set (WbMappingValues *self,
                       WbLogMapping    *mapping)
{
  g_autofree char *nothing = NULL;

  g_return_if_fail (WB_IS_MAPPING_VALUES (self));
  g_return_if_fail (mapping != NULL);

  self->mapping = mapping;
  self->filling = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      const char *text = wb_log_mapping_get_fixed (mapping, asked[i]);
      /* One that is told twice stays to be seen: the mapping does not fit until it is taken off. */
      gboolean wanted = text != NULL || !is_read (mapping, asked[i]);

      gtk_editable_set_text (self->entries[i], text != NULL ? text : "");
      gtk_widget_set_visible (GTK_WIDGET (self->entries[i]), wanted);
      gtk_widget_set_visible (self->titles[i], wanted);
    }
  nothing = g_strjoinv ("; ", mapping->nothing);
  gtk_editable_set_text (self->nothing, nothing);
  self->filling = FALSE;
}

gboolean
wb_mapping_values_focus (WbMappingValues *self,
                         const char      *target)
{
  g_return_val_if_fail (WB_IS_MAPPING_VALUES (self), FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    if (strcmp (asked[i], target) == 0 && gtk_widget_get_visible (GTK_WIDGET (self->entries[i])))
      return gtk_widget_grab_focus (GTK_WIDGET (self->entries[i]));
  return FALSE;
}
