/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-folder.h"

#include <glib/gstdio.h>

#define PROGRAM WB_BUILD_DIR "/src/wickbench"

char *
wb_e2e_folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("wickbench-e2e-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static void
empty_and_remove (const char *path)
{
  GDir *dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR) && !g_file_test (child, G_FILE_TEST_IS_SYMLINK))
        empty_and_remove (child);
      else
        g_unlink (child);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_rmdir (path);
}

void
wb_e2e_folder_remove (char *folder)
{
  empty_and_remove (folder);
  g_free (folder);
}

GSubprocessLauncher *
wb_e2e_folder_launcher (const char *folder)
{
  static const char *const variables[] = { "HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME" };
  GSubprocessLauncher *launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_NONE);

  for (guint i = 0; i < G_N_ELEMENTS (variables); i++)
    {
      g_autofree char *path = g_build_filename (folder, "home", variables[i], NULL);

      g_assert_cmpint (g_mkdir_with_parents (path, 0700), ==, 0);
      g_subprocess_launcher_setenv (launcher, variables[i], path, TRUE);
    }
  /* Settings outlive a restart, too. */
  g_subprocess_launcher_setenv (launcher, "GSETTINGS_BACKEND", "keyfile", TRUE);
  g_subprocess_launcher_unsetenv (launcher, "GTK_A11Y");
  g_subprocess_launcher_setenv (launcher, "WICKBENCH_CLOCK", WB_E2E_NOW, TRUE);
  return launcher;
}

char *
wb_e2e_folder_command (const char *folder,
                       const char *verb,
                       const char *name,
                       ...)
{
  g_autoptr (GSubprocessLauncher) launcher = wb_e2e_folder_launcher (folder);
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  g_autofree char *notebook = g_build_filename (folder, name, NULL);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  char *output = NULL;
  const char *word;
  va_list list;

  g_ptr_array_add (words, (gpointer) PROGRAM);
  g_ptr_array_add (words, (gpointer) verb);
  g_ptr_array_add (words, notebook);
  va_start (list, name);
  while ((word = va_arg (list, const char *)) != NULL)
    g_ptr_array_add (words, (gpointer) word);
  va_end (list);
  g_ptr_array_add (words, NULL);

  g_subprocess_launcher_set_flags (launcher, G_SUBPROCESS_FLAGS_STDOUT_PIPE);
  process = g_subprocess_launcher_spawnv (launcher, (const char *const *) words->pdata, &error);
  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (process, NULL, NULL, &output, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_get_successful (process));
  return output;
}

void
wb_e2e_folder_add_demo (const char *folder)
{
  g_free (wb_e2e_folder_command (folder, "demo", "demo.wickbench", NULL));
}
