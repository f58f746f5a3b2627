/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Each file of this room's tests adds its own. */
void test_model_add_record   (void);
void test_model_add_readings (void);
void test_model_add_house    (void);
void test_model_add_evenings (void);
void test_model_add_lesson   (void);
