/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-photo-words.h"

#include "wb-number.h"

#include <glib/gi18n.h>
#include <math.h>

char *
wb_photo_words_dup_place (WbAppAttachmentsItem *item)
{
  int burn = wb_app_attachments_item_get_burn (item);
  double minute = wb_app_attachments_item_get_minute (item);
  g_autofree char *said = NULL;

  if (burn == 0)
    {
      said = wb_instant_format_short (wb_app_attachments_item_get_record (item)->taken_at);
      return *said != '\0' ? g_steal_pointer (&said) : g_strdup (_("time not known"));
    }
  if (isnan (minute))
    return g_strdup_printf (_("burn %d"), burn);
  said = wb_number_format_trimmed (round (minute), 0, NULL);
  return g_strdup_printf (_("burn %d, %s min"), burn, said);
}

char *
wb_photo_words_dup_title (WbAppAttachmentsItem *item,
                          const char           *code)
{
  g_autofree char *place = wb_photo_words_dup_place (item);
  g_autofree char *when = wb_instant_format_short (wb_app_attachments_item_get_record (item)->taken_at);

  if (wb_app_attachments_item_get_burn (item) == 0 || *when == '\0')
    return g_strdup_printf (_("%s, %s"), code, place);
  return g_strdup_printf (_("%s, %s: %s"), code, place, when);
}

GdkTexture *
wb_photo_words_texture_new (const WbAppPicture *picture)
{
  return gdk_memory_texture_new (picture->width, picture->height, GDK_MEMORY_R8G8B8, picture->rgb, picture->stride);
}
