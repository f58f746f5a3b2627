/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-report.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <qrencode.h>
#include <string.h>
#include <zbar.h>

#include "wb-report-label-code.h"

/* The printed page as a scanner reads it: the PDF as poppler prints it at 300 dpi, the codes as zbar finds them. */

typedef struct { char *text; int x, y; } Found; /* x, y: a corner of it, in 1/300 in */

static void
found_clear (gpointer data)
{
  g_free (((Found *) data)->text);
}

typedef struct { const guint8 *grey; unsigned width, height; } Picture;

/* The codes in a part of a picture of 8 bit grey: a hand's scanner sees a label at a time, not the whole page. */
static void
scan_part (GArray        *found,
           const Picture *picture,
           unsigned       left,
           unsigned       top,
           unsigned       width,
           unsigned       height)
{
  zbar_image_scanner_t *scanner = zbar_image_scanner_create ();
  zbar_image_t *image = zbar_image_create ();
  g_autofree guint8 *part = NULL;

  g_assert_cmpuint (left, <, picture->width);
  g_assert_cmpuint (top, <, picture->height);
  width = MIN (width, picture->width - left);
  height = MIN (height, picture->height - top);
  part = g_new (guint8, (gsize) width * height);
  for (unsigned y = 0; y < height; y++)
    memcpy (part + (gsize) y * width, picture->grey + (gsize) (top + y) * picture->width + left, width);
  zbar_image_set_format (image, zbar_fourcc ('Y', '8', '0', '0'));
  zbar_image_set_size (image, width, height);
  zbar_image_set_data (image, part, (unsigned long) width * height, NULL);
  g_assert_cmpint (zbar_scan_image (scanner, image), >=, 0);
  for (const zbar_symbol_t *symbol = zbar_image_first_symbol (image); symbol != NULL; symbol = zbar_symbol_next (symbol))
    {
      Found one = { g_strdup (zbar_symbol_get_data (symbol)), (int) left + zbar_symbol_get_loc_x (symbol, 0),
                    (int) top + zbar_symbol_get_loc_y (symbol, 0) };

      g_assert_cmpint (zbar_symbol_get_type (symbol), ==, ZBAR_QRCODE);
      g_array_append_val (found, one);
    }
  zbar_image_destroy (image);
  zbar_image_scanner_destroy (scanner);
}

static void
scan_picture (GArray                   *found,
              const Picture            *picture,
              const WbReportLabelSheet *sheet)
{
  const double px = 300 / 25.4;

  for (guint i = 0; i < wb_report_label_sheet_get_places (sheet); i++)
    scan_part (found, picture, (unsigned) (MAX (0, sheet->left + sheet->shift_x + i % sheet->columns * sheet->pitch_x) * px),
               (unsigned) (MAX (0, sheet->top + sheet->shift_y + i / sheet->columns * sheet->pitch_y) * px),
               (unsigned) (sheet->width * px), (unsigned) (sheet->height * px));
}

/* The pages' pictures one behind the other, each "P5 WIDTH HEIGHT 255" and its bytes; how many there are. */
static guint
scan_pictures (GArray                   *found,
               const WbReportLabelSheet *sheet,
               const char               *data,
               gsize                     size)
{
  guint pages = 0;

  for (const char *at = data; at < data + size; pages++)
    {
      Picture picture;
      int head = 0;

      g_assert_cmpint (sscanf (at, "P5 %u %u 255%n", &picture.width, &picture.height, &head), ==, 2);
      picture.grey = (const guint8 *) at + head + 1;
      scan_picture (found, &picture, sheet);
      at += head + 1 + (gsize) picture.width * picture.height;
    }
  return pages;
}

/* Found of all pages of the document's PDF; takes the document. */
static GArray *
print_and_scan (WbReportDocument         *document,
                const WbReportLabelSheet *sheet)
{
  GArray *found = g_array_new (FALSE, TRUE, sizeof (Found));
  g_autoptr (GBytes) pdf = test_report_print (document), pictures = NULL;
  g_autofree char *path = NULL;
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  int file = g_file_open_tmp ("wickbench-labels-XXXXXX.pdf", &path, &error);

  g_array_set_clear_func (found, found_clear);
  g_assert_no_error (error);
  g_assert_true (g_close (file, NULL));
  g_assert_true (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, "pdftoppm", "-gray", "-r", "300", path, NULL);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_communicate (process, NULL, NULL, &pictures, NULL, &error));
  g_assert_true (g_subprocess_get_successful (process));
  g_unlink (path);
  g_assert_cmpuint (scan_pictures (found, sheet, g_bytes_get_data (pictures, NULL), g_bytes_get_size (pictures)), ==,
                    wb_report_document_get_n_pages (document));
  wb_report_document_free (document);
  return found;
}

/* How often the code of that UUID was found. */
static guint
count (const GArray *found,
       const WbUuid *uuid)
{
  guint n = 0;

  for (guint i = 0; i < found->len; i++)
    {
      WbUuid read;

      g_assert_true (wb_report_label_code_parse (g_array_index (found, Found, i).text, &read));
      n += wb_uuid_equal (uuid, &read);
    }
  return n;
}

static WbReportLabel
get_label (guint i)
{
  WbReportLabel label = report_bench_label (i);
  WbUuid space = { { 4, 5, 6 } };
  g_autofree char *name = g_strdup_printf ("scan %u", i);

  label.uuid = wb_uuid_new_named (&space, name);
  return label;
}

static GArray *
print_labels (const WbReportLabelSheet *sheet,
              guint                     n,
              guint                     first,
              gboolean                  blind)
{
  g_autofree WbReportLabel *labels = g_new0 (WbReportLabel, n);
  WbReportOptions options;
  WbReportDocument *document;
  g_autoptr (GError) error = NULL;

  report_bench_options (&options);
  for (guint i = 0; i < n; i++)
    {
      labels[i] = get_label (i);
      labels[i].blind_code = blind ? 417 + i : 0;
    }
  document = wb_report_labels_new (labels, n, sheet, first, FALSE, &options, &error);
  g_assert_no_error (error);
  return print_and_scan (document, sheet);
}

static void
assert_all_once (const GArray *found,
                 guint         n)
{
  g_assert_cmpuint (found->len, ==, n);
  for (guint i = 0; i < n; i++)
    {
      WbReportLabel label = get_label (i);

      g_assert_cmpuint (count (found, &label.uuid), ==, 1);
    }
}

/* Every preset, a page that is full, and what is left over on the next one. */
static void
test_full_sheets (void)
{
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      WbReportLabelSheet sheet = wb_report_label_sheet_preset (preset);
      guint n = wb_report_label_sheet_get_places (&sheet) + 2;
      g_autoptr (GArray) found = print_labels (&sheet, n, 0, FALSE);

      g_test_message ("%s: %u of %u found", wb_report_label_preset_get_label (preset), found->len, n);
      assert_all_once (found, n);
    }
}

static void
test_blind (void)
{
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      WbReportLabelSheet sheet = wb_report_label_sheet_preset (preset);
      g_autoptr (GArray) found = print_labels (&sheet, 5, 0, TRUE);

      assert_all_once (found, 5);
    }
}

/* From whatever label it begins: the code lies in the place of that number, and nothing is printed on those before. */
static void
test_from_anywhere (void)
{
  static const WbReportLabelPreset presets[] = { WB_REPORT_LABELS_A4_24, WB_REPORT_LABELS_LETTER_30 };

  for (guint k = 0; k < G_N_ELEMENTS (presets); k++)
    {
      WbReportLabelSheet sheet = wb_report_label_sheet_preset (presets[k]);

      for (guint first = 1; first < wb_report_label_sheet_get_places (&sheet); first += 7)
        {
          g_autoptr (GArray) found = print_labels (&sheet, 1, first, FALSE);
          const Found *one = &g_array_index (found, Found, 0);
          guint column, row;

          assert_all_once (found, 1);
          column = (guint) ((one->x / 300.0 * 25.4 - sheet.left) / sheet.pitch_x);
          row = (guint) ((one->y / 300.0 * 25.4 - sheet.top) / sheet.pitch_y);
          g_assert_cmpuint (row * sheet.columns + column, ==, first);
        }
    }
}

/* An own sheet, and a printer that prints it askew: the code moves by what was said. */
static void
test_own_size_and_shift (void)
{
  WbReportLabelSheet sheet = { 148, 210, 9, 11, 60, 44, 65, 48, 2, 4, 0, 0 };
  g_autoptr (GArray) straight = print_labels (&sheet, 8, 0, FALSE), askew = NULL;

  assert_all_once (straight, 8);
  sheet.shift_x = 2.5;
  sheet.shift_y = -1.5;
  askew = print_labels (&sheet, 8, 0, FALSE);
  assert_all_once (askew, 8);
  for (guint i = 0; i < 8; i++)
    for (guint k = 0; k < 8; k++)
      {
        const Found *a = &g_array_index (straight, Found, i), *b = &g_array_index (askew, Found, k);

        if (!g_str_equal (a->text, b->text))
          continue;
        g_assert_cmpfloat_with_epsilon (b->x - a->x, 2.5 / 25.4 * 300, 2);
        g_assert_cmpfloat_with_epsilon (b->y - a->y, -1.5 / 25.4 * 300, 2);
      }
}

/* Cards on both papers; one that folds carries its code on both sides. */
static void
test_cards (void)
{
  for (guint k = 0; k < 8; k++)
    {
      WbReportPaper paper = k & 1 ? WB_REPORT_LETTER : WB_REPORT_A4;
      gboolean folds = (k & 2) != 0, blind = (k & 4) != 0;
      WbReportLabelSheet sheet = wb_report_cards_sheet (paper, folds);
      WbReportOptions options;
      g_autoptr (GArray) found = NULL;

      report_bench_options (&options);
      found = print_and_scan (report_bench_cards_new (&options, 5, paper, folds, blind), &sheet);
      g_assert_cmpuint (found->len, ==, folds ? 10 : 5);
      for (guint i = 0; i < 5; i++)
        {
          WbReportLabel label = report_bench_label (i);

          g_assert_cmpuint (count (found, &label.uuid), ==, folds ? 2 : 1);
        }
    }
}

/*
 * ISO/IEC 18004, alphanumeric mode: 0-9, A-Z, space and $ % * + - . / : in that order; a symbol of version 2, 25 modules wide,
 * holds 38 such characters at level M, but 26 bytes: with 27 characters of another kind it would be the next larger one.
 */
static void
test_alphanumeric_mode (void)
{
  static const char set[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

  g_assert_cmpuint (strlen (set), ==, 45);
  for (guint i = 0; i < 200; i++)
    {
      WbReportLabel label = get_label (i);
      g_autofree char *code = wb_report_label_code_new (&label.uuid);
      QRcode *qr = QRcode_encodeString (code, 0, QR_ECLEVEL_M, QR_MODE_8, 1);

      g_assert_cmpuint (strspn (code, set), ==, WB_REPORT_LABEL_CODE_LENGTH);
      g_assert_null (strpbrk (code, "YZ $%*+-./:"));
      g_assert_cmpint (qr->width, ==, 25);
      QRcode_free (qr);
    }
}

/*
 * The check character of a text, as the Luhn mod N algorithm is published (Wikipedia, "Luhn mod N algorithm": GenerateCheckCharacter;
 * its example: N = 6, characters a to f, "abcdef" has the check character "e").
 */
static char
published_check (const char *alphabet,
                 const char *input)
{
  int n = (int) strlen (alphabet), factor = 2, sum = 0;

  for (int i = (int) strlen (input) - 1; i >= 0; i--)
    {
      int addend = factor * (int) (strchr (alphabet, input[i]) - alphabet);

      factor = factor == 2 ? 1 : 2;
      sum += addend / n + addend % n;
    }
  return alphabet[(n - sum % n) % n];
}

static void
test_check_is_the_published_one (void)
{
  g_assert_cmpint (published_check ("abcdef", "abcdef"), ==, 'e');
  for (guint i = 0; i < 2000; i++)
    {
      WbReportLabel label = get_label (i);
      g_autofree char *code = wb_report_label_code_new (&label.uuid);
      char check = code[WB_REPORT_LABEL_CODE_LENGTH - 1];

      code[WB_REPORT_LABEL_CODE_LENGTH - 1] = '\0';
      g_assert_cmpint (published_check ("0123456789ABCDEFGHIJKLMNOPQRSTUVWX", code), ==, check);
    }
}

void
test_label_scan_add (void)
{
  g_test_add_func ("/report/label-scan/every-label-of-a-full-sheet-is-read", test_full_sheets);
  g_test_add_func ("/report/label-scan/blind-labels-are-read", test_blind);
  g_test_add_func ("/report/label-scan/from-whatever-label-it-begins", test_from_anywhere);
  g_test_add_func ("/report/label-scan/an-own-sheet-and-a-shift", test_own_size_and_shift);
  g_test_add_func ("/report/label-scan/cards-are-read", test_cards);
  g_test_add_func ("/report/label-code/it-is-alphanumeric", test_alphanumeric_mode);
  g_test_add_func ("/report/label-code/its-check-is-the-published-one", test_check_is_the_published_one);
}
