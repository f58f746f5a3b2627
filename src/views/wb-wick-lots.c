/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-wick-lots.h"

#include "wb-lot-choice.h"

#include <glib/gi18n.h>

/* CSS node: wicklots. Each field is named by its wick. */

#define LABEL_WIDTH 128

typedef struct
{
  WbWick    *wick;  /* a copy */
  char      *was;   /* text when it was shown */
  GtkWidget *entry; /* borrowed */
} Line;

struct _WbWickLots
{
  GtkWidget  parent_instance;

  GtkWidget *grid;
  GPtrArray *lines; /* Line */
};

G_DEFINE_FINAL_TYPE (WbWickLots, wb_wick_lots, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
line_free (gpointer data)
{
  Line *line = data;

  wb_record_free (line->wick);
  g_free (line->was);
  g_free (line);
}

static void
on_changed_cb (WbWickLots *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static const char *
get_text (const Line *line)
{
  return gtk_editable_get_text (GTK_EDITABLE (line->entry));
}

static gboolean
is_typed (const Line *line)
{
  return g_strcmp0 (get_text (line), line->was) != 0;
}

static void
wb_wick_lots_dispose (GObject *object)
{
  WbWickLots *self = WB_WICK_LOTS (object);

  g_ptr_array_set_size (self->lines, 0);
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_wick_lots_parent_class)->dispose (object);
}

static void
wb_wick_lots_finalize (GObject *object)
{
  g_ptr_array_unref (WB_WICK_LOTS (object)->lines);
  G_OBJECT_CLASS (wb_wick_lots_parent_class)->finalize (object);
}

static void
wb_wick_lots_class_init (WbWickLotsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_wick_lots_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_wick_lots_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_WICK_LOTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "wicklots");
}

static void
wb_wick_lots_init (WbWickLots *self)
{
  self->lines = g_ptr_array_new_with_free_func (line_free);
  self->grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 6, "column-spacing", 14, NULL);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}

GtkWidget *
wb_wick_lots_new (void)
{
  return g_object_new (WB_TYPE_WICK_LOTS, NULL);
}

static gboolean
are_same (WbWickLots      *self,
          const GPtrArray *wicks)
{
  if (self->lines->len != wicks->len)
    return FALSE;
  for (guint i = 0; i < wicks->len; i++)
    if (((const Line *) self->lines->pdata[i])->wick->record.id != ((const WbRecord *) wicks->pdata[i])->id)
      return FALSE;
  return TRUE;
}

static const char *
find_typed (const GArray *typed,
            gint64        wick)
{
  for (guint i = 0; i < typed->len; i++)
    if (g_array_index (typed, WbAppPourWickLot, i).wick == wick)
      return g_array_index (typed, WbAppPourWickLot, i).lot;
  return "";
}

static void
add_line (WbWickLots   *self,
          const WbWick *wick,
          const char   *text)
{
  Line *line = g_new0 (Line, 1);
  g_autofree char *title = wb_material_dup_title (wick);
  /* Translators: a wick, "Sedge S-2". */
  g_autofree char *name = g_strdup_printf (_("Wick lot, %s"), title);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", name, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "max-width-chars", 24, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  int row = (int) self->lines->len;

  line->wick = wb_record_copy (wick);
  line->was = g_strdup (text);
  line->entry = g_object_new (GTK_TYPE_ENTRY, "text", text, "hexpand", TRUE, "placeholder-text", _("As above, for all wicks"), NULL);
  gtk_widget_set_size_request (label, LABEL_WIDTH, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (line->entry, "changed", G_CALLBACK (on_changed_cb), self);
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, row, 1, 1);
  gtk_box_append (GTK_BOX (box), line->entry);
  gtk_grid_attach (GTK_GRID (self->grid), box, 1, row, 1, 1);
  g_ptr_array_add (self->lines, line);
}

/* What would stand in the fields stands there already. */
static gboolean
are_shown (WbWickLots      *self,
           const GPtrArray *wicks,
           const GArray    *typed)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];

      if (!wb_record_equal (line->wick, wicks->pdata[i]) || g_strcmp0 (line->was, find_typed (typed, line->wick->record.id)) != 0)
        return FALSE;
    }
  return TRUE;
}

void
wb_wick_lots_show (WbWickLots      *self,
                   const GPtrArray *wicks,
                   const GArray    *typed)
{
  GtkWidget *child;

  g_return_if_fail (WB_IS_WICK_LOTS (self));
  g_return_if_fail (wicks != NULL && typed != NULL);

  /* laid anew they would take the keyboard, and what an entry can take back */
  if (are_same (self, wicks) && (wb_wick_lots_get_touched (self) || are_shown (self, wicks, typed)))
    return;
  g_ptr_array_set_size (self->lines, 0);
  while ((child = gtk_widget_get_first_child (self->grid)) != NULL)
    gtk_grid_remove (GTK_GRID (self->grid), child);
  for (guint i = 0; wicks->len > 1 && i < wicks->len; i++)
    add_line (self, wicks->pdata[i], find_typed (typed, ((const WbRecord *) wicks->pdata[i])->id));
  gtk_widget_set_visible (GTK_WIDGET (self), wicks->len > 1);
}

void
wb_wick_lots_offer (WbWickLots *self,
                    WbAppPour  *pour)
{
  WbAppMaterials shelf = { .lots = (GPtrArray *) wb_app_pour_get_lots (pour), .parts = (GPtrArray *) wb_app_pour_get_parts (pour) };

  g_return_if_fail (WB_IS_WICK_LOTS (self));

  for (guint i = 0; shelf.lots != NULL && i < self->lines->len; i++)
    wb_lot_choice_offer (((const Line *) self->lines->pdata[i])->entry, &shelf, ((const Line *) self->lines->pdata[i])->wick->record.id);
}

gboolean
wb_wick_lots_get_touched (WbWickLots *self)
{
  g_return_val_if_fail (WB_IS_WICK_LOTS (self), FALSE);

  for (guint i = 0; i < self->lines->len; i++)
    if (is_typed (self->lines->pdata[i]))
      return TRUE;
  return FALSE;
}

GArray *
wb_wick_lots_dup (WbWickLots *self)
{
  GArray *lots = wb_app_pour_wick_lots_new ();

  g_return_val_if_fail (WB_IS_WICK_LOTS (self), lots);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      WbAppPourWickLot lot = { line->wick->record.id, g_strstrip (g_strdup (get_text (line))) };

      if (*lot.lot != '\0')
        g_array_append_val (lots, lot);
      else
        g_free (lot.lot);
    }
  return lots;
}

GtkWidget *
wb_wick_lots_get_field (WbWickLots *self,
                        gint64      wick)
{
  g_return_val_if_fail (WB_IS_WICK_LOTS (self), NULL);

  for (guint i = 0; i < self->lines->len; i++)
    if (((const Line *) self->lines->pdata[i])->wick->record.id == wick)
      return ((const Line *) self->lines->pdata[i])->entry;
  return NULL;
}

/* Caller frees. */
static char *
dup_key (const Line *line)
{
  return g_strdup_printf ("wick %" G_GINT64_FORMAT " lot", line->wick->record.id);
}

void
wb_wick_lots_keep (WbWickLots *self,
                   GKeyFile   *file,
                   const char *group)
{
  g_return_if_fail (WB_IS_WICK_LOTS (self));

  for (guint i = 0; i < self->lines->len; i++)
    {
      g_autofree char *key = dup_key (self->lines->pdata[i]);

      if (is_typed (self->lines->pdata[i]))
        g_key_file_set_string (file, group, key, get_text (self->lines->pdata[i]));
    }
}

void
wb_wick_lots_put_back (WbWickLots *self,
                       GKeyFile   *file,
                       const char *group)
{
  g_return_if_fail (WB_IS_WICK_LOTS (self));

  for (guint i = 0; i < self->lines->len; i++)
    {
      g_autofree char *key = dup_key (self->lines->pdata[i]), *text = g_key_file_get_string (file, group, key, NULL);

      if (text != NULL)
        gtk_editable_set_text (GTK_EDITABLE (((const Line *) self->lines->pdata[i])->entry), text);
    }
}
