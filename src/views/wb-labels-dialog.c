/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-labels-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-blind.h"
#include "wb-app-label-sheets.h"
#include "wb-app-labels.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-host.h"
#include "wb-paper-view.h"
#include "wb-paperwork.h"
#include "wb-problem.h"
#include "wb-sheet-form.h"
#include "wb-sheet-picker.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* What the list of sheets offers: those of the program, the person's own, and one to be typed. */
typedef enum { OFFER_PRESET, OFFER_PAPER, OFFER_OWN, OFFER_NEW } OfferKind;
typedef struct { OfferKind kind; guint number; } Offer;

struct _WbLabelsDialog
{
  GtkWindow         parent_instance;

  /* children */
  GtkDropDown      *kind;
  GtkDropDown      *preset;
  GtkWidget        *own;
  WbSheetForm      *form;
  GtkEditable      *name;
  GtkWidget        *keep;
  GtkWidget        *forget;
  GtkWidget        *first_row;
  GtkLabel         *hint;
  WbSheetPicker    *picker;
  GtkSpinButton    *first;
  GtkCheckButton   *outlines;
  GtkCheckButton   *blind;
  GtkWidget        *draw;
  GtkSpinButton    *right;
  GtkSpinButton    *down;
  GtkLabel         *problem;
  GtkWidget        *align;
  GtkWidget        *show;
  WbPaperView      *preview;

  /* owned */
  WbAppPour        *pour;
  WbAppLabelSheets *sheets;
  GArray           *offers;   /* Offer, as the list shows them */
  WbDesk           *desk;     /* NULL: opened without a window */

  GCancellable     *setting;  /* of the paper that is being set; NULL: none is */

  /* borrowed, with a weak pointer */
  GtkWidget        *where;

  /* state */
  guint             batch;
  gboolean          letter;
  gboolean          quiet;    /* the program changes what stands there */
  guint             preview_id;
};

G_DEFINE_FINAL_TYPE (WbLabelsDialog, wb_labels_dialog, GTK_TYPE_WINDOW)

static WbAppLabelsKind
get_kind (WbLabelsDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->kind);

  return selected < WB_APP_LABELS_N ? (WbAppLabelsKind) selected : WB_APP_LABELS_BASE;
}

static const Offer *
get_offer (WbLabelsDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->preset);

  return &g_array_index (self->offers, Offer, selected < self->offers->len ? selected : 0);
}

static const WbAppLabelSheet *
get_own (WbLabelsDialog *self)
{
  const Offer *offer = get_offer (self);

  return offer->kind == OFFER_OWN ? g_ptr_array_index (self->sheets->own, offer->number) : NULL;
}

/* By which the settings know the sheet; NULL: they do not. */
static const char *
get_key (WbLabelsDialog *self)
{
  const Offer *offer = get_offer (self);
  const WbAppLabelSheet *own = get_own (self);

  if (own != NULL)
    return own->name;
  return offer->kind == OFFER_PRESET ? wb_report_label_preset_get_key ((WbReportLabelPreset) offer->number) : NULL;
}

/* FALSE: what is typed makes no sheet, and says so. */
static gboolean
get_sheet (WbLabelsDialog     *self,
           WbReportLabelSheet *sheet)
{
  const Offer *offer = get_offer (self);
  gboolean well = TRUE;

  if (offer->kind == OFFER_PRESET)
    *sheet = wb_report_label_sheet_preset ((WbReportLabelPreset) offer->number);
  else if (offer->kind == OFFER_PAPER)
    *sheet = wb_report_cards_sheet ((WbReportPaper) offer->number, get_kind (self) == WB_APP_LABELS_FOLDED_CARDS);
  else
    well = wb_sheet_form_get_sheet (self->form, sheet);
  sheet->shift_x = gtk_spin_button_get_value (self->right);
  sheet->shift_y = gtk_spin_button_get_value (self->down);
  return well;
}

static void
get_terms (WbLabelsDialog     *self,
           WbReportLabelSheet *sheet,
           WbAppLabelsTerms   *terms)
{
  *terms = (WbAppLabelsTerms) {
    .kind = get_kind (self), .sheet = *sheet, .first = (guint) gtk_spin_button_get_value_as_int (self->first) - 1,
    .outlines = gtk_check_button_get_active (self->outlines), .blind = gtk_check_button_get_active (self->blind),
  };
}

/* The record may have changed behind the question. */
static gboolean
has_batch (WbLabelsDialog *self)
{
  return wb_app_pour_get_data (self->pour) != NULL && self->batch < wb_app_pour_get_batches (self->pour)->len;
}

static void
show_paper (WbLabelsDialog *self,
            WbPaper        *paper,
            const GError   *error)
{
  wb_paper_view_set_paper (self->preview, paper);
  wb_problem_tell (self->problem, error != NULL ? error->message : NULL);
  wb_grey_set (self->show, paper != NULL ? NULL : error != NULL ? error->message : _("These measures make no sheet"));
}

static void
on_paper_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbLabelsDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbPaper) paper = NULL;
  WbReportDocument *document = wb_app_labels_new_finish (WB_APP_POUR (source), result, &error);

  /* another one is being set, or nobody looks any more */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  paper = document != NULL ? wb_paper_new (document) : NULL;
  if (self == NULL)
    return;
  g_clear_object (&self->setting);
  show_paper (self, paper, error);
}

static void
stop_setting (WbLabelsDialog *self)
{
  g_clear_handle_id (&self->preview_id, g_source_remove);
  if (self->setting != NULL)
    g_cancellable_cancel (self->setting);
  g_clear_object (&self->setting);
}

static gboolean
on_preview_cb (gpointer user)
{
  WbLabelsDialog *self = user;
  WbReportLabelSheet sheet;
  WbAppLabelsTerms terms;

  self->preview_id = 0;
  if (!get_sheet (self, &sheet) || !has_batch (self))
    {
      show_paper (self, NULL, NULL);
      return G_SOURCE_REMOVE;
    }
  get_terms (self, &sheet, &terms);
  terms.one_page = TRUE;
  self->setting = g_cancellable_new ();
  wb_app_labels_new_async (self->pour, self->batch, &terms, self->setting, on_paper_cb, wb_weak_widget_new (self));
  return G_SOURCE_REMOVE;
}

gboolean
wb_labels_dialog_is_set (WbLabelsDialog *self)
{
  g_return_val_if_fail (WB_IS_LABELS_DIALOG (self), FALSE);

  return self->preview_id == 0 && self->setting == NULL;
}

/* What is typed shows first; its paper once the keyboard rests. */
static void
update (WbLabelsDialog *self)
{
  guint without_code = 0, n;
  WbReportLabelSheet sheet;
  gboolean well;

  if (self->quiet)
    return;
  n = has_batch (self) ? wb_app_labels_count (self->pour, self->batch, &without_code) : 0;
  well = get_sheet (self, &sheet);
  wb_grey_set (self->keep, !well ? _("These measures make no sheet") : *gtk_editable_get_text (self->name) == '\0' ? _("Type a name first") : NULL);
  gtk_widget_set_visible (self->forget, get_own (self) != NULL);
  gtk_widget_set_visible (self->draw, without_code > 0 && self->desk != NULL);
  wb_grey_set (self->show, well ? NULL : _("These measures make no sheet"));
  wb_grey_set (self->align, well ? NULL : _("These measures make no sheet"));
  if (well)
    {
      guint places = wb_report_label_sheet_get_places (&sheet);

      self->quiet = TRUE;
      gtk_spin_button_set_range (self->first, 1, MAX (places, 1));
      wb_sheet_picker_set_sheet (self->picker, &sheet, n);
      wb_sheet_picker_set_first (self->picker, (guint) gtk_spin_button_get_value_as_int (self->first) - 1);
      self->quiet = FALSE;
      /* a roll has nothing to begin at */
      gtk_widget_set_visible (self->first_row, places > 1);
      gtk_widget_set_visible (GTK_WIDGET (self->hint), places > 1);
      gtk_widget_set_visible (GTK_WIDGET (self->picker), places > 1);
    }
  stop_setting (self);
  self->preview_id = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, on_preview_cb, self, NULL);
}

static void
on_changed_cb (WbLabelsDialog *self)
{
  update (self);
}

static void
on_first_changed_cb (WbLabelsDialog *self)
{
  update (self);
}

static void
on_picked_cb (WbLabelsDialog *self)
{
  gtk_spin_button_set_value (self->first, wb_sheet_picker_get_first (self->picker) + 1);
}

static void
on_form_changed_cb (WbLabelsDialog *self)
{
  update (self);
}

static void
on_name_changed_cb (WbLabelsDialog *self)
{
  update (self);
}

/* ---- The list of sheets ---- */

static void
offer (WbLabelsDialog *self,
       GtkStringList  *names,
       OfferKind       kind,
       guint           number,
       const char     *name)
{
  Offer one = { kind, number };

  g_array_append_val (self->offers, one);
  gtk_string_list_append (names, name);
}

static void
offer_sheets (WbLabelsDialog *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  g_array_set_size (self->offers, 0);
  if (get_kind (self) == WB_APP_LABELS_BASE)
    for (guint i = 0; i < WB_REPORT_LABELS_N; i++)
      offer (self, names, OFFER_PRESET, i, wb_report_label_preset_get_label ((WbReportLabelPreset) i));
  else
    {
      offer (self, names, OFFER_PAPER, WB_REPORT_A4, _("A4, plain paper that is cut"));
      offer (self, names, OFFER_PAPER, WB_REPORT_LETTER, _("Letter, plain paper that is cut"));
    }
  for (guint i = 0; i < self->sheets->own->len; i++)
    offer (self, names, OFFER_OWN, i, ((const WbAppLabelSheet *) g_ptr_array_index (self->sheets->own, i))->name);
  offer (self, names, OFFER_NEW, 0, _("Another size…"));
  gtk_drop_down_set_model (self->preset, G_LIST_MODEL (names));
}

/* The one that was printed on last, where this kind has it, else one of the notebook's paper. */
static guint
find_proposed (WbLabelsDialog *self,
               const char     *chosen)
{
  for (guint i = 0; i < self->offers->len; i++)
    {
      const Offer *one = &g_array_index (self->offers, Offer, i);

      if (one->kind == OFFER_PRESET && g_str_equal (wb_report_label_preset_get_key ((WbReportLabelPreset) one->number), chosen))
        return i;
      if (one->kind == OFFER_OWN && g_str_equal (((const WbAppLabelSheet *) g_ptr_array_index (self->sheets->own, one->number))->name, chosen))
        return i;
    }
  if (get_kind (self) == WB_APP_LABELS_BASE)
    return self->letter ? WB_REPORT_LABELS_LETTER_30 : WB_REPORT_LABELS_A4_24;
  return self->letter ? 1 : 0;
}

/* On a sheet that was begun, at its first label that is left; the words say why. */
static void
begin_behind_last (WbLabelsDialog *self)
{
  guint next = get_key (self) != NULL ? wb_app_label_sheets_get_next (self->sheets, get_key (self)) : 0;
  g_autofree char *words = NULL;
  WbReportLabelSheet sheet;

  if (next > 0)
    words = g_strdup_printf (ngettext ("The last print on such a sheet used its first label. For a new sheet begin at 1.",
                                       "The last print on such a sheet used its first %u labels. For a new sheet begin at 1.", next), next);
  gtk_label_set_text (self->hint, next > 0 ? words : _("A sheet that was begun: click its first free label, or move there with the arrow keys. Those before it are used."));
  self->quiet = TRUE;
  if (get_sheet (self, &sheet))
    gtk_spin_button_set_range (self->first, 1, MAX (wb_report_label_sheet_get_places (&sheet), 1));
  gtk_spin_button_set_value (self->first, next + 1);
  self->quiet = FALSE;
}

/* The form of a new one begins with the usual sheet of the notebook's paper. */
static void
choose_sheet (WbLabelsDialog *self,
              guint           position)
{
  WbReportLabelSheet before = wb_report_label_sheet_preset (self->letter ? WB_REPORT_LABELS_LETTER_30 : WB_REPORT_LABELS_A4_24);
  const WbAppLabelSheet *own;

  self->quiet = TRUE;
  gtk_drop_down_set_selected (self->preset, position);
  own = get_own (self);
  if (own != NULL || get_offer (self)->kind == OFFER_NEW)
    wb_sheet_form_set_sheet (self->form, own != NULL ? &own->sheet : &before);
  gtk_editable_set_text (self->name, own != NULL ? own->name : "");
  gtk_widget_set_visible (self->own, own != NULL || get_offer (self)->kind == OFFER_NEW);
  wb_sheet_picker_set_small (self->picker, gtk_widget_get_visible (self->own));
  self->quiet = FALSE;
  begin_behind_last (self);
  update (self);
}

static void
on_preset_selected_cb (WbLabelsDialog *self)
{
  if (!self->quiet)
    choose_sheet (self, gtk_drop_down_get_selected (self->preset));
}

static void
on_kind_selected_cb (WbLabelsDialog *self)
{
  if (self->quiet)
    return;
  self->quiet = TRUE;
  offer_sheets (self);
  gtk_check_button_set_active (self->outlines, get_kind (self) != WB_APP_LABELS_BASE);
  self->quiet = FALSE;
  choose_sheet (self, find_proposed (self, self->sheets->chosen));
}

/* ---- What is kept ---- */

static void
keep_settings (WbLabelsDialog *self)
{
  g_autofree char *text = NULL;

  self->sheets->shift_x = gtk_spin_button_get_value (self->right);
  self->sheets->shift_y = gtk_spin_button_get_value (self->down);
  text = wb_app_label_sheets_format (self->sheets);
  if (self->desk != NULL)
    wb_app_settings_set_label_sheets (wb_desk_get_settings (self->desk), text);
}

static void
set_chosen (WbLabelsDialog *self,
            const char     *chosen)
{
  g_free (self->sheets->chosen);
  self->sheets->chosen = g_strdup (chosen);
}

static void
on_keep_clicked_cb (WbLabelsDialog *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (self->name)));
  WbReportLabelSheet sheet;

  if (*name == '\0' || !get_sheet (self, &sheet))
    return;
  wb_app_label_sheets_keep (self->sheets, name, &sheet);
  set_chosen (self, name);
  keep_settings (self);
  self->quiet = TRUE;
  offer_sheets (self);
  self->quiet = FALSE;
  choose_sheet (self, find_proposed (self, name));
}

static void
on_forget_clicked_cb (WbLabelsDialog *self)
{
  const WbAppLabelSheet *own = get_own (self);

  if (own == NULL)
    return;
  wb_app_label_sheets_forget (self->sheets, own->name);
  set_chosen (self, "");
  keep_settings (self);
  self->quiet = TRUE;
  offer_sheets (self);
  self->quiet = FALSE;
  choose_sheet (self, find_proposed (self, ""));
}

/* ---- Blind codes ---- */

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbLabelsDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  gboolean loaded = wb_app_pour_load_finish (WB_APP_POUR (source), result, &error);

  if (self == NULL)
    return;
  gtk_widget_set_sensitive (self->draw, TRUE);
  if (loaded)
    g_set_object (&self->pour, WB_APP_POUR (source));
  update (self);
  if (error != NULL)
    wb_problem_tell_error (self->problem, error);
}

static void
on_drawn_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbLabelsDialog) self = NULL;
  g_autoptr (WbAppPour) pour = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_blind_draw_finish (WB_APP_NOTEBOOK (source), result, &error);
  self = wb_weak_widget_take_or_tell (user, _("The blind codes were not drawn"), error);
  if (self == NULL)
    return;
  if (error != NULL)
    {
      gtk_widget_set_sensitive (self->draw, TRUE);
      wb_problem_tell_error (self->problem, error);
      return;
    }
  gtk_check_button_set_active (self->blind, TRUE);
  /* a pour of its own: the page's reads its own news */
  pour = wb_app_pour_new (WB_APP_NOTEBOOK (source), wb_app_pour_get_data (self->pour)->experiment->record.id);
  wb_app_pour_load_async (pour, NULL, on_loaded_cb, wb_weak_widget_new (self));
}

static void
on_draw_clicked_cb (WbLabelsDialog *self)
{
  if (self->desk == NULL)
    return;
  gtk_widget_set_sensitive (self->draw, FALSE);
  wb_app_blind_draw_async (wb_desk_get_bench (self->desk), wb_desk_get_notebook (self->desk),
                           wb_app_pour_get_data (self->pour)->experiment->record.id, NULL, on_drawn_cb, wb_weak_widget_new (self));
}

/* ---- The dialog ---- */

static void
on_align_clicked_cb (WbLabelsDialog *self)
{
  WbReportLabelSheet sheet;

  if (get_sheet (self, &sheet))
    wb_paperwork_alignment (GTK_WIDGET (self), self->pour, &sheet);
}

static void
on_show_clicked_cb (WbLabelsDialog *self)
{
  WbReportLabelSheet sheet;
  WbAppLabelsTerms terms;

  if (!get_sheet (self, &sheet))
    return;
  if (get_key (self) != NULL)
    set_chosen (self, get_key (self));
  keep_settings (self);
  get_terms (self, &sheet, &terms);
  if (self->where != NULL && has_batch (self))
    wb_paperwork_labels (self->where, self->pour, self->batch, &terms, get_key (self));
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
wb_labels_dialog_dispose (GObject *object)
{
  WbLabelsDialog *self = WB_LABELS_DIALOG (object);

  stop_setting (self);
  self->quiet = TRUE;
  g_clear_weak_pointer (&self->where);
  g_clear_object (&self->pour);
  g_clear_object (&self->desk);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LABELS_DIALOG);
  G_OBJECT_CLASS (wb_labels_dialog_parent_class)->dispose (object);
}

static void
wb_labels_dialog_finalize (GObject *object)
{
  WbLabelsDialog *self = WB_LABELS_DIALOG (object);

  g_array_unref (self->offers);
  wb_app_label_sheets_free (self->sheets);
  G_OBJECT_CLASS (wb_labels_dialog_parent_class)->finalize (object);
}

static void
wb_labels_dialog_class_init (WbLabelsDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_PAPER_VIEW);
  g_type_ensure (WB_TYPE_SHEET_FORM);
  g_type_ensure (WB_TYPE_SHEET_PICKER);
  G_OBJECT_CLASS (klass)->dispose = wb_labels_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_labels_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "labels-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, kind);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, preset);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, own);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, form);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, name);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, keep);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, forget);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, first_row);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, hint);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, picker);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, first);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, outlines);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, blind);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, draw);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, right);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, down);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, align);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, show);
  gtk_widget_class_bind_template_child (widget_class, WbLabelsDialog, preview);
  gtk_widget_class_bind_template_callback (widget_class, on_kind_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_preset_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_form_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_name_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_keep_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_forget_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_picked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_first_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_draw_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_align_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_show_clicked_cb);
}

static void
wb_labels_dialog_init (WbLabelsDialog *self)
{
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);

  self->quiet = TRUE;
  self->offers = g_array_new (FALSE, FALSE, sizeof (Offer));
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_string_list_append (kinds, _("Labels for the vessels"));
  gtk_string_list_append (kinds, _("Bench cards that lie flat"));
  gtk_string_list_append (kinds, _("Bench cards that fold and stand"));
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (kinds));
  wb_accessible_name_drop_down (self->kind, _("Print"));
  wb_accessible_name_drop_down (self->preset, _("Labels on"));
}

GtkWidget *
wb_labels_dialog_new (GtkWidget *where,
                      WbAppPour *pour,
                      guint      batch,
                      gboolean   letter)
{
  WbLabelsDialog *self;
  WbHost *host;
  GtkRoot *root;

  g_return_val_if_fail (GTK_IS_WIDGET (where), NULL);
  g_return_val_if_fail (WB_IS_APP_POUR (pour) && batch < wb_app_pour_get_batches (pour)->len, NULL);

  root = gtk_widget_get_root (where);
  host = wb_host_find (where);
  self = g_object_new (WB_TYPE_LABELS_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->pour = g_object_ref (pour);
  self->batch = batch;
  self->letter = letter;
  if (host != NULL && wb_host_get_desk (host) != NULL)
    self->desk = g_object_ref (wb_host_get_desk (host));
  g_set_weak_pointer (&self->where, where);
  self->sheets = wb_app_label_sheets_parse (self->desk != NULL ? wb_app_settings_get_label_sheets (wb_desk_get_settings (self->desk)) : "");
  gtk_spin_button_set_value (self->right, self->sheets->shift_x);
  gtk_spin_button_set_value (self->down, self->sheets->shift_y);
  wb_sheet_form_set_us_units (self->form, self->desk != NULL && wb_desk_get_unit (self->desk, WB_QUANTITY_LENGTH) == WB_UNIT_INCH);
  offer_sheets (self);
  self->quiet = FALSE;
  choose_sheet (self, find_proposed (self, self->sheets->chosen));
  return GTK_WIDGET (self);
}
