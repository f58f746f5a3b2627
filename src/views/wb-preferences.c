/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-preferences.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-evenings-entry.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-record-form.h"
#include "wb-save-mark.h"
#include "wb-sound.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbPreferences
{
  GtkWindow      parent_instance;

  /* children */
  GtkDropDown   *theme;
  GtkEntry      *person;
  GtkWidget     *us_units;
  GtkWidget     *notifications;
  GtkWidget     *sound;
  GtkSpinButton *ahead;
  GtkSpinButton *backup_megabytes;
  GtkWidget     *notebook_box;
  WbRecordForm  *form;
  WbEveningsEntry *evenings;
  GtkWidget     *save;
  WbSaveMark    *mark;

  /* owned */
  WbAppSettings *settings;
  WbAppNotebook *notebook;
};

G_DEFINE_FINAL_TYPE (WbPreferences, wb_preferences, GTK_TYPE_WINDOW)

/* They have a control of their own. */
static const char *const not_in_form[] = { "evenings", "evenings_out", "evening_begins_min", NULL };

/* Words that are no days of the week are not shown; they stay until other days are saved. */
static WbEvenings
get_evenings (const WbNotebook *notebook)
{
  WbEvenings evenings = WB_EVENINGS_NONE;

  wb_evenings_parse (notebook->evenings, &evenings, NULL);
  return evenings;
}

static gboolean
get_touched (WbPreferences *self)
{
  return wb_record_form_get_touched (self->form) || wb_evenings_entry_get_touched (self->evenings);
}

/* Before the settings are there the template's own values arrive here too. */

static void
on_theme_selected_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_theme (self->settings, (WbAppTheme) gtk_drop_down_get_selected (self->theme));
}

static void
on_person_changed_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_person (self->settings, gtk_editable_get_text (GTK_EDITABLE (self->person)));
}

static void
on_us_units_toggled_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_us_units (self->settings, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->us_units)));
}

static void
on_notifications_toggled_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_notifications (self->settings, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->notifications)));
}

static void
on_sound_toggled_cb (WbPreferences *self)
{
  if (self->settings == NULL)
    return;
  wb_app_settings_set_reminder_sound (self->settings, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->sound)));
  /* So that whoever wants it hears what it is. */
  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->sound)))
    wb_sound_play ();
}

static void
on_ahead_changed_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_minutes_ahead (self->settings, gtk_spin_button_get_value_as_int (self->ahead));
}

static void
on_backup_megabytes_changed_cb (WbPreferences *self)
{
  if (self->settings != NULL)
    wb_app_settings_set_backup_megabytes (self->settings, gtk_spin_button_get_value_as_int (self->backup_megabytes));
}

/* Only who keeps stock and prices is asked in what they are written. */
static void
follow_stock (WbPreferences *self)
{
  g_autoptr (WbRecord) record = wb_record_form_dup_record (self->form);

  if (record != NULL)
    wb_record_form_set_shown (self->form, "currency", ((const WbNotebook *) (gpointer) record)->keeps_stock);
}

static void
on_form_changed_cb (WbPreferences *self)
{
  follow_stock (self);
  wb_grey_set (self->save, wb_app_notebook_get_read_only (self->notebook) ? _("The notebook can be read only") : NULL);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbPreferences) self = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  self = wb_weak_widget_take_or_tell (data, _("The notebook's settings were not saved"), error);
  if (self == NULL)
    return;
  /* Entry 0 without an error: nothing was different from what is stored. */
  if (error == NULL)
    {
      /* What is stored now is what the next save starts from. */
      const WbNotebook *stored = wb_app_notebook_get_settings (self->notebook);

      wb_record_form_take_stored (self->form, stored);
      wb_evenings_entry_take_stored (self->evenings, get_evenings (stored), stored->evening_begins_min);
      wb_evenings_entry_take_stored_out (self->evenings, stored->evenings_out);
      if (get_touched (self))
        on_form_changed_cb (self);
      else
        {
          wb_grey_set (self->save, _("Nothing is changed"));
          wb_save_mark_set (self->mark, WB_SAVE_SAVED, NULL);
        }
      return;
    }
  wb_problem_dup_words (NULL, error, NULL, &words);
  wb_save_mark_set (self->mark, WB_SAVE_FAILED, words);
  wb_grey_set (self->save, NULL);
}

static void
write_evenings (WbPreferences *self,
                WbNotebook    *notebook)
{
  if (!wb_evenings_entry_get_touched (self->evenings))
    return;
  g_free (notebook->evenings);
  notebook->evenings = wb_evenings_format (wb_evenings_entry_get_days (self->evenings));
  notebook->evening_begins_min = wb_evenings_entry_get_begins (self->evenings);
  g_free (notebook->evenings_out);
  notebook->evenings_out = wb_evenings_entry_dup_out (self->evenings);
}

static void
on_save_clicked_cb (WbPreferences *self)
{
  g_autoptr (WbRecord) record = NULL;

  if (!gtk_widget_get_sensitive (self->save) || !wb_record_form_check (self->form) || !wb_evenings_entry_check (self->evenings))
    return;
  record = wb_record_form_dup_record (self->form);
  write_evenings (self, (WbNotebook *) record);
  wb_grey_set (self->save, _("It is being saved"));
  wb_record_form_mark_sent (self->form);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_notebook_save_record_async (self->notebook, _("Change the notebook's settings"), record, NULL, on_saved_cb,
                                     wb_weak_widget_new (self));
}

static void
on_drop_answered_cb (gboolean yes,
                     gpointer user)
{
  if (yes)
    gtk_window_destroy (GTK_WINDOW (user));
}

/* What is on this computer counts at once; what is typed for the notebook only when it is saved. */
static gboolean
wb_preferences_close_request (GtkWindow *window)
{
  WbPreferences *self = WB_PREFERENCES (window);

  if (self->notebook == NULL || !get_touched (self))
    return GTK_WINDOW_CLASS (wb_preferences_parent_class)->close_request (window);
  /* The question goes with this window: no answer comes to one that is gone. */
  wb_question_ask (GTK_WIDGET (self), _("What you typed for the notebook is not saved"), _("Save it first, or drop it."), _("_Drop it"),
                   TRUE, on_drop_answered_cb, self);
  return TRUE;
}

static void
wb_preferences_dispose (GObject *object)
{
  WbPreferences *self = WB_PREFERENCES (object);

  g_clear_object (&self->settings);
  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PREFERENCES);
  G_OBJECT_CLASS (wb_preferences_parent_class)->dispose (object);
}

static void
wb_preferences_class_init (WbPreferencesClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_EVENINGS_ENTRY);
  g_type_ensure (WB_TYPE_RECORD_FORM);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_preferences_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = wb_preferences_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "preferences.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, theme);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, person);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, us_units);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, notifications);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, sound);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, ahead);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, backup_megabytes);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, notebook_box);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, form);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, evenings);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, save);
  gtk_widget_class_bind_template_child (widget_class, WbPreferences, mark);
  gtk_widget_class_bind_template_callback (widget_class, on_theme_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_person_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_us_units_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_notifications_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_sound_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_ahead_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_backup_megabytes_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_form_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_preferences_init (WbPreferences *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_grey_say (self->save, _("Nothing is changed"));
  wb_accessible_name_drop_down (self->theme, _("Colours"));
}

GtkWidget *
wb_preferences_new (GtkWindow     *parent,
                    WbAppSettings *settings,
                    WbAppNotebook *notebook)
{
  WbPreferences *self;

  g_return_val_if_fail (WB_IS_APP_SETTINGS (settings), NULL);

  self = g_object_new (WB_TYPE_PREFERENCES, "transient-for", parent, NULL);
  gtk_drop_down_set_selected (self->theme, wb_app_settings_get_theme (settings));
  gtk_editable_set_text (GTK_EDITABLE (self->person), wb_app_settings_get_person (settings));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->us_units), wb_app_settings_get_us_units (settings));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->notifications), wb_app_settings_get_notifications (settings));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->sound), wb_app_settings_get_reminder_sound (settings));
  gtk_widget_set_visible (self->sound, wb_sound_is_there ());
  gtk_spin_button_set_value (self->ahead, wb_app_settings_get_minutes_ahead (settings));
  gtk_spin_button_set_value (self->backup_megabytes, wb_app_settings_get_backup_megabytes (settings));
  self->settings = g_object_ref (settings);
  if (notebook != NULL && wb_app_notebook_get_settings (notebook) != NULL)
    {
      const WbNotebook *stored = wb_app_notebook_get_settings (notebook);

      self->notebook = g_object_ref (notebook);
      wb_record_form_set_hidden (self->form, not_in_form);
      wb_record_form_set_record (self->form, stored);
      follow_stock (self);
      wb_evenings_entry_set (self->evenings, get_evenings (stored), stored->evening_begins_min);
      wb_evenings_entry_set_out (self->evenings, stored->evenings_out);
      gtk_widget_set_sensitive (GTK_WIDGET (self->form), !wb_app_notebook_get_read_only (notebook));
      gtk_widget_set_sensitive (GTK_WIDGET (self->evenings), !wb_app_notebook_get_read_only (notebook));
      gtk_widget_set_visible (self->notebook_box, TRUE);
    }
  return GTK_WIDGET (self);
}

/* Only what has its place in the window is scrolled to. The evenings stand last, with the save below them. */
static gboolean
on_frame_cb (GtkWidget     *widget,
             GdkFrameClock *clock,
             gpointer       user)
{
  GtkWidget *evenings = GTK_WIDGET (WB_PREFERENCES (widget)->evenings);
  GtkWidget *scrolled = gtk_widget_get_ancestor (evenings, GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *adjustment;

  if (gtk_widget_get_allocated_height (evenings) == 0)
    return G_SOURCE_CONTINUE;
  gtk_widget_grab_focus (evenings);
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled));
  gtk_adjustment_set_value (adjustment, gtk_adjustment_get_upper (adjustment));
  return G_SOURCE_REMOVE;
}

void
wb_preferences_go_to_evenings (WbPreferences *self)
{
  g_return_if_fail (WB_IS_PREFERENCES (self));

  if (self->notebook != NULL)
    gtk_widget_add_tick_callback (GTK_WIDGET (self), on_frame_cb, NULL, NULL);
}
