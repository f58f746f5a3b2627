/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>

G_BEGIN_DECLS

/* The places that a window can show, each a page; wb-place.c lists them, one line a page. */
typedef struct
{
  const char *name;          /* of the stack's child and in the actions win.show and win.go */
  const char *title;         /* N_()-marked */
  GType     (*get_type) (void); /* a WbPage; made when it is shown first */
  gboolean    of_experiment; /* a tab of the open experiment; else a row of the sidebar */
} WbPlace;

/* Ends with a place without a name; static. */
const WbPlace *wb_places_get  (void);
/* NULL: none of that name. */
const WbPlace *wb_places_find (const char *name);

G_END_DECLS
