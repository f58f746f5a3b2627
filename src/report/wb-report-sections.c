/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-sections.h"

#include <glib/gi18n-lib.h>

static const struct { const char *key, *label; } sections[] = {
  [WB_REPORT_SECTION_METHOD] = { "method", N_("How it was tested") },
  [WB_REPORT_SECTION_RANKING] = { "ranking", N_("Ranking and reasons") },
  [WB_REPORT_SECTION_SCORE] = { "score", N_("Chart: scores") },
  [WB_REPORT_SECTION_LOSS] = { "loss", N_("Chart: what a wrong choice costs") },
  [WB_REPORT_SECTION_GROWTH] = { "growth", N_("Chart: growth of the melt pool") },
  [WB_REPORT_SECTION_RINGS] = { "rings", N_("Chart: melt pools from above") },
  [WB_REPORT_SECTION_LIFE] = { "life", N_("Chart: flame, vessel and depth over the life") },
  [WB_REPORT_SECTION_MARKS] = { "marks", N_("Chart: smoke, soot and mushroom over the burns") },
  [WB_REPORT_SECTION_PHOTOS] = { "photos", N_("Photos") },
  [WB_REPORT_SECTION_LIMITS] = { "limits", N_("Limits") },
  [WB_REPORT_SECTION_CHECKS] = { "checks", N_("Check burns") },
  [WB_REPORT_SECTION_DEVIATIONS] = { "deviations", N_("Deviations and missing values") },
  [WB_REPORT_SECTION_CONDITIONS] = { "conditions", N_("Conditions, instruments and lots") },
  [WB_REPORT_SECTION_APPENDIX] = { "appendix", N_("Appendix: the figures and the method") },
};

#define BIT(section) (1u << (section))
#define ALL (BIT (WB_REPORT_N_SECTIONS) - 1)
#define CHARTS                                                                                                                               \
  (BIT (WB_REPORT_SECTION_SCORE) | BIT (WB_REPORT_SECTION_LOSS) | BIT (WB_REPORT_SECTION_GROWTH) | BIT (WB_REPORT_SECTION_RINGS)             \
   | BIT (WB_REPORT_SECTION_LIFE) | BIT (WB_REPORT_SECTION_MARKS))

const char *
wb_report_section_get_key (WbReportSection section)
{
  g_return_val_if_fail (section < WB_REPORT_N_SECTIONS, NULL);

  return sections[section].key;
}

const char *
wb_report_section_get_label (WbReportSection section)
{
  g_return_val_if_fail (section < WB_REPORT_N_SECTIONS, NULL);

  return _(sections[section].label);
}

/* 0: none of that key. */
static guint
find_bits (const char *key)
{
  if (g_ascii_strcasecmp (key, "all") == 0)
    return ALL;
  if (g_ascii_strcasecmp (key, "charts") == 0)
    return CHARTS;
  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    if (g_ascii_strcasecmp (key, sections[i].key) == 0)
      return BIT (i);
  return 0;
}

gboolean
wb_report_sections_parse (const char *text,
                          guint      *left_out,
                          char      **unknown)
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);
  guint chosen = 0;

  for (guint i = 0; words[i] != NULL; i++)
    {
      guint bits;

      g_strstrip (words[i]);
      if (*words[i] == '\0')
        continue;
      bits = find_bits (words[i]);
      if (bits == 0)
        {
          *unknown = g_strdup (words[i]);
          return FALSE;
        }
      chosen |= bits;
    }
  *left_out = ALL & ~chosen;
  return TRUE;
}

char *
wb_report_sections_dup_keys (void)
{
  GString *keys = g_string_new (NULL);

  for (guint i = 0; i < WB_REPORT_N_SECTIONS; i++)
    g_string_append_printf (keys, "%s, ", sections[i].key);
  g_string_append (keys, "charts, all");
  return g_string_free (keys, FALSE);
}
