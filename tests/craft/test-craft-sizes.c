/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-sizes.h"
#include "wb-number.h"

#include <string.h>

/* All sizes are invented. */
typedef struct
{
  const char *text;
  const char *sizes; /* with a bar between them; NULL: refused */
} Case;

static const Case cases[] = {
  { "1, 2, 3, 4", "1|2|3|4" },
  { "1,2,3,4", "1|2|3|4" },
  { "1 2 3", "1|2|3" },
  { "S-1 to S-8", "S-1|S-2|S-3|S-4|S-5|S-6|S-7|S-8" },
  { "S-1 to 3", "S-1|S-2|S-3" },
  { "S-1 .. S-3", "S-1|S-2|S-3" },
  { "1…3", "1|2|3" },
  { "8 – 11", "8|9|10|11" },
  { "0.8 0.9 1.0", "0.8|0.9|1.0" },
  { "0,8 0,9 1,0", "0,8|0,9|1,0" },
  { "0,8; 0,9; 1,0", "0,8|0,9|1,0" },
  { "08 to 12", "08|09|10|11|12" },
  { "10A to 12A", "10A|11A|12A" },
  { "T 1, T 2", "T 1|T 2" },
  { "1-0", "1-0" },
  { "3, 5 to 7, 9", "3|5|6|7|9" },
  { " 1 ,, 2 ; ", "1|2" },
  { "1\n2\n3", "1|2|3" },
  { "1, 1", "1|1" },
  { "Süd 1 to Süd 3", "Süd 1|Süd 2|Süd 3" },
  { "Süd-1 TO Süd-2", "Süd-1|Süd-2" },
  { "", NULL },
  { " , ", NULL },
  { "8 to 1", NULL },
  { "S-3 to S-3", NULL },
  { "A to C", NULL },
  { "0.8 to 1.2", NULL },
  { "1 to 2 to 3", NULL },
  { " to 3", NULL },
  { "1 to 9999999", NULL },
  { "1 to 99999999999999999999", NULL },
};

static void
test_case (gconstpointer data)
{
  const Case *c = data;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) sizes = wb_craft_sizes_parse (c->text, &error);
  g_autofree char *joined = sizes != NULL ? g_strjoinv ("|", sizes) : NULL;

  g_assert_cmpstr (joined, ==, c->sizes);
  g_assert_true ((error == NULL) == (c->sizes != NULL));
  if (error != NULL)
    {
      g_assert_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_SYNTAX);
      /* No sign of our own is left in the words. */
      g_assert_null (strchr (error->message, '\001'));
    }
}

static void
test_too_many (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i <= WB_CRAFT_SIZES_MAXIMUM; i++)
    g_string_append_printf (text, "%u ", i);
  g_assert_null (wb_craft_sizes_parse (text->str, &error));
  g_assert_error (error, WB_NUMBER_ERROR, WB_NUMBER_ERROR_SYNTAX);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/craft/sizes/%02u", i);

      g_test_add_data_func (path, &cases[i], test_case);
    }
  g_test_add_func ("/craft/sizes/more-than-anybody-orders", test_too_many);
  return g_test_run ();
}
