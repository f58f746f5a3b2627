/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Tells a label's scanner, which types a code faster than hands, from a hand that types: a state machine of letters and their
 * times, with no clock and no window of its own. Keys that may belong to a code are held until it is known; then they are
 * dropped, for it was one, or go on to where they were typed, all of them and in their order.
 */
typedef struct _WbScanKeys WbScanKeys;

typedef enum
{
  WB_SCAN_PASS,         /* goes on; nothing was held */
  WB_SCAN_HOLD,         /* is held, with those before it */
  WB_SCAN_REPLAY_PASS,  /* those that are held go on, then this one */
  WB_SCAN_REPLAY_HOLD,  /* those that are held go on, this one is held */
  WB_SCAN_TAKEN,        /* a code is whole: this one and those that are held are dropped */
  WB_SCAN_DROP          /* belongs to the code before, and is dropped */
} WbScanVerdict;

/*
 * ms between two keys of a code at most: scanners type one each 1 to 20 ms, hands one each 80 ms and more (common practice, no
 * source); what is longer apart was typed by two. Hands do not go on like that: once so many came, it is a scanner, and
 * may be held up by a busy computer.
 */
#define WB_SCAN_GAP_MS 45
#define WB_SCAN_SURE 6
#define WB_SCAN_SURE_GAP_MS 400

WbScanKeys   *wb_scan_keys_new      (void);
void          wb_scan_keys_free     (WbScanKeys *self);
/*
 * A key went down at that time. letter: what it types, 0: nothing, or with Control or Alt. ends: Return or Tab. repeated: it was
 * down already, which no scanner does.
 */
WbScanVerdict wb_scan_keys_press    (WbScanKeys *self, gunichar letter, gboolean ends, gboolean repeated, gint64 at_ms);
/* ms after the last key, after which wb_scan_keys_wait is to be called where none came. */
guint         wb_scan_keys_get_wait_ms (const WbScanKeys *self);
/* No key came for so long: REPLAY_PASS (there is no key to pass), TAKEN, or PASS, nothing was held. */
WbScanVerdict wb_scan_keys_wait     (WbScanKeys *self);
/* TRUE: some are held. */
gboolean      wb_scan_keys_is_holding (const WbScanKeys *self);
/* In capitals; of the last TAKEN. */
const char   *wb_scan_keys_get_code (const WbScanKeys *self);
/* TRUE: the last REPLAY gave back what had the length and the letters of a code, but a wrong check character. */
gboolean      wb_scan_keys_get_misread (const WbScanKeys *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbScanKeys, wb_scan_keys_free)

G_END_DECLS
