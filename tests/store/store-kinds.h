/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/* One record of every kind with every field set, an entry each, and each read back the same. Another salt makes others. */
void test_put_every_kind (WbStore *store, guint salt);

G_END_DECLS
