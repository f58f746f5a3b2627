/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-row.h"
#include "wb-problem.h"
#include "wb-report-label-code.h"

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
is_word (const char *said,
         const char *word)
{
  g_autofree char *key = g_utf8_casefold (said != NULL ? said : "", -1), *wanted = g_utf8_casefold (word, -1);

  return g_str_equal (key, wanted);
}

/* The digits of a blind label, or the text of a label's QR code, as a camera gives it. */
static gboolean
has_label (const WbSample *sample,
           const char     *word)
{
  g_autofree char *digits = sample->blind_code > 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, sample->blind_code) : NULL;
  WbUuid uuid;

  return (digits != NULL && g_str_equal (digits, word)) || (wb_report_label_code_parse (word, &uuid) && wb_uuid_equal (&uuid, &sample->uuid));
}

/* As it stands on the screen, or on its label, which names no experiment. */
static gboolean
has_code (WbAppBenchSample *sample,
          const char       *word)
{
  const WbSample *record = wb_app_bench_sample_get_record (sample);

  return is_word (wb_app_bench_sample_get_code (sample), word) || is_word (record->code, word) || has_label (record, word);
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
      WbAppBenchSample *sample = g_ptr_array_index (samples, i);
      g_autofree char *code = g_utf8_casefold (wb_app_bench_sample_get_code (sample), -1);
      g_autofree char *label = g_utf8_casefold (wb_app_bench_sample_get_record (sample)->code, -1);

      if (!g_str_has_prefix (code, wanted) && !g_str_has_prefix (label, wanted))
        continue;
      if (found != NULL)
        return NULL;
      found = g_ptr_array_index (samples, i);
    }
  return found;
}

/* By code first, of the page's own experiment before another's, then by the place where it burns, then by the beginning of a code. */
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
  for (guint other = 0; other < 2; other++)
    for (guint i = 0; i < all->len; i++)
      {
        WbAppBenchSample *sample = g_ptr_array_index (all, i);
        gboolean own = wb_app_bench_sample_get_experiment (sample) == wb_page_get_experiment (WB_PAGE (self));

        if (own == (other == 0) && has_code (sample, word))
          return sample;
      }
  for (guint i = 0; i < alight->len; i++)
    if (is_word (wb_app_bench_sample_get_place (g_ptr_array_index (alight, i)), word))
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

/* A word asked for beside the bar. Both names are for assistive technology. */
static GtkWidget *
ask_new (WbBurnPage *self,
         const char *hint,
         const char *what,
         const char *title,
         GCallback   activated)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *entry = g_object_new (GTK_TYPE_ENTRY, "placeholder-text", hint, "width-chars", 14, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  g_signal_connect_object (entry, "activate", activated, self, G_CONNECT_SWAPPED);
  g_signal_connect (entry, "changed", G_CALLBACK (on_name_changed_cb), NULL);
  gtk_popover_set_child (GTK_POPOVER (popover), entry);
  gtk_accessible_update_property (GTK_ACCESSIBLE (popover), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_widget_set_parent (popover, GTK_WIDGET (self->bar));
  return popover;
}

static void
ask (GtkWidget  *popover,
     const char *text)
{
  GtkWidget *entry = gtk_popover_get_child (GTK_POPOVER (popover));

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_popover_popup (GTK_POPOVER (popover));
  gtk_widget_grab_focus (entry);
}

void
wb_burn_page_go_by_name (WbBurnPage *self)
{
  if (self->finder == NULL)
    self->finder = ask_new (self, _("Code or place"), _("Code of a sample, or its place on the bench"), _("Go to a sample"),
                            G_CALLBACK (on_name_activate_cb));
  ask (self->finder, "");
}

static void
on_moved_cb (GObject      *bench,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbBurnPage) self = user;
  g_autoptr (GError) error = NULL;

  if (!wb_app_bench_finish (WB_APP_BENCH (bench), result, &error) && wb_page_get_desk (WB_PAGE (self)) != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The place was not changed"), error);
}

static void
on_place_activate_cb (WbBurnPage *self,
                      GtkEntry   *entry)
{
  gtk_popover_popdown (GTK_POPOVER (self->mover));
  if (wb_burn_page_get_chosen (self) != NULL)
    wb_app_bench_move_async (wb_burn_page_get_bench (self), self->chosen, gtk_editable_get_text (GTK_EDITABLE (entry)), NULL, on_moved_cb,
                             g_object_ref (self));
}

void
wb_burn_page_move (WbBurnPage *self)
{
  const char *place = wb_app_bench_sample_get_place (wb_burn_page_get_chosen (self));

  if (self->mover == NULL)
    self->mover = ask_new (self, _("Place"), _("Place on the bench where it stands now"), _("Change the place of the chosen sample"),
                           G_CALLBACK (on_place_activate_cb));
  ask (self->mover, place != NULL ? place : "");
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

/* Of a stated bench, from 0: where it burns, or would be put now; G_MAXUINT: it has no place. */
static guint
get_bench_row (WbBurnPage       *self,
               WbAppBenchSample *sample,
               guint             places,
               guint             columns)
{
  guint place = wb_burn_page_is_alight (sample) ? wb_app_bench_sample_get_place_number (sample, places)
                                                : wb_app_bench_propose_place (wb_burn_page_get_bench (self), sample, places);

  return place >= 1 && place <= places ? (place - 1) / columns : G_MAXUINT;
}

static gboolean
waits_for_turn (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_waits_for_cohort (sample) > 0;
}

GPtrArray *
wb_burn_page_list_row (WbBurnPage *self,
                       WbBurnRow   row)
{
  gboolean snuff = row == WB_BURN_ROW_SNUFF;
  const GPtrArray *from = snuff ? wb_bench_round_get_alight (self->round) : wb_bench_round_get_waiting (self->round);
  WbAppBenchSample *chosen = wb_burn_page_get_chosen (self);
  GPtrArray *list = g_ptr_array_new ();
  guint places, columns = row == WB_BURN_ROW_LIGHT && chosen != NULL ? wb_burn_page_get_stated_columns (self, &places) : 0;
  guint wanted = columns > 0 ? get_bench_row (self, chosen, places, columns) : G_MAXUINT;
  /* whoever begins with one of a later cohort lights it all the same, and its like */
  gboolean keeps_turn = chosen == NULL || !waits_for_turn (chosen);

  for (guint i = 0; i < from->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (from, i);

      if (!snuff && (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_FIT || (keeps_turn && waits_for_turn (sample))))
        continue;
      if (wanted == G_MAXUINT || get_bench_row (self, sample, places, columns) == wanted)
        g_ptr_array_add (list, sample);
    }
  if (snuff)
    g_ptr_array_sort (list, compare_by_elapsed);
  return list;
}

void
wb_burn_page_go_on_in_row (WbBurnPage *self)
{
  WbAppRowStep step;

  if (!wb_app_bench_get_row_step (wb_burn_page_get_bench (self), &step))
    return;
  if (step.kind == WB_APP_ROW_LIGHT)
    wb_burn_page_choose_to_light (self, step.next);
  else
    wb_burn_page_choose_and_focus (self, step.next);
}

void
wb_burn_page_start_row (WbBurnPage *self,
                        WbBurnRow   row)
{
  g_autoptr (GPtrArray) list = wb_burn_page_list_row (self, row);

  wb_app_bench_start_row (wb_burn_page_get_bench (self), row == WB_BURN_ROW_SNUFF ? WB_APP_ROW_SNUFF : WB_APP_ROW_LIGHT, list);
  wb_burn_page_go_on_in_row (self);
  wb_burn_page_follow (self);
}
