/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-document.h"

#include "wb-report-picture.h"

G_BEGIN_DECLS

/* A cairo surface of it that goes into a PDF as the JPEG that it is made into here, once for all places; NULL where memory does not suffice. */
cairo_surface_t *wb_report_picture_new_surface (const WbReportPicture *self);
/* Into the rectangle, its shape kept, at its left upper corner; how large it became. */
void             wb_report_picture_draw (cairo_surface_t *surface, cairo_t *cr, double x, double y, double width, double height,
                                         double *drawn_width, double *drawn_height);

/* Up to two pictures side by side, each with a caption under it; the second one may be NULL. Not cut. */
void             wb_report_document_add_pictures (WbReportDocument *self, const WbReportPicture *const pictures[2], const char *const captions[2]);

G_END_DECLS
