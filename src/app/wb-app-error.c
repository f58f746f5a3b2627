/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-error.h"

G_DEFINE_QUARK (wb-app-error-quark, wb_app_error)
