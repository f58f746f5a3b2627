/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-bar.h"

#include "wb-app-stay.h"
#include "wb-bench-words.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-grey.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

struct _WbBenchBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkLabel  *summary;
  GtkLabel  *session;
  GtkWidget *close;
  GtkWidget *found_bar;
  GtkLabel  *found_words;
};

G_DEFINE_FINAL_TYPE (WbBenchBar, wb_bench_bar, GTK_TYPE_WIDGET)

static void
wb_bench_bar_dispose (GObject *object)
{
  GtkWidget *child;

  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_BENCH_BAR);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_bench_bar_parent_class)->dispose (object);
}

static void
wb_bench_bar_class_init (WbBenchBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_bench_bar_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "bench-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBenchBar, summary);
  gtk_widget_class_bind_template_child (widget_class, WbBenchBar, session);
  gtk_widget_class_bind_template_child (widget_class, WbBenchBar, close);
  gtk_widget_class_bind_template_child (widget_class, WbBenchBar, found_bar);
  gtk_widget_class_bind_template_child (widget_class, WbBenchBar, found_words);
}

static void
wb_bench_bar_init (WbBenchBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_grey_say (self->close, _("A session is closed once it is open and no candle of it is alight"));
}

static void
set_text (GtkLabel   *label,
          const char *text)
{
  if (g_str_equal (gtk_label_get_text (label), text))
    return;
  gtk_label_set_text (label, text);
  wb_tooltip_set (GTK_WIDGET (label), text);
}

static void
update_summary (WbBenchBar *self,
                WbAppBench *bench)
{
  guint alight = wb_app_bench_get_alight (bench), due = wb_app_bench_get_due (bench);
  g_autofree char *lit = NULL;
  g_autofree char *late = NULL;
  g_autofree char *text = NULL;

  lit = alight > 0 ? g_strdup_printf (ngettext ("%u alight", "%u alight", alight), alight) : g_strdup (_("Nothing is alight"));
  if (due > 0)
    late = g_strdup_printf (ngettext ("%u reading due", "%u readings due", due), due);
  text = late != NULL ? g_strdup_printf ("%s, %s", lit, late) : g_strdup (lit);
  set_text (self->summary, text);
}

/* "past 13:00 · With the flames: Wren, until 13:00". Caller frees. */
static char *
dup_stay_over (const WbSession *session)
{
  g_autofree char *end = wb_instant_format_time (wb_app_stay_get_end (session));

  /* Translators: a time of day; who said to stay with the flames until then: "Wren, until 13:00". */
  return g_strdup_printf (_("past %s · With the flames: %s"), end, session->staying);
}

static void
update_session (WbBenchBar *self,
                WbAppBench *bench,
                gboolean    us_units)
{
  const WbSession *session = wb_app_bench_get_session (bench);
  gboolean over = wb_app_bench_get_alight (bench) > 0 && wb_app_stay_is_past (session, wb_clock_now (wb_clock_get ()));
  g_autofree char *room = wb_bench_words_dup_room (bench, us_units);
  g_autofree char *text = NULL, *both = NULL;

  if (session == NULL)
    text = g_strdup (_("No session is open: the first light asks the check."));
  else if (wb_app_bench_get_alight (bench) == 0)
    text = g_strdup (_("Nobody leaves until no wick glows. Then close the session."));
  else if (over)
    text = dup_stay_over (session);
  else
    text = session->staying != NULL ? g_strdup_printf (_("With the flames: %s"), session->staying) : g_strdup ("");
  /* What is over stands first: the line's end may be cut. */
  if (*text == '\0' || *room == '\0')
    both = g_strconcat (room, text, NULL);
  else
    both = g_strdup_printf ("%s · %s", over ? text : room, over ? room : text);
  set_text (self->session, both);
}

static void
update_found (WbBenchBar *self,
              WbAppBench *bench)
{
  guint found = wb_app_bench_get_found_open (bench);
  g_autofree char *words = NULL;

  words = g_strdup_printf (ngettext ("%u burn was alight when the notebook was opened. Is it still?",
                                     "%u burns were alight when the notebook was opened. Are they still?", found), found);
  set_text (self->found_words, words);
  gtk_widget_set_visible (self->found_bar, found > 0);
}

void
wb_bench_bar_update (WbBenchBar *self,
                     WbAppBench *bench,
                     gboolean    us_units)
{
  g_return_if_fail (WB_IS_BENCH_BAR (self));
  g_return_if_fail (WB_IS_APP_BENCH (bench));
  update_summary (self, bench);
  update_session (self, bench, us_units);
  update_found (self, bench);
}
