/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-tally.h"

/* A tally as plain text on standard output: choices, chances, intervals, growth curves, and what is outside the aims. */
void lab_tables_print (const LabTally *self);
