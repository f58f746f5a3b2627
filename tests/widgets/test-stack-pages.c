/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-stack-pages.h"

static void
assert_hidden (GtkWidget *page,
               gboolean   hidden)
{
  gtk_test_accessible_assert_state (page, GTK_ACCESSIBLE_STATE_HIDDEN, hidden);
}

static void
test_hidden (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkStack *stack = GTK_STACK (gtk_stack_new ());
  GtkWidget *window = test_window_new (box);
  GtkWidget *pages[3];

  gtk_box_append (GTK_BOX (box), GTK_WIDGET (stack));
  for (guint i = 0; i < 3; i++)
    pages[i] = gtk_label_new ("page");
  gtk_stack_add_named (stack, pages[0], "first");
  gtk_stack_add_named (stack, pages[1], "second");
  wb_stack_pages_hide_below (box);
  wb_stack_pages_hide_below (box);
  assert_hidden (pages[0], FALSE);
  assert_hidden (pages[1], TRUE);

  gtk_stack_set_visible_child (stack, pages[1]);
  assert_hidden (pages[0], TRUE);
  assert_hidden (pages[1], FALSE);
  gtk_stack_add_named (stack, pages[2], "third");
  assert_hidden (pages[2], TRUE);

  gtk_stack_remove (stack, pages[1]);
  test_window_destroy (window, box);
}

void
test_stack_pages_add (void)
{
  g_test_add_func ("/widgets/stack-pages/only-the-page-that-shows-is-told", test_hidden);
}
