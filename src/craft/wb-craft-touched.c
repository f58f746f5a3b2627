/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-touched.h"

#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define FIELDS_MOST 3 /* of a material that are told by name */

static void
crossed_since_free (gpointer data)
{
  WbCraftCrossedSince *self = data;

  g_free (self->experiment);
  g_free (self->text);
  g_free (self);
}

WbCraftCrossedSince *
wb_craft_crossed_since_new (gint64      decision,
                            gint64      sample,
                            gint64      entry,
                            const char *experiment,
                            const char *text)
{
  WbCraftCrossedSince *self = g_new0 (WbCraftCrossedSince, 1);

  *self = (WbCraftCrossedSince) { decision, sample, entry, FALSE, g_strdup (experiment), g_strdup (text) };
  return self;
}

WbCraftShelf *
wb_craft_shelf_new (void)
{
  WbCraftShelf *self = g_new0 (WbCraftShelf, 1);

  self->materials = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  self->lots = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  self->parts = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  self->confirmations = g_ptr_array_new_with_free_func (wb_record_free);
  self->crossed = g_ptr_array_new_with_free_func (crossed_since_free);
  return self;
}

void
wb_craft_shelf_free (WbCraftShelf *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->materials);
  g_ptr_array_unref (self->lots);
  g_ptr_array_unref (self->parts);
  g_ptr_array_unref (self->confirmations);
  g_ptr_array_unref (self->crossed);
  g_free (self);
}

static void
touched_free (gpointer data)
{
  WbCraftTouched *self = data;

  g_free (self->what);
  g_free (self->text);
  g_free (self->why);
  g_free (self->lot);
  g_free (self->burnt);
  g_free (self);
}

/* What is asked of one decision. */
typedef struct
{
  const WbDataset    *data;
  const WbDecision   *decision;
  gint64              signed_entry;
  const WbCraftShelf *shelf;
  GPtrArray          *touched;
} Search;

/* ---- Versions ---- */

/* As it was when that entry was the newest; NULL: it was not there. entry G_MAXINT64: as it is. */
static gconstpointer
get_version (const GPtrArray *versions,
             gint64           entry)
{
  const WbRecord *found = NULL;

  for (guint i = 0; i < versions->len; i++)
    {
      const WbRecord *version = g_ptr_array_index (versions, i);

      if (version->entry <= entry)
        found = version;
    }
  return found != NULL && !found->deleted ? found : NULL;
}

static const GPtrArray *
find_versions (const GPtrArray *all,
               gint64           id)
{
  for (guint i = 0; i < all->len; i++)
    {
      const GPtrArray *versions = g_ptr_array_index (all, i);

      if (versions->len > 0 && ((const WbRecord *) g_ptr_array_index (versions, 0))->id == id)
        return versions;
    }
  return NULL;
}

/* ---- What matters ---- */

gboolean
wb_craft_touched_is_matter (const WbFieldSpec *field)
{
  static const char *const no_matter[] = {
    "name", "step", "supplier", "note", "water_c", "max_load_pct", "max_load_basis", "flash_c", "ifra_limit_pct", "usual_pct", NULL
  };

  return !g_strv_contains (no_matter, field->name);
}

/* What was not known says nothing of how it was. */
static gboolean
is_other (gconstpointer      then,
          gconstpointer      now,
          const WbFieldSpec *field)
{
  return wb_craft_touched_is_matter (field) && wb_record_is_known (then, field) && wb_record_is_known (now, field)
         && !wb_record_field_equal (then, now, field);
}

static gboolean
is_another (gconstpointer then,
            gconstpointer now)
{
  const WbRecordType *type = ((const WbRecord *) then)->type;

  for (guint i = 0; i < type->n_fields; i++)
    if (is_other (then, now, &type->fields[i]))
      return TRUE;
  return FALSE;
}

/* ---- Words ---- */

static char *
dup_value (gconstpointer      record,
           const WbFieldSpec *field,
           gboolean           us_units)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      return wb_quantity_format (wb_quantity_get_shown_unit (field->quantity, us_units), wb_record_get_real (record, field), -1);
    case WB_FIELD_INTEGER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
    case WB_FIELD_ENUM:
      return g_strdup (_(field->words[wb_record_get_integer (record, field)].label));
    case WB_FIELD_FLAG:
      return g_strdup (wb_record_get_integer (record, field) ? _("yes") : _("no"));
    case WB_FIELD_TEXT:
      return g_strdup (wb_record_get_text (record, field));
    case WB_FIELD_REFERENCE:
    case WB_FIELD_INSTANT:
    case WB_FIELD_DAY:
    case WB_FIELD_UUID:
    default:
      return g_strdup ("?");
    }
}

/* "Inner diameter 78 mm, was 76.2 mm; ..." */
static char *
dup_differences (gconstpointer then,
                 gconstpointer now,
                 gboolean      us_units)
{
  const WbRecordType *type = ((const WbRecord *) then)->type;
  GString *text = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < type->n_fields; i++)
    if (is_other (then, now, &type->fields[i]) && n++ < FIELDS_MOST)
      {
        const WbFieldSpec *field = &type->fields[i];
        g_autofree char *before = dup_value (then, field, us_units), *after = dup_value (now, field, us_units);

        if (text->len > 0)
          g_string_append (text, "; ");
        /* Translators: a field of a material, what it is now, what it was */
        g_string_append_printf (text, _("%s %s, was %s"), field->label != NULL ? _(field->label) : field->name, after, before);
      }
  if (n > FIELDS_MOST)
    g_string_append_printf (text, _("; and %u more"), n - FIELDS_MOST);
  return g_string_free (text, FALSE);
}

/* ---- What came of it ---- */

static WbCraftTouched *
add (Search            *search,
     WbCraftTouchedKind kind,
     gint64             changed,
     gint64             changed_entry,
     char              *what /* taken */,
     char              *text /* taken */)
{
  WbCraftTouched *touched = g_new0 (WbCraftTouched, 1);

  touched->kind = kind;
  touched->decision = search->decision->record.id;
  touched->changed = changed;
  touched->changed_entry = changed_entry;
  touched->what = what;
  touched->text = text;
  for (guint i = 0; i < search->shelf->confirmations->len; i++)
    {
      const WbConfirmation *confirmation = g_ptr_array_index (search->shelf->confirmations, i);

      if (confirmation->decision != search->decision->record.id || confirmation->changed != changed
          || confirmation->changed_entry != changed_entry)
        continue;
      /* of several the newest speaks */
      touched->test = confirmation->experiment;
      touched->state = confirmation->experiment != 0 ? WB_CRAFT_TOUCHED_TESTED : WB_CRAFT_TOUCHED_EXPLAINED;
      g_free (touched->why);
      touched->why = g_strdup (confirmation->why);
    }
  g_ptr_array_add (search->touched, touched);
  return touched;
}

/* ---- Crossings ---- */

static void
look_at_crossed (Search                    *search,
                 const WbCraftCrossedSince *crossed)
{
  g_autofree char *what = NULL;

  if (crossed->decision != search->decision->record.id)
    return;
  /* Translators: code of an experiment; what was read, where and over which limit. */
  what = g_strdup_printf (crossed->by_limit ? _("The limits changed, and one is crossed in %s: %s") : _("A limit was crossed in %s: %s"), crossed->experiment,
                          crossed->text);
  add (search, WB_CRAFT_TOUCHED_CROSSED, crossed->sample, crossed->entry, g_strdup (what),
       g_strdup_printf (_("%s. The decision for %s was signed before."), what, search->data->experiment->code));
}

/* ---- Lots ---- */

/* What came in while the dialog stood open was not before the eyes of the one who signed: it is news. */
static gboolean
is_news (const Search *search,
         gint64        came)
{
  gint64 known = search->decision->answer_entry;

  return came > (known == WB_INTEGER_NONE ? search->signed_entry : MIN (search->signed_entry, known));
}

static void
add_lot (Search               *search,
         const WbCraftLotPart *part,
         const WbLot          *lot,
         gint64                came,
         const char           *title)
{
  const char *kind = _(((const WbRecord *) part->material)->type->label), *code = search->data->experiment->code;
  gboolean news = is_news (search, came);
  /* Translators: kind of material, code, name: "Wax lot W-112 of Dunmarl soft is new" */
  g_autofree char *what = g_strdup_printf (news ? _("%s lot %s of %s is new") : _("%s lot %s of %s is in the notebook and was not burnt"), kind, lot->code, title);
  WbCraftTouched *touched;
  char *text;

  if (part->lots == NULL)
    text = g_strdup_printf (_("%s: of the decision for %s no lot is told."), what, code);
  else
    /* Translators: what there is, code of an experiment, codes of lots. */
    text = g_strdup_printf (news ? _("%s: the decision for %s rests on %s.") : _("%s: the decision for %s holds for %s only."), what, code, part->lots);
  touched = add (search, news ? WB_CRAFT_TOUCHED_LOT : WB_CRAFT_TOUCHED_NOT_BURNT, lot->record.id, came, g_strdup (what), text);
  touched->part = ((const WbRecord *) part->material)->id;
  touched->lot = g_strdup (lot->code);
  touched->burnt = g_strdup (part->lots);
}

static void
look_at_lot (Search               *search,
             const GPtrArray      *versions,
             const WbCraftLotPart *part,
             const GArray         *owners)
{
  const WbLot *lot = get_version (versions, G_MAXINT64);
  gint64 came = ((const WbRecord *) g_ptr_array_index (versions, 0))->entry;
  const GPtrArray *material;
  gconstpointer of;
  g_autofree char *title = NULL;
  gboolean owned = FALSE;

  for (guint i = 0; lot != NULL && i < owners->len; i++)
    owned = owned || g_array_index (owners, gint64, i) == lot->material;
  if (!owned || lot->used_up || wb_craft_lot_names (part->lots, lot->code))
    return;
  material = find_versions (search->shelf->materials, lot->material);
  of = material != NULL ? get_version (material, G_MAXINT64) : NULL;
  title = wb_material_dup_title (of != NULL ? of : part->material);
  add_lot (search, part, lot, came, title);
}

/* ---- Materials ---- */

static void
look_at_material (Search          *search,
                  const GPtrArray *versions)
{
  const WbRecord *then = get_version (versions, search->signed_entry);
  const WbRecord *newest = g_ptr_array_index (versions, versions->len - 1);
  g_autofree char *title = NULL, *differences = NULL, *what = NULL;
  gint64 changed_entry = newest->entry;

  if (then == NULL)
    return;
  title = wb_material_dup_title (then);
  if (newest->deleted)
    {
      what = g_strdup_printf (_("%s %s was deleted"), _(then->type->label), title);
      add (search, WB_CRAFT_TOUCHED_DELETED, then->id, changed_entry, g_strdup (what),
           g_strdup_printf (_("%s: the decision for %s was signed before."), what, search->data->experiment->code));
      return;
    }
  if (!is_another (then, newest))
    return;
  /* a note that was written later is no change */
  for (guint i = versions->len - 1; i > 0 && !is_another (g_ptr_array_index (versions, i - 1), g_ptr_array_index (versions, i)); i--)
    changed_entry = ((const WbRecord *) g_ptr_array_index (versions, i - 1))->entry;
  differences = dup_differences (then, newest, search->data->notebook->us_units);
  /* Translators: kind of material, name, what is another: "Vessel Hob, 76.2 mm: inner diameter 78 mm, was 76.2 mm" */
  what = g_strdup_printf (_("%s %s: %s"), _(then->type->label), title, differences);
  add (search, WB_CRAFT_TOUCHED_MATERIAL, then->id, changed_entry, g_strdup (what),
       g_strdup_printf (_("%s. The decision for %s was signed before."), what, search->data->experiment->code));
}

/* ---- Blends ---- */

/* "Cedar 60 %, Salt 40 %" as of an entry; `entry_of` (may be NULL) gets the newest entry that touched it. */
static char *
dup_mixture (const WbCraftShelf *shelf,
             gint64              blend,
             gint64              entry,
             gint64             *entry_of)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < shelf->parts->len; i++)
    {
      const GPtrArray *versions = g_ptr_array_index (shelf->parts, i);
      const WbFragrancePart *part = get_version (versions, entry);
      const WbRecord *newest = g_ptr_array_index (versions, versions->len - 1);
      const GPtrArray *oil;
      g_autofree char *share = NULL, *name = NULL;

      if (((const WbFragrancePart *) g_ptr_array_index (versions, 0))->fragrance != blend)
        continue;
      if (entry_of != NULL)
        *entry_of = MAX (*entry_of, newest->entry);
      if (part == NULL)
        continue;
      oil = find_versions (shelf->materials, part->part);
      name = oil != NULL ? wb_material_dup_title (g_ptr_array_index (oil, oil->len - 1)) : g_strdup ("?");
      share = wb_quantity_format (WB_UNIT_PERCENT, part->share_pct, -1);
      g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", name, share);
    }
  return g_string_free (text, FALSE);
}

static void
look_at_blend (Search            *search,
               const WbFragrance *blend)
{
  gint64 changed_entry = 0;
  g_autofree char *then = dup_mixture (search->shelf, blend->record.id, search->signed_entry, &changed_entry);
  g_autofree char *now = dup_mixture (search->shelf, blend->record.id, G_MAXINT64, NULL);
  g_autofree char *what = NULL;

  if (g_str_equal (then, now))
    return;
  /* Translators: a blend's name, its parts now, its parts before */
  what = g_strdup_printf (_("Blend %s: %s, was %s"), blend->name, *now != '\0' ? now : "–", *then != '\0' ? then : "–");
  add (search, WB_CRAFT_TOUCHED_BLEND, blend->record.id, changed_entry, g_strdup (what),
       g_strdup_printf (_("%s. The decision for %s was signed before."), what, search->data->experiment->code));
}

/* ---- The whole ---- */

/* The ids of what may stand in a part's text and recipe: the material itself and, of a blend, its parts now and then. */
static GArray *
dup_owners (const Search *search,
            gint64        material)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new ();

  for (guint i = 0; i < search->shelf->parts->len; i++)
    {
      const GPtrArray *versions = g_ptr_array_index (search->shelf->parts, i);
      gconstpointer then = get_version (versions, search->signed_entry), now = get_version (versions, G_MAXINT64);

      if (now != NULL || then != NULL)
        g_ptr_array_add (parts, (gpointer) (now != NULL ? now : then));
    }
  return wb_craft_lot_dup_owners (material, parts);
}

static void
look_at_part (Search               *search,
              const WbCraftLotPart *part)
{
  g_autoptr (GArray) owners = dup_owners (search, ((const WbRecord *) part->material)->id);

  for (guint i = 0; i < owners->len; i++)
    {
      const GPtrArray *versions = find_versions (search->shelf->materials, g_array_index (owners, gint64, i));

      if (versions != NULL)
        look_at_material (search, versions);
    }
  if (((const WbRecord *) part->material)->type == &wb_fragrance_type && ((const WbFragrance *) part->material)->blend)
    look_at_blend (search, part->material);
  for (guint i = 0; i < search->shelf->lots->len; i++)
    look_at_lot (search, g_ptr_array_index (search->shelf->lots, i), part, owners);
}

GPtrArray *
wb_craft_touched_new (const WbDataset    *data,
                      const WbDecision   *decision,
                      gint64              signed_entry,
                      const WbCraftShelf *shelf)
{
  Search search = { data, decision, signed_entry, shelf, g_ptr_array_new_with_free_func (touched_free) };
  g_autoptr (GPtrArray) parts = NULL;

  g_return_val_if_fail (data != NULL && decision != NULL && shelf != NULL, NULL);

  for (guint i = 0; i < shelf->crossed->len; i++)
    look_at_crossed (&search, g_ptr_array_index (shelf->crossed, i));
  parts = wb_craft_lot_parts_of_decision (data, decision);
  for (guint i = 0; i < parts->len; i++)
    look_at_part (&search, g_ptr_array_index (parts, i));
  return search.touched;
}

/* ---- How a decision stands ---- */

WbCraftTouched *
wb_craft_touched_replaced_new (const WbDecision *decision,
                               const char       *experiment,
                               WbInstant         signed_at)
{
  WbCraftTouched *self;
  g_autofree char *day = signed_at.known ? wb_instant_format_date (signed_at) : NULL;

  g_return_val_if_fail (decision != NULL && experiment != NULL, NULL);

  self = g_new0 (WbCraftTouched, 1);
  self->kind = WB_CRAFT_TOUCHED_REPLACED;
  self->decision = decision->record.id;
  self->what = day != NULL ? g_strdup_printf (_("A newer decision took its place, in %s on %s"), experiment, day)
                           : g_strdup_printf (_("A newer decision took its place, in %s"), experiment);
  self->text = g_strconcat (self->what, ".", NULL);
  return self;
}

gboolean
wb_craft_touched_is_uncovered (const WbCraftTouched *self)
{
  g_return_val_if_fail (self != NULL, FALSE);

  return self->lot != NULL && self->state != WB_CRAFT_TOUCHED_EXPLAINED;
}

WbCraftStanding
wb_craft_touched_get_standing (const GPtrArray *changes,
                               gint64           decision)
{
  WbCraftStanding standing = WB_CRAFT_STANDING_STANDS;

  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i);

      if (change->decision != decision)
        continue;
      if (change->kind == WB_CRAFT_TOUCHED_REPLACED)
        return WB_CRAFT_STANDING_REPLACED;
      /* a test of that lot waits for a signature of its own: the burnt lots were not changed */
      if (change->kind == WB_CRAFT_TOUCHED_NOT_BURNT)
        {
          if (wb_craft_touched_is_uncovered (change) && standing == WB_CRAFT_STANDING_STANDS)
            standing = WB_CRAFT_STANDING_IN_PART;
        }
      else if (change->state == WB_CRAFT_TOUCHED_OPEN)
        standing = WB_CRAFT_STANDING_REOPENED;
      else if (change->state == WB_CRAFT_TOUCHED_TESTED && standing != WB_CRAFT_STANDING_REOPENED)
        standing = WB_CRAFT_STANDING_IN_TEST;
    }
  return standing;
}

/* "A; B": those of one state. */
static char *
join_changes (const GPtrArray    *changes,
              gint64              decision,
              WbCraftTouchedState state)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i);

      if (change->decision != decision || change->state != state)
        continue;
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", change->what);
      if (state == WB_CRAFT_TOUCHED_EXPLAINED && change->why != NULL)
        g_string_append_printf (text, " (%s)", change->why);
    }
  return g_string_free (text, FALSE);
}

gboolean
wb_craft_touched_is_untold (const WbCraftTouched *self)
{
  g_return_val_if_fail (self != NULL, FALSE);

  return self->kind == WB_CRAFT_TOUCHED_NOT_BURNT && self->burnt == NULL && wb_craft_touched_is_uncovered (self);
}

char *
wb_craft_touched_dup_untold (const GPtrArray *changes,
                             gint64           decision)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i);

      if (change->decision == decision && wb_craft_touched_is_untold (change))
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", change->lot);
    }
  return g_string_free (text, text->len == 0);
}

/* "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt: it holds for W-107 only. ...": those that were not burnt. */
static char *
dup_uncovered (const GPtrArray *changes,
               gint64           decision)
{
  GString *text = g_string_new (NULL);
  g_autofree char *untold = wb_craft_touched_dup_untold (changes, decision);

  /* once, not a material each */
  if (untold != NULL)
    /* Translators: codes of lots. */
    g_string_append_printf (text, _(" Which lots were burnt was not noted: it holds for none by name, so for none of %s."), untold);
  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (changes, i);

      if (change->decision != decision || change->kind != WB_CRAFT_TOUCHED_NOT_BURNT || !wb_craft_touched_is_uncovered (change))
        continue;
      if (change->burnt != NULL)
        /* Translators: "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt", codes of the lots that were. */
        g_string_append_printf (text, _(" %s: it holds for %s only."), change->what, change->burnt);
      if (change->state == WB_CRAFT_TOUCHED_TESTED)
        /* Translators: code of a lot. */
        g_string_append_printf (text, _(" A test of %s is planned and not yet signed."), change->lot);
    }
  return g_string_free (text, FALSE);
}

char *
wb_craft_touched_dup_standing (const GPtrArray *changes,
                               gint64           decision)
{
  g_autofree char *joined = NULL, *uncovered = dup_uncovered (changes, decision);

  switch (wb_craft_touched_get_standing (changes, decision))
    {
    case WB_CRAFT_STANDING_IN_PART:
      /* Translators: sentences about lots, each with a space before it. */
      return g_strdup_printf (_("It stands for the lots that were burnt, and for no other.%s Candles of any other lot ask for a confirmation test before they "
                                "are sold or given away."), uncovered);
    case WB_CRAFT_STANDING_REPLACED:
      for (guint i = 0; i < changes->len; i++)
        {
          const WbCraftTouched *change = g_ptr_array_index (changes, i);

          if (change->decision == decision && change->kind == WB_CRAFT_TOUCHED_REPLACED)
            return g_strdup (change->text);
        }
      g_assert_not_reached ();
    case WB_CRAFT_STANDING_REOPENED:
      joined = join_changes (changes, decision, WB_CRAFT_TOUCHED_OPEN);
      /* Translators: one or more changes, each a clause. */
      return g_strdup_printf (_("Reopened: it does not stand until it is tested and signed anew. %s."), joined);
    case WB_CRAFT_STANDING_IN_TEST:
      joined = join_changes (changes, decision, WB_CRAFT_TOUCHED_TESTED);
      return g_strdup_printf (_("It waits for its confirmation test and a new signature. %s."), joined);
    case WB_CRAFT_STANDING_STANDS:
    default:
      joined = join_changes (changes, decision, WB_CRAFT_TOUCHED_EXPLAINED);
      if (*joined == '\0')
        return g_strdup (_("It stands as it was signed: no change behind it is known."));
      return g_strdup_printf (_("It stands; its maker said why no test is needed. %s."), joined);
    }
}
