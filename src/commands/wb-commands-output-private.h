/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-commands-status.h"
#include "wb-craft-earlier.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* One line on standard error, "wickbench: FILE: text"; file may be NULL. Line breaks in the text become spaces. */
void           wb_commands_complain  (const char *file, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* Tells the error and gives the exit status that it stands for. Frees it. */
int            wb_commands_fail      (const char *file, GError *error);
/* Writes to standard output; a failure is told at the end of the run. */
void           wb_commands_print     (const char *format, ...) G_GNUC_PRINTF (1, 2);
void           wb_commands_write     (const char *text);
/* Prints that the notebook's data are invented, where it says so. */
void           wb_commands_print_mark (WbAppNotebook *notebook);
/* Prints which experiments the spread between samples was learnt from, where it was learnt from any (NULL: it was not). */
void           wb_commands_print_learnt (const WbCraftEarlier *earlier);

/* Opens for reading, and finds the experiment by code or title; 0 with `status` set to the exit status. */
WbAppNotebook *wb_commands_open      (const char *path, int *status);
gint64         wb_commands_find      (WbAppNotebook *notebook, const char *experiment, int *status);

/* A figure by its key; -1 with `status` set, the known ones told. */
int            wb_commands_find_figure (const char *key, int *status);

/*
 * The words of what is drawn or written are in `tag` from here on (NULL: English, as all else that a command writes);
 * FALSE with `status` set where no such translation is built in, the known ones told. Before anything is opened.
 */
gboolean wb_commands_speak (const char *tag, int *status);

/*
 * A whole number of the command line, in decimal digits: GOption would read 010 as eight. Text NULL leaves `value` as
 * it is; FALSE for anything else than low to high.
 */
gboolean wb_commands_read_whole (const char *text, gint64 low, gint64 high, gint64 *value);

/* A number for a table: decimals at most, "-" where there is none. Caller frees. */
char          *wb_commands_dup_number   (double value, int decimals);
/* A p value: "0.0312", "<0.0001". Caller frees. */
char          *wb_commands_dup_p        (double p);
/* A chance in whole percent, as the report has it: "<1 %", "38 %", ">99 %"; "-" where it is not known. Caller frees. */
char          *wb_commands_dup_chance   (double chance);
/* "3.21 (2.9 to 3.6)", "76 or more", "1 to 2", "-". Caller frees. */
char          *wb_commands_dup_interval (double value, double low, double high, int decimals);

G_END_DECLS
