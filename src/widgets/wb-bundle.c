/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bundle.h"

#include "wb-ui-resources.h"

void
wb_bundle_register (void)
{
  static gsize done = 0;

  if (g_once_init_enter (&done))
    {
      wb_ui_register_resource ();
      g_once_init_leave (&done, 1);
    }
}
