/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-calendar-private.h"

#include "wb-app-items-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"

/*
 * Read in a thread when the notebook changes and when the clock has passed what the plan rests on; while a reading is on its way,
 * further changes ask for one more after it, never for two. Lasting work is the experiments' reading, which the bench shares.
 */

#define LOOK_MS (60 * 1000)

struct _WbAppCalendar
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GCancellable  *cancellable;
  GPtrArray     *items;     /* WbAppCalendarItem */
  WbAppCalendarRead *read;  /* what they are made of; NULL: not loaded */
  char          *problems;  /* NULL: none */
  gboolean       loaded;
  gboolean       loading;
  gboolean       again;
  guint          look;      /* source id */
};

enum { PROP_0, PROP_LOADED, N_PROPS };

static GParamSpec *properties[N_PROPS];

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_CALENDAR_ITEM;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_CALENDAR (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppCalendar *self = WB_APP_CALENDAR (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppCalendar, wb_app_calendar, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

/* What a reading hands over: the items are made in the thread, too. */
typedef struct
{
  WbAppCalendarRead *read;
  GPtrArray         *items;
} Result;

static void
result_free (gpointer data)
{
  Result *self = data;

  wb_app_calendar_read_free (self->read);
  g_ptr_array_unref (self->items);
  g_free (self);
}

static gboolean
is_any_left (const WbAppCalendarRead *read)
{
  for (guint i = 0; i < read->cohorts->len; i++)
    if (((const WbAppCalendarCohort *) g_ptr_array_index (read->cohorts, i))->left > 0)
      return TRUE;
  return FALSE;
}

static char *
join (const GPtrArray *problems)
{
  GString *text;

  if (problems->len == 0)
    return NULL;
  text = g_string_new (NULL);
  for (guint i = 0; i < problems->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (const char *) g_ptr_array_index (problems, i));
  return g_string_free (text, FALSE);
}

static gpointer
read_in_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  g_autoptr (WbAppCalendarRead) read = wb_app_calendar_read (store, data, wb_clock_now (wb_clock_get ()), error);
  Result *result;

  if (read == NULL)
    return NULL;
  result = g_new0 (Result, 1);
  result->items = wb_app_calendar_list_items (read);
  result->read = g_steal_pointer (&read);
  return result;
}

/* Items that say the same stay the same objects: rows stay, and with them the keyboard. */
static void
take_items (WbAppCalendar *self,
            GPtrArray     *fresh)
{
  for (guint i = 0; i < fresh->len; i++)
    for (guint k = 0; k < self->items->len; k++)
      if (wb_app_calendar_item_equal (g_ptr_array_index (fresh, i), g_ptr_array_index (self->items, k)))
        {
          g_object_unref (g_ptr_array_index (fresh, i));
          g_ptr_array_index (fresh, i) = g_object_ref (g_ptr_array_index (self->items, k));
          break;
        }
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static void load (WbAppCalendar *self);

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  Result *read = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppCalendar *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_CALENDAR (user_data);
  self->loading = FALSE;
  /* What cannot be read now stays as it was shown; the next save or look tells why. */
  if (read != NULL)
    {
      wb_app_calendar_read_free (self->read);
      self->read = g_steal_pointer (&read->read);
      g_free (self->problems);
      self->problems = join (self->read->problems);
      take_items (self, g_ptr_array_ref (read->items));
      result_free (read);
      self->loaded = TRUE;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LOADED]);
    }
  if (self->again)
    load (self);
}

static void
load (WbAppCalendar *self)
{
  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  wb_app_reader_run (self->notebook, g_task_new (NULL, self->cancellable, on_read_cb, self), read_in_thread,
                     wb_app_loads_ref (wb_app_notebook_get_loads (self->notebook)), (GDestroyNotify) wb_app_loads_unref, result_free);
}

static void
on_notebook_changed_cb (WbAppCalendar *self)
{
  load (self);
}

static gboolean
on_look_cb (gpointer data)
{
  wb_app_calendar_update (data);
  return G_SOURCE_CONTINUE;
}

static void
wb_app_calendar_get_property (GObject    *object,
                              guint       prop_id,
                              GValue     *value,
                              GParamSpec *pspec)
{
  WbAppCalendar *self = WB_APP_CALENDAR (object);

  switch (prop_id)
    {
    case PROP_LOADED:
      g_value_set_boolean (value, self->loaded);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_calendar_dispose (GObject *object)
{
  WbAppCalendar *self = WB_APP_CALENDAR (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->look, g_source_remove);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_calendar_parent_class)->dispose (object);
}

static void
wb_app_calendar_finalize (GObject *object)
{
  WbAppCalendar *self = WB_APP_CALENDAR (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  wb_app_calendar_read_free (self->read);
  g_free (self->problems);
  G_OBJECT_CLASS (wb_app_calendar_parent_class)->finalize (object);
}

static void
wb_app_calendar_class_init (WbAppCalendarClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_calendar_get_property;
  object_class->dispose = wb_app_calendar_dispose;
  object_class->finalize = wb_app_calendar_finalize;

  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_calendar_init (WbAppCalendar *self)
{
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
  self->cancellable = g_cancellable_new ();
  self->look = g_timeout_add (LOOK_MS, on_look_cb, self);
}

WbAppCalendar *
wb_app_calendar_new (WbAppNotebook *notebook)
{
  WbAppCalendar *self = g_object_new (WB_TYPE_APP_CALENDAR, NULL);

  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
  return self;
}

gboolean
wb_app_calendar_get_loaded (WbAppCalendar *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR (self), FALSE);
  return self->loaded;
}

WbDay
wb_app_calendar_get_next_evening (WbAppCalendar *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR (self), WB_DAY_NONE);
  return self->read != NULL && self->read->evenings->evenings->len > 0
           ? g_array_index (self->read->evenings->evenings, WbCraftEvening, 0).day : WB_DAY_NONE;
}

WbDay
wb_app_calendar_get_last_evening (WbAppCalendar *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR (self), WB_DAY_NONE);
  return self->read != NULL ? wb_craft_evenings_get_last (self->read->evenings) : WB_DAY_NONE;
}

gboolean
wb_app_calendar_get_asks_days (WbAppCalendar *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR (self), FALSE);
  return self->read != NULL && self->read->days == WB_EVENINGS_NONE && self->problems == NULL && is_any_left (self->read);
}

const char *
wb_app_calendar_get_problems (WbAppCalendar *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR (self), NULL);
  return self->problems;
}

void
wb_app_calendar_update (WbAppCalendar *self)
{
  g_return_if_fail (WB_IS_APP_CALENDAR (self));

  if (self->read != NULL && self->read->until.known && wb_clock_now (wb_clock_get ()).utc_us >= self->read->until.utc_us)
    load (self);
}

const WbAppCalendarRead *
wb_app_calendar_get_read (WbAppCalendar *self)
{
  return self->read;
}
