/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* FALSE: the program was built without gsound, and plays nothing. */
gboolean wb_sound_is_there (void);
/* The desktop's own sound of an alarm, once, off this thread; where nothing can be heard nothing happens. */
void     wb_sound_play     (void);

G_END_DECLS
