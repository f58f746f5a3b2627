/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"
#include "wb-report-document.h"
#include "wb-report-sections.h"

G_BEGIN_DECLS

/*
 * What every paper of the program has in common. All texts are borrowed and
 * read only while the paper is made; nothing else of the notebook is.
 */
typedef struct
{
  WbReportPaper paper;
  gboolean      us_units;     /* inches, ounces, degrees Fahrenheit */
  gboolean      invented;     /* "Invented data" on every page */
  const char   *letterhead;   /* the maker's name; NULL: none */
  const char   *address;      /* further lines; NULL: none */
  const char   *fingerprint;  /* number and hash of the last entry, as `wickbench check --fingerprint` takes it; NULL: none */
  guint         amended;      /* readings that a person amended after they were saved */
  guint         taken_out;    /* readings that a person took out again */
  const GPtrArray *touched;   /* WbCraftTouched: changes behind its decisions; NULL: none */
  const GPtrArray *check_burns; /* WbCraftCheckBurn of the experiment; NULL: none */
  guint         left_out;     /* of a test report: 1 << WbReportSection, each */
  const WbReportPicture *logo; /* of the letterhead; NULL: none */
  const GPtrArray *photos;    /* WbReportPhoto, in the order of the paper; NULL: none */
  guint         photos_kept;  /* of the experiment, shown or not */
  gboolean      anonymous;    /* materials and codes have other names, which a key of the maker's resolves */
  const char   *date;         /* for people; NULL: the day of wb_report_now */
} WbReportOptions;

/* The notebook's settings; the texts are borrowed from it. */
void      wb_report_options_init (WbReportOptions *options, const WbNotebook *notebook);
/* "a4", "letter", in any case; -1 if it is neither. */
int       wb_report_paper_from_key (const char *key);
/* The instant a paper is made: SOURCE_DATE_EPOCH (seconds) where it is set, else the clock. */
WbInstant wb_report_now (void);

G_END_DECLS
