/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart-theme.h"

G_BEGIN_DECLS

/*
 * The look of all windows: which of GTK's own themes is on, and the program's
 * small style sheet above it. One object for the process; main thread.
 */

typedef enum
{
  WB_LOOK_DESKTOP, /* as the settings portal says; without one, as GTK was started */
  WB_LOOK_LIGHT,
  WB_LOOK_DARK,
  WB_LOOK_HIGH_CONTRAST,
  WB_LOOK_HIGH_CONTRAST_DARK,
  WB_N_LOOKS
} WbLookKind;

#define WB_TYPE_LOOK (wb_look_get_type ())
G_DECLARE_FINAL_TYPE (WbLook, wb_look, WB, LOOK, GObject)

/* Signal: "changed", after the theme in force became another. */

/* The first call installs the style sheet on the default display and needs gtk_init. Borrowed. */
WbLook       *wb_look_get_default     (void);
void          wb_look_set_kind        (WbLook *self, WbLookKind kind);
WbLookKind    wb_look_get_kind        (WbLook *self);
/* What charts on screen are drawn in. */
WbChartTheme  wb_look_get_chart_theme (WbLook *self);

G_END_DECLS
