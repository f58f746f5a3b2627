/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include <glib/gi18n-lib.h>

/* Which moments and fields a sheet has, by the protocol, in the order of the printed log sheet; what they are called, on screen and in the texts. */

static void
add_column (WbAppEvening    *self,
            WbAppEveningKind kind,
            int              field)
{
  WbAppEveningColumn column = { .kind = kind, .moment = self->moments->len, .column = (WbColumn) field, .seldom = kind == WB_APP_EVENING_BURN };
  WbAppEveningCell cell = { 0 };

  g_array_append_val (self->columns, column);
  g_array_append_val (self->all, cell);
}

/* FALSE: the moment, which began with the column `first`, has it already. */
static gboolean
is_new (WbAppEvening *self,
        guint         first,
        WbColumn      field)
{
  for (guint i = first; i < self->columns->len; i++)
    if (wb_app_evening_get_column (self, i)->kind == WB_APP_EVENING_FIELD && wb_app_evening_get_column (self, i)->column == field)
      return FALSE;
  return TRUE;
}

static void
add_seldom (WbAppEvening *self,
            guint         first,
            WbColumn      field,
            gboolean      throw)
{
  WbAppEveningColumn *column;

  if (!is_new (self, first, field))
    return;
  add_column (self, WB_APP_EVENING_FIELD, field);
  column = &g_array_index (self->columns, WbAppEveningColumn, self->columns->len - 1);
  column->throw = throw;
  column->seldom = TRUE;
}

/* What is asked of throw burns, as the bench asks it: the rating and its circumstances stand at the end of a moment. */
static void
add_throw (WbAppEvening *self,
           guint         first,
           WbAppAsk      ask)
{
  static const WbColumn lighting[] = { WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND };
  static const WbColumn round[] = { WB_COLUMN_THROW, WB_COLUMN_ALONE };

  if (ask == WB_APP_ASK_LIGHTING)
    {
      for (guint i = 0; i < G_N_ELEMENTS (lighting); i++)
        add_seldom (self, first, lighting[i], TRUE);
      add_column (self, WB_APP_EVENING_RATER, WB_N_COLUMNS);
      g_array_index (self->columns, WbAppEveningColumn, self->columns->len - 1).throw = TRUE;
    }
  else if (ask == WB_APP_ASK_ROUND || ask == WB_APP_ASK_BEFORE_SNUFFING)
    for (guint i = 0; i < G_N_ELEMENTS (round); i++)
      add_seldom (self, first, round[i], TRUE);
}

static gboolean
has_several_wicks (WbAppEvening *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (wb_app_bench_sample_get_n_wicks (((WbAppEveningRow *) g_ptr_array_index (self->rows, i))->sample) > 1)
      return TRUE;
  return FALSE;
}

/* The pool stands once, however many of its diameters the protocol asks. */
static void
add_fields (WbAppEvening     *self,
            const WbProtocol *protocol,
            WbAppAsk          ask)
{
  g_autoptr (GArray) asked = wb_app_bench_dup_asked (protocol, ask);
  gboolean pool = FALSE;

  for (guint i = 0; i < asked->len; i++)
    {
      WbColumn column = (WbColumn) g_array_index (asked, int, i);

      if (wb_app_evening_is_pool (column) && pool)
        continue;
      pool = pool || wb_app_evening_is_pool (column);
      add_column (self, WB_APP_EVENING_FIELD, wb_app_evening_is_pool (column) ? WB_COLUMN_POOL_MM : column);
    }
}

static void
add_moment (WbAppEvening     *self,
            const WbProtocol *protocol,
            WbAppAsk          ask,
            guint             round)
{
  WbAppEveningMoment moment = { ask, round, self->columns->len, 0 };

  add_column (self, WB_APP_EVENING_TIME, WB_N_COLUMNS);
  if (ask == WB_APP_ASK_LIGHTING)
    {
      add_column (self, WB_APP_EVENING_PLACE, WB_N_COLUMNS);
      add_column (self, WB_APP_EVENING_TRIM, WB_N_COLUMNS);
    }
  add_fields (self, protocol, ask);
  /* Last, as it is seldom typed. */
  if (ask == WB_APP_ASK_LIGHTING)
    add_column (self, WB_APP_EVENING_BURN, WB_N_COLUMNS);
  /* One wick of several may go out in any round. */
  if ((ask == WB_APP_ASK_ROUND || ask == WB_APP_ASK_BEFORE_SNUFFING) && has_several_wicks (self))
    add_seldom (self, moment.first, WB_COLUMN_EVENT, FALSE);
  add_throw (self, moment.first, ask);
  moment.n = self->columns->len - moment.first;
  g_array_append_val (self->moments, moment);
}

void
wb_app_evening_lay_out (WbAppEvening *self)
{
  const WbProtocol *protocol;

  g_array_set_size (self->moments, 0);
  g_array_set_size (self->columns, 0);
  g_array_set_size (self->all, 0);
  if (self->rows->len == 0)
    return;
  protocol = wb_app_bench_sample_get_protocol (((WbAppEveningRow *) g_ptr_array_index (self->rows, 0))->sample);
  add_moment (self, protocol, WB_APP_ASK_LIGHTING, 0);
  for (guint round = 1; round <= self->rounds; round++)
    add_moment (self, protocol, WB_APP_ASK_ROUND, round);
  add_moment (self, protocol, WB_APP_ASK_BEFORE_SNUFFING, 0);
  add_moment (self, protocol, WB_APP_ASK_AFTER_SNUFFING, 0);
  add_moment (self, protocol, WB_APP_ASK_NEXT_DAY, 0);
  for (guint i = 0; i < self->rows->len; i++)
    {
      WbAppEveningRow *row = g_ptr_array_index (self->rows, i);

      g_free (row->cells);
      g_free (row->looks);
      row->cells = g_new0 (WbAppEveningCell, self->columns->len);
      row->looks = g_new0 (WbAppEveningLook, self->moments->len);
    }
}

static char *
dup_moment_key (const WbAppEveningMoment *moment)
{
  static const char *const names[] = { "lighting", "round", "before", "after", "next-day" };

  return moment->round > 0 ? g_strdup_printf ("%s-%u", names[moment->ask], moment->round) : g_strdup (names[moment->ask]);
}

char *
wb_app_evening_dup_key (WbAppEvening *self,
                        guint         column)
{
  static const char *const kinds[] = { "time", "place", "trim", "burn", "rater" };
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self, column);
  g_autofree char *moment = dup_moment_key (wb_app_evening_get_moment (self, spec->moment));

  return g_strdup_printf ("%s.%s", moment, spec->kind == WB_APP_EVENING_FIELD ? wb_column_get_spec (spec->column)->name : kinds[spec->kind]);
}

guint
wb_app_evening_get_n_moments (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), 0);
  return self->moments->len;
}

const WbAppEveningMoment *
wb_app_evening_get_moment (WbAppEvening *self,
                           guint         moment)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && moment < self->moments->len, NULL);
  return &g_array_index (self->moments, WbAppEveningMoment, moment);
}

guint
wb_app_evening_get_n_columns (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), 0);
  return self->columns->len;
}

const WbAppEveningColumn *
wb_app_evening_get_column (WbAppEvening *self,
                           guint         column)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self) && column < self->columns->len, NULL);
  return &g_array_index (self->columns, WbAppEveningColumn, column);
}

char *
wb_app_evening_dup_moment_label (WbAppEvening *self,
                                 guint         moment)
{
  static const char *const labels[] = { N_("At lighting"), NULL, N_("Before snuffing"), N_("After snuffing"), N_("Next day") };
  const WbAppEveningMoment *at = wb_app_evening_get_moment (self, moment);

  g_return_val_if_fail (at != NULL, NULL);
  return at->round > 0 ? g_strdup_printf (_("Round %u"), at->round) : g_strdup (_(labels[at->ask]));
}

static const char *
get_time_label (WbAppAsk ask)
{
  if (ask == WB_APP_ASK_LIGHTING)
    return _("Lit at");
  return ask == WB_APP_ASK_AFTER_SNUFFING ? _("Snuffed at") : _("Time");
}

/* "1/2/3": the wicks of the vessel that has most of them, of samples whose field is read at each; NULL: at none. Caller frees. */
static char *
dup_wicks (WbAppEvening *self,
           WbColumn      column,
           gboolean      us_units)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint most = 0;

  for (guint i = 0; i < self->rows->len; i++)
    {
      const WbAppEveningRow *row = g_ptr_array_index (self->rows, i);

      if (wb_app_evening_is_by_wick (row, column))
        most = MAX (most, wb_app_bench_sample_get_n_wicks (row->sample));
    }
  for (guint wick = 1; wick <= most; wick++)
    g_string_append_printf (text, "%s%u", wick == 1 ? "" : us_units ? "; " : "/", wick);
  return most > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

char *
wb_app_evening_dup_column_label (WbAppEvening *self,
                                 guint         column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self, column);
  gboolean us_units = self->rows->len > 0 && wb_app_bench_sample_get_us_units (wb_app_evening_get_sample (self, 0));
  WbQuantity quantity;
  const char *label, *symbol;
  g_autofree char *of_wicks = NULL, *both = NULL;

  g_return_val_if_fail (spec != NULL, NULL);
  switch (spec->kind)
    {
    case WB_APP_EVENING_TIME:
      return g_strdup (get_time_label (wb_app_evening_get_moment (self, spec->moment)->ask));
    case WB_APP_EVENING_PLACE:
      return g_strdup (_("Place"));
    case WB_APP_EVENING_BURN:
      return g_strdup (_("Kind of burn"));
    case WB_APP_EVENING_RATER:
      return g_strdup (_("Rated by"));
    case WB_APP_EVENING_TRIM:
      label = _("Trimmed to");
      quantity = WB_QUANTITY_LENGTH;
      break;
    case WB_APP_EVENING_FIELD:
    default:
      label = _(wb_column_get_spec (spec->column)->label);
      of_wicks = dup_wicks (self, spec->column, us_units);
      if (of_wicks != NULL)
        {
          /* Translators: what is read at each of several wicks, and how it is written: "Flame height (wick 1/2)". */
          label = both = g_strdup_printf (_("%s (wick %s)"), label, of_wicks);
        }
      quantity = wb_column_get_spec (spec->column)->quantity;
    }
  symbol = wb_unit_get_symbol (wb_quantity_get_shown_unit (quantity, us_units));
  return *symbol == '\0' ? g_strdup (label) : g_strdup_printf ("%s, %s", label, symbol);
}

guint
wb_app_evening_get_rounds (WbAppEvening *self)
{
  g_return_val_if_fail (WB_IS_APP_EVENING (self), 0);
  return self->rounds;
}

/* Is anything typed in that round, for whomever? */
static gboolean
is_round_typed (WbAppEvening *self,
                guint         round)
{
  g_autofree char *prefix = g_strdup_printf ("round-%u.", round);
  g_auto (GStrv) groups = g_key_file_get_groups (self->texts, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      g_auto (GStrv) keys = g_key_file_get_keys (self->texts, groups[i], NULL, NULL);

      for (guint k = 0; keys != NULL && keys[k] != NULL; k++)
        if (g_str_has_prefix (keys[k], prefix))
          return TRUE;
    }
  return FALSE;
}

void
wb_app_evening_set_rounds (WbAppEvening *self,
                           guint         rounds)
{
  g_return_if_fail (WB_IS_APP_EVENING (self));

  rounds = CLAMP (rounds, 1, WB_APP_EVENING_MOST_ROUNDS);
  for (guint round = WB_APP_EVENING_MOST_ROUNDS; round > rounds; round--)
    if (is_round_typed (self, round))
      rounds = round;
  if (rounds == self->rounds)
    return;
  self->rounds = rounds;
  wb_app_evening_lay_out (self);
  wb_app_evening_changed (self);
}
