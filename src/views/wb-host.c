/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-host.h"

G_DEFINE_INTERFACE (WbHost, wb_host, GTK_TYPE_WIDGET)

static void
wb_host_default_init (WbHostInterface *interface)
{
}

WbHost *
wb_host_find (GtkWidget *where)
{
  GtkRoot *root;

  g_return_val_if_fail (GTK_IS_WIDGET (where), NULL);

  root = gtk_widget_get_root (where);
  return WB_IS_HOST (root) ? WB_HOST (root) : NULL;
}

WbDesk *
wb_host_get_desk (WbHost *self)
{
  g_return_val_if_fail (WB_IS_HOST (self), NULL);
  return WB_HOST_GET_IFACE (self)->get_desk (self);
}

WbProblemBar *
wb_host_get_problem_bar (WbHost *self)
{
  g_return_val_if_fail (WB_IS_HOST (self), NULL);
  return WB_HOST_GET_IFACE (self)->get_problem_bar (self);
}

WbJobBar *
wb_host_get_job_bar (WbHost *self)
{
  g_return_val_if_fail (WB_IS_HOST (self), NULL);
  return WB_HOST_GET_IFACE (self)->get_job_bar (self);
}

void
wb_host_say (WbHost     *self,
             const char *text)
{
  g_return_if_fail (WB_IS_HOST (self));
  WB_HOST_GET_IFACE (self)->say (self, text);
}

void
wb_host_typed (WbHost *self)
{
  g_return_if_fail (WB_IS_HOST (self));
  WB_HOST_GET_IFACE (self)->typed (self);
}
