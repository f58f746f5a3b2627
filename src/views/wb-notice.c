/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-notice.h"

#include "wb-accessible-name.h"
#include "wb-badge.h"

#include <glib/gi18n.h>

/*
 * CSS node: notice, with a box of class noticeline each. GTK 4.8 cannot announce: the words are plain labels in an alert,
 * which assistive technology reads when it appears.
 */

#define MOST_SHOWN 2

typedef struct
{
  WbNotice    *notice;  /* borrowed */
  char        *id;
  WbNoticeKind kind;
  GtkWidget   *line;
  GtkWidget   *badge;
  GtkWidget   *words;
  GtkWidget   *title;
  GtkWidget   *body;
  GtkWidget   *rest;    /* how many more there are; on the first line */
  GtkWidget   *verb;
  GtkWidget   *close;
} Line;

struct _WbNotice
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;

  /* owned */
  GPtrArray *lines; /* Line, most urgent first */
};

enum { ACTED, CLOSED, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbNotice, wb_notice, GTK_TYPE_WIDGET)

static void
line_free (gpointer data)
{
  Line *self = data;

  g_free (self->id);
  g_free (self);
}

static Line *
find (WbNotice   *self,
      const char *id,
      guint      *at)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);

      if (!g_str_equal (line->id, id))
        continue;
      if (at != NULL)
        *at = i;
      return line;
    }
  return NULL;
}

static gboolean
is_news (const Line *line)
{
  return line->kind <= WB_NOTICE_TOLD;
}

/* News comes first in the list. */
static guint
count_news (WbNotice *self)
{
  guint n = 0;

  while (n < self->lines->len && is_news (g_ptr_array_index (self->lines, n)))
    n++;
  return n;
}

static void
update (WbNotice *self)
{
  guint news = count_news (self), shown = MIN (news, MOST_SHOWN), hidden = news - shown;
  g_autofree char *rest = g_strdup_printf (ngettext ("and %u more", "and %u more", hidden), hidden);
  GtkWidget *before = NULL;

  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);

      gtk_box_reorder_child_after (GTK_BOX (self->box), line->line, before);
      gtk_widget_set_visible (line->line, i < shown);
      gtk_label_set_text (GTK_LABEL (line->rest), rest);
      gtk_widget_set_visible (line->rest, hidden > 0 && i == shown - 1);
      before = line->line;
    }
  gtk_widget_set_visible (GTK_WIDGET (self), shown > 0);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_verb_clicked_cb (Line *line)
{
  g_autofree char *id = g_strdup (line->id);

  g_signal_emit (line->notice, signals[ACTED], 0, id);
}

static void
on_close_clicked_cb (Line *line)
{
  g_autofree char *id = g_strdup (line->id);
  WbNotice *self = line->notice;

  wb_notice_drop (self, id);
  g_signal_emit (self, signals[CLOSED], 0, id);
}

static GtkWidget *
label_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static Line *
line_new (WbNotice   *self,
          const char *id)
{
  Line *line = g_new0 (Line, 1);
  line->notice = self;
  line->id = g_strdup (id);
  line->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  line->badge = wb_badge_new (WB_BADGE_PLAIN, NULL);
  line->words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  line->title = label_new ("heading");
  line->body = label_new ("body");
  gtk_label_set_ellipsize (GTK_LABEL (line->body), PANGO_ELLIPSIZE_NONE);
  gtk_label_set_wrap (GTK_LABEL (line->body), TRUE);
  line->rest = label_new ("dim-label");
  line->verb = gtk_button_new ();
  line->close = gtk_button_new_from_icon_name ("window-close-symbolic");
  gtk_widget_add_css_class (line->line, "noticeline");
  gtk_widget_add_css_class (line->close, "flat");
  gtk_button_set_use_underline (GTK_BUTTON (line->verb), TRUE);
  gtk_widget_set_valign (line->badge, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (line->verb, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (line->close, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (line->words, TRUE);
  gtk_widget_set_valign (line->words, GTK_ALIGN_CENTER);
  gtk_label_set_ellipsize (GTK_LABEL (line->rest), PANGO_ELLIPSIZE_NONE);
  gtk_box_append (GTK_BOX (line->words), line->title);
  gtk_box_append (GTK_BOX (line->words), line->body);
  gtk_box_append (GTK_BOX (line->line), line->badge);
  gtk_box_append (GTK_BOX (line->line), line->words);
  gtk_box_append (GTK_BOX (line->line), line->rest);
  gtk_box_append (GTK_BOX (line->line), line->verb);
  gtk_box_append (GTK_BOX (line->line), line->close);
  g_signal_connect_swapped (line->verb, "clicked", G_CALLBACK (on_verb_clicked_cb), line);
  g_signal_connect_swapped (line->close, "clicked", G_CALLBACK (on_close_clicked_cb), line);
  gtk_box_append (GTK_BOX (self->box), line->line);
  return line;
}

/* "Go to it: F-03: reading due". */
static void
name_button (GtkWidget  *button,
             const char *verb,
             const char *title)
{
  g_autofree char *name = g_strdup_printf ("%s: %s", verb, title);

  wb_accessible_name_button (GTK_BUTTON (button), name);
}

static void
set_badge (Line *line)
{
  static const WbBadgeKind kinds[] = {
    [WB_NOTICE_STOP] = WB_BADGE_STOP, [WB_NOTICE_TOLD] = WB_BADGE_ASK, [WB_NOTICE_ASK] = WB_BADGE_ASK, [WB_NOTICE_NOTE] = WB_BADGE_NOTE,
  };
  const char *const words[] = {
    [WB_NOTICE_STOP] = _("now"), [WB_NOTICE_TOLD] = _("clock"), [WB_NOTICE_ASK] = _("due"), [WB_NOTICE_NOTE] = _("note"),
  };

  wb_badge_set (WB_BADGE (line->badge), kinds[line->kind], words[line->kind]);
}

/* Behind those that are as urgent and were there before. */
static void
insert (WbNotice *self,
        Line     *line)
{
  guint at = 0;

  while (at < self->lines->len && ((const Line *) g_ptr_array_index (self->lines, at))->kind <= line->kind)
    at++;
  g_ptr_array_insert (self->lines, (int) at, line);
}

void
wb_notice_put (WbNotice    *self,
               const char  *id,
               WbNoticeKind kind,
               const char  *title,
               const char  *body,
               const char  *verb,
               gboolean     may_close)
{
  Line *line;
  guint at;

  g_return_if_fail (WB_IS_NOTICE (self));
  g_return_if_fail (id != NULL && title != NULL);

  line = find (self, id, &at);
  if (line == NULL)
    line = line_new (self, id);
  else if (line->kind != kind)
    g_ptr_array_steal_index (self->lines, at);
  if (find (self, id, NULL) == NULL)
    {
      line->kind = kind;
      insert (self, line);
    }
  set_badge (line);
  gtk_widget_set_tooltip_text (line->words, body);
  gtk_label_set_text (GTK_LABEL (line->title), title);
  gtk_label_set_text (GTK_LABEL (line->body), body != NULL ? body : "");
  gtk_widget_set_visible (line->body, body != NULL && *body != '\0');
  gtk_widget_set_visible (line->verb, verb != NULL);
  gtk_widget_set_visible (line->close, may_close);
  if (verb != NULL)
    {
      gtk_button_set_label (GTK_BUTTON (line->verb), verb);
      name_button (line->verb, verb, title);
    }
  name_button (line->close, _("Put away"), title);
  gtk_widget_set_tooltip_text (line->close, _("Put away"));
  update (self);
}

void
wb_notice_drop (WbNotice   *self,
                const char *id)
{
  Line *line;
  guint at;

  g_return_if_fail (WB_IS_NOTICE (self));
  g_return_if_fail (id != NULL);

  line = find (self, id, &at);
  if (line == NULL)
    return;
  gtk_box_remove (GTK_BOX (self->box), line->line);
  g_ptr_array_remove_index (self->lines, at);
  update (self);
}

void
wb_notice_clear (WbNotice *self)
{
  g_return_if_fail (WB_IS_NOTICE (self));

  while (self->lines->len > 0)
    wb_notice_drop (self, ((const Line *) g_ptr_array_index (self->lines, 0))->id);
}

guint
wb_notice_get_n (WbNotice *self)
{
  g_return_val_if_fail (WB_IS_NOTICE (self), 0);
  return self->lines->len;
}

const char *
wb_notice_get_due (WbNotice   *self,
                   const char **title,
                   const char **body,
                   guint       *more)
{
  guint news;
  const Line *line;

  g_return_val_if_fail (WB_IS_NOTICE (self), NULL);

  news = count_news (self);
  if (news == self->lines->len)
    return NULL;
  line = g_ptr_array_index (self->lines, news);
  *title = gtk_label_get_text (GTK_LABEL (line->title));
  *body = gtk_label_get_text (GTK_LABEL (line->body));
  *more = self->lines->len - news - 1;
  return line->id;
}

void
wb_notice_act (WbNotice   *self,
               const char *id)
{
  g_autofree char *kept = g_strdup (id);

  g_return_if_fail (WB_IS_NOTICE (self));
  g_signal_emit (self, signals[ACTED], 0, kept);
}

char *
wb_notice_dup_text (WbNotice   *self,
                    const char *id)
{
  const Line *line;

  g_return_val_if_fail (WB_IS_NOTICE (self), NULL);
  line = find (self, id, NULL);
  if (line == NULL)
    return NULL;
  return g_strdup_printf ("%s %s", gtk_label_get_text (GTK_LABEL (line->title)), gtk_label_get_text (GTK_LABEL (line->body)));
}

static void
wb_notice_dispose (GObject *object)
{
  WbNotice *self = WB_NOTICE (object);

  g_ptr_array_set_size (self->lines, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_notice_parent_class)->dispose (object);
}

static void
wb_notice_finalize (GObject *object)
{
  g_ptr_array_unref (WB_NOTICE (object)->lines);
  G_OBJECT_CLASS (wb_notice_parent_class)->finalize (object);
}

static void
wb_notice_class_init (WbNoticeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_notice_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_notice_finalize;
  signals[ACTED] = g_signal_new ("acted", WB_TYPE_NOTICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[CLOSED] = g_signal_new ("closed", WB_TYPE_NOTICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_NOTICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "notice");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static void
wb_notice_init (WbNotice *self)
{
  self->lines = g_ptr_array_new_with_free_func (line_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand (self->box, TRUE);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  update (self);
}
