/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-look.h"

#include "wb-bundle.h"

/*
 * GTK 4.8 knows four themes of its own: Default with a dark variant, and
 * Default-hc with another. "As the desktop says" follows the settings portal
 * (org.freedesktop.appearance: color-scheme, contrast) where one answers on the
 * session bus, and leaves GTK's start-up values alone where none does.
 */

#define PORTAL_NAME "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"

struct _WbLook
{
  GObject         parent_instance;

  /* owned */
  GtkCssProvider *colours;   /* of the theme in force */
  GDBusProxy     *portal;
  char           *start_theme; /* GTK's theme when the program started */

  /* borrowed */
  const char     *sheet;       /* resource that the colours are from; NULL: none so far */

  /* state */
  WbLookKind      kind;
  WbChartTheme    theme;
  gboolean        start_dark;
  guint           desktop_scheme;   /* 0 no preference, 1 dark, 2 light */
  guint           desktop_contrast; /* 1 higher */
};

G_DEFINE_FINAL_TYPE (WbLook, wb_look, G_TYPE_OBJECT)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
is_high_contrast (const char *theme)
{
  return theme != NULL && (g_str_has_prefix (theme, "Default-hc") || g_str_has_prefix (theme, "HighContrast"));
}

static gboolean
is_dark (const char *theme)
{
  return theme != NULL && (g_str_has_suffix (theme, "dark") || g_str_has_suffix (theme, "Inverse"));
}

/* Settles whether the theme shall be dark and of high contrast, and its name where it is one of GTK's own. */
static void
choose (WbLook      *self,
        gboolean    *dark,
        gboolean    *contrast,
        const char **name)
{
  *dark = self->kind == WB_LOOK_DARK || self->kind == WB_LOOK_HIGH_CONTRAST_DARK;
  *contrast = self->kind == WB_LOOK_HIGH_CONTRAST || self->kind == WB_LOOK_HIGH_CONTRAST_DARK;
  if (self->kind == WB_LOOK_DESKTOP)
    {
      *dark = self->desktop_scheme == 1 ||
              (self->desktop_scheme == 0 && (self->start_dark || is_dark (self->start_theme)));
      *contrast = self->desktop_contrast == 1 || is_high_contrast (self->start_theme);
    }
  *name = *contrast ? (*dark ? "Default-hc-dark" : "Default-hc") : "Default";
  /* A theme of the person's own stays in force as long as nothing else was asked for. */
  if (self->kind == WB_LOOK_DESKTOP && !*contrast && self->start_theme != NULL)
    *name = self->start_theme;
}

/* GTK reads its theme's style sheet anew whenever a setting is set, even to what it was. TRUE: it was another. */
static gboolean
set_settings (const char *name,
              gboolean    prefer_dark)
{
  GtkSettings *settings = gtk_settings_get_default ();
  g_autofree char *name_before = NULL;
  gboolean dark_before;

  g_object_get (settings, "gtk-theme-name", &name_before, "gtk-application-prefer-dark-theme", &dark_before, NULL);
  if (g_strcmp0 (name, name_before) != 0)
    g_object_set (settings, "gtk-theme-name", name, NULL);
  if (prefer_dark != dark_before)
    g_object_set (settings, "gtk-application-prefer-dark-theme", prefer_dark, NULL);
  return g_strcmp0 (name, name_before) != 0 || prefer_dark != dark_before;
}

static gboolean
set_sheet (WbLook     *self,
           const char *sheet)
{
  if (self->sheet == sheet)
    return FALSE;
  self->sheet = sheet;
  gtk_css_provider_load_from_resource (self->colours, sheet);
  return TRUE;
}

static void
apply (WbLook *self)
{
  static const char *const sheets[] = {
    WB_BUNDLE_PREFIX "colours-light.css", WB_BUNDLE_PREFIX "colours-dark.css", WB_BUNDLE_PREFIX "colours-contrast.css"
  };
  gboolean dark, contrast, another;
  const char *name;

  choose (self, &dark, &contrast, &name);
  another = set_settings (name, dark && !contrast);
  another |= set_sheet (self, sheets[contrast ? 2 : dark ? 1 : 0]);
  self->theme = contrast ? (dark ? WB_CHART_THEME_HIGH_CONTRAST_DARK : WB_CHART_THEME_HIGH_CONTRAST)
                         : (dark ? WB_CHART_THEME_DARK : WB_CHART_THEME_LIGHT);
  if (another)
    g_signal_emit (self, signals[CHANGED], 0);
}

/* The portal's Read wraps its answer in one variant more than its signal does. */
static gboolean
unpack (GVariant *value,
        guint    *number)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);

  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *next = g_variant_get_variant (inner);

      g_variant_unref (inner);
      inner = next;
    }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return FALSE;
  *number = g_variant_get_uint32 (inner);
  return TRUE;
}

static void
take (WbLook     *self,
      const char *key,
      GVariant   *value)
{
  guint number;

  if (!unpack (value, &number))
    return;
  if (g_str_equal (key, "color-scheme"))
    self->desktop_scheme = number;
  else if (g_str_equal (key, "contrast"))
    self->desktop_contrast = number;
  else
    return;
  apply (self);
}

static void
on_portal_signal_cb (GDBusProxy *proxy,
                     const char *sender,
                     const char *name,
                     GVariant   *parameters,
                     WbLook     *self)
{
  g_autoptr (GVariant) value = NULL;
  const char *space, *key;

  if (!g_str_equal (name, "SettingChanged") || !g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &space, &key, &value);
  if (g_str_equal (space, APPEARANCE))
    take (self, key, value);
}

static void
on_scheme_read_cb (GObject      *source,
                   GAsyncResult *result,
                   gpointer      data)
{
  g_autoptr (GVariant) answer = g_dbus_proxy_call_finish (G_DBUS_PROXY (source), result, NULL);
  g_autoptr (GVariant) value = NULL;

  /* No answer is an answer: the desktop states no preference. */
  if (answer == NULL || !g_variant_is_of_type (answer, G_VARIANT_TYPE ("(v)")))
    return;
  value = g_variant_get_child_value (answer, 0);
  take (wb_look_get_default (), data, value);
}

static void
ask_portal (WbLook     *self,
            const char *key)
{
  g_dbus_proxy_call (self->portal, "Read", g_variant_new ("(ss)", APPEARANCE, key), G_DBUS_CALL_FLAGS_NO_AUTO_START, 2000,
                     NULL, on_scheme_read_cb, (gpointer) key);
}

static void
on_portal_ready_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      data)
{
  WbLook *self = wb_look_get_default ();
  g_autofree char *owner = NULL;

  self->portal = g_dbus_proxy_new_for_bus_finish (result, NULL);
  if (self->portal == NULL)
    return;
  owner = g_dbus_proxy_get_name_owner (self->portal);
  if (owner == NULL)
    return;
  g_signal_connect (self->portal, "g-signal", G_CALLBACK (on_portal_signal_cb), self);
  ask_portal (self, "color-scheme");
  ask_portal (self, "contrast");
}

static void
install_style (WbLook *self)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (provider, WB_BUNDLE_PREFIX "style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (self->colours),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

static void
wb_look_finalize (GObject *object)
{
  WbLook *self = WB_LOOK (object);

  g_clear_object (&self->portal);
  g_clear_object (&self->colours);
  g_free (self->start_theme);
  G_OBJECT_CLASS (wb_look_parent_class)->finalize (object);
}

static void
wb_look_class_init (WbLookClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_look_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_LOOK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_look_init (WbLook *self)
{
  /* A text that can be copied is not marked because the keyboard came by. */
  g_object_set (gtk_settings_get_default (), "gtk-label-select-on-focus", FALSE, NULL);
  self->colours = gtk_css_provider_new ();
  g_object_get (gtk_settings_get_default (),
                "gtk-theme-name", &self->start_theme,
                "gtk-application-prefer-dark-theme", &self->start_dark,
                NULL);
}

WbLook *
wb_look_get_default (void)
{
  static WbLook *look = NULL;

  if (look == NULL)
    {
      look = g_object_new (WB_TYPE_LOOK, NULL);
      wb_bundle_register ();
      apply (look);
      install_style (look);
    }
  return look;
}

void
wb_look_set_kind (WbLook     *self,
                  WbLookKind  kind)
{
  g_return_if_fail (WB_IS_LOOK (self));
  g_return_if_fail (kind < WB_N_LOOKS);

  self->kind = kind;
  /* The bus is asked only by who wants the desktop's word. */
  if (kind == WB_LOOK_DESKTOP && self->portal == NULL)
    g_dbus_proxy_new_for_bus (G_BUS_TYPE_SESSION, G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START, NULL, PORTAL_NAME, PORTAL_PATH,
                              PORTAL_SETTINGS, NULL, on_portal_ready_cb, NULL);
  apply (self);
}

WbLookKind
wb_look_get_kind (WbLook *self)
{
  g_return_val_if_fail (WB_IS_LOOK (self), WB_LOOK_DESKTOP);
  return self->kind;
}

WbChartTheme
wb_look_get_chart_theme (WbLook *self)
{
  g_return_val_if_fail (WB_IS_LOOK (self), WB_CHART_THEME_LIGHT);
  return self->theme;
}
