/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evening-sheet.h"

#include "wb-bundle.h"
#include "wb-doubt-words.h"
#include "wb-evening-words.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* What is typed is written down so often while typing goes on, pause or no pause: a crash takes the field in hand. */
#define KEEP_EVERY_MS 500

/* What a line may take on a screen of 1024 pixels, with the margins beside it. */
#define LINE_PX 970

struct _WbEveningSheet
{
  GtkWindow           parent_instance;

  /* children */
  GtkWidget          *head;
  GtkWidget          *foot;
  GtkWidget          *day;
  GtkWidget          *opened;
  GtkWidget          *who;
  GtkWidget          *room;
  GtkLabel           *room_label;
  GtkWidget          *kept;
  GtkLabel           *kept_words;
  WbEveningGrid      *grid;
  GtkLabel           *words;
  GtkButton          *save;

  /* owned */
  WbAppEvening       *evening;
  GSimpleActionGroup *actions;

  /* borrowed */
  WbHost             *host;    /* its window outlives this one */

  /* state */
  guint               row, column;  /* where the keyboard is; column G_MAXUINT: above the sheet */
  guint               keep;         /* source */
  guint               update;       /* source */
  gboolean            saving;
  gboolean            quiet;        /* the program sets a text */
};

G_DEFINE_FINAL_TYPE (WbEveningSheet, wb_evening_sheet, GTK_TYPE_WINDOW)

static GtkWidget *
get_head (WbEveningSheet  *self,
          WbAppEveningHead head)
{
  GtkWidget *heads[] = { self->day, self->opened, self->who, self->room };

  return heads[head];
}

static gboolean
us_units (WbEveningSheet *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_desk_get_notebook (wb_host_get_desk (self->host)));

  return settings != NULL && settings->us_units;
}

/* ---- What is told ---- */

static void
update_words (WbEveningSheet *self)
{
  g_autofree char *words = NULL;

  for (guint i = 0; words == NULL && self->column == G_MAXUINT && i < WB_N_APP_EVENING_HEADS; i++)
    if (gtk_widget_has_css_class (get_head (self, i), "wrong") && (gtk_widget_get_state_flags (get_head (self, i)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
      words = g_strdup (wb_app_evening_get_head_problem (self->evening, i));
  if (words == NULL && self->column != G_MAXUINT && self->column < wb_app_evening_get_n_columns (self->evening))
    words = wb_evening_words_dup_cell (self->evening, self->row, self->column, us_units (self));
  if (words == NULL)
    words = wb_evening_words_dup_whole (self->evening);
  gtk_label_set_text (self->words, words);
}

/* Of large letters the halves of a line stand one above the other, and stay so: the sheet must not be wider than a small screen. */
static void
fit (GtkWidget *line)
{
  int least;

  if (gtk_orientable_get_orientation (GTK_ORIENTABLE (line)) == GTK_ORIENTATION_VERTICAL)
    return;
  gtk_widget_measure (line, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  if (least > LINE_PX)
    gtk_orientable_set_orientation (GTK_ORIENTABLE (line), GTK_ORIENTATION_VERTICAL);
}

static void
update_save (WbEveningSheet *self)
{
  g_autofree char *label = wb_evening_words_dup_save (self->evening);
  WbAppEveningCounts counts;

  wb_app_evening_count (self->evening, &counts);
  gtk_button_set_label (self->save, label);
  fit (self->foot);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self->actions), "save")),
                               !self->saving && (counts.burns + counts.readings + counts.wrong > 0));
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self->actions), "round")),
                               wb_app_evening_get_rounds (self->evening) < WB_APP_EVENING_MOST_ROUNDS);
}

static void
update_heads (WbEveningSheet *self)
{
  for (guint i = 0; i < WB_N_APP_EVENING_HEADS; i++)
    {
      GtkWidget *entry = get_head (self, i);
      const char *text = wb_app_evening_get_head (self->evening, i);
      g_autofree char *stands = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
      /* What is empty yet is not wrong before the sheet is begun. */
      gboolean wrong = wb_app_evening_get_head_problem (self->evening, i) != NULL && (*text != '\0' || wb_app_evening_is_typed (self->evening));

      if (g_strcmp0 (stands, text) != 0)
        {
          self->quiet = TRUE;
          gtk_editable_set_text (GTK_EDITABLE (entry), text);
          self->quiet = FALSE;
        }
      if (wrong)
        gtk_widget_add_css_class (entry, "wrong");
      else
        gtk_widget_remove_css_class (entry, "wrong");
      gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                                   wrong ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                      wrong ? wb_app_evening_get_head_problem (self->evening, i) : "", -1);
    }
}

static gboolean
on_update_cb (gpointer user)
{
  WbEveningSheet *self = user;

  self->update = 0;
  update_heads (self);
  wb_evening_grid_update (self->grid);
  update_words (self);
  update_save (self);
  return G_SOURCE_REMOVE;
}

/* ---- The draft ---- */

static void
keep (WbEveningSheet *self)
{
  g_autoptr (GError) error = NULL;

  g_clear_handle_id (&self->keep, g_source_remove);
  if (self->evening != NULL && wb_app_evening_is_unkept (self->evening) && !wb_app_evening_keep (self->evening, &error) && self->words != NULL)
    gtk_label_set_text (self->words, error->message);
}

static gboolean
on_keep_cb (gpointer user)
{
  WbEveningSheet *self = user;
  g_autoptr (GError) error = NULL;

  if (!wb_app_evening_is_unkept (self->evening))
    {
      self->keep = 0;
      return G_SOURCE_REMOVE;
    }
  if (!wb_app_evening_keep_soon (self->evening, &error))
    gtk_label_set_text (self->words, error->message);
  return G_SOURCE_CONTINUE;
}

static void
on_evening_changed_cb (WbEveningSheet *self)
{
  if (self->update == 0)
    self->update = g_idle_add (on_update_cb, self);
  if (self->keep == 0 && wb_app_evening_is_unkept (self->evening))
    self->keep = g_timeout_add (KEEP_EVERY_MS, on_keep_cb, self);
}

static void
show_kept (WbEveningSheet *self,
           gboolean        kept)
{
  gtk_widget_set_visible (self->kept, kept);
  gtk_label_set_text (self->kept_words, kept ? _("This sheet was half typed when it was closed. It goes on here.") : "");
}

/* Another number of rounds, or another sheet. */
static void
lay_out (WbEveningSheet *self)
{
  wb_evening_grid_set_evening (self->grid, self->evening);
  self->column = G_MAXUINT;
  on_update_cb (self);
}

/* ---- What is typed and gone through ---- */

static void
on_head_changed_cb (WbEveningSheet *self,
                    GtkEditable    *entry)
{
  if (self->quiet || self->evening == NULL)
    return;
  for (guint i = 0; i < WB_N_APP_EVENING_HEADS; i++)
    if (get_head (self, i) == GTK_WIDGET (entry))
      wb_app_evening_set_head (self->evening, i, gtk_editable_get_text (entry));
}

/* From one to the next, then into the sheet. */
static void
on_head_activate_cb (WbEveningSheet *self,
                     GtkWidget      *entry)
{
  for (guint i = 0; i + 1 < WB_N_APP_EVENING_HEADS; i++)
    if (get_head (self, i) == entry)
      {
        gtk_widget_grab_focus (get_head (self, i + 1));
        return;
      }
  wb_evening_grid_focus (self->grid, WB_APP_EVENING_ALL, 0);
}

static void
on_head_entered_cb (WbEveningSheet *self)
{
  self->column = G_MAXUINT;
  update_words (self);
}

/* The half-typed sheet of that day, where nothing is typed in this one. */
static void
on_day_left_cb (WbEveningSheet *self)
{
  if (self->evening == NULL)
    return;
  wb_app_evening_spell_day (self->evening);
  if (wb_app_evening_is_typed (self->evening)
      || !wb_app_evening_take_up (self->evening, wb_app_evening_get_head (self->evening, WB_APP_EVENING_DAY)))
    return;
  show_kept (self, TRUE);
  lay_out (self);
}

static void
on_cell_cb (WbEveningSheet *self,
            guint           row,
            guint           column)
{
  self->row = row;
  self->column = column;
  update_words (self);
}

/* A key that would have been swallowed. */
static void
on_locked_cb (WbEveningSheet *self,
              guint           row,
              guint           column)
{
  g_autofree char *words = wb_evening_words_dup_locked (self->evening, row, column);

  gtk_label_set_text (self->words, words);
}

static void
on_done_cb (WbEveningSheet *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->save));
}

/* ---- Verbs ---- */

/* The first cell that is wrong, above the sheet or in it. */
static void
focus_wrong (WbEveningSheet *self)
{
  for (guint i = 0; i < WB_N_APP_EVENING_HEADS; i++)
    if (wb_app_evening_get_head_problem (self->evening, i) != NULL)
      {
        gtk_widget_grab_focus (get_head (self, i));
        return;
      }
  for (guint column = 0; column < wb_app_evening_get_n_columns (self->evening); column++)
    for (guint i = 0; i <= wb_app_evening_get_n_rows (self->evening); i++)
      {
        guint row = i == 0 ? WB_APP_EVENING_ALL : i - 1;

        if (wb_app_evening_get_cell (self->evening, row, column)->state != WB_APP_EVENING_WRONG)
          continue;
        wb_evening_grid_focus (self->grid, row, column);
        return;
      }
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbEveningSheet) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  gboolean saved = wb_app_evening_save_finish (WB_APP_EVENING (source), result, &error);

  /* closed in the meantime */
  if (self == NULL)
    return;
  self->saving = FALSE;
  if (saved)
    {
      wb_host_say (self->host, _("The evening is in the record."));
      gtk_window_destroy (GTK_WINDOW (self));
      return;
    }
  gtk_widget_set_sensitive (GTK_WIDGET (self->grid), TRUE);
  update_save (self);
  wb_problem_show (GTK_WIDGET (self), _("The evening was not saved"), error);
}

static void
save (WbEveningSheet *self)
{
  self->saving = TRUE;
  /* What is typed while it is written would be lost with the sheet. */
  gtk_widget_set_sensitive (GTK_WIDGET (self->grid), FALSE);
  update_save (self);
  wb_app_evening_save_async (self->evening, NULL, on_saved_cb, wb_weak_widget_new (self));
}

static void
on_doubts_answered_cb (gboolean yes,
                       gpointer user)
{
  g_autoptr (WbEveningSheet) self = wb_weak_widget_take (user);

  if (yes && self != NULL && !self->saving)
    save (self);
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbEveningSheet *self = user;
  g_autofree char *doubts = NULL;
  WbAppEveningCounts counts;

  wb_app_evening_count (self->evening, &counts);
  if (counts.wrong > 0)
    {
      focus_wrong (self);
      return;
    }
  if (counts.doubted == 0)
    {
      save (self);
      return;
    }
  doubts = wb_evening_words_dup_doubts (self->evening, us_units (self));
  wb_question_choose (GTK_WIDGET (self), _("Is that so?"), doubts, _("_Look again"), _("It _is so: save"), on_doubts_answered_cb, wb_weak_widget_new (self));
}

static void
on_round_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbEveningSheet *self = user;
  guint rounds = wb_app_evening_get_rounds (self->evening) + 1;

  wb_app_evening_set_rounds (self->evening, rounds);
  lay_out (self);
  /* The new one, before those after the rounds. */
  wb_evening_grid_focus (self->grid, WB_APP_EVENING_ALL, wb_app_evening_get_moment (self->evening, rounds)->first);
}

static void
on_anew_answered_cb (gboolean yes,
                     gpointer user)
{
  g_autoptr (WbEveningSheet) self = wb_weak_widget_take (user);

  if (!yes || self == NULL)
    return;
  wb_app_evening_begin_anew (self->evening);
  show_kept (self, FALSE);
  lay_out (self);
  gtk_widget_grab_focus (self->day);
}

static void
on_anew_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbEveningSheet *self = user;

  wb_question_ask (GTK_WIDGET (self), _("Empty the sheet?"), _("What is typed here and not saved is gone then."), _("_Empty it"), TRUE,
                   on_anew_answered_cb, wb_weak_widget_new (self));
}

static void
on_every_changed_cb (GSimpleAction *action,
                     GVariant      *value,
                     gpointer       user)
{
  WbEveningSheet *self = user;

  g_simple_action_set_state (action, value);
  wb_evening_grid_set_every (self->grid, g_variant_get_boolean (value));
}

static const GActionEntry entries[] = {
  { "every", NULL, NULL, "false", on_every_changed_cb },
  { "save", on_save_cb, NULL, NULL, NULL },
  { "round", on_round_cb, NULL, NULL, NULL },
  { "anew", on_anew_cb, NULL, NULL, NULL },
};

/* ---- GObject ---- */

/* Not before it shows: a window of GTK 4.8 that has the focus before that is missing from the accessibility tree. */
static void
wb_evening_sheet_show (GtkWidget *widget)
{
  WbEveningSheet *self = WB_EVENING_SHEET (widget);

  GTK_WIDGET_CLASS (wb_evening_sheet_parent_class)->show (widget);
  gtk_widget_grab_focus (self->day);
}

static void
wb_evening_sheet_dispose (GObject *object)
{
  WbEveningSheet *self = WB_EVENING_SHEET (object);

  keep (self);
  g_clear_handle_id (&self->update, g_source_remove);
  if (self->evening != NULL)
    g_signal_handlers_disconnect_by_data (self->evening, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_EVENING_SHEET);
  g_clear_object (&self->evening);
  G_OBJECT_CLASS (wb_evening_sheet_parent_class)->dispose (object);
}

static void
wb_evening_sheet_finalize (GObject *object)
{
  g_object_unref (WB_EVENING_SHEET (object)->actions);
  G_OBJECT_CLASS (wb_evening_sheet_parent_class)->finalize (object);
}

static void
wb_evening_sheet_class_init (WbEveningSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_EVENING_GRID);
  G_OBJECT_CLASS (klass)->dispose = wb_evening_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_evening_sheet_finalize;
  widget_class->show = wb_evening_sheet_show;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "evening-sheet.ui");
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, head);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, foot);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, day);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, opened);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, who);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, room);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, room_label);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, kept);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, kept_words);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, grid);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, words);
  gtk_widget_class_bind_template_child (widget_class, WbEveningSheet, save);
  gtk_widget_class_bind_template_callback (widget_class, on_head_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_head_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_head_entered_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_day_left_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_cell_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_done_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_locked_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "sheet.save", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_e, GDK_CONTROL_MASK, "sheet.every", NULL);
}

static void
wb_evening_sheet_init (WbEveningSheet *self)
{
  self->column = G_MAXUINT;
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "sheet", G_ACTION_GROUP (self->actions));
  gtk_widget_init_template (GTK_WIDGET (self));
}

static WbEveningSheet *
sheet_new (WbHost       *host,
           WbAppEvening *evening)
{
  WbEveningSheet *self = g_object_new (WB_TYPE_EVENING_SHEET, "transient-for", host, NULL);
  g_autofree char *room = NULL;
  gboolean kept;

  self->host = host;
  self->evening = g_object_ref (evening);
  room = g_strdup_printf (_("Room, %s"), wb_unit_get_symbol (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units (self))));
  gtk_label_set_text (self->room_label, room);
  kept = wb_app_evening_take_up (evening, NULL);
  show_kept (self, kept);
  lay_out (self);
  fit (self->head);
  g_signal_connect_swapped (evening, "changed", G_CALLBACK (on_evening_changed_cb), self);
  return self;
}

/* One that is open already; NULL: none. */
static WbEveningSheet *
find_open (WbHost *host,
           gint64  experiment)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (toplevels, i);

      if (WB_IS_EVENING_SHEET (window) && WB_EVENING_SHEET (window)->host == host && WB_EVENING_SHEET (window)->evening != NULL
          && wb_app_evening_get_experiment (WB_EVENING_SHEET (window)->evening) == experiment)
        return WB_EVENING_SHEET (window);
    }
  return NULL;
}

void
wb_evening_sheet_open (WbHost *host,
                       gint64  experiment)
{
  g_autoptr (WbAppEvening) evening = NULL;
  WbEveningSheet *sheet;

  g_return_if_fail (WB_IS_HOST (host) && wb_host_get_desk (host) != NULL);

  sheet = find_open (host, experiment);
  if (sheet == NULL)
    {
      evening = wb_app_evening_new (wb_desk_get_bench (wb_host_get_desk (host)), experiment);
      if (wb_app_evening_get_n_rows (evening) == 0)
        {
          g_autoptr (GError) error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED,
                                                          _("No sample of this experiment is poured and waits for the bench."));

          wb_problem_show (GTK_WIDGET (host), _("There is no evening to type in"), error);
          return;
        }
      sheet = sheet_new (host, evening);
    }
  gtk_window_present (GTK_WINDOW (sheet));
}

WbAppEvening *
wb_evening_sheet_get_evening (WbEveningSheet *self)
{
  g_return_val_if_fail (WB_IS_EVENING_SHEET (self), NULL);
  return self->evening;
}

WbEveningGrid *
wb_evening_sheet_get_grid (WbEveningSheet *self)
{
  g_return_val_if_fail (WB_IS_EVENING_SHEET (self), NULL);
  return self->grid;
}
