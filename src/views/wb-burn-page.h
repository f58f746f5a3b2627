/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-hazard-bar.h"
#include "wb-page.h"
#include "wb-logger-strip.h"
#include "wb-photo-strip.h"
#include "wb-reading-log.h"
#include "wb-reading-stack.h"

G_BEGIN_DECLS

/*
 * Burn: the bench from above with all that is alight and what waits of the open
 * experiment, and beside it what is asked of the chosen sample.
 *
 * Actions: choose (x), ask (s), light, save,
 * save-calmly (while no hazard asks), snuff, end (s: an event that ends
 * a burn), next-due, event, note, time, also (s: a further field), seen-to (the
 * hazard that is told), readings (unfolds what was read of the sample), loggers (unfolds the
 * temperature loggers' files beside it), add-logger, set-aside, let-count, cautions, close-session,
 * still-alight, resolve-found.
 */
#define WB_TYPE_BURN_PAGE (wb_burn_page_get_type ())
G_DECLARE_FINAL_TYPE (WbBurnPage, wb_burn_page, WB, BURN_PAGE, WbPage)

/* Borrowed, for tests. */
WbReadingStack *wb_burn_page_get_stack  (WbBurnPage *self);
WbReadingLog   *wb_burn_page_get_log    (WbBurnPage *self);
WbPhotoStrip   *wb_burn_page_get_photos (WbBurnPage *self);
WbLoggerStrip  *wb_burn_page_get_loggers (WbBurnPage *self);
WbHazardBar    *wb_burn_page_get_hazard (WbBurnPage *self);

G_END_DECLS
