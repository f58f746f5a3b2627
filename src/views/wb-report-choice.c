/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-choice.h"

#include <glib/gi18n.h>

struct _WbReportChoice
{
  GtkBox          parent_instance;

  /* children */
  GtkCheckButton *sections[WB_REPORT_N_SECTIONS];
  GtkSpinButton  *photos;
  GtkCheckButton *anonymous;

  /* state */
  gboolean        filling;
  gboolean        photos_off; /* taken out because names are kept back */
};

enum { SIGNAL_CHANGED, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbReportChoice, wb_report_choice, GTK_TYPE_BOX)

static void
update_photos (WbReportChoice *self)
{
  gtk_widget_set_sensitive (GTK_WIDGET (self->photos), gtk_check_button_get_active (self->sections[WB_REPORT_SECTION_PHOTOS]));
}

static void
on_changed_cb (WbReportChoice *self)
{
  if (self->filling)
    return;
  update_photos (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

/* A photo may show a label: who keeps names back has to ask for photos anew. */
static void
on_anonymous_toggled_cb (WbReportChoice *self)
{
  GtkCheckButton *photos = self->sections[WB_REPORT_SECTION_PHOTOS];
  gboolean anonymous = gtk_check_button_get_active (self->anonymous);

  if (self->filling)
    return;
  self->filling = TRUE;
  if (anonymous)
    {
      self->photos_off = gtk_check_button_get_active (photos);
      gtk_check_button_set_active (photos, FALSE);
    }
  else if (self->photos_off)
    gtk_check_button_set_active (photos, TRUE);
  self->filling = FALSE;
  on_changed_cb (self);
}

static void
add_title (WbReportChoice *self,
           const char     *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_box_append (GTK_BOX (self), label);
}

static void
add_hint (WbReportChoice *self,
          const char     *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 44);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (self), label);
}

static GtkCheckButton *
new_check (WbReportChoice *self,
           const char     *label)
{
  GtkWidget *check = gtk_check_button_new_with_label (label);

  g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_changed_cb), self);
  return GTK_CHECK_BUTTON (check);
}

/* In two columns: all of it fits a small window. */
static void
add_sections (WbReportChoice *self)
{
  GtkWidget *grid = gtk_grid_new ();
  int rows = (WB_REPORT_N_SECTIONS + 1) / 2;

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  for (int i = 0; i < WB_REPORT_N_SECTIONS; i++)
    {
      self->sections[i] = new_check (self, wb_report_section_get_label ((WbReportSection) i));
      gtk_check_button_set_active (self->sections[i], TRUE);
      gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (self->sections[i]), i / rows, i % rows, 1, 1);
    }
  gtk_box_append (GTK_BOX (self), grid);
}

static void
add_photos (WbReportChoice *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = gtk_label_new (_("Photos at most"));

  self->photos = GTK_SPIN_BUTTON (gtk_spin_button_new_with_range (1, WB_REPORT_PHOTOS_MOST, 1));
  gtk_spin_button_set_value (self->photos, WB_REPORT_PHOTOS_MOST);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->photos), GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
  g_signal_connect_swapped (self->photos, "value-changed", G_CALLBACK (on_changed_cb), self);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), GTK_WIDGET (self->photos));
  gtk_box_append (GTK_BOX (self), row);
}

static GtkWidget *
new_button (const char *label,
            const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

static void
add_names (WbReportChoice *self)
{
  GtkWidget *key = new_button (_("Write the key…"), "page.write-key");

  self->anonymous = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_("Materials and codes by other names")));
  g_signal_connect_swapped (self->anonymous, "toggled", G_CALLBACK (on_anonymous_toggled_cb), self);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->anonymous));
  add_hint (self, _("Wax A, wick B, sample S-03. Read the free texts and look at the photos before the report goes out: what a text calls by yet another "
                    "name, or a label shows, stays."));
  gtk_widget_set_halign (key, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (self), key);
}

static void
add_logo (WbReportChoice *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *off = new_button (_("Take the logo off"), "page.remove-logo");
  const char *when = _("Where the letterhead has a logo");

  gtk_widget_set_tooltip_text (off, when);
  gtk_accessible_update_property (GTK_ACCESSIBLE (off), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, when, -1);
  gtk_box_append (GTK_BOX (row), new_button (_("Choose a logo…"), "page.choose-logo"));
  gtk_box_append (GTK_BOX (row), off);
  gtk_box_append (GTK_BOX (self), row);
}

static void
wb_report_choice_class_init (WbReportChoiceClass *klass)
{
  signals[SIGNAL_CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_report_choice_init (WbReportChoice *self)
{
  self->filling = TRUE;
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  add_title (self, _("What the report holds"));
  add_sections (self);
  add_photos (self);
  add_hint (self, _("The answer, what was not tested, the decision and the cautions always stand. What is left out is said."));
  add_title (self, _("Names"));
  add_names (self);
  add_title (self, _("Letterhead"));
  add_logo (self);
  self->filling = FALSE;
}

void
wb_report_choice_get (WbReportChoice    *self,
                      WbAppReportChoice *choice)
{
  g_return_if_fail (WB_IS_REPORT_CHOICE (self) && choice != NULL);

  choice->left_out = 0;
  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    if (!gtk_check_button_get_active (self->sections[i]))
      choice->left_out |= 1u << i;
  choice->photos = (guint) gtk_spin_button_get_value_as_int (self->photos);
  choice->anonymous = gtk_check_button_get_active (self->anonymous);
}

void
wb_report_choice_keep_names_back (WbReportChoice *self,
                                  gboolean        back)
{
  g_return_if_fail (WB_IS_REPORT_CHOICE (self));

  gtk_check_button_set_active (self->anonymous, back);
}

void
wb_report_choice_set (WbReportChoice          *self,
                      const WbAppReportChoice *choice)
{
  g_return_if_fail (WB_IS_REPORT_CHOICE (self) && choice != NULL);

  self->filling = TRUE;
  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    gtk_check_button_set_active (self->sections[i], (choice->left_out & 1u << i) == 0);
  gtk_spin_button_set_value (self->photos, choice->photos);
  gtk_check_button_set_active (self->anonymous, choice->anonymous);
  self->photos_off = FALSE;
  self->filling = FALSE;
  update_photos (self);
}
