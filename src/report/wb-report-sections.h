/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * What of a test report may be left out. The answer, what was not tested, the
 * maker's decision and the cautions always stand; what is left out is said on the first page.
 */
typedef enum
{
  WB_REPORT_SECTION_METHOD,      /* how it was tested */
  WB_REPORT_SECTION_RANKING,     /* ranking and reasons, as text and tables */
  WB_REPORT_SECTION_SCORE,       /* the score as a chart */
  WB_REPORT_SECTION_LOSS,        /* what a wrong choice costs, as a chart */
  WB_REPORT_SECTION_GROWTH,      /* growth of the pool as a chart */
  WB_REPORT_SECTION_RINGS,       /* pool rings from above */
  WB_REPORT_SECTION_LIFE,        /* figures over the life */
  WB_REPORT_SECTION_MARKS,       /* smoke, soot and mushroom over the burns */
  WB_REPORT_SECTION_PHOTOS,
  WB_REPORT_SECTION_LIMITS,
  WB_REPORT_SECTION_CHECKS,      /* check burns */
  WB_REPORT_SECTION_DEVIATIONS,
  WB_REPORT_SECTION_CONDITIONS,  /* room, instruments, raters, lots, looks at unlit samples */
  WB_REPORT_SECTION_APPENDIX,
  WB_REPORT_N_SECTIONS
} WbReportSection;

/* As the command line writes it: "method"; static. */
const char *wb_report_section_get_key   (WbReportSection section);
/* For people; translated. */
const char *wb_report_section_get_label (WbReportSection section);

/*
 * "method,ranking,charts" as bits of what is left out (1 << WbReportSection): all but those named. "charts" stands for the six of
 * them, "all" for all. FALSE: *unknown is the word that none knows. Caller frees it.
 */
gboolean    wb_report_sections_parse    (const char *text, guint *left_out, char **unknown);
/* "method, ranking, ..., charts, all": what the parser knows. Caller frees. */
char       *wb_report_sections_dup_keys (void);

G_END_DECLS
