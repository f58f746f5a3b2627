/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-grey.h"

#include "wb-tooltip.h"

typedef struct
{
  char    *why;
  char    *shown;   /* the reason that stands in the place of its own tooltip; NULL: none does */
  char    *tooltip; /* its own, meanwhile */
} Grey;

static G_DEFINE_QUARK (wb-grey, grey)

static void
grey_free (gpointer data)
{
  Grey *self = data;

  g_free (self->why);
  g_free (self->shown);
  g_free (self->tooltip);
  g_free (self);
}

/* GTK 4.8 takes an accessible description from a tooltip, but leaves it where the tooltip goes. */
static void
describe (GtkWidget  *widget,
          const char *text)
{
  wb_tooltip_set (widget, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text != NULL ? text : "", -1);
}

static void
update (GtkWidget *widget)
{
  Grey *self = g_object_get_qdata (G_OBJECT (widget), grey_quark ());
  gboolean tells = self->why != NULL && !gtk_widget_is_sensitive (widget);
  const char *stands = gtk_widget_get_tooltip_text (widget);

  if (!tells && self->shown == NULL)
    return;
  /* somebody may have given it another of its own while it was grey */
  if (self->shown == NULL || g_strcmp0 (stands, self->shown) != 0)
    {
      g_free (self->tooltip);
      self->tooltip = g_strdup (stands);
    }
  g_free (self->shown);
  self->shown = tells ? g_strdup (self->why) : NULL;
  describe (widget, tells ? self->why : self->tooltip);
}

void
wb_grey_say (GtkWidget  *widget,
             const char *why)
{
  Grey *self;

  g_return_if_fail (GTK_IS_WIDGET (widget));

  self = g_object_get_qdata (G_OBJECT (widget), grey_quark ());
  if (self == NULL)
    {
      self = g_new0 (Grey, 1);
      g_object_set_qdata_full (G_OBJECT (widget), grey_quark (), self, grey_free);
      g_signal_connect (widget, "state-flags-changed", G_CALLBACK (update), NULL);
    }
  if (g_strcmp0 (self->why, why) != 0)
    {
      g_free (self->why);
      self->why = g_strdup (why);
    }
  update (widget);
}

const char *
wb_grey_get_reason (GtkWidget *widget)
{
  const Grey *self;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), NULL);

  self = g_object_get_qdata (G_OBJECT (widget), grey_quark ());
  return self != NULL ? self->why : NULL;
}

void
wb_grey_set (GtkWidget  *widget,
             const char *why)
{
  g_return_if_fail (GTK_IS_WIDGET (widget));

  gtk_widget_set_sensitive (widget, why == NULL);
  wb_grey_say (widget, why);
}
