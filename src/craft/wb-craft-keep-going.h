/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef gboolean (*WbCraftKeepGoing) (double done, gpointer user); /* done 0 to 1; FALSE: stop */

G_END_DECLS
