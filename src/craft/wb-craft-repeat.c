/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-repeat.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-words-private.h"

/* What is compared; the order in which it is told. */
typedef enum { WAX, VESSELS, WICKS, SCENTS, DYE, ADDITIVE, BURNING, SAMPLES, N_THINGS } Thing;

/* many: of what there may be several. */
static const struct
{
  const char *one, *many;
  gboolean    counts;
} things[N_THINGS] = {
  [WAX] = { N_("wax"), NULL, TRUE },
  [VESSELS] = { N_("vessel"), N_("vessels"), TRUE },
  [WICKS] = { N_("wick"), N_("wicks"), TRUE },
  [SCENTS] = { N_("scent"), N_("scents"), TRUE },
  [DYE] = { N_("dye"), NULL, TRUE },
  [ADDITIVE] = { N_("additive"), NULL, TRUE },
  [BURNING] = { N_("how they are burnt"), NULL, TRUE },
  [SAMPLES] = { N_("samples of each combination"), NULL, FALSE },
};

/*
 * One thing: keys tell whether it is the same, names tell people. Both in the order of the first appearance. Of scents besides: the oil with
 * what its load is a share of, and the load alone.
 */
typedef struct { GPtrArray *keys, *names, *oils, *loads; } Level;

struct _WbCraftPlanned
{
  Level       levels[N_THINGS];
  WbProtocol *protocol;
};

static Level
level_new (void)
{
  return (Level) { g_ptr_array_new_with_free_func (g_free), g_ptr_array_new_with_free_func (g_free), g_ptr_array_new_with_free_func (g_free),
                   g_ptr_array_new_with_free_func (g_free) };
}

static void
level_clear (Level *self)
{
  g_ptr_array_unref (self->keys);
  g_ptr_array_unref (self->names);
  g_ptr_array_unref (self->oils);
  g_ptr_array_unref (self->loads);
}

/* Takes both. */
static void
add (WbCraftPlanned *self,
     Thing           thing,
     char           *key,
     char           *name)
{
  Level *level = &self->levels[thing];

  if (g_ptr_array_find_with_equal_func (level->keys, key, g_str_equal, NULL))
    {
      g_free (key);
      g_free (name);
      return;
    }
  g_ptr_array_add (level->keys, key);
  g_ptr_array_add (level->names, name);
}

static char *
dup_title (WbCraftFindFunc find,
           gpointer        user,
           gint64          id)
{
  gconstpointer record = find (id, user);

  return record != NULL ? wb_material_dup_title (record) : g_strdup ("?");
}

static void
add_share (WbCraftPlanned *self,
           Thing           thing,
           gint64          id,
           double          pct,
           double          drops_per_kg,
           char           *title)
{
  g_autofree char *name = title;
  g_autofree char *share = isnan (pct) ? NULL : wb_number_format_trimmed (pct, 4, NULL);
  g_autofree char *drops = isnan (drops_per_kg) ? NULL : wb_number_format_trimmed (drops_per_kg, 2, NULL);

  if (id == 0)
    return;
  add (self, thing, g_strdup_printf ("%" G_GINT64_FORMAT " %s %s", id, share != NULL ? share : "", drops != NULL ? drops : ""),
       share != NULL   ? g_strdup_printf (_("%s %s\302\240%% of the wax"), name, share)
       : drops != NULL ? g_strdup_printf (_("%s %s drops to 1 kg"), name, drops)
                       : g_strdup (name));
}

static void
add_wick (WbCraftPlanned *self,
          const WbCell   *cell,
          char           *title)
{
  g_autofree char *name = title;
  g_autofree char *spacing = cell->wick_count < 2 || isnan (cell->wick_spacing_mm) ? NULL : wb_number_format_trimmed (cell->wick_spacing_mm, 1, NULL);
  g_autofree char *key = g_strdup_printf ("%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %s", cell->wick, cell->wick_count,
                                          spacing != NULL ? spacing : "");

  if (cell->wick_count < 2)
    add (self, WICKS, g_steal_pointer (&key), g_steal_pointer (&name));
  else if (spacing == NULL)
    add (self, WICKS, g_steal_pointer (&key), g_strdup_printf ("%" G_GINT64_FORMAT "\302\240×\302\240%s", cell->wick_count, name));
  else
    add (self, WICKS, g_steal_pointer (&key), g_strdup_printf (_("%d\302\240×\302\240%s, %s\302\240mm apart"), (int) cell->wick_count, name, spacing));
}

static void
add_scent (WbCraftPlanned *self,
           const WbCell   *cell,
           WbCraftFindFunc find,
           gpointer        user)
{
  g_autofree char *load = isnan (cell->load_pct) ? g_strdup ("?") : wb_number_format_trimmed (cell->load_pct, 2, NULL);
  g_autofree char *name = NULL;
  Level *scents = &self->levels[SCENTS];
  guint before = scents->keys->len;

  if (cell->fragrance == 0)
    add (self, SCENTS, g_strdup ("0"), g_strdup (_("no fragrance")));
  else
    {
      name = dup_title (find, user, cell->fragrance);
      add (self, SCENTS, g_strdup_printf ("%" G_GINT64_FORMAT " %s %d", cell->fragrance, load, cell->load_basis),
           g_strdup_printf (cell->load_basis == WB_BASIS_TOTAL ? _("%s %s\302\240%% of the total") : _("%s %s\302\240%% of the wax"), name, load));
    }
  if (scents->keys->len == before)
    return;
  g_ptr_array_add (scents->oils, name == NULL ? g_strdup ("")
                   : g_strdup_printf (cell->load_basis == WB_BASIS_TOTAL ? _("load of %s, of the total") : _("load of %s"), name));
  g_ptr_array_add (scents->loads, g_strdup_printf ("%s\302\240%%", load));
}

WbCraftPlanned *
wb_craft_planned_new (const WbExperiment *experiment,
                      const WbProtocol   *protocol,
                      const GPtrArray    *cells,
                      WbCraftFindFunc     find,
                      gpointer            user)
{
  WbCraftPlanned *self;

  g_return_val_if_fail (experiment != NULL && protocol != NULL && cells != NULL && find != NULL, NULL);

  self = g_new0 (WbCraftPlanned, 1);
  for (guint i = 0; i < N_THINGS; i++)
    self->levels[i] = level_new ();
  self->protocol = wb_record_copy (protocol);
  if (experiment->wax != 0)
    add (self, WAX, g_strdup_printf ("%" G_GINT64_FORMAT, experiment->wax), dup_title (find, user, experiment->wax));
  add_share (self, DYE, experiment->dye, experiment->dye_pct, experiment->dye_drops_per_kg, dup_title (find, user, experiment->dye));
  add_share (self, ADDITIVE, experiment->additive, experiment->additive_pct, NAN, dup_title (find, user, experiment->additive));
  if (experiment->samples_per_cell > 0)
    add (self, SAMPLES, g_strdup_printf ("%" G_GINT64_FORMAT, experiment->samples_per_cell), g_strdup_printf ("%" G_GINT64_FORMAT, experiment->samples_per_cell));
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);

      if (cell->left_out)
        continue;
      add (self, VESSELS, g_strdup_printf ("%" G_GINT64_FORMAT, cell->vessel), dup_title (find, user, cell->vessel));
      add_wick (self, cell, dup_title (find, user, cell->wick));
      add_scent (self, cell, find, user);
    }
  return self;
}

static gconstpointer
find_in_data (gint64   id,
              gpointer user)
{
  const WbDataset *data = user;
  const GPtrArray *const tables[] = { data->vessels, data->wicks, data->fragrances };
  gconstpointer const single[] = { data->wax, data->dye, data->additive };

  for (guint i = 0; i < G_N_ELEMENTS (single); i++)
    if (single[i] != NULL && ((const WbRecord *) single[i])->id == id)
      return single[i];
  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    for (guint k = 0; k < tables[i]->len; k++)
      if (((const WbRecord *) g_ptr_array_index (tables[i], k))->id == id)
        return g_ptr_array_index (tables[i], k);
  return NULL;
}

guint
wb_craft_planned_count_samples (const WbDataset *data)
{
  guint most = 0;

  g_return_val_if_fail (data != NULL, 1);

  if (data->experiment->samples_per_cell > 0)
    return (guint) data->experiment->samples_per_cell;
  for (guint i = 0; i < data->cells->len; i++)
    {
      guint n = 0;

      for (guint k = 0; k < data->samples->len; k++)
        n += g_array_index (data->sample_cell, guint, k) == i;
      most = MAX (most, n);
    }
  return most > 0 ? most : (guint) MAX (data->protocol->samples_wanted, 1);
}

WbCraftPlanned *
wb_craft_planned_of_data (const WbDataset *data)
{
  g_autoptr (WbRecord) experiment = NULL;

  g_return_val_if_fail (data != NULL, NULL);

  experiment = wb_record_copy (data->experiment);
  ((WbExperiment *) experiment)->samples_per_cell = wb_craft_planned_count_samples (data);
  return wb_craft_planned_new ((WbExperiment *) experiment, data->protocol, data->cells, find_in_data, (gpointer) data);
}

void
wb_craft_planned_free (WbCraftPlanned *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < N_THINGS; i++)
    level_clear (&self->levels[i]);
  wb_record_free (self->protocol);
  g_free (self);
}

/* ---- What differs ---- */

static void
free_change (gpointer data)
{
  WbCraftChange *change = data;

  g_free (change->what);
  g_free (change->before);
  g_free (change->after);
  g_free (change);
}

/* Takes the texts. */
static void
add_change (GPtrArray *changes,
            char      *what,
            char      *before,
            char      *after,
            gboolean   counts)
{
  WbCraftChange *change = g_new0 (WbCraftChange, 1);

  *change = (WbCraftChange) { what, before, after, counts };
  g_ptr_array_add (changes, change);
}

static gboolean
is_part (const Level *a,
         const Level *b)
{
  for (guint i = 0; i < a->keys->len; i++)
    if (!g_ptr_array_find_with_equal_func (b->keys, g_ptr_array_index (a->keys, i), g_str_equal, NULL))
      return FALSE;
  return TRUE;
}

/* The same, in whatever order. */
static gboolean
are_same (const Level *a,
          const Level *b)
{
  return a->keys->len == b->keys->len && is_part (a, b);
}

/* What is left of a grid is burnt as it was before: fewer vessels, wicks or scents are no reason for what comes out otherwise. */
static gboolean
is_left_of_grid (Thing        thing,
                 const Level *before,
                 const Level *after)
{
  return (thing == VESSELS || thing == WICKS || thing == SCENTS) && after->keys->len > 0 && is_part (after, before);
}

/* What of the one is not in the other. */
static Level
subtract (const Level *from,
          const Level *other)
{
  Level left = level_new ();

  for (guint i = 0; i < from->keys->len; i++)
    {
      if (g_ptr_array_find_with_equal_func (other->keys, g_ptr_array_index (from->keys, i), g_str_equal, NULL))
        continue;
      g_ptr_array_add (left.keys, g_strdup (g_ptr_array_index (from->keys, i)));
      g_ptr_array_add (left.names, g_strdup (g_ptr_array_index (from->names, i)));
      if (i < from->oils->len)
        {
          g_ptr_array_add (left.oils, g_strdup (g_ptr_array_index (from->oils, i)));
          g_ptr_array_add (left.loads, g_strdup (g_ptr_array_index (from->loads, i)));
        }
    }
  return left;
}

/* The one oil of both, of which only the load differs; NULL: not so. Borrowed. */
static const char *
find_one_oil (const Level *gone,
              const Level *come)
{
  const char *oil = gone->oils->len > 0 && come->oils->len > 0 ? g_ptr_array_index (gone->oils, 0) : "";

  for (guint i = 0; i < gone->oils->len; i++)
    if (!g_str_equal (g_ptr_array_index (gone->oils, i), oil))
      return NULL;
  for (guint i = 0; i < come->oils->len; i++)
    if (!g_str_equal (g_ptr_array_index (come->oils, i), oil))
      return NULL;
  return *oil != '\0' ? oil : NULL;
}

static char *
dup_names (const GPtrArray *names)
{
  return names->len > 0 ? wb_craft_words_join (names) : g_strdup ("");
}

/* Only what went and what came: a list of all that stayed hides the one thing that did not. */
static void
add_difference (GPtrArray   *changes,
                Thing        thing,
                const Level *before,
                const Level *after)
{
  Level gone = subtract (before, after), come = subtract (after, before);
  const char *oil = find_one_oil (&gone, &come);
  gboolean counts = things[thing].counts && !is_left_of_grid (thing, before, after);
  gboolean many = things[thing].many != NULL && MAX (gone.keys->len, come.keys->len) > 1;

  add_change (changes, g_strdup (oil != NULL ? oil : _(many ? things[thing].many : things[thing].one)),
              dup_names (oil != NULL ? gone.loads : gone.names), dup_names (oil != NULL ? come.loads : come.names), counts);
  level_clear (&gone);
  level_clear (&come);
}

static gboolean
is_told (const WbFieldSpec *field)
{
  return field->label != NULL && g_strcmp0 (field->name, "name") != 0 && g_strcmp0 (field->name, "note") != 0
         && g_strcmp0 (field->name, "samples_wanted") != 0 && g_strcmp0 (field->name, "stop_sure_pct") != 0;
}

/* Of a protocol people know the fields that differ, not its name. */
static void
compare_burning (GPtrArray        *changes,
                 const WbProtocol *before,
                 const WbProtocol *after)
{
  g_autoptr (GPtrArray) labels = g_ptr_array_new ();

  for (guint i = 0; i < wb_protocol_type.n_fields; i++)
    {
      const WbFieldSpec *field = &wb_protocol_type.fields[i];

      if (is_told (field) && !wb_record_field_equal (before, after, field))
        g_ptr_array_add (labels, (gpointer) _(field->label));
    }
  if (labels->len > 0)
    add_change (changes, g_strdup_printf ("%s:", _(things[BURNING].one)), NULL, wb_craft_words_join (labels), things[BURNING].counts);
}

GPtrArray *
wb_craft_repeat_compare (const WbCraftPlanned *before,
                         const WbCraftPlanned *after)
{
  GPtrArray *changes = g_ptr_array_new_with_free_func (free_change);

  g_return_val_if_fail (before != NULL && after != NULL, changes);

  for (guint thing = 0; thing < N_THINGS; thing++)
    if (thing == BURNING)
      compare_burning (changes, before->protocol, after->protocol);
    else if (!are_same (&before->levels[thing], &after->levels[thing]))
      add_difference (changes, thing, &before->levels[thing], &after->levels[thing]);
  return changes;
}

guint
wb_craft_repeat_count (const GPtrArray *changes)
{
  guint n = 0;

  g_return_val_if_fail (changes != NULL, 0);

  for (guint i = 0; i < changes->len; i++)
    n += ((const WbCraftChange *) g_ptr_array_index (changes, i))->counts;
  return n;
}

char *
wb_craft_repeat_dup_words (const GPtrArray *changes,
                           const char      *code)
{
  g_autoptr (GString) told = g_string_new (NULL);

  g_return_val_if_fail (changes != NULL, NULL);

  for (guint i = 0; i < changes->len; i++)
    {
      const WbCraftChange *change = g_ptr_array_index (changes, i);

      if (told->len > 0)
        g_string_append (told, "; ");
      if (change->before == NULL)
        /* Translators: what, with a colon; the fields that differ. */
        g_string_append_printf (told, _("%s %s"), change->what, change->after);
      else if (*change->before == '\0')
        /* Translators: "wick Sedge S-5 added". */
        g_string_append_printf (told, _("%s %s added"), change->what, change->after);
      else if (*change->after == '\0')
        /* Translators: "wicks Sedge S-5 and Sedge S-6 left out". */
        g_string_append_printf (told, _("%s %s left out"), change->what, change->before);
      else
        /* Translators: what; how it was; how it is: "vessel Tern → Hob", "load of Harbour mist 8 % → 10 %". */
        g_string_append_printf (told, _("%s %s → %s"), change->what, change->before, change->after);
    }
  if (told->len == 0)
    return g_strdup_printf (_("Repeats %s. Nothing is changed yet."), code);
  return g_strdup_printf (_("Repeats %s. Changed: %s."), code, told->str);
}

char *
wb_craft_repeat_dup_warning (const GPtrArray *changes)
{
  g_return_val_if_fail (changes != NULL, NULL);

  if (wb_craft_repeat_count (changes) < 2)
    return NULL;
  return g_strdup (_("More than one thing differs: nobody can tell afterwards which of them did it."));
}
