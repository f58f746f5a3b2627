/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* 16 bytes, RFC 4122 version 4 or 5. */
typedef struct { guint8 bytes[16]; } WbUuid;

/* Random, version 4; cheap enough for a million (buffers getrandom). Thread-safe. */
WbUuid   wb_uuid_new (void);
/* Version 5 of a name within a name space: the same in, the same out (demo, tests). */
WbUuid   wb_uuid_new_named (const WbUuid *space, const char *name);
gboolean wb_uuid_parse (const char *text, WbUuid *uuid);
char    *wb_uuid_format (const WbUuid *uuid);
gboolean wb_uuid_equal (const WbUuid *a, const WbUuid *b);
gboolean wb_uuid_is_nil (const WbUuid *uuid);

G_END_DECLS
