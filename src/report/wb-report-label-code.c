/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-label-code.h"

#include <string.h>

/*
 * The UUID as a number in base 34, 26 digits (34^26 is above 2^128), most
 * significant first, then a check digit by the Luhn algorithm for an alphabet
 * of N characters: it finds every single wrong character and nearly every two
 * that changed places. QR codes carry this alphabet in their alphanumeric mode (ISO/IEC 18004).
 */

#define BASE 34
#define DIGITS (WB_REPORT_LABEL_CODE_LENGTH - 1)

static const char alphabet[BASE + 1] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWX";

/* Sum of the digits, every second one doubled, from the right; `first` is the factor of the last one. */
static guint
luhn_sum (const guint8 *digits,
          guint         n,
          guint         first)
{
  guint factor = first, sum = 0;

  for (guint i = n; i-- > 0;)
    {
      guint addend = factor * digits[i];

      sum += addend / BASE + addend % BASE;
      factor = 3 - factor;
    }
  return sum % BASE;
}

char *
wb_report_label_code_new (const WbUuid *uuid)
{
  guint8 rest[sizeof uuid->bytes], digits[DIGITS];
  char text[WB_REPORT_LABEL_CODE_LENGTH + 1] = "";

  memcpy (rest, uuid->bytes, sizeof rest);
  for (guint i = DIGITS; i-- > 0;)
    {
      guint remainder = 0;

      for (guint k = 0; k < sizeof rest; k++)
        {
          guint value = remainder * 256 + rest[k];

          rest[k] = (guint8) (value / BASE);
          remainder = value % BASE;
        }
      digits[i] = (guint8) remainder;
      text[i] = alphabet[remainder];
    }
  text[DIGITS] = alphabet[(BASE - luhn_sum (digits, DIGITS, 2)) % BASE];
  return g_strdup (text);
}

/* FALSE where the number is above 2^128 − 1. */
static gboolean
add_digit (guint8 bytes[16],
           guint  digit)
{
  guint carry = digit;

  for (guint i = 16; i-- > 0;)
    {
      guint value = bytes[i] * BASE + carry;

      bytes[i] = (guint8) (value & 0xff);
      carry = value >> 8;
    }
  return carry == 0;
}

gboolean
wb_report_label_code_parse (const char *text,
                            WbUuid     *uuid)
{
  guint8 digits[WB_REPORT_LABEL_CODE_LENGTH];
  WbUuid read = { { 0 } };

  g_return_val_if_fail (text != NULL && uuid != NULL, FALSE);

  if (strlen (text) != WB_REPORT_LABEL_CODE_LENGTH)
    return FALSE;
  for (guint i = 0; i < WB_REPORT_LABEL_CODE_LENGTH; i++)
    {
      const char *place = strchr (alphabet, g_ascii_toupper (text[i]));

      if (place == NULL)
        return FALSE;
      digits[i] = (guint8) (place - alphabet);
    }
  if (luhn_sum (digits, WB_REPORT_LABEL_CODE_LENGTH, 1) != 0)
    return FALSE;
  for (guint i = 0; i < DIGITS; i++)
    if (!add_digit (read.bytes, digits[i]))
      return FALSE;
  *uuid = read;
  return TRUE;
}
