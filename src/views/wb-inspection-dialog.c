/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-inspection-dialog.h"

#include "wb-app-inspection.h"
#include "wb-bundle.h"
#include "wb-focus-walk.h"
#include "wb-problem.h"
#include "wb-rating-bar.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

/* The lines in their order: what is rated, and what is written. */
enum { FROSTING, WET_SPOTS, SINK_HOLE, SWEATING, COLD_THROW, RATER, NOTE, N_LINES };

/* The letter that chooses a line; the words are those of the record. */
static const struct { const char *field; guint key; int first; } lines[N_LINES] = {
  [FROSTING] = { "frosting", GDK_KEY_f, 0 },
  [WET_SPOTS] = { "wet_spots", GDK_KEY_w, 0 },
  [SINK_HOLE] = { "sink_hole", GDK_KEY_s, 0 },
  [SWEATING] = { "sweating", GDK_KEY_e, 0 },
  [COLD_THROW] = { "cold_throw", GDK_KEY_c, 1 },
  [RATER] = { "rater", GDK_KEY_b, 0 },
  [NOTE] = { "note", GDK_KEY_n, 0 },
};

struct _WbInspectionDialog
{
  GtkWindow         parent_instance;

  /* children */
  GtkLabel         *heading;
  GtkGrid          *grid;
  GtkLabel         *problem;
  GtkWidget        *save;
  GtkWidget        *line[N_LINES]; /* WbRatingBar, then GtkEntry */

  /* owned */
  WbAppNotebook    *notebook;
  char             *code;

  /* state */
  gint64            sample;
};

G_DEFINE_FINAL_TYPE (WbInspectionDialog, wb_inspection_dialog, GTK_TYPE_WINDOW)

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbInspectionDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_inspection_add_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The look at the sample was not saved"), error);
  if (self == NULL)
    return;
  gtk_widget_set_sensitive (self->save, TRUE);
  wb_problem_tell_error (self->problem, error);
}

/* NULL: nothing was written. Caller frees. */
static char *
dup_text (WbInspectionDialog *self,
          guint               line)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->line[line]))));

  return *text != '\0' ? g_steal_pointer (&text) : NULL;
}

static void
on_save_clicked_cb (WbInspectionDialog *self)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_inspection_type);
  WbInspection *look = (WbInspection *) record;
  int throw = wb_rating_bar_get_value (WB_RATING_BAR (self->line[COLD_THROW]));

  if (!gtk_widget_get_sensitive (self->save))
    return;
  look->sample = self->sample;
  look->frosting = wb_rating_bar_get_value (WB_RATING_BAR (self->line[FROSTING]));
  look->wet_spots = wb_rating_bar_get_value (WB_RATING_BAR (self->line[WET_SPOTS]));
  look->sink_hole = wb_rating_bar_get_value (WB_RATING_BAR (self->line[SINK_HOLE]));
  look->sweating = wb_rating_bar_get_value (WB_RATING_BAR (self->line[SWEATING]));
  look->cold_throw = throw >= 1 ? throw : NAN;
  look->rater = dup_text (self, RATER);
  look->note = dup_text (self, NOTE);
  wb_problem_tell (self->problem, NULL);
  gtk_widget_set_sensitive (self->save, FALSE);
  wb_app_inspection_add_async (self->notebook, look, self->code, NULL, on_saved_cb, wb_weak_widget_new (self));
}

/* -1: the keyboard is in none. */
static int
find_line (WbInspectionDialog *self)
{
  for (int i = 0; i < N_LINES; i++)
    if (wb_focus_walk_is_within (self->line[i]))
      return i;
  return -1;
}

/* To the next line; behind the last it is saved. */
static void
go_on (WbInspectionDialog *self)
{
  int line = find_line (self);

  if (line + 1 < N_LINES)
    gtk_widget_grab_focus (self->line[line + 1]);
  else
    on_save_clicked_cb (self);
}

/* As everywhere else; where it may not be saved yet the button is dead, and so is the key. */
static void
on_save_action_cb (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  on_save_clicked_cb (WB_INSPECTION_DIALOG (widget));
}

static gboolean
is_enter (guint keyval)
{
  return keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter;
}

gboolean
wb_inspection_dialog_press (WbInspectionDialog *self,
                            guint               keyval)
{
  g_return_val_if_fail (WB_IS_INSPECTION_DIALOG (self), FALSE);

  if (is_enter (keyval) && find_line (self) >= 0)
    {
      go_on (self);
      return TRUE;
    }
  /* In a text it is a letter. */
  if (find_line (self) >= RATER)
    return FALSE;
  for (int i = 0; i < N_LINES; i++)
    if (gdk_keyval_to_lower (keyval) == lines[i].key)
      {
        gtk_widget_grab_focus (self->line[i]);
        return TRUE;
      }
  return FALSE;
}

/* A button would take it for a click. */
static gboolean
on_enter_pressed_cb (GtkEventControllerKey *controller,
                     guint                  keyval,
                     guint                  keycode,
                     GdkModifierType        state,
                     WbInspectionDialog    *self)
{
  return is_enter (keyval) && wb_inspection_dialog_press (self, keyval);
}

static gboolean
on_letter_pressed_cb (GtkEventControllerKey *controller,
                      guint                  keyval,
                      guint                  keycode,
                      GdkModifierType        state,
                      WbInspectionDialog    *self)
{
  return (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) == 0 && wb_inspection_dialog_press (self, keyval);
}

static void
on_rated_cb (WbInspectionDialog *self)
{
  go_on (self);
}

/* Not before it is shown: a window that has the keyboard before has no role for assistive technology in GTK 4.8. */
static void
wb_inspection_dialog_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_inspection_dialog_parent_class)->map (widget);
  gtk_widget_grab_focus (WB_INSPECTION_DIALOG (widget)->line[FROSTING]);
}

static void
wb_inspection_dialog_dispose (GObject *object)
{
  WbInspectionDialog *self = WB_INSPECTION_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->code, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_INSPECTION_DIALOG);
  G_OBJECT_CLASS (wb_inspection_dialog_parent_class)->dispose (object);
}

static void
wb_inspection_dialog_class_init (WbInspectionDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_inspection_dialog_dispose;
  widget_class->map = wb_inspection_dialog_map;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "inspection-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbInspectionDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbInspectionDialog, grid);
  gtk_widget_class_bind_template_child (widget_class, WbInspectionDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbInspectionDialog, save);
  gtk_widget_class_bind_template_callback (widget_class, on_enter_pressed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_letter_pressed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_install_action (widget_class, "look.save", NULL, on_save_action_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "look.save", NULL);
}

static void
add_line (WbInspectionDialog *self,
          int                 i)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_inspection_type, lines[i].field);
  g_autofree char *letter = g_strdup_printf ("%c", (int) gdk_keyval_to_upper (lines[i].key));
  GtkWidget *key = gtk_label_new (letter);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", _(spec->label), "xalign", 0.0, NULL);

  gtk_widget_add_css_class (key, "dim-label");
  if (i < RATER)
    {
      self->line[i] = wb_rating_bar_new (spec->words, lines[i].first, _(spec->label));
      g_signal_connect_object (self->line[i], "rated", G_CALLBACK (on_rated_cb), self, G_CONNECT_SWAPPED);
    }
  else
    {
      self->line[i] = g_object_new (GTK_TYPE_ENTRY, "hexpand", TRUE, NULL);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->line[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, _(spec->label), -1);
    }
  gtk_grid_attach (self->grid, key, 0, i, 1, 1);
  gtk_grid_attach (self->grid, label, 1, i, 1, 1);
  gtk_grid_attach (self->grid, self->line[i], 2, i, 1, 1);
}

static void
wb_inspection_dialog_init (WbInspectionDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (int i = 0; i < N_LINES; i++)
    add_line (self, i);
}

GtkWidget *
wb_inspection_dialog_new (GtkWidget        *where,
                          WbAppNotebook    *notebook,
                          WbAppBenchSample *sample,
                          const char       *rater)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL;
  WbInspectionDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  title = g_strdup_printf (_("Look at %s, unlit"), wb_app_bench_sample_get_code (sample));
  self = g_object_new (WB_TYPE_INSPECTION_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->code = g_strdup (wb_app_bench_sample_get_code (sample));
  self->sample = wb_app_bench_sample_get_id (sample);
  gtk_label_set_text (self->heading, title);
  gtk_editable_set_text (GTK_EDITABLE (self->line[RATER]), rater != NULL ? rater : "");
  return GTK_WIDGET (self);
}

int
wb_inspection_dialog_get_rating (WbInspectionDialog *self,
                                 const char         *field)
{
  g_return_val_if_fail (WB_IS_INSPECTION_DIALOG (self), -1);

  for (int i = 0; i < RATER; i++)
    if (g_str_equal (lines[i].field, field))
      return wb_rating_bar_get_value (WB_RATING_BAR (self->line[i]));
  return -1;
}
