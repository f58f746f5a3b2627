/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"

G_BEGIN_DECLS

/*
 * A new experiment that is half planned, into a group of a file and back: its words, protocol, limits, what its grid is made of and in
 * which order, which cells are off.
 */

/* A plan that takes the place of a stored one is not kept: that one stands in the notebook. */
void     wb_app_plan_keep     (WbAppPlan *self, GKeyFile *file, const char *group);
/*
 * Into a plan that begins with nothing. A material that is gone, or whose number is another's by now, is left out with its cells.
 * FALSE: nothing is kept there.
 */
gboolean wb_app_plan_put_back (WbAppPlan *self, GKeyFile *file, const char *group);

G_END_DECLS
