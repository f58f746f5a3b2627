/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-csv.h"

#include <string.h>

/* Records of a text as "line:cell|cell" and "line!fault", one a row. */
static char *
dump_bytes (const char *bytes, gsize length, char delimiter)
{
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_data (bytes, length, NULL);
  g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (stream);
  g_autoptr (GString) dump = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  WbExchangeCsvRecord record;
  WbExchangeCsvResult result;

  if (delimiter != '\0')
    g_assert_cmpint (wb_exchange_csv_tell_delimiter (csv, 1, NULL, &error), ==, delimiter);
  g_assert_no_error (error);
  while ((result = wb_exchange_csv_next (csv, &record, NULL, &error)) != WB_EXCHANGE_CSV_END)
    {
      g_assert_no_error (error);
      g_string_append_printf (dump, "%" G_GUINT64_FORMAT, record.line);
      if (result == WB_EXCHANGE_CSV_BROKEN)
        {
          static const char *const faults[] = { "quoting", "unclosed", "nul", "encoding", "utf16", "long" };

          g_string_append_printf (dump, "!%s", faults[record.fault]);
          if (record.fault_cell != G_MAXUINT)
            g_string_append_printf (dump, " %u", record.fault_cell);
        }
      for (guint i = 0; result == WB_EXCHANGE_CSV_RECORD && i < record.n_cells; i++)
        g_string_append_printf (dump, "%c%s", i == 0 ? ':' : '|', record.cells[i].text);
      g_string_append_c (dump, '\n');
    }
  g_assert_cmpuint (wb_exchange_csv_get_offset (csv), ==, length);
  return g_string_free (g_steal_pointer (&dump), FALSE);
}

typedef struct
{
  const char *name, *bytes, *dump;
} CsvCase;

/* RFC 4180, section 2, by its own examples first. */
static const CsvCase cases[] = {
  { "rfc rule 1", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "1:aaa|bbb|ccc\n2:zzz|yyy|xxx\n" },
  { "rfc rule 2, no break at the end", "aaa,bbb,ccc\r\nzzz,yyy,xxx", "1:aaa|bbb|ccc\n2:zzz|yyy|xxx\n" },
  { "rfc rule 5", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "1:aaa|bbb|ccc\n2:zzz|yyy|xxx\n" },
  { "rfc rule 6", "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "1:aaa|b\r\nbb|ccc\n3:zzz|yyy|xxx\n" },
  { "rfc rule 7", "\"aaa\",\"b\"\"bb\",\"ccc\"", "1:aaa|b\"bb|ccc\n" },
  { "nothing", "", "" },
  { "line feeds", "a,b\nc,d\n", "1:a|b\n2:c|d\n" },
  { "carriage returns", "a,b\rc,d\r", "1:a|b\n2:c|d\n" },
  { "mixed breaks", "a\rb\nc\r\nd", "1:a\n2:b\n3:c\n4:d\n" },
  { "byte order mark", "\357\273\277a,b\n", "1:a|b\n" },
  { "byte order mark before a quote", "\357\273\277\"a\",b\n", "1:a|b\n" },
  { "blank lines", "\n\na,b\n \t \n\r\nc,d\n\n", "3:a|b\n6:c|d\n" },
  { "empty cells", ",\n,,\na,,\n", "1:|\n2:||\n3:a||\n" },
  { "quoted empty cells", "\"\",\"\"\n", "1:|\n" },
  { "last cell empty at the end", "a,", "1:a|\n" },
  { "last cell quoted at the end", "a,\"b\"", "1:a|b\n" },
  { "last cell quoted, then blanks", "a,\"b\"  ", "1:a|b\n" },
  /* Section 2, rule 4: "Spaces are considered part of a field and should not be ignored." */
  { "blanks round cells", " a ,b\t, c\n", "1: a |b\t| c\n" },
  { "blanks beside quoted cells", " a ,\"b\",c \n", "1: a |b|c \n" },
  { "blanks round quotation marks", "a, \"b\" ,c\n", "1:a|b|c\n" },
  { "UTF-16, little end first", "\377\376a,\1", "1!utf16\n" },
  { "UTF-16, big end first", "\376\377\1a", "1!utf16\n" },
  { "blanks in quotes stay", "\" a \",b\n", "1: a |b\n" },
  { "break in quotes", "a,\"b\nc\"\nd,e\n", "1:a|b\nc\n3:d|e\n" },
  { "three breaks in quotes", "a,\"b\n\n\nc\"\nd,e\n", "1:a|b\n\n\nc\n5:d|e\n" },
  { "only quotes", "\"\"\"\"\n", "1:\"\n" },
  { "text behind a closing quote", "\"abc\"def,1\nx,y\n", "1!quoting\n2:x|y\n" },
  { "quote in a bare cell", "5\" pot,1\nx,y\n", "1!quoting\n2:x|y\n" },
  { "quote behind a blank", "\"a\" \"b\",1\nx,y\n", "1!quoting\n2:x|y\n" },
  { "quote not closed", "a,b\n\"c,d\ne,f\n", "1:a|b\n2!unclosed\n3:e|f\n" },
  { "quote not closed, then quoted rows", "\"a,b\n\"c\",\"d\"\ne,f\n", "1!quoting\n2:c|d\n3:e|f\n" },
  { "quote not closed in the last row", "a,b\n\"c,d", "1:a|b\n2!unclosed\n" },
  { "latin-1", "a,Vas\351\nc,d\n", "1!encoding 1\n2:c|d\n" },
  { "cut UTF-8", "a,\303\nc,d\n", "1!encoding 1\n2:c|d\n" },
  { "surrogate", "\355\240\200,a\n", "1!encoding 0\n" },
  { "right to left and emoji", "\327\220\327\221,\360\237\225\257\n", "1:\327\220\327\221|\360\237\225\257\n" },
  { "comma alone", "a;b,c\n", "1:a;b|c\n" },
};

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *dump = dump_bytes (cases[i].bytes, strlen (cases[i].bytes), '\0');

      g_test_message ("case: %s", cases[i].name);
      g_assert_cmpstr (dump, ==, cases[i].dump);
    }
}

/* Without its mark, by where its NULs stand: "ab,c" twice, little end first and big end first. One NUL is no encoding. */
static void
test_utf16_without_a_mark (void)
{
  static const char little[] = "a\0b\0,\0c\0\r\0\n\0d\0,\0e", big[] = "\0a\0b\0,\0c\0\r\0\n\0d\0,\0e";
  static const char plain[] = "sample,burn\na\0,b\n";
  g_autofree char *of_little = dump_bytes (little, sizeof little, '\0');
  g_autofree char *of_big = dump_bytes (big, sizeof big - 1, '\0');
  g_autofree char *of_plain = dump_bytes (plain, sizeof plain - 1, '\0');

  g_assert_cmpstr (of_little, ==, "1!utf16\n");
  g_assert_cmpstr (of_big, ==, "1!utf16\n");
  g_assert_cmpstr (of_plain, ==, "1:sample|burn\n2!nul 0\n");
}

static void
test_nul (void)
{
  static const char bytes[] = "a,b\nc\0c,d\ne,f\n";
  g_autofree char *dump = dump_bytes (bytes, sizeof bytes - 1, '\0');

  g_assert_cmpstr (dump, ==, "1:a|b\n2!nul 0\n3:e|f\n");
}

static void
test_delimiters (void)
{
  static const struct { const char *bytes; char delimiter; const char *dump; } told[] = {
    { "a,b,c\n1,2,3\n", ',', "1:a|b|c\n2:1|2|3\n" },
    { "a;b;c\n1,5;2;3\n", ';', "1:a|b|c\n2:1,5|2|3\n" },
    { "a\tb\tc\n1\t\t3\n", '\t', "1:a|b|c\n2:1||3\n" },
    { "a;\"b,b,b,b\";c\n", ';', "1:a|b,b,b,b|c\n" },
    { "alone\n", ',', "1:alone\n" },
    { "", ',', "" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    {
      g_autofree char *dump = dump_bytes (told[i].bytes, strlen (told[i].bytes), told[i].delimiter);

      g_assert_cmpstr (dump, ==, told[i].dump);
    }
}

/* Every record is one line of the same bytes, so that pieces end at every place within one. */
static void
test_pieces (void)
{
  static const char *const breaks[] = { "\n", "\r\n", "\r" };

  for (guint b = 0; b < G_N_ELEMENTS (breaks); b++)
    {
      enum { N = 20000 };
      g_autoptr (GString) bytes = g_string_new ("\357\273\277");
      g_autoptr (GInputStream) stream = NULL;
      g_autoptr (GError) error = NULL;
      WbExchangeCsvRecord record;

      for (guint i = 0; i < N; i++)
        g_string_append_printf (bytes, "%u,\"two\nlines\",caf\303\251%s", i, breaks[b]);
      stream = g_memory_input_stream_new_from_data (bytes->str, bytes->len, NULL);

      g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (stream);

      for (guint i = 0; i < N; i++)
        {
          g_assert_cmpint (wb_exchange_csv_next (csv, &record, NULL, &error), ==, WB_EXCHANGE_CSV_RECORD);
          g_assert_cmpuint (record.line, ==, 1 + 2 * i);
          g_assert_cmpuint (record.n_cells, ==, 3);
          g_assert_cmpuint (g_ascii_strtoull (record.cells[0].text, NULL, 10), ==, i);
          g_assert_cmpstr (record.cells[1].text, ==, "two\nlines");
          g_assert_cmpstr (record.cells[2].text, ==, "caf\303\251");
        }
      g_assert_cmpint (wb_exchange_csv_next (csv, &record, NULL, &error), ==, WB_EXCHANGE_CSV_END);
    }
}

static void
test_huge (void)
{
  const gsize huge = 3 * WB_EXCHANGE_CSV_RECORD_MAXIMUM;
  g_autofree char *filler = g_strnfill (huge, 'x');
  g_autofree char *bare = g_strdup_printf ("a,b\n%s,c\nd,e\n", filler);
  g_autofree char *quoted = g_strdup_printf ("a,b\n\"%s\",c\nd,e\n", filler);
  g_autofree char *last = g_strdup_printf ("a,b\n%s", filler);
  g_autofree char *bare_dump = dump_bytes (bare, strlen (bare), '\0');
  g_autofree char *quoted_dump = dump_bytes (quoted, strlen (quoted), '\0');
  g_autofree char *last_dump = dump_bytes (last, strlen (last), '\0');

  g_assert_cmpstr (bare_dump, ==, "1:a|b\n2!long\n3:d|e\n");
  g_assert_cmpstr (quoted_dump, ==, "1:a|b\n2!long\n3:d|e\n");
  g_assert_cmpstr (last_dump, ==, "1:a|b\n2!long\n");
}

/* A quote that is never closed costs the search for its end, a million rows behind it are still read. */
static void
test_unclosed_before_many (void)
{
  enum { N = 200000 };
  g_autoptr (GString) bytes = g_string_new ("\"a,b\n");
  g_autoptr (GError) error = NULL;
  WbExchangeCsvRecord record;

  for (guint i = 0; i < N; i++)
    g_string_append (bytes, "c,ddddddddddd\n");

  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_data (bytes->str, bytes->len, NULL);
  g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (stream);

  g_assert_cmpint (wb_exchange_csv_next (csv, &record, NULL, &error), ==, WB_EXCHANGE_CSV_BROKEN);
  g_assert_cmpint (record.fault, ==, WB_EXCHANGE_CSV_UNCLOSED);
  g_assert_cmpuint (record.line, ==, 1);
  for (guint i = 0; i < N; i++)
    g_assert_cmpint (wb_exchange_csv_next (csv, &record, NULL, &error), ==, WB_EXCHANGE_CSV_RECORD);
  g_assert_cmpuint (record.line, ==, N + 1);
  g_assert_cmpint (wb_exchange_csv_next (csv, &record, NULL, &error), ==, WB_EXCHANGE_CSV_END);
}

/* Bytes that mean something to a CSV reader, in any order: it ends, tells growing lines, and gives valid text. */
static void
test_random_bytes (void)
{
  static const char alphabet[] = "\"\"\",;\t \r\n\na1'=\303\251\377";
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260302);

  for (guint turn = 0; turn < 1500; turn++)
    {
      gsize length = g_rand_int_range (rand, 0, 400);
      g_autofree char *bytes = g_malloc (length + 1);
      guint64 line = 0;

      for (gsize i = 0; i < length; i++)
        bytes[i] = g_rand_int_range (rand, 0, 50) == 0 ? (char) g_rand_int_range (rand, 0, 256)
                                                       : alphabet[g_rand_int_range (rand, 0, sizeof alphabet - 1)];

      g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_data (bytes, length, NULL);
      g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (stream);
      g_autoptr (GError) error = NULL;
      WbExchangeCsvRecord record;
      WbExchangeCsvResult result;

      if (turn % 2 == 0)
        wb_exchange_csv_tell_delimiter (csv, 1, NULL, NULL);
      while ((result = wb_exchange_csv_next (csv, &record, NULL, &error)) != WB_EXCHANGE_CSV_END)
        {
          g_assert_cmpint (result, !=, WB_EXCHANGE_CSV_ERROR);
          g_assert_cmpuint (record.line, >, line);
          line = record.line;
          for (guint i = 0; result == WB_EXCHANGE_CSV_RECORD && i < record.n_cells; i++)
            g_assert_true (g_utf8_validate (record.cells[i].text, record.cells[i].length, NULL));
        }
      g_assert_cmpuint (wb_exchange_csv_get_offset (csv), ==, length);
    }
}

static void
test_cancel (void)
{
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_data ("a,b\n", 4, NULL);
  g_autoptr (WbExchangeCsv) csv = wb_exchange_csv_new (stream);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  WbExchangeCsvRecord record;

  g_cancellable_cancel (cancellable);
  g_assert_cmpint (wb_exchange_csv_next (csv, &record, cancellable, &error), ==, WB_EXCHANGE_CSV_ERROR);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

void
test_exchange_add_csv (void)
{
  g_test_add_func ("/exchange/csv/records-begin-at-their-lines", test_cases);
  g_test_add_func ("/exchange/csv/a-nul-breaks-its-own-record-only", test_nul);
  g_test_add_func ("/exchange/csv/utf-16-without-a-mark-is-told", test_utf16_without_a_mark);
  g_test_add_func ("/exchange/csv/the-header-tells-the-delimiter", test_delimiters);
  g_test_add_func ("/exchange/csv/a-piece-may-end-anywhere", test_pieces);
  g_test_add_func ("/exchange/csv/a-huge-cell-is-refused-and-passed-over", test_huge);
  g_test_add_func ("/exchange/csv/rows-behind-an-unclosed-quote-are-read", test_unclosed_before_many);
  g_test_add_func ("/exchange/csv/random-bytes-come-to-an-end", test_random_bytes);
  g_test_add_func ("/exchange/csv/cancelling-stops-it", test_cancel);
}
