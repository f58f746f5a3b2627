/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-hazard-bar.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: hazardbar, with the class stop where a limit is crossed. An alert
 * for assistive technology. GTK 4.8 cannot announce: it appears, with words,
 * and its first button can take the keyboard.
 */

/* Nobody has read a question in less: what is clicked then was meant for the one before it. */
#define NOT_READ_YET_US (800 * G_TIME_SPAN_MILLISECOND)

typedef struct
{
  gint64             sample;
  WbLimitKind        kind;
  WbCraftLimitLevel  level;
  char              *code;   /* the sample's */
  char              *text;
  char              *advice;
  char              *why;    /* it is asked again; NULL: it is not */
  gboolean           answered;
  gboolean           alight; /* as it was when told: only then it can be put out */
  gboolean           typed;  /* told of what is typed and not saved yet */
  gboolean           recorded; /* seen in the record: it goes when the record has its answer, or is amended */
} Hazard;

struct _WbHazardBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;
  GtkWidget *shape;
  GtkWidget *text;
  GtkWidget *advice;
  GtkWidget *more;
  GtkWidget *out;
  GtkWidget *seen;

  /* owned */
  GPtrArray *hazards; /* Hazard, told of readings not yet superseded */

  /* state */
  gint64     asked;    /* sample of the question that stands there; 0: none */
  gint64     asked_us; /* when it came there, by the monotonic clock; 0: none stands there */
};

G_DEFINE_FINAL_TYPE (WbHazardBar, wb_hazard_bar, GTK_TYPE_WIDGET)

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
hazard_free (gpointer data)
{
  Hazard *hazard = data;

  g_free (hazard->code);
  g_free (hazard->text);
  g_free (hazard->advice);
  g_free (hazard->why);
  g_free (hazard);
}

/* Fire before glass before the rest, what is over before what soon may be and what is near; among equals the one told first. Smaller is more urgent. */
static int
urgency (const Hazard *hazard)
{
  if (hazard->kind == WB_LIMIT_SECONDARY_IGNITION)
    return 0;
  if (hazard->kind == WB_LIMIT_VESSEL_CRACK || hazard->kind == WB_LIMIT_TIPPED)
    return 1;
  return hazard->level == WB_CRAFT_OVER ? 2 : hazard->level == WB_CRAFT_SOON ? 3 : 4;
}

static Hazard *
get_first_open (WbHazardBar *self)
{
  Hazard *first = NULL;

  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (!hazard->answered && (first == NULL || urgency (hazard) < urgency (first)))
        first = hazard;
    }
  return first;
}

static void
add_line (GString    *lines,
          const char *line)
{
  if (line == NULL || *line == '\0')
    return;
  if (lines->len > 0)
    g_string_append_c (lines, '\n');
  g_string_append (lines, line);
}

/* Why it is asked again; what else is open: of this sample, which one answer covers, and at how many others. Caller frees. */
static char *
dup_more (WbHazardBar  *self,
          const Hazard *shown)
{
  guint others = wb_hazard_bar_get_n_open (self) - 1;
  g_autoptr (GString) also = g_string_new (NULL);
  g_autofree char *count = NULL;
  GString *lines = g_string_new (NULL);

  for (guint i = 0; i < self->hazards->len; i++)
    {
      const Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard != shown && hazard->sample == shown->sample && !hazard->answered)
        g_string_append_printf (also, also->len > 0 ? "; %s" : _("Also: %s"), hazard->text);
    }
  if (others > 0)
    count = g_strdup_printf (ngettext ("%u more sample to see to", "%u more samples to see to", others), others);
  add_line (lines, shown->why);
  add_line (lines, also->str);
  add_line (lines, count);
  return g_string_free (lines, FALSE);
}

/* Marks when a question slides under a pointer that answered another, or was on its way to what stood there before. */
static void
mark_question (WbHazardBar *self,
               gint64       sample)
{
  if (sample != self->asked)
    self->asked_us = sample != 0 ? g_get_monotonic_time () : 0;
  self->asked = sample;
}

static void
update (WbHazardBar *self)
{
  const Hazard *hazard = get_first_open (self);
  g_autofree char *text = NULL;
  g_autofree char *more = NULL;
  gboolean over;

  mark_question (self, hazard != NULL ? hazard->sample : 0);
  gtk_widget_set_visible (GTK_WIDGET (self), hazard != NULL);
  if (hazard == NULL)
    return;
  over = hazard->level == WB_CRAFT_OVER;
  if (over)
    gtk_widget_add_css_class (GTK_WIDGET (self), "stop");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "stop");
  gtk_label_set_text (GTK_LABEL (self->shape), over ? "■" : "▲");
  text = g_strdup_printf ("%s: %s", hazard->code, hazard->text);
  gtk_label_set_text (GTK_LABEL (self->text), text);
  gtk_label_set_text (GTK_LABEL (self->advice), hazard->advice);
  more = dup_more (self, hazard);
  gtk_label_set_text (GTK_LABEL (self->more), more);
  gtk_widget_set_visible (self->more, *more != '\0');
  gtk_widget_set_visible (self->out, hazard->alight && hazard->level != WB_CRAFT_NEAR);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, hazard->advice, -1);
}

/* A click that was meant for something else, as the second half of a double click, is no answer to the question that came up under it. */
static gboolean
is_too_soon (const WbHazardBar *self)
{
  return self->asked_us != 0 && g_get_monotonic_time () - self->asked_us < NOT_READ_YET_US;
}

static void
on_out_clicked_cb (WbHazardBar *self)
{
  if (!is_too_soon (self))
    wb_hazard_bar_answer (self, TRUE);
}

static void
on_seen_clicked_cb (WbHazardBar *self)
{
  if (!is_too_soon (self))
    wb_hazard_bar_answer (self, FALSE);
}

static void
wb_hazard_bar_dispose (GObject *object)
{
  WbHazardBar *self = WB_HAZARD_BAR (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_hazard_bar_parent_class)->dispose (object);
}

static void
wb_hazard_bar_finalize (GObject *object)
{
  g_ptr_array_unref (WB_HAZARD_BAR (object)->hazards);
  G_OBJECT_CLASS (wb_hazard_bar_parent_class)->finalize (object);
}

static void
wb_hazard_bar_class_init (WbHazardBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_hazard_bar_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_hazard_bar_finalize;
  signals[ANSWERED] = g_signal_new ("answered", WB_TYPE_HAZARD_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 4,
                                    G_TYPE_INT64, G_TYPE_BOOLEAN, G_TYPE_BOOLEAN, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "hazardbar");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
button_new (const char *label,
            GCallback   clicked,
            gpointer    user)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", clicked, user);
  return button;
}

static void
wb_hazard_bar_init (WbHazardBar *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->hazards = g_ptr_array_new_with_free_func (hazard_free);
  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->shape = line_new ("shape");
  self->text = line_new ("heading");
  self->advice = line_new ("advice");
  self->more = line_new ("hint");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->text);
  gtk_box_append (GTK_BOX (words), self->advice);
  gtk_box_append (GTK_BOX (words), self->more);
  self->out = button_new (_("It is out now"), G_CALLBACK (on_out_clicked_cb), self);
  self->seen = button_new (_("I have seen to it"), G_CALLBACK (on_seen_clicked_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->shape);
  gtk_box_append (GTK_BOX (self->box), words);
  gtk_box_append (GTK_BOX (self->box), self->out);
  gtk_box_append (GTK_BOX (self->box), self->seen);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_hazard_bar_new (void)
{
  return g_object_new (WB_TYPE_HAZARD_BAR, NULL);
}

/*
 * What the hit stands in place of, or is told already by; NULL: nothing. An older reading that is over a limit and a newer one
 * that tells that it may be passed again are two things; what is being typed stands for what the record says of the same limit,
 * but for a worse one.
 */
static Hazard *
find (WbHazardBar         *self,
      gint64               sample,
      const WbAppBenchHit *hit,
      gboolean             typed)
{
  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample != sample || (int) hazard->kind != hit->limit->kind)
        continue;
      if (hazard->typed == typed ? hazard->level == hit->level : typed ? hit->level >= hazard->level : hazard->level >= hit->level)
        return hazard;
    }
  return NULL;
}

static void
tell (WbHazardBar         *self,
      WbAppBenchSample    *sample,
      const WbAppBenchHit *hit,
      gboolean             typed)
{
  Hazard *told = find (self, wb_app_bench_sample_get_id (sample), hit, typed);
  Hazard *hazard;

  /* An answer to what is being typed is none to what came into the record beside it. */
  if (told != NULL && told->typed && !typed && told->answered && !g_str_equal (told->text, hit->text))
    told = NULL;
  /* What is being typed is newer than what the record says of the same limit. */
  if (told != NULL && (g_str_equal (told->text, hit->text) || (told->typed && !typed)))
    {
      told->recorded = told->recorded || (!typed && !told->typed);
      return;
    }
  if (told != NULL)
    g_ptr_array_remove (self->hazards, told);
  hazard = g_new0 (Hazard, 1);
  hazard->sample = wb_app_bench_sample_get_id (sample);
  hazard->kind = hit->limit->kind;
  hazard->level = hit->level;
  hazard->code = g_strdup (wb_app_bench_sample_get_code (sample));
  hazard->text = g_strdup (hit->text);
  hazard->typed = typed;
  hazard->recorded = !typed;
  hazard->advice = g_strdup (hit->advice);
  hazard->alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  g_ptr_array_add (self->hazards, hazard);
}

static gboolean
is_hit (const GPtrArray *hits,
        const Hazard    *hazard)
{
  for (guint i = 0; hits != NULL && i < hits->len; i++)
    {
      const WbAppBenchHit *hit = g_ptr_array_index (hits, i);

      if (hit->limit->kind == (int) hazard->kind && hit->level == hazard->level)
        return TRUE;
    }
  return FALSE;
}

/* What was told of a number that was typed wrong goes with it; so does, of the record, what a later reading has overtaken. */
static void
drop_past (WbHazardBar     *self,
           gint64           sample,
           gboolean         typed,
           const GPtrArray *hits)
{
  for (guint i = self->hazards->len; i > 0; i--)
    {
      const Hazard *hazard = g_ptr_array_index (self->hazards, i - 1);

      if (hazard->sample == sample && hazard->typed == typed && (typed || hazard->recorded) && !is_hit (hits, hazard))
        g_ptr_array_remove_index (self->hazards, i - 1);
    }
}

void
wb_hazard_bar_look (WbHazardBar      *self,
                    WbAppBenchSample *sample,
                    const GPtrArray  *readings)
{
  g_autoptr (GPtrArray) hits = NULL;

  g_return_if_fail (WB_IS_HAZARD_BAR (self));

  hits = wb_app_bench_check_readings (sample, readings);
  drop_past (self, wb_app_bench_sample_get_id (sample), TRUE, hits);
  for (guint i = 0; i < hits->len; i++)
    tell (self, sample, g_ptr_array_index (hits, i), TRUE);
  update (self);
}

void
wb_hazard_bar_look_at_record (WbHazardBar      *self,
                              WbAppBenchSample *sample)
{
  g_autoptr (GPtrArray) hits = NULL;

  g_return_if_fail (WB_IS_HAZARD_BAR (self));

  hits = wb_app_bench_dup_unanswered (sample);
  drop_past (self, wb_app_bench_sample_get_id (sample), FALSE, hits);
  for (guint i = 0; hits != NULL && i < hits->len; i++)
    tell (self, sample, g_ptr_array_index (hits, i), FALSE);
  update (self);
}

/* A flame that is out is over no limit any more; what burns or leaks beside it is another matter. */
static gboolean
is_out (const Hazard     *hazard,
        WbAppBenchSample *sample)
{
  return hazard->alight && urgency (hazard) > 1
         && (sample == NULL || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT);
}

/* The record has the answer, or tells no hazard any more: if that is taken back there, it is asked anew. */
static gboolean
is_settled (const Hazard     *hazard,
            WbAppBenchSample *sample)
{
  if (hazard->typed || sample == NULL || wb_app_bench_is_unanswered (sample))
    return FALSE;
  return hazard->answered || hazard->recorded;
}

void
wb_hazard_bar_follow (WbHazardBar *self,
                      WbAppBench  *bench)
{
  gboolean gone = FALSE;

  g_return_if_fail (WB_IS_HAZARD_BAR (self));

  for (guint i = self->hazards->len; i > 0; i--)
    {
      const Hazard *hazard = g_ptr_array_index (self->hazards, i - 1);
      WbAppBenchSample *sample = wb_app_bench_find (bench, hazard->sample);

      if (is_out (hazard, sample) || is_settled (hazard, sample))
        {
          g_ptr_array_remove_index (self->hazards, i - 1);
          gone = TRUE;
        }
    }
  if (gone)
    update (self);
}

void
wb_hazard_bar_forget (WbHazardBar *self,
                      gint64       sample)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  for (guint i = self->hazards->len; i > 0; i--)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i - 1);

      if (hazard->sample == sample)
        hazard->typed = FALSE;
      if (hazard->sample == sample && hazard->answered)
        g_ptr_array_remove_index (self->hazards, i - 1);
    }
}

void
wb_hazard_bar_clear (WbHazardBar *self)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  g_ptr_array_set_size (self->hazards, 0);
  update (self);
}

void
wb_hazard_bar_hush (WbHazardBar *self,
                    gint64       sample)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample == sample)
        hazard->answered = TRUE;
    }
  update (self);
}

void
wb_hazard_bar_ask_again (WbHazardBar *self,
                         gint64       sample,
                         const char  *why)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  g_return_if_fail (why != NULL);

  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample != sample)
        continue;
      hazard->answered = FALSE;
      g_free (hazard->why);
      hazard->why = g_strdup (why);
    }
  update (self);
}

static gboolean
is_open_from (WbHazardBar      *self,
              gint64            sample,
              WbCraftLimitLevel least)
{
  for (guint i = 0; i < self->hazards->len; i++)
    {
      const Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample == sample && !hazard->answered && hazard->level >= least)
        return TRUE;
    }
  return FALSE;
}

gboolean
wb_hazard_bar_is_open (WbHazardBar *self,
                       gint64       sample)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), FALSE);
  return is_open_from (self, sample, WB_CRAFT_NEAR);
}

gboolean
wb_hazard_bar_is_over (WbHazardBar *self,
                       gint64       sample)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), FALSE);
  return is_open_from (self, sample, WB_CRAFT_OVER);
}

guint
wb_hazard_bar_get_n_open (WbHazardBar *self)
{
  g_autoptr (GHashTable) samples = NULL;

  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), 0);
  samples = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (!hazard->answered)
        g_hash_table_add (samples, &hazard->sample);
    }
  return g_hash_table_size (samples);
}

const char *
wb_hazard_bar_get_text (WbHazardBar *self)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), NULL);
  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_text (GTK_LABEL (self->text)) : "";
}

const char *
wb_hazard_bar_get_advice (WbHazardBar *self)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), NULL);
  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_text (GTK_LABEL (self->advice)) : "";
}

const char *
wb_hazard_bar_get_more (WbHazardBar *self)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), NULL);
  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_text (GTK_LABEL (self->more)) : "";
}

static int
by_urgency (gconstpointer a,
            gconstpointer b)
{
  return urgency (*(const Hazard *const *) a) - urgency (*(const Hazard *const *) b);
}

/*
 * All that was told of a sample and is answered now, the most urgent first. With `typed` what its panel tells, that which was
 * answered before with it: one note of one reading names each. Caller frees.
 */
static char *
dup_answered (WbHazardBar *self,
              gint64       sample,
              gboolean     typed)
{
  g_autoptr (GPtrArray) told = g_ptr_array_new ();
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample == sample && hazard->typed == typed && (typed || !hazard->answered))
        g_ptr_array_add (told, hazard);
    }
  g_ptr_array_sort (told, by_urgency);
  for (guint i = 0; i < told->len; i++)
    g_string_append_printf (text, i > 0 ? "; %s" : "%s", ((const Hazard *) g_ptr_array_index (told, i))->text);
  return g_string_free (text, FALSE);
}

void
wb_hazard_bar_answer (WbHazardBar *self,
                      gboolean     out)
{
  Hazard *hazard;
  gint64 sample;
  gboolean typed = FALSE;
  g_autofree char *text = NULL;

  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  hazard = get_first_open (self);
  if (hazard == NULL)
    return;
  sample = hazard->sample;
  for (guint i = 0; i < self->hazards->len; i++)
    {
      const Hazard *other = g_ptr_array_index (self->hazards, i);

      typed = typed || (other->sample == sample && !other->answered && other->typed);
    }
  /* what is typed is answered in its own words; what the record asks beside it is, too */
  text = dup_answered (self, sample, typed);
  /* One look at a candle answers all that its reading told. */
  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *other = g_ptr_array_index (self->hazards, i);

      if (other->sample != sample || other->answered)
        continue;
      other->answered = TRUE;
      g_clear_pointer (&other->why, g_free);
    }
  update (self);
  g_signal_emit (self, signals[ANSWERED], 0, sample, out, typed, text);
}
