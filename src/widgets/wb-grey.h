/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Why a control is grey. While it is insensitive, by itself, by its action or with what it stands in, the reason is its tooltip and
 * its accessible description; once it can be used again, its own tooltip is back.
 */

/* why: a sentence for people, or NULL where there is none to say. Any number of times. */
void        wb_grey_say        (GtkWidget *widget, const char *why);
/* The reason last given; NULL: none. */
const char *wb_grey_get_reason (GtkWidget *widget);
/* A reason: the widget cannot be used for it. NULL: it can. For who has no action that greys it. */
void        wb_grey_set        (GtkWidget *widget, const char *why);

G_END_DECLS
