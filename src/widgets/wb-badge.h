/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What a badge means; each has a shape of its own before the words, so that colour never speaks alone. */
typedef enum
{
  WB_BADGE_PLAIN, /* no shape */
  WB_BADGE_NOTE,  /* circle: worth knowing */
  WB_BADGE_GOOD,  /* tick */
  WB_BADGE_ASK,   /* triangle: look at it */
  WB_BADGE_STOP   /* square: a limit is crossed, or it does not work */
} WbBadgeKind;

#define WB_TYPE_BADGE (wb_badge_get_type ())
G_DECLARE_FINAL_TYPE (WbBadge, wb_badge, WB, BADGE, GtkWidget)

GtkWidget  *wb_badge_new       (WbBadgeKind kind, const char *text);
/* An empty or NULL text hides the badge. */
void        wb_badge_set       (WbBadge *self, WbBadgeKind kind, const char *text);
/* Longer words go on below, up to so many lines, before they are cut; one unless told otherwise. */
void        wb_badge_set_lines (WbBadge *self, int lines);
const char *wb_badge_get_text  (WbBadge *self);

G_END_DECLS
