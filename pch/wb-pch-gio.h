/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Read once for all files of a room where the sanitizers are (src/meson.build); each file includes what it needs all the same. */
#include <gio/gio.h>
