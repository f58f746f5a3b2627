/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-desk.h"

struct _WbDesk
{
  GObject           parent_instance;

  /* owned */
  WbAppNotebook    *notebook;
  WbAppSettings    *settings;
  WbAppExperiments *experiments;
  WbAppBench       *bench;
  WbAppToday       *today;
  WbAppCalendar    *calendar;
  WbAppAnswers     *answers;
};

G_DEFINE_FINAL_TYPE (WbDesk, wb_desk, G_TYPE_OBJECT)

static void
wb_desk_dispose (GObject *object)
{
  WbDesk *self = WB_DESK (object);

  g_clear_object (&self->answers);
  g_clear_object (&self->calendar);
  g_clear_object (&self->today);
  g_clear_object (&self->bench);
  g_clear_object (&self->experiments);
  g_clear_object (&self->settings);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_desk_parent_class)->dispose (object);
}

static void
wb_desk_class_init (WbDeskClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_desk_dispose;
}

static void
wb_desk_init (WbDesk *self)
{
}

WbDesk *
wb_desk_new (WbAppNotebook *notebook,
             WbAppSettings *settings)
{
  WbDesk *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_SETTINGS (settings), NULL);

  self = g_object_new (WB_TYPE_DESK, NULL);
  self->notebook = g_object_ref (notebook);
  self->settings = g_object_ref (settings);
  self->experiments = wb_app_experiments_new (notebook);
  self->bench = wb_app_bench_new (notebook);
  self->today = wb_app_today_new (self->bench, self->experiments);
  self->calendar = wb_app_calendar_new (notebook);
  self->answers = wb_app_answers_new (notebook);
  return self;
}

WbAppNotebook *
wb_desk_get_notebook (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->notebook;
}

WbAppSettings *
wb_desk_get_settings (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->settings;
}

WbAppExperiments *
wb_desk_get_experiments (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->experiments;
}

WbAppBench *
wb_desk_get_bench (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->bench;
}

WbAppToday *
wb_desk_get_today (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->today;
}

WbAppCalendar *
wb_desk_get_calendar (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->calendar;
}

WbAppAnswers *
wb_desk_get_answers (WbDesk *self)
{
  g_return_val_if_fail (WB_IS_DESK (self), NULL);
  return self->answers;
}

WbUnit
wb_desk_get_unit (WbDesk     *self,
                  WbQuantity  quantity)
{
  const WbNotebook *notebook;

  g_return_val_if_fail (WB_IS_DESK (self), wb_quantity_get_stored_unit (quantity));

  notebook = wb_app_notebook_get_settings (self->notebook);
  return wb_quantity_get_shown_unit (quantity, notebook != NULL && notebook->us_units);
}
