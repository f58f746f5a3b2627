/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Where the bundle's files stand: WB_BUNDLE_UI "today-page.ui". */
#define WB_BUNDLE_PREFIX "/org/wickbench/Wickbench/"
#define WB_BUNDLE_UI WB_BUNDLE_PREFIX "ui/"

/* Hands templates and style sheet to GIO; a resource in a static library is lost without this call. Any number of times. */
void wb_bundle_register (void);

G_END_DECLS
