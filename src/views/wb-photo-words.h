/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"
#include "wb-app-photo.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What is said of a kept photo. Caller frees. */

/* "burn 2, 95 min", or when it was taken where it is of no burn, "time not known" where nobody said: where it belongs. */
char       *wb_photo_words_dup_place   (WbAppAttachmentsItem *item);
/* The same with the sample and the time. */
char       *wb_photo_words_dup_title   (WbAppAttachmentsItem *item, const char *code);
/* For the screen; the pixels are shared. Caller owns it. */
GdkTexture *wb_photo_words_texture_new (const WbAppPicture *picture);

G_END_DECLS
