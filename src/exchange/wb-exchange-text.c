/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-text.h"

#include <string.h>

gboolean
wb_exchange_text_needs_guard (const char *text)
{
  const char *first = text + strspn (text, "'");

  return *first != '\0' && strchr ("=+-@\t\r", *first) != NULL;
}

const char *
wb_exchange_text_skip_guard (const char *text)
{
  return text[0] == '\'' && wb_exchange_text_needs_guard (text + 1) ? text + 1 : text;
}
