/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Decoded pixels on their way to paper: 8-bit red, green, blue, rows from the top. */
typedef struct
{
  int     width, height;
  gsize   stride;         /* bytes a row */
  GBytes *rgb;
} WbReportPicture;

/* Takes nothing: keeps a reference to the bytes. Caller frees. */
WbReportPicture *wb_report_picture_new  (int width, int height, gsize stride, GBytes *rgb);
/* NULL is let pass. */
void             wb_report_picture_free (WbReportPicture *self);

/* A photo of a sample. */
typedef struct
{
  WbReportPicture *picture;  /* owned */
  guint            sample;   /* index in the data set */
  int              burn;     /* number of the burn that it is of; 0: of the sample */
  double           minute;   /* of that burn; NAN: not known */
  char            *note;     /* NULL: none */
} WbReportPhoto;

/* NULL is let pass. */
void             wb_report_photo_free   (WbReportPhoto *self);

/* Pixels that two photos beside each other need of paper, at some 200 an inch. */
#define WB_REPORT_PHOTO_EDGE_PX 660
/* The same of a logo. */
#define WB_REPORT_LOGO_EDGE_PX 600
/* Photos of a report at most: some 60 kB each. */
#define WB_REPORT_PHOTOS_MOST 12

G_END_DECLS
