/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-scan-keys.h"

#include <string.h>

#include "wb-report-label-code.h"

#define WAIT_MS 15  /* beyond the gap: the clock of the keys is another than that of who waits */
#define END_MS 150 /* after a code its Return may be that late: a scanner sends it by itself */

struct _WbScanKeys
{
  char     held[WB_REPORT_LABEL_CODE_LENGTH + 1];
  guint    n;
  gint64   last_ms;  /* of the last one held */
  char     code[WB_REPORT_LABEL_CODE_LENGTH + 1];
  gint64   taken_ms; /* -1: none was, or something else came since */
  gboolean misread;
};

WbScanKeys *
wb_scan_keys_new (void)
{
  WbScanKeys *self = g_new0 (WbScanKeys, 1);

  self->taken_ms = -1;
  return self;
}

void
wb_scan_keys_free (WbScanKeys *self)
{
  g_free (self);
}

/* What may stand in a code: no Y and no Z, about which keyboards disagree; Caps Lock and Shift do not matter. */
static gboolean
may_be_of_code (gunichar letter)
{
  return letter < 128 && g_ascii_isalnum ((char) letter) && strchr ("yYzZ", (int) letter) == NULL;
}

static gint64
get_gap_ms (const WbScanKeys *self)
{
  return self->n >= WB_SCAN_SURE ? WB_SCAN_SURE_GAP_MS : WB_SCAN_GAP_MS;
}

static gboolean
is_whole (const WbScanKeys *self)
{
  WbUuid uuid;

  return self->n == WB_REPORT_LABEL_CODE_LENGTH && wb_report_label_code_parse (self->held, &uuid);
}

static void
let_go (WbScanKeys *self)
{
  self->misread = self->n == WB_REPORT_LABEL_CODE_LENGTH && !is_whole (self);
  self->n = 0;
  self->held[0] = '\0';
}

static void
hold (WbScanKeys *self,
      gunichar    letter,
      gint64      at_ms)
{
  self->held[self->n++] = (char) g_ascii_toupper ((char) letter);
  self->held[self->n] = '\0';
  self->last_ms = at_ms;
}

static WbScanVerdict
take (WbScanKeys *self,
      gint64      at_ms)
{
  memcpy (self->code, self->held, sizeof self->code);
  self->n = 0;
  self->held[0] = '\0';
  self->taken_ms = at_ms;
  self->misread = FALSE;
  return WB_SCAN_TAKEN;
}

WbScanVerdict
wb_scan_keys_press (WbScanKeys *self,
                    gunichar    letter,
                    gboolean    ends,
                    gboolean    repeated,
                    gint64      at_ms)
{
  gboolean holding, soon;

  g_return_val_if_fail (self != NULL, WB_SCAN_PASS);

  holding = self->n > 0;
  soon = holding && at_ms - self->last_ms <= get_gap_ms (self);
  self->misread = FALSE;
  if (ends && soon && is_whole (self))
    {
      take (self, at_ms);
      self->taken_ms = -1; /* its end is here */
      return WB_SCAN_TAKEN;
    }
  if (ends && !holding && self->taken_ms >= 0 && at_ms - self->taken_ms <= END_MS)
    {
      self->taken_ms = -1;
      return WB_SCAN_DROP;
    }
  self->taken_ms = -1;
  if (!may_be_of_code (letter) || repeated)
    {
      let_go (self);
      return holding ? WB_SCAN_REPLAY_PASS : WB_SCAN_PASS;
    }
  /* Too slow, or too long: what is held is none. */
  if (holding && (!soon || self->n == WB_REPORT_LABEL_CODE_LENGTH))
    {
      let_go (self);
      hold (self, letter, at_ms);
      return WB_SCAN_REPLAY_HOLD;
    }
  hold (self, letter, at_ms);
  return WB_SCAN_HOLD;
}

guint
wb_scan_keys_get_wait_ms (const WbScanKeys *self)
{
  g_return_val_if_fail (self != NULL, 0);

  /* a whole one waits for its Return alone */
  return is_whole (self) ? WB_SCAN_GAP_MS + WAIT_MS : (guint) get_gap_ms (self) + WAIT_MS;
}

WbScanVerdict
wb_scan_keys_wait (WbScanKeys *self)
{
  g_return_val_if_fail (self != NULL, WB_SCAN_PASS);

  self->misread = FALSE;
  if (self->n == 0)
    return WB_SCAN_PASS;
  if (is_whole (self))
    return take (self, self->last_ms + wb_scan_keys_get_wait_ms (self));
  let_go (self);
  return WB_SCAN_REPLAY_PASS;
}

gboolean
wb_scan_keys_is_holding (const WbScanKeys *self)
{
  g_return_val_if_fail (self != NULL, FALSE);

  return self->n > 0;
}

const char *
wb_scan_keys_get_code (const WbScanKeys *self)
{
  g_return_val_if_fail (self != NULL, "");

  return self->code;
}

gboolean
wb_scan_keys_get_misread (const WbScanKeys *self)
{
  g_return_val_if_fail (self != NULL, FALSE);

  return self->misread;
}
