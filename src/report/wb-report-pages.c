/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-document-private.h"

#include <glib/gi18n-lib.h>

/* Breaking a document into pages, and drawing one. */

/* Of the height that a chart was to have: more would make its neighbours on other pages look small. */
#define MOST_GROWTH 0.18

/* A chart, whose height may be chosen. */
static gboolean
is_flexible (const WbReportPiece *piece)
{
  return piece->least > 0;
}

/* What must stand on one page. */
typedef struct
{
  double   height;  /* with its charts as high as they are to be */
  double   give;    /* by which these may be lower */
} Chain;

/* A piece and all that must stand on its page behind it. */
static Chain
read_chain (const WbReportDocument *self,
            guint                   index)
{
  Chain chain = { 0, 0 };

  for (guint i = index; i < self->pieces->len; i++)
    {
      const WbReportPiece *piece = g_ptr_array_index (self->pieces, i);

      chain.height += (is_flexible (piece) ? piece->asked : piece->height) + (i > index ? piece->gap : 0);
      chain.give += is_flexible (piece) ? piece->asked - piece->least : 0;
      if (!piece->keep_next)
        break;
    }
  return chain;
}

/* Where the next piece goes. */
typedef struct
{
  double   y;
  guint    first;    /* of the placed, the page's */
  double   give;     /* by which the page's charts may be lower than they are */
  gboolean fresh;    /* nothing stands on the page yet */
  gboolean chained;  /* the piece before asked for this one on its page */
} Cursor;

static void
place (WbReportDocument    *self,
       const WbReportPiece *piece,
       Cursor              *cursor)
{
  WbReportPlaced placed = { piece, self->n_pages - 1, WB_REPORT_MARGIN / self->scale, cursor->y };

  g_array_append_val (self->placed, placed);
  cursor->y += piece->height;
}

/* A new page; a table that goes on there begins with its heads. */
static void
turn_page (WbReportDocument    *self,
           const WbReportPiece *piece,
           Cursor              *cursor)
{
  self->n_pages++;
  *cursor = (Cursor) { .first = self->placed->len, .fresh = TRUE };
  cursor->y = wb_report_frame_get_top (self, self->n_pages - 1) / self->scale;
  if (piece->head != NULL)
    place (self, piece->head, cursor);
  if (piece->band != NULL)
    place (self, piece->band, cursor);
}

static double
get_room (const WbReportDocument *self,
          const Cursor           *cursor)
{
  return wb_report_frame_get_bottom (self) / self->scale - cursor->y;
}

/* Charts already on the page become lower for the sake of a further one, not of the text below them. */
static gboolean
is_full (const WbReportDocument *self,
         guint                   index,
         const Cursor           *cursor)
{
  const WbReportPiece *piece = g_ptr_array_index (self->pieces, index);
  Chain chain = read_chain (self, index);
  double least = chain.height - chain.give, room = get_room (self, cursor) + 0.01;

  if (piece->gap + least <= room + (chain.give > 0 ? cursor->give : 0))
    return FALSE;
  /* a chain longer than a page is broken where it must be */
  if (cursor->chained || least > wb_report_document_get_text_height (self))
    return piece->gap + (is_flexible (piece) ? piece->least : piece->height) > room;
  return TRUE;
}

/* Moves what stands on the page, its charts changed by a share of what `measure` says of each. */
static void
change_charts (WbReportDocument *self,
               Cursor           *cursor,
               double            share,
               double          (*measure) (const WbReportPiece *piece))
{
  double down = 0;

  for (guint i = cursor->first; i < self->placed->len; i++)
    {
      WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);
      WbReportPiece *piece = (WbReportPiece *) placed->piece;

      placed->y += down;
      if (!is_flexible (piece))
        continue;
      down += share * measure (piece);
      piece->height += share * measure (piece);
    }
  cursor->y += down;
}

static double
measure_give (const WbReportPiece *piece)
{
  return piece->height - piece->least;
}

static double
measure_asked (const WbReportPiece *piece)
{
  return piece->asked;
}

/* A chart as high as it is to be, or it and those above it evenly lower, so that what is kept with it fits too. */
static void
fit_chart (WbReportDocument *self,
           guint             index,
           Cursor           *cursor)
{
  WbReportPiece *piece = g_ptr_array_index (self->pieces, index);
  Chain chain = read_chain (self, index);
  double lacks, give, share;

  if (!is_flexible (piece))
    return;
  piece->height = piece->asked;
  if (chain.height - chain.give > wb_report_document_get_text_height (self))
    chain = (Chain) { piece->asked, piece->asked - piece->least };
  lacks = chain.height - get_room (self, cursor);
  give = cursor->give + chain.give;
  if (lacks > 0 && give > 0)
    {
      share = MIN (lacks / give, 1);
      change_charts (self, cursor, -share, measure_give);
      cursor->give *= 1 - share;
      piece->height -= share * measure_give (piece);
    }
  cursor->give += measure_give (piece);
}

/* What a full page leaves white goes to its charts, as far as they may grow by it. */
static void
spread_charts (WbReportDocument *self,
               Cursor           *cursor)
{
  double room = get_room (self, cursor), asked = 0;

  for (guint i = cursor->first; i < self->placed->len; i++)
    if (is_flexible (g_array_index (self->placed, WbReportPlaced, i).piece))
      asked += g_array_index (self->placed, WbReportPlaced, i).piece->asked;
  if (asked > 0 && room > 0)
    change_charts (self, cursor, MIN (room / asked, MOST_GROWTH), measure_asked);
}

void
wb_report_pages_make (WbReportDocument *self)
{
  Cursor cursor = { .fresh = TRUE };

  if (self->placed != NULL)
    return;
  wb_report_contents_insert (self);
  wb_report_points_keep (self);
  self->placed = g_array_new (FALSE, FALSE, sizeof (WbReportPlaced));
  self->n_pages = 1;
  cursor.y = wb_report_frame_get_top (self, 0) / self->scale;
  for (guint i = 0; i < self->pieces->len; i++)
    {
      const WbReportPiece *piece = g_ptr_array_index (self->pieces, i);

      if (!cursor.fresh && !piece->breaks && is_full (self, i, &cursor))
        {
          spread_charts (self, &cursor);
          turn_page (self, piece, &cursor);
        }
      else if (!cursor.fresh && piece->breaks)
        turn_page (self, piece, &cursor);
      if (piece == self->appendix)
        self->appendix_page = self->n_pages - 1;
      if (piece->breaks)
        continue;
      if (!cursor.fresh)
        cursor.y += piece->gap;
      fit_chart (self, i, &cursor);
      place (self, piece, &cursor);
      if (piece->height > 0)
        cursor.fresh = FALSE;
      cursor.chained = piece->keep_next;
    }
  for (guint i = 0; i < self->pieces->len; i++)
    if (is_flexible (g_ptr_array_index (self->pieces, i)))
      wb_report_chart_lay_out (self, g_ptr_array_index (self->pieces, i));
}

char *
wb_report_pages_dup_label (WbReportDocument *self,
                           guint             page)
{
  wb_report_pages_make (self);
  if (self->appendix == NULL || page < self->appendix_page)
    return g_strdup_printf ("%u", page + 1);
  /* Translators: a page of the appendix, "A-1". */
  return g_strdup_printf (_("A-%u"), page - self->appendix_page + 1);
}

guint
wb_report_document_get_n_pages (WbReportDocument *self)
{
  wb_report_pages_make (self);
  return self->n_pages;
}

gboolean
wb_report_pages_find (WbReportDocument    *self,
                      const WbReportPiece *piece,
                      guint               *page,
                      double              *y)
{
  wb_report_pages_make (self);
  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->piece != piece)
        continue;
      *page = placed->page;
      *y = placed->y * self->scale;
      return TRUE;
    }
  return FALSE;
}

int
wb_report_document_find_heading (WbReportDocument *self,
                                 const char       *text)
{
  wb_report_pages_make (self);
  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->piece->level > 0 && g_strcmp0 (placed->piece->text, text) == 0)
        return (int) placed->page;
    }
  return -1;
}

char *
wb_report_document_dup_page_text (WbReportDocument *self,
                                  guint             page)
{
  g_autoptr (GString) text = g_string_new (NULL);

  wb_report_pages_make (self);
  g_return_val_if_fail (page < self->n_pages, NULL);

  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->page == page && placed->piece->say != NULL)
        placed->piece->say (placed->piece, text);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* What a piece is in the structure of a tagged PDF: for who listens to it. Other targets pass tags over. */
static const char *
get_tag (const WbReportPiece *piece)
{
  if (piece->level > 0)
    return piece->level == 1 ? "H1" : "H2";
  return piece->figure ? "Figure" : "P";
}

void
wb_report_document_draw_page (WbReportDocument *self,
                              cairo_t          *cr,
                              guint             page)
{
  double width = self->bare ? self->width : wb_report_document_get_text_width (self);

  wb_report_pages_make (self);
  g_return_if_fail (page < self->n_pages);

  cairo_save (cr);
  wb_report_frame_draw (self, cr, page);
  for (guint i = 0; i < self->placed->len; i++)
    {
      const WbReportPlaced *placed = &g_array_index (self->placed, WbReportPlaced, i);

      if (placed->page != page)
        continue;
      cairo_save (cr);
      cairo_scale (cr, self->scale, self->scale);
      cairo_translate (cr, placed->x, placed->y);
      cairo_set_source_rgb (cr, 0, 0, 0);
      cairo_tag_begin (cr, get_tag (placed->piece), NULL);
      placed->piece->draw (placed->piece, cr, width);
      cairo_tag_end (cr, get_tag (placed->piece));
      cairo_restore (cr);
    }
  cairo_restore (cr);
}
