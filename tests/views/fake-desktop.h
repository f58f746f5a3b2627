/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A desktop's services on the test's own bus, in a thread of their own, since
 * the program asks some of them and waits. They keep what they are told, a line a call:
 * "notify 0 SUMMARY" (0: new, else the id that it replaces), "close ID", "inhibit FLAGS REASON", "uninhibit COOKIE".
 */
typedef struct _FakeDesktop FakeDesktop;

/* name: "org.freedesktop.Notifications" or "org.gnome.SessionManager". Returns when the bus knows it. */
FakeDesktop *fake_desktop_start (const char *name);
void         fake_desktop_stop  (FakeDesktop *self);
/* The n-th line so far; NULL: not yet. Caller frees. */
char        *fake_desktop_dup   (FakeDesktop *self, guint n);

G_END_DECLS
