/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "fake-desktop.h"
#include "wb-application.h"
#include "wb-window.h"

/* Waits in the main loop until `done` says so; fails the test after a generous limit of turns' time. */
typedef gboolean (*TestFunc) (gpointer user);
void           test_wait            (TestFunc done, gpointer user);
/* A TestFunc for a gboolean that a callback sets. */
gboolean       test_is_true         (gpointer flag);
/* The application, registered: one for all tests, since the bus knows one of that name. Its session manager is the test's own. */
WbApplication *test_application     (void);
FakeDesktop   *test_session         (void);
/* A path in the test's own folder that nobody has used. Caller frees. */
char          *test_path            (const char *name);
/* A window without a notebook, shown. */
WbWindow      *test_window_new      (void);
/* A window with a new notebook at that path, shown and read. */
WbWindow      *test_window_new_with (const char *path);
/* A window with the demo notebook, written once a run. */
WbWindow      *test_window_new_demo (void);
/* The same after a ladder was asked of it: what its experiments taught is kept in it, which takes seconds to work out. */
WbWindow      *test_window_new_demo_learnt (void);
/* Destroys it as in a crash, where nothing is asked; another program opens its notebook and goes to that page. */
WbWindow      *test_window_crash    (WbWindow *window, WbAppOpenMode mode, const char *page);
/* Destroys it and asserts that nothing keeps it or its page alive. */
void           test_window_destroy  (WbWindow *window);
WbAppNotebook *test_notebook        (WbWindow *window);
/* The first experiment in that state. */
gint64         test_experiment      (WbWindow *window, WbCraftState state);
/* The first descendant of that type, then the n-th after it (0: the first); NULL: none. */
GtkWidget     *test_find            (GtkWidget *widget, GType type);
/* The first descendant of that type whose buildable id in its template is `id`. */
GtkWidget     *test_child           (GtkWidget *widget, const char *id);
/* That of the page in front; there is one. */
GtkWidget     *test_part            (WbWindow *window, const char *id);
/* An open window or dialog of that type; NULL: none is. Borrowed. */
GtkWidget     *test_find_window     (GType type);
/* A label in the widget holds that text. */
gboolean       test_says            (GtkWidget *widget, const char *text);
/* Enabled state of "win.undo", "page.save" ... */
gboolean       test_enabled         (WbWindow *window, const char *action);
/* A TestFunc: the window's status line says that the last save is in the file. */
gboolean       test_says_saved      (gpointer window);
/* Waits until the notebook saves nothing any more and what it told has arrived. */
void           test_settle          (WbWindow *window);
/* Writes what a widget shows as NAME.png into the folder that WICKBENCH_PICTURES names, for who wants to look; nothing without it. */
void           test_look_at         (GtkWidget *widget, const char *name);
/* Fails the test for each control of the widget that has no accessible name; how many have to have one. test-templates.c */
guint          test_check_names     (GtkWidget *widget, const char *where);

/* Materials of a small shelf, invented: one vessel (350 g of water), a wax of 0.9 g/cm3 that takes 10 %, one fragrance, three wicks. */
typedef struct { gint64 vessel, wax, fragrance, wicks[3]; } TestShelf;
void           test_shelf_fill      (WbWindow *window, const char *vessel, TestShelf *shelf);

void           test_advice_add         (void);
void           test_amend_add          (void);
void           test_application_add    (void);
void           test_bad_input_add      (void);
void           test_blind_add          (void);
void           test_burn_fields_add    (void);
void           test_burn_hazard_add    (void);
void           test_burn_lighting_add  (void);
void           test_burn_place_add     (void);
void           test_burn_round_add     (void);
void           test_burn_state_add     (void);
void           test_burn_throw_add     (void);
void           test_calendar_add       (void);
void           test_compare_beside_add (void);
void           test_compare_page_add   (void);
void           test_decision_papers_add (void);
void           test_decision_add       (void);
void           test_evening_sheet_add  (void);
void           test_evening_typing_add (void);
void           test_german_add         (void);
void           test_inspection_add     (void);
void           test_keyboard_add       (void);
void           test_labels_dialog_add  (void);
void           test_ladder_add         (void);
void           test_loggers_add        (void);
void           test_lots_add           (void);
void           test_mapping_add        (void);
void           test_materials_page_add (void);
void           test_material_delete_add (void);
void           test_material_method_add (void);
void           test_material_parts_add (void);
void           test_material_stock_add (void);
void           test_measure_add        (void);
void           test_photos_add         (void);
void           test_plan_draft_add     (void);
void           test_plan_order_add     (void);
void           test_plan_page_add      (void);
void           test_plan_wicks_add     (void);
void           test_plan_words_add     (void);
void           test_pour_draft_add     (void);
void           test_pour_later_add     (void);
void           test_pour_slips_add     (void);
void           test_pour_page_add      (void);
void           test_problem_add        (void);
void           test_record_page_add    (void);
void           test_paperwork_add      (void);
void           test_report_page_add    (void);
void           test_restore_add        (void);
void           test_scanner_add        (void);
void           test_sidebar_add        (void);
void           test_shelf_dialog_add   (void);
void           test_large_letters_add  (void);
void           test_sizes_add          (void);
void           test_templates_add      (void);
void           test_today_add          (void);
void           test_transfer_add       (void);
void           test_underneath_add     (void);
void           test_watch_add          (void);
void           test_bench_keys_add     (void);
void           test_bench_plan_add     (void);
void           test_weak_widget_add    (void);
void           test_wicks_add          (void);
void           test_window_add         (void);
