/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

typedef enum
{
  WB_COMMANDS_DONE = 0,
  WB_COMMANDS_NO = 1,     /* the answer is no: a check failed, rows were refused */
  WB_COMMANDS_USAGE = 2,  /* wrong usage, or an unknown name */
  WB_COMMANDS_FAILED = 3  /* could not: file, database, a missing or doubled column */
} WbCommandsStatus;
