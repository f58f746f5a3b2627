/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-encoding-private.h"

#include <string.h>

#define LOOKED_AT 256    /* bytes: the beginning of a header row */
#define LEAST 8

gboolean
wb_exchange_encoding_is_utf16 (const char *bytes, gsize n)
{
  static const char little[] = { '\xff', '\xfe' }, big[] = { '\xfe', '\xff' };
  gsize nuls[2] = { 0, 0 };

  if (n >= sizeof little && (memcmp (bytes, little, sizeof little) == 0 || memcmp (bytes, big, sizeof big) == 0))
    return TRUE;
  n = MIN (n, LOOKED_AT) & ~(gsize) 1;
  if (n < LEAST)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    nuls[i & 1] += bytes[i] == '\0';
  /* names of columns are mostly of ASCII: of each pair one byte is NUL, always the same one */
  return (nuls[0] == 0 && nuls[1] > n / 4) || (nuls[1] == 0 && nuls[0] > n / 4);
}
