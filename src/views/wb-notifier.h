/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * The desktop's notifications. Without a service for them GLib warns at each,
 * so the bus is asked first whether somebody has its name or would be started
 * for it, and followed from then on; where there is none, nothing is sent. A
 * second notification with the same id replaces the first.
 */
#define WB_TYPE_NOTIFIER (wb_notifier_get_type ())
G_DECLARE_FINAL_TYPE (WbNotifier, wb_notifier, WB, NOTIFIER, GObject)

/* application: registered; NULL or one without a bus sends nothing. */
WbNotifier *wb_notifier_new      (GApplication *application);
/* Until the bus has answered it waits. The notification is kept as long as needed. */
void        wb_notifier_send     (WbNotifier *self, const char *id, GNotification *notification);
void        wb_notifier_withdraw (WbNotifier *self, const char *id);
/* Whether it was sent or waits for the bus's answer, and was not withdrawn since. That somebody put it away is not known. */
gboolean    wb_notifier_has      (WbNotifier *self, const char *id);

G_END_DECLS
