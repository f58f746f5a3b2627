/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evening-grid.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: eveninggrid; entries have the classes wrong, doubted, stored. Four panes: corner, heads, codes, cells; heads and
 * codes scroll with the cells. Each entry is called by its sample, moment and field.
 */

#define TIME_CHARS 6
#define FIELD_CHARS 5
#define WORD_CHARS 9

struct _WbEveningGrid
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *panes;
  GtkWidget    *heads;  /* GtkScrolledWindow, as the next two */
  GtkWidget    *codes;
  GtkWidget    *cells;

  /* owned */
  WbAppEvening *evening;
  GPtrArray    *entries; /* by row, then column; borrowed from the pane */
  GPtrArray    *alls;    /* by column; NULL where no time is */
  GPtrArray    *labels;  /* by column */

  /* state */
  gboolean      quiet;   /* the program sets a text */
  gboolean      every;   /* Enter passes over no cell */
};

G_DEFINE_FINAL_TYPE (WbEveningGrid, wb_evening_grid, GTK_TYPE_WIDGET)

enum { CELL, DONE, LOCKED, N_SIGNALS };
static guint signals[N_SIGNALS];

static GQuark
row_quark (void)
{
  return g_quark_from_static_string ("wb-evening-row");
}

static GQuark
column_quark (void)
{
  return g_quark_from_static_string ("wb-evening-column");
}

static void
get_place (GtkWidget *entry,
           guint     *row,
           guint     *column)
{
  *row = GPOINTER_TO_UINT (g_object_get_qdata (G_OBJECT (entry), row_quark ()));
  *column = GPOINTER_TO_UINT (g_object_get_qdata (G_OBJECT (entry), column_quark ()));
}

GtkWidget *
wb_evening_grid_get_entry (WbEveningGrid *self,
                           guint          row,
                           guint          column)
{
  guint index;

  g_return_val_if_fail (WB_IS_EVENING_GRID (self), NULL);
  if (self->evening == NULL || column >= self->alls->len)
    return NULL;
  if (row == WB_APP_EVENING_ALL)
    return g_ptr_array_index (self->alls, column);
  index = row * wb_app_evening_get_n_columns (self->evening) + column;
  return index < self->entries->len ? g_ptr_array_index (self->entries, index) : NULL;
}

void
wb_evening_grid_focus (WbEveningGrid *self,
                       guint          row,
                       guint          column)
{
  GtkWidget *entry = wb_evening_grid_get_entry (self, row, column);

  if (entry != NULL)
    gtk_widget_grab_focus (entry);
}

/* ---- Showing ---- */

static void
set_class (GtkWidget  *entry,
           const char *name,
           gboolean    has)
{
  if (has)
    gtk_widget_add_css_class (entry, name);
  else
    gtk_widget_remove_css_class (entry, name);
}

/* What holds where a cell is empty. NULL: nothing. Caller frees. */
static char *
dup_placeholder (WbEveningGrid *self,
                 guint          row,
                 guint          column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self->evening, column);
  double alone;

  if (row == WB_APP_EVENING_ALL)
    return NULL;
  if (spec->kind == WB_APP_EVENING_TIME)
    return g_strdup (wb_app_evening_get_text (self->evening, WB_APP_EVENING_ALL, column));
  if (spec->kind == WB_APP_EVENING_RATER && wb_app_evening_is_asked (self->evening, row, column))
    return g_strdup (wb_app_evening_get_head (self->evening, WB_APP_EVENING_WHO));
  if (spec->kind != WB_APP_EVENING_FIELD || spec->column != WB_COLUMN_ALONE)
    return NULL;
  alone = wb_app_evening_foretell_alone (self->evening, row, spec->moment);
  return isnan (alone) ? NULL : g_strdup (_(wb_column_get_spec (WB_COLUMN_ALONE)->words[(int) alone].label));
}

/* What the record has stands where nothing is typed. */
static void
update_entry (WbEveningGrid *self,
              guint          row,
              guint          column)
{
  GtkWidget *entry = wb_evening_grid_get_entry (self, row, column);
  const WbAppEveningCell *cell = wb_app_evening_get_cell (self->evening, row, column);
  const char *typed = wb_app_evening_get_text (self->evening, row, column);
  gboolean stored = cell->state == WB_APP_EVENING_STORED, wrong = cell->state == WB_APP_EVENING_WRONG;
  gboolean only_stored = stored && *typed == '\0';
  g_autofree char *stands = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  g_autofree char *placeholder = dup_placeholder (self, row, column);
  const char *text = only_stored ? cell->stored : typed;

  if (g_strcmp0 (stands, text) != 0)
    {
      self->quiet = TRUE;
      gtk_editable_set_text (GTK_EDITABLE (entry), text);
      self->quiet = FALSE;
    }
  gtk_editable_set_editable (GTK_EDITABLE (entry), !only_stored);
  set_class (entry, "stored", stored);
  set_class (entry, "wrong", wrong);
  set_class (entry, "doubted", cell->state == WB_APP_EVENING_DOUBTED);
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               wrong ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, wrong ? cell->problem : "", -1);
  if (placeholder != NULL || gtk_entry_get_placeholder_text (GTK_ENTRY (entry)) != NULL)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), placeholder);
}

/* A column of throw burns shows where there is one. */
static void
update_shown (WbEveningGrid *self,
              guint          column)
{
  gboolean shown = wb_app_evening_is_shown (self->evening, column);

  gtk_widget_set_visible (g_ptr_array_index (self->labels, column), shown);
  for (guint row = 0; row < wb_app_evening_get_n_rows (self->evening); row++)
    gtk_widget_set_visible (wb_evening_grid_get_entry (self, row, column), shown);
}

void
wb_evening_grid_update (WbEveningGrid *self)
{
  g_return_if_fail (WB_IS_EVENING_GRID (self));

  if (self->evening == NULL || self->alls->len != wb_app_evening_get_n_columns (self->evening))
    return;
  for (guint column = 0; column < self->alls->len; column++)
    {
      if (g_ptr_array_index (self->alls, column) != NULL)
        update_entry (self, WB_APP_EVENING_ALL, column);
      update_shown (self, column);
      for (guint row = 0; row < wb_app_evening_get_n_rows (self->evening); row++)
        update_entry (self, row, column);
    }
}

static void
on_entry_changed_cb (WbEveningGrid *self,
                     GtkEditable   *entry)
{
  guint row, column;

  if (self->quiet)
    return;
  get_place (GTK_WIDGET (entry), &row, &column);
  wb_app_evening_set_text (self->evening, row, column, gtk_editable_get_text (entry));
}

static void
on_entry_focus_cb (GtkEventControllerFocus *controller,
                   WbEveningGrid           *self)
{
  guint row, column;

  get_place (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller)), &row, &column);
  g_signal_emit (self, signals[CELL], 0, row, column);
}

/* ---- Going through it ---- */

/*
 * Does Enter come there? No paper has the kind of a burn, and few samples have a time of their own: those it passes over, a time
 * only where the head or the record has given it. What is asked of throw burns it passes over in other lines.
 */
static gboolean
is_on_the_way (WbEveningGrid *self,
               guint          row,
               guint          column)
{
  WbAppEveningKind kind = wb_app_evening_get_column (self->evening, column)->kind;

  if (!wb_app_evening_is_shown (self->evening, column))
    return FALSE;
  if (self->every || kind != WB_APP_EVENING_TIME)
    return self->every || wb_app_evening_is_asked (self->evening, row, column);
  if (column > 0 && !wb_app_evening_is_asked (self->evening, row, column))
    return FALSE;
  return kind == WB_APP_EVENING_TIME && *wb_app_evening_get_text (self->evening, WB_APP_EVENING_ALL, column) == '\0'
         && wb_app_evening_get_cell (self->evening, row, column)->state != WB_APP_EVENING_STORED;
}

static void
go_on (WbEveningGrid *self,
       guint          row,
       guint          column)
{
  guint moment = wb_app_evening_get_column (self->evening, column)->moment, n_rows = wb_app_evening_get_n_rows (self->evening);
  const WbAppEveningMoment *at = wb_app_evening_get_moment (self->evening, moment);
  guint end = at->first + at->n, next = row == WB_APP_EVENING_ALL ? at->first : column + 1;

  for (guint i = row == WB_APP_EVENING_ALL ? 0 : row; i < n_rows; i++, next = at->first)
    for (; next < end; next++)
      if (is_on_the_way (self, i, next))
        {
          wb_evening_grid_focus (self, i, next);
          return;
        }
  if (moment + 1 < wb_app_evening_get_n_moments (self->evening))
    wb_evening_grid_focus (self, WB_APP_EVENING_ALL, end);
  else
    g_signal_emit (self, signals[DONE], 0);
}

void
wb_evening_grid_set_every (WbEveningGrid *self,
                           gboolean       every)
{
  g_return_if_fail (WB_IS_EVENING_GRID (self));
  self->every = every;
}

/* Along the line, and on in the next one. FALSE: there is no further cell. */
static gboolean
go_along (WbEveningGrid *self,
          guint          row,
          guint          column,
          int            step)
{
  guint n = wb_app_evening_get_n_columns (self->evening), n_rows = wb_app_evening_get_n_rows (self->evening);

  do
    {
      if (step > 0 ? column + 1 < n : column > 0)
        column += step > 0 ? 1 : G_MAXUINT;
      else
        {
          column = step > 0 ? 0 : n - 1;
          /* The heads come before the first line. */
          if (step > 0 ? row != WB_APP_EVENING_ALL && row + 1 >= n_rows : row == WB_APP_EVENING_ALL)
            return FALSE;
          row = step > 0 ? row + 1 : (row == 0 ? WB_APP_EVENING_ALL : row - 1);
        }
    }
  while (wb_evening_grid_get_entry (self, row, column) == NULL || !wb_app_evening_is_shown (self->evening, column));
  wb_evening_grid_focus (self, row, column);
  return TRUE;
}

static void
go_up_or_down (WbEveningGrid *self,
               guint          row,
               guint          column,
               int            step)
{
  guint moment = wb_app_evening_get_column (self->evening, column)->moment;

  if (row == WB_APP_EVENING_ALL)
    {
      if (step > 0)
        wb_evening_grid_focus (self, 0, column);
    }
  else if (step > 0)
    wb_evening_grid_focus (self, row + 1, column);
  else if (row > 0)
    wb_evening_grid_focus (self, row - 1, column);
  else
    wb_evening_grid_focus (self, WB_APP_EVENING_ALL, wb_app_evening_get_moment (self->evening, moment)->first);
}

/* The caret stands at that end of the text, and no part of it is marked but all of it. */
static gboolean
is_at_end (GtkWidget *entry,
           int        step)
{
  int length = (int) g_utf8_strlen (gtk_editable_get_text (GTK_EDITABLE (entry)), -1), start, end;

  if (gtk_editable_get_selection_bounds (GTK_EDITABLE (entry), &start, &end))
    return start == 0 && end == length;
  return gtk_editable_get_position (GTK_EDITABLE (entry)) == (step > 0 ? length : 0);
}

static GtkWidget *
find_focused (WbEveningGrid *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL ? gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY) : NULL;
}

/* Would it change the text of an entry? */
static gboolean
is_of_text (guint           keyval,
            GdkModifierType state)
{
  if ((state & (GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return FALSE;
  if ((state & GDK_CONTROL_MASK) != 0)
    return keyval == GDK_KEY_v || keyval == GDK_KEY_x || keyval == GDK_KEY_BackSpace || keyval == GDK_KEY_Delete;
  return keyval == GDK_KEY_BackSpace || keyval == GDK_KEY_Delete || g_unichar_isprint (gdk_keyval_to_unicode (keyval));
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbEveningGrid         *self)
{
  GtkWidget *entry = find_focused (self);
  guint row, column;

  if (entry == NULL)
    return GDK_EVENT_PROPAGATE;
  get_place (entry, &row, &column);
  if (!gtk_editable_get_editable (GTK_EDITABLE (entry)) && is_of_text (keyval, state))
    {
      gtk_widget_error_bell (entry);
      g_signal_emit (self, signals[LOCKED], 0, row, column);
      return GDK_EVENT_STOP;
    }
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      go_on (self, row, column);
      return GDK_EVENT_STOP;
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      go_up_or_down (self, row, column, keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up ? -1 : 1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return is_at_end (entry, -1) && go_along (self, row, column, -1);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return is_at_end (entry, 1) && go_along (self, row, column, 1);
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
    case GDK_KEY_ISO_Left_Tab:
      return go_along (self, row, column, keyval == GDK_KEY_ISO_Left_Tab || (state & GDK_SHIFT_MASK) != 0 ? -1 : 1);
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* ---- Laying it out ---- */

static int
get_chars (WbEveningGrid *self,
           guint          column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self->evening, column);

  if (spec->kind == WB_APP_EVENING_RATER)
    return WORD_CHARS;
  if (spec->kind != WB_APP_EVENING_FIELD)
    return TIME_CHARS;
  if (wb_app_evening_get_column (self->evening, column)->column == WB_COLUMN_POOL_MM)
    return TIME_CHARS + 1;
  return spec->column == WB_COLUMN_EVENT || spec->column == WB_COLUMN_FLAME_STATE ? WORD_CHARS : FIELD_CHARS;
}

static GtkWidget *
entry_new (WbEveningGrid *self,
           guint          row,
           guint          column,
           const char    *who)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self->evening, column);
  g_autofree char *moment = wb_app_evening_dup_moment_label (self->evening, spec->moment);
  g_autofree char *label = wb_app_evening_dup_column_label (self->evening, column);
  /* Translators: sample, moment, field: "T1, Round 2: Pool diameter, mm". */
  g_autofree char *name = g_strdup_printf (_("%s, %s: %s"), who, moment, label);
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), get_chars (self, column));
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), get_chars (self, column));
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_qdata (G_OBJECT (entry), row_quark (), GUINT_TO_POINTER (row));
  g_object_set_qdata (G_OBJECT (entry), column_quark (), GUINT_TO_POINTER (column));
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_entry_changed_cb), self);
  g_signal_connect (focus, "enter", G_CALLBACK (on_entry_focus_cb), self);
  gtk_widget_add_controller (entry, focus);
  if (column == wb_app_evening_get_moment (self->evening, spec->moment)->first)
    gtk_widget_add_css_class (entry, "first");
  return entry;
}

static GtkWidget *
label_new (const char *text,
           const char *css_class)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "yalign", 1.0, NULL);

  gtk_widget_add_css_class (label, css_class);
  return label;
}

/* Same width above as below. */
static void
join_widths (GtkWidget *a,
             GtkWidget *b)
{
  g_autoptr (GtkSizeGroup) group = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  gtk_size_group_add_widget (group, a);
  gtk_size_group_add_widget (group, b);
}

/* Columns of a moment that always show, which come first: a title over hidden ones would part the heads from their cells. */
static int
count_shown (WbEveningGrid            *self,
             const WbAppEveningMoment *at)
{
  guint n = 0;

  while (n < at->n && !wb_app_evening_get_column (self->evening, at->first + n)->throw)
    n++;
  return (int) n;
}

static void
add_head (WbEveningGrid *self,
          GtkGrid       *heads,
          guint          column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (self->evening, column);
  const WbAppEveningMoment *at = wb_app_evening_get_moment (self->evening, spec->moment);
  g_autofree char *text = wb_app_evening_dup_column_label (self->evening, column);
  GtkWidget *label = label_new (text, "caption"), *all = NULL;

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars (GTK_LABEL (label), get_chars (self, column) + 4);
  gtk_label_set_max_width_chars (GTK_LABEL (label), get_chars (self, column) + 4);
  gtk_grid_attach (heads, label, (int) column, 1, 1, 1);
  if (spec->kind == WB_APP_EVENING_TIME)
    {
      g_autofree char *moment = wb_app_evening_dup_moment_label (self->evening, spec->moment);
      GtkWidget *title = label_new (moment, "heading");

      all = entry_new (self, WB_APP_EVENING_ALL, column, _("all samples"));
      gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
      gtk_widget_add_css_class (title, "first");
      gtk_widget_add_css_class (label, "first");
      gtk_widget_add_css_class (all, "all");
      gtk_grid_attach (heads, title, (int) column, 0, count_shown (self, at), 1);
      gtk_grid_attach (heads, all, (int) column, 2, 1, 1);
    }
  g_ptr_array_add (self->alls, all);
  g_ptr_array_add (self->labels, label);
  if (self->entries->len > column)
    join_widths (label, g_ptr_array_index (self->entries, column));
}

static void
add_row (WbEveningGrid *self,
         GtkGrid       *codes,
         GtkGrid       *cells,
         guint          row)
{
  const char *code = wb_app_bench_sample_get_code (wb_app_evening_get_sample (self->evening, row));
  GtkWidget *label = label_new (code, "strong");
  g_autoptr (GtkSizeGroup) height = gtk_size_group_new (GTK_SIZE_GROUP_VERTICAL);

  gtk_label_set_yalign (GTK_LABEL (label), 0.5);
  gtk_widget_set_tooltip_text (label, wb_app_bench_sample_get_title (wb_app_evening_get_sample (self->evening, row)));
  gtk_grid_attach (codes, label, 0, (int) row, 1, 1);
  for (guint column = 0; column < wb_app_evening_get_n_columns (self->evening); column++)
    {
      GtkWidget *entry = entry_new (self, row, column, code);

      gtk_grid_attach (cells, entry, (int) column, (int) row, 1, 1);
      g_ptr_array_add (self->entries, entry);
      if (column == 0)
        gtk_size_group_add_widget (height, entry);
    }
  gtk_size_group_add_widget (height, label);
}

static GtkGrid *
grid_new (GtkWidget *pane)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 2, "column-spacing", 2, "valign", GTK_ALIGN_START, "halign", GTK_ALIGN_START, NULL);

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (pane), grid);
  return GTK_GRID (grid);
}

static void
lay_out (WbEveningGrid *self)
{
  GtkGrid *heads = grid_new (self->heads), *codes = grid_new (self->codes), *cells = grid_new (self->cells);

  g_ptr_array_set_size (self->entries, 0);
  g_ptr_array_set_size (self->alls, 0);
  g_ptr_array_set_size (self->labels, 0);
  if (self->evening == NULL)
    return;
  for (guint row = 0; row < wb_app_evening_get_n_rows (self->evening); row++)
    add_row (self, codes, cells, row);
  for (guint column = 0; column < wb_app_evening_get_n_columns (self->evening); column++)
    add_head (self, heads, column);
}

void
wb_evening_grid_set_evening (WbEveningGrid *self,
                             WbAppEvening  *evening)
{
  g_return_if_fail (WB_IS_EVENING_GRID (self));

  g_set_object (&self->evening, evening);
  lay_out (self);
  wb_evening_grid_update (self);
}

/* ---- GObject ---- */

static void
wb_evening_grid_dispose (GObject *object)
{
  WbEveningGrid *self = WB_EVENING_GRID (object);

  /* An entry that goes tells of a change. */
  self->quiet = TRUE;
  g_clear_pointer (&self->panes, gtk_widget_unparent);
  g_clear_object (&self->evening);
  G_OBJECT_CLASS (wb_evening_grid_parent_class)->dispose (object);
}

static void
wb_evening_grid_finalize (GObject *object)
{
  WbEveningGrid *self = WB_EVENING_GRID (object);

  g_ptr_array_unref (self->entries);
  g_ptr_array_unref (self->alls);
  g_ptr_array_unref (self->labels);
  G_OBJECT_CLASS (wb_evening_grid_parent_class)->finalize (object);
}

static void
wb_evening_grid_class_init (WbEveningGridClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_evening_grid_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_evening_grid_finalize;
  signals[CELL] = g_signal_new ("cell", WB_TYPE_EVENING_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_UINT);
  signals[LOCKED] = g_signal_new ("locked", WB_TYPE_EVENING_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_UINT);
  signals[DONE] = g_signal_new ("done", WB_TYPE_EVENING_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "eveninggrid");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
pane_new (GtkPolicyType horizontal,
          GtkPolicyType vertical)
{
  GtkWidget *pane = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (pane), horizontal, vertical);
  return pane;
}

static void
wb_evening_grid_init (WbEveningGrid *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->entries = g_ptr_array_new ();
  self->alls = g_ptr_array_new ();
  self->labels = g_ptr_array_new ();
  self->panes = g_object_new (GTK_TYPE_GRID, "column-spacing", 8, "row-spacing", 4, NULL);
  self->heads = pane_new (GTK_POLICY_EXTERNAL, GTK_POLICY_NEVER);
  self->codes = pane_new (GTK_POLICY_NEVER, GTK_POLICY_EXTERNAL);
  self->cells = pane_new (GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (self->cells), FALSE);
  gtk_scrolled_window_set_hadjustment (GTK_SCROLLED_WINDOW (self->heads), gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->cells)));
  gtk_scrolled_window_set_vadjustment (GTK_SCROLLED_WINDOW (self->codes), gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->cells)));
  gtk_widget_set_hexpand (self->cells, TRUE);
  gtk_widget_set_vexpand (self->cells, TRUE);
  gtk_grid_attach (GTK_GRID (self->panes), label_new (_("Sample"), "caption"), 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (self->panes), self->heads, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (self->panes), self->codes, 0, 1, 1, 1);
  gtk_grid_attach (GTK_GRID (self->panes), self->cells, 1, 1, 1, 1);
  gtk_widget_set_parent (self->panes, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The evening's sheet"), -1);
  /* Before the entry sees the key. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
