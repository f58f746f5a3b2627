/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-row.h"

#include <glib/gi18n.h>

/* To another sample by keys: the one beside it, the one of a code or place, the next of a row. */

void
wb_burn_page_go_beside (WbBurnPage *self,
                        const char *where)
{
  static const struct { const char *name; GtkDirectionType direction; } ways[] = {
    { "left", GTK_DIR_LEFT }, { "right", GTK_DIR_RIGHT }, { "up", GTK_DIR_UP }, { "down", GTK_DIR_DOWN }
  };

  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    if (g_str_equal (where, ways[i].name))
      {
        WbAppBenchSample *sample = wb_bench_view_find_beside (self->view, self->chosen, ways[i].direction);

        if (sample != NULL)
          wb_burn_page_choose_and_focus (self, sample);
        else
          gtk_widget_error_bell (GTK_WIDGET (self));
      }
}

static gboolean
has_word (WbAppBenchSample *sample,
          const char       *word,
          gboolean          by_place)
{
  const char *said = by_place ? wb_app_bench_sample_get_place (sample) : wb_app_bench_sample_get_code (sample);
  g_autofree char *key = g_utf8_casefold (said != NULL ? said : "", -1), *wanted = g_utf8_casefold (word, -1);

  return g_str_equal (key, wanted);
}

/* Alone with that beginning; NULL: none, or several. */
static WbAppBenchSample *
find_beginning (const GPtrArray *samples,
                const char      *word)
{
  g_autofree char *wanted = g_utf8_casefold (word, -1);
  WbAppBenchSample *found = NULL;

  for (guint i = 0; i < samples->len; i++)
    {
      g_autofree char *code = g_utf8_casefold (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), -1);

      if (!g_str_has_prefix (code, wanted))
        continue;
      if (found != NULL)
        return NULL;
      found = g_ptr_array_index (samples, i);
    }
  return found;
}

/* By code first, then by the place where it burns, then by the beginning of a code. */
static WbAppBenchSample *
find_named (WbBurnPage *self,
            const char *word)
{
  const GPtrArray *alight = wb_bench_round_get_alight (self->round), *waiting = wb_bench_round_get_waiting (self->round);
  g_autoptr (GPtrArray) all = g_ptr_array_new ();

  for (guint i = 0; i < alight->len; i++)
    g_ptr_array_add (all, g_ptr_array_index (alight, i));
  for (guint i = 0; i < waiting->len; i++)
    g_ptr_array_add (all, g_ptr_array_index (waiting, i));
  for (guint i = 0; i < all->len; i++)
    if (has_word (g_ptr_array_index (all, i), word, FALSE))
      return g_ptr_array_index (all, i);
  for (guint i = 0; i < alight->len; i++)
    if (has_word (g_ptr_array_index (alight, i), word, TRUE))
      return g_ptr_array_index (alight, i);
  return find_beginning (all, word);
}

static void
on_name_activate_cb (WbBurnPage *self,
                     GtkEntry   *entry)
{
  g_autofree char *word = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  WbAppBenchSample *sample = *word != '\0' ? find_named (self, word) : NULL;

  if (sample == NULL)
    {
      gtk_widget_add_css_class (GTK_WIDGET (entry), "error");
      gtk_widget_error_bell (GTK_WIDGET (entry));
      return;
    }
  gtk_popover_popdown (GTK_POPOVER (self->finder));
  wb_burn_page_choose_and_focus (self, sample);
}

static void
on_name_changed_cb (GtkWidget *entry)
{
  gtk_widget_remove_css_class (entry, "error");
}

void
wb_burn_page_go_by_name (WbBurnPage *self)
{
  GtkWidget *entry;

  if (self->finder == NULL)
    {
      self->finder = gtk_popover_new ();
      entry = g_object_new (GTK_TYPE_ENTRY, "placeholder-text", _("Code or place"), "width-chars", 14, NULL);
      gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Code of a sample, or its place on the bench"), -1);
      g_signal_connect_object (entry, "activate", G_CALLBACK (on_name_activate_cb), self, G_CONNECT_SWAPPED);
      g_signal_connect (entry, "changed", G_CALLBACK (on_name_changed_cb), NULL);
      gtk_popover_set_child (GTK_POPOVER (self->finder), entry);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->finder), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Go to a sample"), -1);
      gtk_widget_set_parent (self->finder, GTK_WIDGET (self->bar));
    }
  entry = gtk_popover_get_child (GTK_POPOVER (self->finder));
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
  gtk_popover_popup (GTK_POPOVER (self->finder));
  gtk_widget_grab_focus (entry);
}

/* The longest alight first: it was lit first. */
static int
compare_by_elapsed (gconstpointer a,
                    gconstpointer b)
{
  gint64 first = wb_app_bench_sample_get_elapsed_s (*(WbAppBenchSample *const *) a);
  gint64 second = wb_app_bench_sample_get_elapsed_s (*(WbAppBenchSample *const *) b);

  return first > second ? -1 : first < second;
}

GPtrArray *
wb_burn_page_list_row (WbBurnPage *self,
                       gboolean    snuff)
{
  const GPtrArray *from = snuff ? wb_bench_round_get_alight (self->round) : wb_bench_round_get_waiting (self->round);
  GPtrArray *row = g_ptr_array_new ();

  for (guint i = 0; i < from->len; i++)
    if (snuff || wb_app_bench_sample_get_state (g_ptr_array_index (from, i)) == WB_APP_BENCH_FIT)
      g_ptr_array_add (row, g_ptr_array_index (from, i));
  if (snuff)
    g_ptr_array_sort (row, compare_by_elapsed);
  return row;
}

void
wb_burn_page_go_on_in_row (WbBurnPage *self)
{
  WbAppRowStep step;

  if (wb_app_bench_get_row_step (wb_burn_page_get_bench (self), &step))
    wb_burn_page_choose_and_focus (self, step.next);
}

void
wb_burn_page_start_row (WbBurnPage *self,
                        gboolean    snuff)
{
  g_autoptr (GPtrArray) row = wb_burn_page_list_row (self, snuff);

  wb_app_bench_start_row (wb_burn_page_get_bench (self), snuff ? WB_APP_ROW_SNUFF : WB_APP_ROW_LIGHT, row);
  wb_burn_page_go_on_in_row (self);
  wb_burn_page_follow (self);
}
