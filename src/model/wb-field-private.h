/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

/*
 * Short forms for the field tables. What follows the fixed arguments goes into
 * the initialiser as it stands: .required, .label, .hint.
 */

#define WB_FIELD(T, member, kind, ...) \
  { .name = #member, .type = WB_FIELD_##kind, .offset = G_STRUCT_OFFSET (T, member), __VA_ARGS__ }

#define WB_REAL(T, member, of, low, high, ...) \
  WB_FIELD (T, member, REAL, .quantity = WB_QUANTITY_##of, .minimum = (low), .maximum = (high), __VA_ARGS__)

#define WB_INTEGER(T, member, low, high, ...) \
  WB_FIELD (T, member, INTEGER, .quantity = WB_QUANTITY_PLAIN, .minimum = (low), .maximum = (high), __VA_ARGS__)

#define WB_ENUM(T, member, of, ...) \
  WB_FIELD (T, member, ENUM, .quantity = WB_QUANTITY_PLAIN, .words = (of), __VA_ARGS__)

#define WB_FLAG(T, member, ...) WB_FIELD (T, member, FLAG, .quantity = WB_QUANTITY_PLAIN, __VA_ARGS__)

#define WB_REFERENCE(T, member, to, ...) \
  WB_FIELD (T, member, REFERENCE, .quantity = WB_QUANTITY_PLAIN, .target = (to), __VA_ARGS__)

#define WB_NAME(T, member, ...) \
  WB_FIELD (T, member, TEXT, .quantity = WB_QUANTITY_PLAIN, .maximum = WB_NAME_MAXIMUM, __VA_ARGS__)

#define WB_NOTE(T, member, ...) \
  WB_FIELD (T, member, TEXT, .quantity = WB_QUANTITY_PLAIN, .maximum = WB_TEXT_MAXIMUM, __VA_ARGS__)

#define WB_PLAIN(T, member, kind, ...) WB_FIELD (T, member, kind, .quantity = WB_QUANTITY_PLAIN, __VA_ARGS__)

#define WB_TYPE(T, table, title, table_fields) \
  { .name = (table), .label = (title), .size = sizeof (T), .fields = (table_fields), .n_fields = G_N_ELEMENTS (table_fields) }
