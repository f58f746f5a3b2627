/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-cohorts.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-calc-blocks.h"

#define WHOLE 1e-9 /* a loss below this is rounding */

static gboolean
counts (const WbSample *sample)
{
  return sample->set_aside_cause < 0 && sample->set_aside == NULL && !sample->retained;
}

/* 0: none is. */
static gint64
recorded_of (const WbDataset *data,
             guint            sample)
{
  return MAX (wb_dataset_get_sample (data, sample)->cohort, 0);
}

/* Burns of each sample. */
static guint *
count_burns (const WbDataset *data)
{
  guint *burns = g_new0 (guint, MAX (data->samples->len, 1));

  for (guint i = 0; i < data->burns->len; i++)
    burns[g_array_index (data->burn_sample, guint, i)]++;
  return burns;
}

/* The work of dividing: samples that count, as plots. */
typedef struct
{
  const WbDataset *data;
  guint   *burns;       /* a sample */
  GArray  *plan;        /* guint: samples that count, by cell and code */
  GArray  *replications; /* gsize: by combination that has any */
  guint   *treatment;   /* a sample of the data set: its combination's number in the plan */
  gint64  *cohort;      /* a sample: where it is held; 0: free */
  GArray  *numbers;     /* gint64: of the cohorts, held ones first as they come */
  GArray  *held;        /* guint: samples held in each */
  GArray  *closed;      /* gboolean: takes no other */
} Work;

static void
work_clear (Work *self)
{
  g_free (self->burns);
  g_free (self->treatment);
  g_free (self->cohort);
  g_array_unref (self->plan);
  g_array_unref (self->replications);
  g_array_unref (self->numbers);
  g_array_unref (self->held);
  g_array_unref (self->closed);
}

static guint
find_number (const Work *self,
             gint64      number)
{
  for (guint i = 0; i < self->numbers->len; i++)
    if (g_array_index (self->numbers, gint64, i) == number)
      return i;
  return G_MAXUINT;
}

static guint
add_cohort (Work  *self,
            gint64 number)
{
  const guint none = 0;
  const gboolean open = FALSE;

  g_array_append_val (self->numbers, number);
  g_array_append_val (self->held, none);
  g_array_append_val (self->closed, open);
  return self->numbers->len - 1;
}

static gint64
find_free_number (const Work *self)
{
  gint64 number = 1;

  while (find_number (self, number) != G_MAXUINT)
    number++;
  return number;
}

static void
hold (Work  *self,
      guint  sample,
      gint64 number)
{
  guint cohort = find_number (self, number);

  if (cohort == G_MAXUINT)
    cohort = add_cohort (self, number);
  self->cohort[sample] = number;
  g_array_index (self->held, guint, cohort)++;
  if (self->burns[sample] > 1)
    g_array_index (self->closed, gboolean, cohort) = TRUE;
}

/* What was burnt stays; so does all of a cohort that is on its way. */
static void
hold_what_stays (Work *self)
{
  gint64 strays = 0;

  for (guint i = 0; i < self->plan->len; i++)
    {
      guint sample = g_array_index (self->plan, guint, i);
      gint64 recorded = wb_dataset_get_sample (self->data, sample)->cohort;

      if (self->burns[sample] > 0 && recorded > 0)
        hold (self, sample, recorded);
    }
  for (guint i = 0; i < self->plan->len; i++)
    {
      guint sample = g_array_index (self->plan, guint, i), cohort;
      gint64 recorded = wb_dataset_get_sample (self->data, sample)->cohort;

      if (self->cohort[sample] != 0)
        continue;
      cohort = recorded > 0 ? find_number (self, recorded) : G_MAXUINT;
      if (self->burns[sample] > 0)
        {
          strays = strays == 0 ? find_free_number (self) : strays;
          hold (self, sample, strays);
        }
      else if (cohort != G_MAXUINT && g_array_index (self->closed, gboolean, cohort))
        hold (self, sample, recorded);
    }
}

static void
work_init (Work            *self,
           const WbDataset *data)
{
  guint last_cell = G_MAXUINT;

  *self = (Work) {
    .data = data,
    .burns = count_burns (data),
    .plan = g_array_new (FALSE, FALSE, sizeof (guint)),
    .replications = g_array_new (FALSE, FALSE, sizeof (gsize)),
    .treatment = g_new0 (guint, MAX (data->samples->len, 1)),
    .cohort = g_new0 (gint64, MAX (data->samples->len, 1)),
    .numbers = g_array_new (FALSE, FALSE, sizeof (gint64)),
    .held = g_array_new (FALSE, FALSE, sizeof (guint)),
    .closed = g_array_new (FALSE, FALSE, sizeof (gboolean)),
  };
  /* samples come by cell and code */
  for (guint i = 0; i < data->samples->len; i++)
    {
      guint cell = g_array_index (data->sample_cell, guint, i);
      const gsize none = 0;

      if (!counts (wb_dataset_get_sample (data, i)))
        continue;
      if (cell != last_cell)
        g_array_append_val (self->replications, none);
      last_cell = cell;
      self->treatment[i] = self->replications->len - 1;
      g_array_index (self->replications, gsize, self->treatment[i])++;
      g_array_append_val (self->plan, i);
    }
  hold_what_stays (self);
}

/* Room for the free samples: in cohorts that take others, then in new ones; each sample to the smallest. Sizes by cohort. */
static gsize *
find_sizes (Work *self,
            guint places)
{
  guint left = self->plan->len, room = 0, taken;
  gsize *sizes;

  for (guint i = 0; i < self->numbers->len; i++)
    {
      guint held = g_array_index (self->held, guint, i);

      left -= held;
      room += g_array_index (self->closed, gboolean, i) || held >= places ? 0 : places - held;
    }
  for (; room < left; room += places)
    add_cohort (self, find_free_number (self));
  sizes = g_new0 (gsize, MAX (self->numbers->len, 1));
  for (guint i = 0; i < self->numbers->len; i++)
    sizes[i] = g_array_index (self->held, guint, i);
  for (taken = 0; taken < left; taken++)
    {
      guint best = G_MAXUINT;

      for (guint i = 0; i < self->numbers->len; i++)
        if (!g_array_index (self->closed, gboolean, i) && sizes[i] < places && (best == G_MAXUINT || sizes[i] < sizes[best]))
          best = i;
      sizes[best]++;
    }
  return sizes;
}

/* Cohorts that whole duplicates take; 0: they cannot be made. */
static guint
count_whole (const Work *self,
             guint       places)
{
  gsize r = g_array_index (self->replications, gsize, 0);
  guint v = self->replications->len, a_cohort = places / v;

  for (guint i = 1; i < v; i++)
    if (g_array_index (self->replications, gsize, i) != r)
      return 0;
  /* what is held has its own order */
  for (guint i = 0; i < self->held->len; i++)
    if (g_array_index (self->held, guint, i) > 0)
      return 0;
  return a_cohort > 0 ? (guint) ((r + a_cohort - 1) / a_cohort) : 0;
}

/* The nth samples of each combination, from the first cohort on. */
static void
divide_whole (Work  *self,
              guint  n_cohorts,
              gint64 *cohorts)
{
  gsize r = g_array_index (self->replications, gsize, 0);

  for (guint i = 0; i < self->plan->len; i++)
    cohorts[g_array_index (self->plan, guint, i)] = 1 + (gint64) (i % r * n_cohorts / r);
}

typedef struct
{
  WbCraftKeepGoing keep_going;
  gpointer         user;
} Watch;

static bool
on_searched (double done,
             double efficiency,
             void  *user)
{
  const Watch *watch = user;

  (void) efficiency;
  return watch->keep_going == NULL || watch->keep_going (done, watch->user);
}

/* What is held comes first in its cohort's plots. */
static gsize *
find_held (const Work  *self,
           const gsize *sizes)
{
  gsize *held = g_new (gsize, self->plan->len), plot = 0;

  for (guint i = 0; i < self->numbers->len; plot += sizes[i], i++)
    {
      gsize next = plot;

      for (guint k = 0; k < self->plan->len; k++)
        {
          guint sample = g_array_index (self->plan, guint, k);

          if (self->cohort[sample] == g_array_index (self->numbers, gint64, i))
            held[next++] = self->treatment[sample];
        }
      for (; next < plot + sizes[i]; next++)
        held[next] = SIZE_MAX;
    }
  return held;
}

/* The free samples of a combination in the order of their codes, to its cohorts in their order. */
static void
hand_out (const Work  *self,
          const gsize *sizes,
          const gsize *held,
          const gsize *treatments,
          gint64      *cohorts)
{
  gsize plot = 0;

  for (guint k = 0; k < self->plan->len; k++)
    {
      guint sample = g_array_index (self->plan, guint, k);

      cohorts[sample] = self->cohort[sample];
    }
  for (guint i = 0; i < self->numbers->len; i++)
    for (gsize end = plot + sizes[i]; plot < end; plot++)
      for (guint k = 0; held[plot] == SIZE_MAX && k < self->plan->len; k++)
        {
          guint sample = g_array_index (self->plan, guint, k);

          if (cohorts[sample] == 0 && self->treatment[sample] == treatments[plot])
            {
              cohorts[sample] = g_array_index (self->numbers, gint64, i);
              break;
            }
        }
}

/* FALSE: it was stopped. */
static gboolean
divide_mixed (Work            *self,
              guint            places,
              guint64          seed,
              WbCraftKeepGoing keep_going,
              gpointer         user,
              gint64          *cohorts,
              double          *efficiency)
{
  g_autofree gsize *sizes = find_sizes (self, places), *held = find_held (self, sizes);
  g_autofree gsize *treatments = g_new0 (gsize, self->plan->len);
  Watch watch = { keep_going, user };
  WbCalcBlocksLayout layout = {
    self->replications->len, (const gsize *) (gpointer) self->replications->data, self->numbers->len, sizes,
  };
  WbCalcBlocksOptions options = { .seed = seed, .held = held, .keep_going = on_searched, .user = &watch };
  WbCalcBlocksFigures figures;
  WbCalcStatus status = wb_calc_blocks_search (&layout, &options, treatments, &figures);

  if (status == WB_CALC_CANCELLED || status == WB_CALC_NO_MEMORY)
    return FALSE;
  if (status != WB_CALC_OK && isnan (figures.efficiency))
    /* more combinations than the search takes: as they come */
    for (guint i = 0, plot = 0; i < self->plan->len; i++)
      {
        guint sample = g_array_index (self->plan, guint, i);

        while (self->cohort[sample] == 0 && held[plot] != SIZE_MAX)
          plot++;
        if (self->cohort[sample] == 0)
          treatments[plot++] = self->treatment[sample];
      }
  hand_out (self, sizes, held, treatments, cohorts);
  *efficiency = isnan (figures.efficiency) ? 0 : figures.efficiency;
  return TRUE;
}

/* How good they are, from `cohorts` alone. */
static void
measure (WbCraftCohorts  *self,
         const WbDataset *data)
{
  g_autoptr (GHashTable) sizes = g_hash_table_new (g_direct_hash, g_direct_equal); /* cohort → samples that count */
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gsize)), replications = g_array_new (FALSE, FALSE, sizeof (gsize));
  g_autoptr (GArray) plots = g_array_new (FALSE, FALSE, sizeof (gsize));
  GHashTableIter iter;
  gpointer key, value;
  WbCalcBlocksFigures figures;
  WbCalcBlocksLayout layout;

  self->efficiency = NAN;
  for (guint i = 0; i < self->n_samples; i++)
    if (counts (wb_dataset_get_sample (data, i)))
      {
        key = GSIZE_TO_POINTER ((gsize) self->cohorts[i]);
        if (self->cohorts[i] > 0)
          g_hash_table_insert (sizes, key, GUINT_TO_POINTER (GPOINTER_TO_UINT (g_hash_table_lookup (sizes, key)) + 1));
        *(self->cohorts[i] > 0 ? &self->n_counted : &self->n_left_over) += 1;
      }
  self->n_cohorts = g_hash_table_size (sizes);
  if (self->n_cohorts == 0)
    return;
  g_hash_table_iter_init (&iter, sizes);
  for (self->smallest = G_MAXUINT; g_hash_table_iter_next (&iter, &key, &value);)
    {
      gsize size = GPOINTER_TO_UINT (value);
      guint last_cell = G_MAXUINT, n_cells = 0;

      self->smallest = MIN (self->smallest, (guint) size);
      self->largest = MAX (self->largest, (guint) size);
      g_array_append_val (numbers, size);
      for (guint i = 0; i < self->n_samples; i++)
        {
          guint cell = g_array_index (data->sample_cell, guint, i);
          const gsize none = 0;
          gsize treatment;

          if (self->cohorts[i] <= 0 || !counts (wb_dataset_get_sample (data, i)))
            continue;
          n_cells += cell != last_cell;
          last_cell = cell;
          if (n_cells > replications->len)
            g_array_append_val (replications, none);
          treatment = n_cells - 1;
          if (GSIZE_TO_POINTER ((gsize) self->cohorts[i]) != key)
            continue;
          g_array_index (replications, gsize, treatment)++;
          g_array_append_val (plots, treatment);
        }
    }
  self->n_cells = replications->len;
  layout = (WbCalcBlocksLayout) { replications->len, (const gsize *) (gpointer) replications->data, numbers->len,
                                  (const gsize *) (gpointer) numbers->data };
  if (wb_calc_blocks_measure (&layout, (const gsize *) (gpointer) plots->data, &figures) == WB_CALC_OK)
    {
      self->efficiency = figures.efficiency;
      self->together_low = (guint) figures.together_low;
      self->together_high = (guint) figures.together_high;
    }
  self->kind = self->n_cohorts == 1                   ? WB_CRAFT_COHORTS_ONE
               : self->efficiency <= 0                ? WB_CRAFT_COHORTS_APART
               : self->efficiency >= 1 - WHOLE        ? WB_CRAFT_COHORTS_WHOLE
                                                      : WB_CRAFT_COHORTS_MIXED;
}

static WbCraftCohorts *
cohorts_new (const WbDataset *data)
{
  WbCraftCohorts *self = g_new0 (WbCraftCohorts, 1);

  self->n_samples = data->samples->len;
  self->cohorts = g_new0 (gint64, MAX (self->n_samples, 1));
  return self;
}

void
wb_craft_cohorts_free (WbCraftCohorts *self)
{
  if (self == NULL)
    return;
  g_free (self->cohorts);
  g_free (self);
}

WbCraftCohorts *
wb_craft_cohorts_new (const WbDataset *data,
                      guint            places,
                      guint64          seed,
                      WbCraftKeepGoing keep_going,
                      gpointer         user)
{
  g_autoptr (WbCraftCohorts) self = NULL;
  guint whole, fewest;
  double efficiency = 1;
  gboolean went_on = TRUE;
  Work work;

  g_return_val_if_fail (data != NULL, NULL);
  g_return_val_if_fail (places > 0, NULL);

  self = cohorts_new (data);
  work_init (&work, data);
  /* what does not count keeps what it has */
  for (guint i = 0; i < self->n_samples; i++)
    self->cohorts[i] = counts (wb_dataset_get_sample (data, i)) ? 0 : recorded_of (data, i);
  if (work.plan->len > 0)
    {
      whole = count_whole (&work, places);
      fewest = (work.plan->len + places - 1) / places;
      if (whole > 0 && whole <= fewest)
        divide_whole (&work, whole, self->cohorts);
      else
        {
          went_on = divide_mixed (&work, places, seed, keep_going, user, self->cohorts, &efficiency);
          if (went_on && whole > 0 && efficiency < WB_CRAFT_COHORTS_ENOUGH)
            divide_whole (&work, whole, self->cohorts);
          else
            self->whole = whole > work.numbers->len ? whole : 0;
        }
    }
  work_clear (&work);
  if (!went_on)
    return NULL;
  measure (self, data);
  return g_steal_pointer (&self);
}

WbCraftCohorts *
wb_craft_cohorts_read (const WbDataset *data)
{
  return wb_craft_cohorts_read_with (data, G_MAXUINT, 0);
}

WbCraftCohorts *
wb_craft_cohorts_read_with (const WbDataset *data,
                            guint            sample,
                            gint64           cohort)
{
  WbCraftCohorts *self;

  g_return_val_if_fail (data != NULL, NULL);

  self = cohorts_new (data);
  for (guint i = 0; i < self->n_samples; i++)
    self->cohorts[i] = i == sample ? cohort : recorded_of (data, i);
  measure (self, data);
  return self;
}

gboolean
wb_craft_cohorts_is_begun (const WbDataset *data,
                           gint64           cohort)
{
  g_return_val_if_fail (data != NULL, FALSE);

  for (guint i = 0; i < data->burn_sample->len; i++)
    if (wb_dataset_get_sample (data, g_array_index (data->burn_sample, guint, i))->cohort == cohort)
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_cohorts_is_before (gboolean begun,
                            gint64   cohort,
                            gboolean other_begun,
                            gint64   other)
{
  return begun != other_begun ? begun : cohort < other;
}

static gboolean
is_there (const WbDataset *data,
          guint            sample,
          const guint     *burns)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  return record->poured_on != WB_DAY_NONE || record->batch != 0 || burns[sample] > 0;
}

/* By those that are there alone, or by all. */
static gint64
find_first (const WbDataset *data,
            const gboolean  *ended,
            const guint     *burns,
            gboolean         there)
{
  gboolean first_begun = FALSE;
  gint64 first = 0;

  for (guint i = 0; i < data->samples->len; i++)
    {
      gint64 cohort = wb_dataset_get_sample (data, i)->cohort;
      gboolean begun;

      if (cohort <= 0 || cohort == first || ended[i] || !counts (wb_dataset_get_sample (data, i)) || (there && !is_there (data, i, burns)))
        continue;
      begun = wb_craft_cohorts_is_begun (data, cohort);
      if (first == 0 || wb_craft_cohorts_is_before (begun, cohort, first_begun, first))
        {
          first = cohort;
          first_begun = begun;
        }
    }
  return first;
}

gint64
wb_craft_cohorts_find_running (const WbDataset *data,
                               const gboolean  *ended)
{
  g_autofree guint *burns = NULL;
  gint64 poured;

  g_return_val_if_fail (data != NULL && ended != NULL, 0);

  burns = count_burns (data);
  poured = find_first (data, ended, burns, TRUE);
  return poured > 0 ? poured : find_first (data, ended, burns, FALSE);
}

static void
append_cohorts (GString              *words,
                const WbCraftCohorts *self)
{
  if (self->smallest == self->largest)
    /* Translators: cohorts of samples that are burnt together, and how many samples each has. */
    g_string_append_printf (words, ngettext ("%u cohort of %u.", "%u cohorts of %u.", self->n_cohorts), self->n_cohorts, self->largest);
  else
    /* Translators: the same, the fewest and the most samples. */
    g_string_append_printf (words, ngettext ("%u cohort of %u to %u.", "%u cohorts of %u to %u.", self->n_cohorts), self->n_cohorts,
                            self->smallest, self->largest);
}

static void
append_mixed (GString              *words,
              const WbCraftCohorts *self)
{
  /* more combinations than can be measured */
  if (isnan (self->efficiency))
    return;
  if (self->together_low == self->together_high)
    g_string_append (words, _(" Every pair of combinations burns side by side equally often"));
  else if (self->together_low > 0)
    /* Translators: the fewest and the most times. */
    g_string_append_printf (words, _(" Every pair of combinations burns side by side, %u to %u times"), self->together_low, self->together_high);
  else
    /* Translators: the most times. */
    g_string_append_printf (words, ngettext (" Pairs of combinations burn side by side at most %u time; those that never do compare by way of others",
                                             " Pairs of combinations burn side by side at most %u times; those that never do compare by way of others",
                                             self->together_high), self->together_high);
  /* Translators: a number of 100; never 100, as something is lost. */
  g_string_append_printf (words, _(": %d of 100 parts of what one big bench would tell."), (int) fmin (round (100 * self->efficiency), 99));
}

char *
wb_craft_cohorts_dup_words (const WbCraftCohorts *self)
{
  g_autoptr (GString) words = g_string_new (NULL);

  g_return_val_if_fail (self != NULL, NULL);

  switch (self->kind)
    {
    case WB_CRAFT_COHORTS_NONE:
      return g_strdup (_("Not divided yet."));
    case WB_CRAFT_COHORTS_ONE:
      g_string_append_printf (words, ngettext ("The sample burns alone.", "All %u samples burn side by side: one cohort, and nothing is lost.",
                                               self->n_counted), self->n_counted);
      break;
    case WB_CRAFT_COHORTS_WHOLE:
      append_cohorts (words, self);
      g_string_append (words, _(" Each holds every combination: what differs between cohorts touches all of them alike, and nothing is lost."));
      break;
    case WB_CRAFT_COHORTS_MIXED:
      append_cohorts (words, self);
      append_mixed (words, self);
      break;
    case WB_CRAFT_COHORTS_APART:
    default:
      append_cohorts (words, self);
      g_string_append (words, _(" Some combinations never meet, not even by way of others: what differs between cohorts cannot be told from what"
                                " differs between them. More duplicates or fewer combinations would mend that."));
      break;
    }
  if (self->whole > 0)
    g_string_append_printf (words, ngettext (" Whole duplicates side by side would take %u cohort.", " Whole duplicates side by side would take %u cohorts.",
                                             self->whole), self->whole);
  if (self->n_left_over > 0)
    g_string_append_printf (words, ngettext (" %u sample has no cohort.", " %u samples have no cohort.", self->n_left_over), self->n_left_over);
  return g_string_free (g_steal_pointer (&words), FALSE);
}
