/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <atspi/atspi.h>
#include <glib-object.h>

G_BEGIN_DECLS

/* AT-SPI's headers come without these. */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiAccessible, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiStateSet, g_object_unref)

/* What is looked for in the accessibility tree. */
typedef struct
{
  int         role; /* of AtspiRole; -1: any */
  const char *name; /* as in wb-e2e-driver.h */
  const char *part; /* words in the name or the text, instead; NULL: look at the name */
  gboolean    focused; /* only where the focus is */
} WbE2eWanted;

/* The first that fits below `root`, in reading order, as the tree is now. NULL: none. Caller unrefs. */
AtspiAccessible *wb_e2e_tree_find      (AtspiAccessible *root, const WbE2eWanted *wanted);
/* In words, for a failure's message. Caller frees. */
char            *wb_e2e_tree_describe  (const WbE2eWanted *wanted);
gboolean         wb_e2e_tree_has_state (AtspiAccessible *node, AtspiStateType state);
/* Its text, spaces as plain ones; NULL: it has none. Caller frees. */
char            *wb_e2e_tree_dup_text  (AtspiAccessible *node);
/* All that shows, indented. Caller frees. */
char            *wb_e2e_tree_dump      (AtspiAccessible *root);

G_END_DECLS
