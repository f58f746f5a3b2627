/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-error.h"

G_DEFINE_QUARK (wb-exchange-error-quark, wb_exchange_error)
