/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paper.h"

struct _WbPaper
{
  gatomicrefcount   ref_count;
  GMutex            lock;      /* held by whoever uses the document */
  WbReportDocument *document;
  guint             n_pages;
  double            width, height;
};

/* A page to be drawn, or the whole to be written. */
typedef struct
{
  WbPaper *paper;
  guint    page;
  int      width;
  char    *path;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  wb_paper_unref (self->paper);
  g_free (self->path);
  g_free (self);
}

static GdkTexture *
render (const Request *request)
{
  double scale = request->width / request->paper->width;
  int height = MAX (1, (int) (request->paper->height * scale + 0.5));
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, request->width, height);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GBytes) bytes = NULL;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  wb_paper_draw (request->paper, cr, request->page);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  /* cairo's pixels without alpha leave that byte undefined; white paper has set it, nothing on it takes it away */
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize) cairo_image_surface_get_stride (surface) * (gsize) height,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  return gdk_memory_texture_new (request->width, height, GDK_MEMORY_DEFAULT, bytes, (gsize) cairo_image_surface_get_stride (surface));
}

static void
render_in_thread (GTask        *task,
                  gpointer      source,
                  gpointer      task_data,
                  GCancellable *cancellable)
{
  if (!g_task_return_error_if_cancelled (task))
    g_task_return_pointer (task, render (task_data), g_object_unref);
}

static gboolean
write_pdf (const Request *request,
           GError       **error)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&request->paper->lock);
  g_autoptr (GBytes) bytes = wb_report_document_dup_pdf (request->paper->document, NULL, error);

  return bytes != NULL
         && g_file_set_contents_full (request->path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                      G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error);
}

static void
write_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      task_data,
                 GCancellable *cancellable)
{
  GError *error = NULL;

  if (g_task_return_error_if_cancelled (task))
    return;
  if (write_pdf (task_data, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

WbPaper *
wb_paper_new (WbReportDocument *document)
{
  WbPaper *self;

  g_return_val_if_fail (document != NULL, NULL);

  self = g_new0 (WbPaper, 1);
  g_atomic_ref_count_init (&self->ref_count);
  g_mutex_init (&self->lock);
  self->document = document;
  self->n_pages = wb_report_document_get_n_pages (document);
  wb_report_document_get_size (document, &self->width, &self->height);
  return self;
}

WbPaper *
wb_paper_ref (WbPaper *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_paper_unref (WbPaper *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->ref_count))
    return;
  wb_report_document_free (self->document);
  g_mutex_clear (&self->lock);
  g_free (self);
}

guint
wb_paper_get_n_pages (const WbPaper *self)
{
  g_return_val_if_fail (self != NULL, 0);

  return self->n_pages;
}

void
wb_paper_get_size (const WbPaper *self,
                   double        *width,
                   double        *height)
{
  g_return_if_fail (self != NULL);

  *width = self->width;
  *height = self->height;
}

char *
wb_paper_dup_text (WbPaper *self,
                   guint    page)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&self->lock);

  return wb_report_document_dup_page_text (self->document, page);
}

void
wb_paper_draw (WbPaper *self,
               cairo_t *cr,
               guint    page)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&self->lock);

  wb_report_document_draw_page (self->document, cr, page);
}

void
wb_paper_render_async (WbPaper            *self,
                       guint               page,
                       int                 width,
                       GCancellable       *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer            user)
{
  g_autoptr (GTask) task = NULL;
  Request *request;

  g_return_if_fail (self != NULL && page < self->n_pages && width > 0);

  task = g_task_new (NULL, cancellable, callback, user);
  request = g_new0 (Request, 1);
  request->paper = wb_paper_ref (self);
  request->page = page;
  request->width = width;
  g_task_set_source_tag (task, wb_paper_render_async);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, render_in_thread);
}

GdkTexture *
wb_paper_render_finish (GAsyncResult *result,
                        GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

void
wb_paper_write_async (WbPaper            *self,
                      const char         *path,
                      GCancellable       *cancellable,
                      GAsyncReadyCallback callback,
                      gpointer            user)
{
  g_autoptr (GTask) task = NULL;
  Request *request;

  g_return_if_fail (self != NULL && path != NULL);

  task = g_task_new (NULL, cancellable, callback, user);
  request = g_new0 (Request, 1);
  request->paper = wb_paper_ref (self);
  request->path = g_strdup (path);
  g_task_set_source_tag (task, wb_paper_write_async);
  /* what is written is told as written, however late somebody cancelled */
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, write_in_thread);
}

gboolean
wb_paper_write_finish (GAsyncResult *result,
                       GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
