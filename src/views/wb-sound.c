/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sound.h"

#include <glib/gi18n.h>

#ifdef HAVE_GSOUND
#include <gsound.h>

/* Names of the XDG sound naming specification; a theme without the first has the second. */
#define ALARM "alarm-clock-elapsed"
#define MESSAGE "message"

static GSoundContext *
get_context (void)
{
  static GSoundContext *context = NULL;
  static gboolean asked = FALSE;

  /* Without a sound server there is no context, and nobody is told each time. */
  if (!asked)
    context = gsound_context_new (NULL, NULL);
  asked = TRUE;
  return context;
}

static void
on_played_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;

  if (gsound_context_play_full_finish (GSOUND_CONTEXT (source), result, &error) || user != NULL)
    return;
  if (g_error_matches (error, GSOUND_ERROR, GSOUND_ERROR_NOTFOUND))
    gsound_context_play_full (GSOUND_CONTEXT (source), NULL, on_played_cb, (gpointer) MESSAGE, GSOUND_ATTR_EVENT_ID, MESSAGE, NULL);
}

gboolean
wb_sound_is_there (void)
{
  return TRUE;
}

void
wb_sound_play (void)
{
  GSoundContext *context = get_context ();

  if (context != NULL)
    gsound_context_play_full (context, NULL, on_played_cb, NULL,
                              GSOUND_ATTR_EVENT_ID, ALARM,
                              GSOUND_ATTR_EVENT_DESCRIPTION, _("A reminder from the bench"),
                              GSOUND_ATTR_MEDIA_ROLE, "event",
                              NULL);
}

#else

gboolean
wb_sound_is_there (void)
{
  return FALSE;
}

void
wb_sound_play (void)
{
}

#endif
