/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-blind-dialog.h"

#include "wb-app-bench-throw.h"
#include "wb-app-blind.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-problem.h"
#include "wb-rating-bar.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <string.h>

/* One that was saved. */
typedef struct { char *digits, *rater, *code, *title; int rating; gboolean hot, told; } Rated;

struct _WbBlindDialog
{
  GtkWindow         parent_instance;

  /* children */
  GtkEditable      *rater;
  GtkEditable      *digits;
  GtkLabel         *state;
  GtkBox           *rating_row;
  GtkLabel         *note;
  GtkCheckButton   *later;
  GtkLabel         *problem;
  GtkLabel         *rated_words;
  GtkWidget        *tell;
  GtkWidget        *save;
  WbRatingBar      *rating;

  /* owned */
  WbDesk           *desk;
  WbAppBenchSample *sample;   /* in hand; NULL: none */
  GPtrArray        *rated;    /* Rated */

  /* state */
  gboolean          saving;
};

G_DEFINE_FINAL_TYPE (WbBlindDialog, wb_blind_dialog, GTK_TYPE_WINDOW)

static void
rated_free (gpointer data)
{
  Rated *self = data;

  g_free (self->digits);
  g_free (self->rater);
  g_free (self->code);
  g_free (self->title);
  g_free (self);
}

/* ---- What was rated ---- */

static char *
dup_line (const Rated *rated)
{
  const char *kind = rated->hot ? _("hot throw") : _("cold throw");

  if (!rated->told)
    /* Translators: digits of a sample, who rated, "hot throw", a number from 1 to 5 and its word. */
    return g_strdup_printf (_("%s: %s, %s %d, %s"), rated->digits, rated->rater, kind, rated->rating, _(wb_throw_words[rated->rating].label));
  /* Translators: the same, behind the digits the sample's code and what is in it. */
  return g_strdup_printf (_("%s was %s, %s: %s, %s %d, %s"), rated->digits, rated->code, rated->title, rated->rater, kind, rated->rating,
                          _(wb_throw_words[rated->rating].label));
}

static void
show_rated (WbBlindDialog *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean withheld = FALSE;

  for (guint i = self->rated->len; i > 0; i--)
    {
      const Rated *rated = g_ptr_array_index (self->rated, i - 1);
      g_autofree char *line = dup_line (rated);

      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
      withheld = withheld || !rated->told;
    }
  gtk_label_set_text (self->rated_words, text->str);
  gtk_widget_set_visible (self->tell, withheld);
}

static void
tell_all (WbBlindDialog *self)
{
  for (guint i = 0; i < self->rated->len; i++)
    ((Rated *) g_ptr_array_index (self->rated, i))->told = TRUE;
  show_rated (self);
}

static void
on_tell_clicked_cb (WbBlindDialog *self)
{
  gtk_check_button_set_active (self->later, FALSE);
  tell_all (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->digits));
}

/* ---- The sample in hand ---- */

static gboolean
is_hot (WbBlindDialog *self)
{
  return wb_app_bench_sample_get_state (self->sample) == WB_APP_BENCH_ALIGHT;
}

/* Why it will not be scored, in words that name nobody: whose code stands there would tell whose does not. */
static const char *
get_note (WbBlindDialog *self)
{
  g_autofree char *unscored = NULL;

  if (self->sample == NULL || !is_hot (self))
    return "";
  unscored = wb_app_bench_dup_unscored (wb_desk_get_bench (self->desk), self->sample);
  return unscored != NULL ? _("Not scored, it stays a note: scored is a throw burn alone in its room.") : "";
}

static void
update (WbBlindDialog *self)
{
  const char *typed = gtk_editable_get_text (self->digits);

  if (self->sample != NULL)
    gtk_label_set_text (self->state, is_hot (self) ? _("It burns: its hot throw") : _("It is unlit: its cold throw"));
  else
    gtk_label_set_text (self->state, strlen (typed) >= 3 ? _("No sample at the bench carries these digits.") : "");
  gtk_label_set_text (self->note, get_note (self));
  wb_grey_set (self->save, self->saving ? _("It is being saved") : self->sample == NULL ? _("Type or scan the three digits first")
                           : wb_rating_bar_get_value (self->rating) < 1 ? _("Rate it first") : NULL);
}

static void
on_digits_changed_cb (WbBlindDialog *self)
{
  WbAppBenchSample *found = wb_app_blind_find (wb_desk_get_bench (self->desk), gtk_editable_get_text (self->digits));

  /* what was chosen was of the sample before */
  if (g_set_object (&self->sample, found))
    wb_rating_bar_set_value (self->rating, -1);
  wb_problem_tell (self->problem, NULL);
  update (self);
}

static void
on_digits_activate_cb (WbBlindDialog *self)
{
  if (self->sample != NULL)
    gtk_widget_child_focus (GTK_WIDGET (self->rating), GTK_DIR_TAB_FORWARD);
  else
    gtk_widget_error_bell (GTK_WIDGET (self->digits));
}

void
wb_blind_dialog_scan (WbBlindDialog *self,
                      const char    *code)
{
  WbAppBenchSample *found;
  g_autofree char *digits = NULL;

  g_return_if_fail (WB_IS_BLIND_DIALOG (self) && code != NULL);

  found = wb_app_blind_find (wb_desk_get_bench (self->desk), code);
  if (found == NULL || wb_app_blind_get_code (found) == 0)
    {
      gtk_editable_set_text (self->digits, "");
      wb_problem_tell (self->problem, found == NULL ? _("No sample at the bench has the label that was scanned.")
                                                    : _("The sample of that label carries no digits: draw them where its labels are printed."));
      return;
    }
  digits = g_strdup_printf ("%u", wb_app_blind_get_code (found));
  gtk_editable_set_text (self->digits, digits);
  on_digits_activate_cb (self);
}

/* ---- Saving ---- */

typedef struct { gpointer weak; Rated *rated; gint64 sample; } Save;

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autofree Save *save = user;
  g_autoptr (WbBlindDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  gboolean saved = wb_app_blind_rate_finish (WB_APP_NOTEBOOK (source), result, &error);

  self = wb_weak_widget_take_or_tell (save->weak, _("The rating was not saved"), error);
  if (self == NULL || !saved)
    rated_free (save->rated);
  if (self == NULL)
    return;
  self->saving = FALSE;
  if (!saved)
    {
      wb_problem_tell_error (self->problem, error);
      update (self);
      return;
    }
  save->rated->told = !gtk_check_button_get_active (self->later);
  g_ptr_array_add (self->rated, save->rated);
  show_rated (self);
  /* the next label may have been scanned meanwhile */
  if (self->sample == NULL || wb_app_bench_sample_get_id (self->sample) == save->sample)
    {
      wb_rating_bar_set_value (self->rating, -1);
      gtk_editable_set_text (self->digits, "");
      gtk_widget_grab_focus (GTK_WIDGET (self->digits));
    }
  update (self);
}

/* The digits, whatever way they were given. */
static char *
dup_digits (WbBlindDialog *self)
{
  guint code = wb_app_blind_get_code (self->sample);

  return code > 0 ? g_strdup_printf ("%u", code) : g_strdup (_("the label"));
}

static void
on_save_clicked_cb (WbBlindDialog *self)
{
  WbAppBench *bench = wb_desk_get_bench (self->desk);
  int rating = wb_rating_bar_get_value (self->rating);
  Save *save;

  if (!gtk_widget_get_sensitive (self->save) || self->sample == NULL)
    return;
  wb_problem_tell (self->problem, NULL);
  self->saving = TRUE;
  update (self);
  save = g_new0 (Save, 1);
  save->weak = wb_weak_widget_new (self);
  save->sample = wb_app_bench_sample_get_id (self->sample);
  save->rated = g_new0 (Rated, 1);
  save->rated->digits = dup_digits (self);
  save->rated->rater = g_strdup (gtk_editable_get_text (self->rater));
  save->rated->code = g_strdup (wb_app_bench_sample_get_code (self->sample));
  save->rated->title = g_strdup (wb_app_bench_sample_get_title (self->sample));
  save->rated->rating = rating;
  save->rated->hot = is_hot (self);
  wb_app_blind_rate_async (bench, wb_desk_get_notebook (self->desk), self->sample, rating, save->rated->rater, NULL, on_saved_cb, save);
}

static void
on_rating_changed_cb (WbBlindDialog *self)
{
  update (self);
}

/* The hand goes on to the button, which Enter presses. */
static void
on_rated_cb (WbBlindDialog *self)
{
  update (self);
  gtk_widget_grab_focus (self->save);
}

/* Not before it is shown: a window that has the keyboard before has no role for assistive technology in GTK 4.8. */
static void
wb_blind_dialog_map (GtkWidget *widget)
{
  WbBlindDialog *self = WB_BLIND_DIALOG (widget);

  GTK_WIDGET_CLASS (wb_blind_dialog_parent_class)->map (widget);
  gtk_widget_grab_focus (GTK_WIDGET (*gtk_editable_get_text (self->rater) != '\0' ? self->digits : self->rater));
}

static void
wb_blind_dialog_dispose (GObject *object)
{
  WbBlindDialog *self = WB_BLIND_DIALOG (object);

  g_clear_object (&self->sample);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_BLIND_DIALOG);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_blind_dialog_parent_class)->dispose (object);
}

static void
wb_blind_dialog_finalize (GObject *object)
{
  g_ptr_array_unref (WB_BLIND_DIALOG (object)->rated);
  G_OBJECT_CLASS (wb_blind_dialog_parent_class)->finalize (object);
}

static void
wb_blind_dialog_class_init (WbBlindDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_blind_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_blind_dialog_finalize;
  widget_class->map = wb_blind_dialog_map;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "blind-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, rater);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, digits);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, state);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, rating_row);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, note);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, later);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, rated_words);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, tell);
  gtk_widget_class_bind_template_child (widget_class, WbBlindDialog, save);
  gtk_widget_class_bind_template_callback (widget_class, on_digits_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_digits_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_tell_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_blind_dialog_init (WbBlindDialog *self)
{
  GtkWidget *bar = wb_rating_bar_new (wb_throw_words, 1, _("Throw"));

  self->rated = g_ptr_array_new_with_free_func (rated_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rating = WB_RATING_BAR (bar);
  gtk_box_append (self->rating_row, bar);
  g_signal_connect_object (bar, "changed", G_CALLBACK (on_rating_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (bar, "rated", G_CALLBACK (on_rated_cb), self, G_CONNECT_SWAPPED);
}

GtkWidget *
wb_blind_dialog_new (GtkWidget *where,
                     WbDesk    *desk)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbBlindDialog *self;

  g_return_val_if_fail (WB_IS_DESK (desk), NULL);

  self = g_object_new (WB_TYPE_BLIND_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->desk = g_object_ref (desk);
  gtk_editable_set_text (self->rater, wb_app_settings_get_person (wb_desk_get_settings (desk)));
  update (self);
  return GTK_WIDGET (self);
}
