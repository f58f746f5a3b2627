/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * What the house wrote into a notebook stands there in English, whatever the language was: this tells it in the language of now.
 * Any other text, and NULL, is given back as it is. Borrowed from `stored` or for good.
 */
const char *wb_house_translate (const char *stored);

G_END_DECLS
