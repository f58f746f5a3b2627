/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"
#include "wb-log-mapping.h"

G_BEGIN_DECLS

/* Days, times of day and both, as hands and spreadsheets write them. What is refused is told in `*rule`; caller frees. */

/* A day and a time of day, or an instant with its own offset; what the text does not tell is WB_DAY_NONE, -1, unknown. */
typedef struct
{
  WbDay     day;
  int       second;   /* since midnight */
  WbInstant instant;  /* of ISO 8601 with an offset */
} WbExchangeMoment;

/*
 * So far from the lighting on a time of day without a day is believed, in s: burns are of 4 h, long ones of 8 (common practice, no
 * source). Farther lie a reading that was typed as if before the lighting, and a 12-hour clock without am and pm.
 */
#define WB_EXCHANGE_MAPPING_LONGEST_S (12 * 3600)

#define WB_EXCHANGE_MOMENT_NONE ((WbExchangeMoment) { WB_DAY_NONE, -1, { 0, 0, FALSE } })

/* "19:05", "7.05 pm", "7 pm", "19:05:30": seconds since midnight. */
gboolean wb_exchange_mapping_read_time   (const char *text, int *second, char **rule);
/* Whether am or pm stands at its end. */
gboolean wb_exchange_mapping_has_half    (const char *text);
/*
 * A day ("2.3.2026", "03/02/26", "2 Mar 2026"; a year of four digits in front is one whatever the order, one of two is of this
 * century and stands last) and a time of day with a blank or T between them; the time may be missing.
 */
gboolean wb_exchange_mapping_read_moment (const char *text, WbLogDateOrder order, WbExchangeMoment *moment, char **rule);
/*
 * The instant at which a clock in the zone shows that day and time. FALSE: the beginning of summer time leaves it out, or the end
 * shows it twice.
 */
gboolean wb_exchange_mapping_find_instant (GTimeZone *zone, WbDay day, int second, WbInstant *instant, char **rule);

G_END_DECLS
