/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report.h"

#include <string.h>

static void
read_without (WbAppReportChoice *choice,
              const char        *keys)
{
  g_auto (GStrv) words = g_strsplit (keys, ",", -1);

  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    if (g_strv_contains ((const char *const *) words, wb_report_section_get_key ((WbReportSection) i)))
      choice->left_out |= 1u << i;
}

void
wb_app_report_choice_parse (WbAppReportChoice *choice,
                            const char        *text)
{
  static const WbAppReportChoice all = WB_APP_REPORT_CHOICE_INIT;
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);

  *choice = all;
  for (guint i = 0; parts[i] != NULL; i++)
    {
      guint64 photos;

      if (g_str_has_prefix (parts[i], "without="))
        read_without (choice, parts[i] + strlen ("without="));
      else if (g_str_has_prefix (parts[i], "photos=")
               && g_ascii_string_to_unsigned (parts[i] + strlen ("photos="), 10, 0, WB_REPORT_PHOTOS_MOST, &photos, NULL))
        choice->photos = (guint) photos;
      else if (g_str_equal (parts[i], "anonymous"))
        choice->anonymous = TRUE;
    }
}

char *
wb_app_report_choice_format (const WbAppReportChoice *choice)
{
  GString *text = g_string_new ("without=");
  guint n = 0;

  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    if (choice->left_out & 1u << i)
      g_string_append_printf (text, "%s%s", n++ > 0 ? "," : "", wb_report_section_get_key ((WbReportSection) i));
  g_string_append_printf (text, ";photos=%u", choice->photos);
  if (choice->anonymous)
    g_string_append (text, ";anonymous");
  return g_string_free (text, FALSE);
}
