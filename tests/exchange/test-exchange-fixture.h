/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

/* A small experiment of invented data: two vessels, two wicks, with and without fragrance; four cells, a sample each. */
WbDataset *test_exchange_dataset_new (void);
