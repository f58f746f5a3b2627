/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-beside-photos.h"

#include "wb-accessible-name.h"
#include "wb-app-attachments.h"
#include "wb-app-photo.h"
#include "wb-photo-dialog.h"
#include "wb-photo-words.h"
#include "wb-plot-beside.h"
#include "wb-swatch.h"

#include <glib/gi18n.h>

/* CSS node: besidephotos. */

#define DECODED_PX 260
#define SHOWN_PX 150
/* A photo belongs to the hour that it is nearest to. */
#define NEAR_MIN 30.0
#define HOURS_MAX 8
#define BURNS_MAX 60
/* Decoded pictures that are kept for when they are shown again: some 50 MB. */
#define TEXTURES_MOST 200

/* The photos of one sample of a pick. */
typedef struct
{
  gsize             pick;
  guint             sample; /* index in the pick's data */
  WbAppAttachments *photos;
} Source;

/* What is chosen: a burn's number, or a third. */
typedef struct
{
  int     number; /* 0: a third */
  WbStage stage;
} Choice;

/* A picture on its way. */
typedef struct
{
  WbBesidePhotos       *self; /* held while it is decoded */
  GtkPicture           *picture;
  WbAppAttachmentsItem *item;
} Thumbnail;

struct _WbBesidePhotos
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkDropDown   *burn;
  GtkLabel      *none;
  GtkGrid       *grid;

  /* owned */
  WbAppNotebook *notebook;
  WbCraftPick   *picks;      /* with references on their answers */
  gsize          n_picks;
  GPtrArray     *sources;    /* Source */
  GArray        *choices;    /* Choice of each line of the list */
  GHashTable    *textures;   /* SHA-256 -> GdkTexture, TEXTURES_MOST at most, of one notebook */
  GQueue         waiting;    /* Thumbnail */
  GCancellable  *cancellable;

  /* state */
  gconstpointer  pictured;   /* the notebook of the textures; only compared */
  guint          filling_id; /* source id; 0: none */
  gboolean       decoding;
  gboolean       quiet;
};

G_DEFINE_FINAL_TYPE (WbBesidePhotos, wb_beside_photos, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_READY, N_PROPS };
static GParamSpec *properties[N_PROPS];

static void
source_free (gpointer data)
{
  Source *source = data;

  g_object_unref (source->photos);
  g_free (source);
}

static void
thumbnail_free (gpointer data)
{
  Thumbnail *thumbnail = data;

  g_clear_object (&thumbnail->self);
  g_object_unref (thumbnail->picture);
  g_object_unref (thumbnail->item);
  g_free (thumbnail);
}

/* ---- Decoding, one after another: what a decoder takes in memory is taken once ---- */

static void decode_next (WbBesidePhotos *self);

/* What is on screen is held by its picture. */
static void
keep_texture (WbBesidePhotos *self,
              const char     *sha256,
              GdkTexture     *texture /* taken */)
{
  if (g_hash_table_size (self->textures) >= TEXTURES_MOST)
    g_hash_table_remove_all (self->textures);
  g_hash_table_insert (self->textures, g_strdup (sha256), texture);
}

static void
on_decoded_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  Thumbnail *thumbnail = user;
  g_autoptr (WbBesidePhotos) self = g_steal_pointer (&thumbnail->self);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppPicture) picture = wb_app_photo_load_finish (WB_APP_NOTEBOOK (source), result, &error);

  self->decoding = FALSE;
  if (picture != NULL)
    {
      GdkTexture *texture = wb_photo_words_texture_new (picture);

      gtk_picture_set_paintable (thumbnail->picture, GDK_PAINTABLE (texture));
      if (WB_APP_NOTEBOOK (source) == self->notebook)
        keep_texture (self, wb_app_attachments_item_get_record (thumbnail->item)->sha256, texture);
      else
        g_object_unref (texture);
    }
  thumbnail_free (thumbnail);
  decode_next (self);
}

static void
decode_next (WbBesidePhotos *self)
{
  Thumbnail *next;

  if (self->decoding || self->notebook == NULL)
    return;
  next = g_queue_pop_head (&self->waiting);
  if (next == NULL)
    return;
  self->decoding = TRUE;
  next->self = g_object_ref (self);
  wb_app_photo_load_async (self->notebook, wb_app_attachments_item_get_record (next->item), DECODED_PX, self->cancellable, on_decoded_cb, next);
}

static GtkWidget *
picture_new (WbBesidePhotos       *self,
             WbAppAttachmentsItem *item)
{
  GtkWidget *picture = gtk_picture_new ();
  GdkTexture *texture = g_hash_table_lookup (self->textures, wb_app_attachments_item_get_record (item)->sha256);
  Thumbnail *thumbnail;

  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_widget_set_size_request (picture, SHOWN_PX, SHOWN_PX);
  if (texture != NULL)
    {
      gtk_picture_set_paintable (GTK_PICTURE (picture), GDK_PAINTABLE (texture));
      return picture;
    }
  thumbnail = g_new0 (Thumbnail, 1);
  thumbnail->picture = GTK_PICTURE (g_object_ref (picture));
  thumbnail->item = g_object_ref (item);
  g_queue_push_tail (&self->waiting, thumbnail);
  return picture;
}

/* ---- Which burns ---- */

/* The burn of that number of a sample; NULL: there is none. */
static const WbCraftBurn *
find_burn (const WbCraftAnswer *answer,
           guint                sample,
           int                  number)
{
  for (guint i = 0; i < answer->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &answer->figures->burns[i];

      if (burn->sample == sample && wb_dataset_get_burn (answer->data, burn->burn)->number == number)
        return burn;
    }
  return NULL;
}

static gboolean
is_chosen (const Choice      *choice,
           const WbCraftBurn *burn,
           int                number)
{
  if (choice->number > 0)
    return number == choice->number;
  return burn != NULL && burn->stage_known && burn->stage == choice->stage;
}

static gboolean
is_of_pick (const WbCraftPick *pick,
            guint              sample)
{
  if (pick->sample >= 0)
    return sample == (guint) pick->sample;
  return g_array_index (pick->answer->data->sample_cell, guint, sample) == pick->cell;
}

static int
get_last_number (WbBesidePhotos *self)
{
  int last = 0;

  for (gsize k = 0; k < self->n_picks; k++)
    {
      const WbDataset *data = self->picks[k].answer->data;

      for (guint i = 0; i < data->burns->len; i++)
        if (is_of_pick (&self->picks[k], g_array_index (data->burn_sample, guint, i)))
          last = MAX (last, (int) wb_dataset_get_burn (data, i)->number);
    }
  return MIN (last, BURNS_MAX);
}

static Choice
get_choice (WbBesidePhotos *self)
{
  guint selected = gtk_drop_down_get_selected (self->burn);

  return selected < self->choices->len ? g_array_index (self->choices, Choice, selected) : (Choice) { 1, WB_STAGE_ALL };
}

/* Full hours that the longest of those burns lasted. */
static guint
count_hours (WbBesidePhotos *self,
             const Choice   *choice)
{
  double longest = 0;

  for (gsize k = 0; k < self->n_picks; k++)
    {
      const WbCraftAnswer *answer = self->picks[k].answer;

      for (guint i = 0; i < answer->figures->n_burns; i++)
        {
          const WbCraftBurn *burn = &answer->figures->burns[i];

          if (is_of_pick (&self->picks[k], burn->sample)
              && is_chosen (choice, burn, (int) wb_dataset_get_burn (answer->data, burn->burn)->number))
            longest = MAX (longest, MAX (burn->alight_min, burn->last_min));
        }
    }
  return (guint) CLAMP (longest / 60 + 0.25, 0, HOURS_MAX);
}

/* ---- The grid ---- */

/* The photo of the pick that is nearest to that hour of a chosen burn; NULL: none is near. Its sample goes to `source`. */
static WbAppAttachmentsItem *
find_photo (WbBesidePhotos *self,
            gsize           pick,
            const Choice   *choice,
            guint           hour,
            Source        **source)
{
  WbAppAttachmentsItem *best = NULL;
  double least = NEAR_MIN;

  for (guint i = 0; i < self->sources->len; i++)
    {
      Source *from = self->sources->pdata[i];
      GListModel *photos = G_LIST_MODEL (from->photos);

      for (guint k = 0; from->pick == pick && k < g_list_model_get_n_items (photos); k++)
        {
          g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (photos, k);
          int number = wb_app_attachments_item_get_burn (item);
          double away = fabs (wb_app_attachments_item_get_minute (item) - 60.0 * hour);
          const WbCraftBurn *burn = number > 0 ? find_burn (self->picks[pick].answer, from->sample, number) : NULL;

          if (number == 0 || !is_chosen (choice, burn, number) || !(away < least || (best == NULL && away <= least)))
            continue;
          best = item; /* the list holds it */
          *source = from;
          least = away;
        }
    }
  return best;
}

static const WbSample *
get_sample (WbBesidePhotos *self,
            const Source   *source)
{
  return wb_dataset_get_sample (self->picks[source->pick].answer->data, source->sample);
}

static void
on_photo_clicked_cb (GtkButton      *button,
                     WbBesidePhotos *self)
{
  WbAppAttachmentsItem *item = g_object_get_data (G_OBJECT (button), "photo");
  const WbSample *sample = get_sample (self, g_object_get_data (G_OBJECT (button), "source"));

  gtk_window_present (GTK_WINDOW (wb_photo_dialog_new (GTK_WIDGET (self), self->notebook, item, sample->record.id, sample->code)));
}

static char *
dup_caption (WbBesidePhotos       *self,
             WbAppAttachmentsItem *item,
             const Source         *source)
{
  g_autofree char *minute = wb_number_format (wb_app_attachments_item_get_minute (item), 0, NULL);

  /* Translators: a sample's code, and the minute of its burn at which the photo was taken: "B4-2, 62 min". */
  return g_strdup_printf (_("%s, %s min"), get_sample (self, source)->code, minute);
}

static GtkWidget *
photo_new (WbBesidePhotos       *self,
           WbAppAttachmentsItem *item,
           Source               *source)
{
  g_autofree char *caption = dup_caption (self, item, source);
  g_autofree char *title = wb_photo_words_dup_title (item, get_sample (self, source)->code);
  g_autofree char *spoken = g_strdup_printf (_("Photo of %s"), title);
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *words = g_object_new (GTK_TYPE_LABEL, "label", caption, "wrap", TRUE, NULL);

  gtk_widget_add_css_class (words, "hint");
  gtk_box_append (GTK_BOX (box), picture_new (self, item));
  gtk_box_append (GTK_BOX (box), words);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_widget_set_tooltip_text (button, _("Show it large"));
  g_object_set_data_full (G_OBJECT (button), "photo", g_object_ref (item), g_object_unref);
  g_object_set_data (G_OBJECT (button), "source", source);
  g_signal_connect (button, "clicked", G_CALLBACK (on_photo_clicked_cb), self);
  return button;
}

static GtkWidget *
text_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "wrap", TRUE, "xalign", 0.0, "max-width-chars", 16, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static void
clear_grid (WbBesidePhotos *self)
{
  GtkWidget *child;

  g_queue_clear_full (&self->waiting, thumbnail_free);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))) != NULL)
    gtk_grid_remove (self->grid, child);
}

/* Hours without a photo of any pick would take the room of those with one. */
static gboolean
has_any (WbBesidePhotos *self,
         const Choice   *choice,
         guint           hour)
{
  Source *source = NULL;

  for (gsize i = 0; i < self->n_picks; i++)
    if (find_photo (self, i, choice, hour, &source) != NULL)
      return TRUE;
  return FALSE;
}

static void
add_heads (WbBesidePhotos *self,
           const Choice   *choice,
           guint           hours)
{
  for (guint hour = 0; hour <= hours; hour++)
    {
      g_autofree char *text = hour == 0 ? g_strdup (_("just lit")) : g_strdup_printf (_("%u h"), hour);
      GtkWidget *head;

      if (!has_any (self, choice, hour))
        continue;
      head = text_new (text, "heading");
      gtk_widget_set_size_request (head, SHOWN_PX, -1);
      gtk_grid_attach (self->grid, head, (int) hour + 1, 0, 1, 1);
    }
}

/* FALSE: it has no photo in any of the hours. */
static gboolean
add_line (WbBesidePhotos *self,
          gsize           pick,
          const Choice   *choice,
          guint           hours)
{
  g_autofree char *name = wb_craft_pick_dup_name (self->picks, self->n_picks, pick);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *swatch = wb_swatch_new (wb_plot_beside_get_series (self->picks, self->n_picks, pick));
  gboolean any = FALSE;

  gtk_widget_set_halign (swatch, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (head), text_new (name, "heading"));
  gtk_box_append (GTK_BOX (head), swatch);
  gtk_grid_attach (self->grid, head, 0, (int) pick + 1, 1, 1);
  for (guint hour = 0; hour <= hours; hour++)
    {
      Source *source = NULL;
      WbAppAttachmentsItem *photo = find_photo (self, pick, choice, hour, &source);
      GtkWidget *cell;

      if (!has_any (self, choice, hour))
        continue;
      cell = photo != NULL ? photo_new (self, photo, source) : text_new (_("no photo"), "dim-label");

      any = any || photo != NULL;
      gtk_grid_attach (self->grid, cell, (int) hour + 1, (int) pick + 1, 1, 1);
    }
  return any;
}

static void
fill (WbBesidePhotos *self)
{
  Choice choice = get_choice (self);
  guint hours = count_hours (self, &choice);
  gboolean any = FALSE;

  clear_grid (self);
  if (self->n_picks > 0)
    add_heads (self, &choice, hours);
  for (gsize i = 0; i < self->n_picks; i++)
    any = add_line (self, i, &choice, hours) || any;
  gtk_widget_set_visible (GTK_WIDGET (self->none), !any);
  gtk_label_set_text (self->none, any ? "" : wb_beside_photos_get_ready (self)
                                               ? _("No photo of these burns whose time is known is in the notebook. Photos are added on the page Burn.")
                                               : _("Looking for photos…"));
  decode_next (self);
}

/* A choice of all that burnt; what was chosen stays so. */
static void
fill_choices (WbBesidePhotos *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  Choice before = get_choice (self);
  int last = get_last_number (self);
  guint selected = 0;

  g_array_set_size (self->choices, 0);
  for (int number = 1; number <= last; number++)
    {
      g_autofree char *name = g_strdup_printf (_("burn %d"), number);
      Choice choice = { number, WB_STAGE_ALL };

      gtk_string_list_append (names, name);
      g_array_append_val (self->choices, choice);
    }
  for (guint stage = 0; last > 0 && stage < WB_N_STAGES; stage++)
    {
      Choice choice = { 0, (WbStage) stage };

      gtk_string_list_append (names, _(wb_stage_get_label ((WbStage) stage)));
      g_array_append_val (self->choices, choice);
    }
  for (guint i = 0; i < self->choices->len; i++)
    {
      const Choice *choice = &g_array_index (self->choices, Choice, i);

      if (choice->number == before.number && choice->stage == before.stage)
        selected = i;
    }
  self->quiet = TRUE;
  gtk_drop_down_set_model (self->burn, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->burn, selected);
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->burn)), last > 0);
  self->quiet = FALSE;
}

static gboolean
on_fill_cb (gpointer user)
{
  WbBesidePhotos *self = user;

  self->filling_id = 0;
  fill (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
  return G_SOURCE_REMOVE;
}

/* Many lists come in at once. */
static void
fill_soon (WbBesidePhotos *self)
{
  if (self->filling_id == 0)
    self->filling_id = g_idle_add (on_fill_cb, self);
}

static void
on_burn_selected_cb (WbBesidePhotos *self)
{
  if (!self->quiet)
    fill (self);
}

/* ---- What is shown ---- */

static void
add_source (WbBesidePhotos *self,
            gsize           pick,
            guint           sample)
{
  Source *source = g_new (Source, 1);
  gint64 id = wb_dataset_get_sample (self->picks[pick].answer->data, sample)->record.id;

  *source = (Source) { pick, sample, wb_app_attachments_new (self->notebook, id, WB_ATTACHMENT_PHOTO) };
  g_signal_connect_object (source->photos, "notify::loaded", G_CALLBACK (fill_soon), self, G_CONNECT_SWAPPED);
  g_ptr_array_add (self->sources, source);
}

static void
drop (WbBesidePhotos *self)
{
  g_clear_handle_id (&self->filling_id, g_source_remove);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->box != NULL)
    clear_grid (self);
  g_queue_clear_full (&self->waiting, thumbnail_free);
  g_ptr_array_set_size (self->sources, 0);
  for (gsize i = 0; i < self->n_picks; i++)
    wb_craft_answer_unref ((WbCraftAnswer *) self->picks[i].answer);
  g_clear_pointer (&self->picks, g_free);
  self->n_picks = 0;
  g_clear_object (&self->notebook);
}

static void
wb_beside_photos_get_property (GObject    *object,
                               guint       id,
                               GValue     *value,
                               GParamSpec *spec)
{
  if (id == PROP_READY)
    g_value_set_boolean (value, wb_beside_photos_get_ready (WB_BESIDE_PHOTOS (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_beside_photos_dispose (GObject *object)
{
  WbBesidePhotos *self = WB_BESIDE_PHOTOS (object);

  drop (self);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_beside_photos_parent_class)->dispose (object);
}

static void
wb_beside_photos_finalize (GObject *object)
{
  WbBesidePhotos *self = WB_BESIDE_PHOTOS (object);

  g_ptr_array_unref (self->sources);
  g_array_unref (self->choices);
  g_hash_table_unref (self->textures);
  G_OBJECT_CLASS (wb_beside_photos_parent_class)->finalize (object);
}

static void
wb_beside_photos_class_init (WbBesidePhotosClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->get_property = wb_beside_photos_get_property;
  G_OBJECT_CLASS (klass)->dispose = wb_beside_photos_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_beside_photos_finalize;
  properties[PROP_READY] = g_param_spec_boolean ("ready", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "besidephotos");
}

static GtkWidget *
choice_new (WbBesidePhotos *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->burn = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  wb_accessible_name_drop_down (self->burn, _("Burn whose photos are shown"));
  g_signal_connect_swapped (self->burn, "notify::selected", G_CALLBACK (on_burn_selected_cb), self);
  gtk_box_append (GTK_BOX (row), gtk_label_new (_("Photos of")));
  gtk_box_append (GTK_BOX (row), GTK_WIDGET (self->burn));
  return row;
}

static void
wb_beside_photos_init (WbBesidePhotos *self)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  self->sources = g_ptr_array_new_with_free_func (source_free);
  self->choices = g_array_new (FALSE, FALSE, sizeof (Choice));
  self->textures = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  g_queue_init (&self->waiting);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->none = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "visible", FALSE, NULL);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 8);
  gtk_grid_set_row_spacing (self->grid, 8);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (self->grid));
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (self->box), choice_new (self));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->none));
  gtk_box_append (GTK_BOX (self->box), scrolled);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  fill_choices (self);
}

GtkWidget *
wb_beside_photos_new (void)
{
  return g_object_new (WB_TYPE_BESIDE_PHOTOS, NULL);
}

void
wb_beside_photos_show (WbBesidePhotos    *self,
                       WbAppNotebook     *notebook,
                       const WbCraftPick *picks,
                       gsize              n_picks)
{
  g_return_if_fail (WB_IS_BESIDE_PHOTOS (self));
  g_return_if_fail (n_picks == 0 || (picks != NULL && notebook != NULL));

  /* pictures of a notebook are none of the next one's */
  if (notebook != self->pictured)
    g_hash_table_remove_all (self->textures);
  self->pictured = notebook;
  drop (self);
  self->cancellable = g_cancellable_new ();
  if (n_picks > 0)
    {
      self->notebook = g_object_ref (notebook);
      self->picks = g_memdup2 (picks, n_picks * sizeof *picks);
      self->n_picks = n_picks;
    }
  for (gsize i = 0; i < n_picks; i++)
    {
      wb_craft_answer_ref ((WbCraftAnswer *) picks[i].answer);
      for (guint k = 0; k < picks[i].answer->data->samples->len; k++)
        if (is_of_pick (&self->picks[i], k))
          add_source (self, i, k);
    }
  fill_choices (self);
  fill (self);
}

gboolean
wb_beside_photos_get_ready (WbBesidePhotos *self)
{
  g_return_val_if_fail (WB_IS_BESIDE_PHOTOS (self), FALSE);

  for (guint i = 0; i < self->sources->len; i++)
    if (!wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (((Source *) self->sources->pdata[i])->photos)))
      return FALSE;
  return self->filling_id == 0;
}

guint
wb_beside_photos_get_n_kept (WbBesidePhotos *self)
{
  g_return_val_if_fail (WB_IS_BESIDE_PHOTOS (self), 0);

  return g_hash_table_size (self->textures);
}

char *
wb_beside_photos_dup_text (WbBesidePhotos *self,
                           guint           pick,
                           guint           hour)
{
  GtkWidget *cell;
  const char *text;

  g_return_val_if_fail (WB_IS_BESIDE_PHOTOS (self), NULL);

  cell = gtk_grid_get_child_at (self->grid, (int) hour + 1, (int) pick + 1);
  if (cell == NULL)
    return NULL;
  if (GTK_IS_BUTTON (cell))
    cell = gtk_widget_get_last_child (gtk_button_get_child (GTK_BUTTON (cell)));
  text = gtk_label_get_text (GTK_LABEL (cell));
  return g_strdup (text);
}
