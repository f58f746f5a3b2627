/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-ladder-speed.h"

#include <math.h>

#include "wb-craft-foretell-private.h"
#include "wb-craft-school.h"

#define TURNS 3
#define LADDER_DRAWS 1024 /* as a ladder has */

void
bench_parts (const WbCraftLadderQuestion *question,
             const GPtrArray             *lessons,
             const GPtrArray             *guides,
             const GPtrArray             *wicks,
             const GPtrArray             *waxes,
             GBytes                      *kept,
             double                       floor)
{
  enum { SCHOOL, FORETELL, SCORE, LADDER, N_PARTS };
  static const char *const names[N_PARTS] = { "school", "foretell", "score", "ladder, those two among it" };
  double best[N_PARTS];

  for (guint part = 0; part < N_PARTS; part++)
    best[part] = INFINITY;
  for (guint turn = 0; turn < TURNS; turn++)
    {
      double at[N_PARTS + 1] = { bench_cpu_now () };
      g_autoptr (WbCraftSchool) school = wb_craft_school_new (lessons, guides, wicks, waxes, kept, NULL, NULL);
      g_autoptr (GArray) seats = g_array_new (FALSE, TRUE, sizeof (WbCraftSeat));
      g_autoptr (WbCraftForetell) foretell = NULL;
      g_autoptr (WbCraftScore) score = NULL;
      g_autoptr (WbCraftLadder) ladder = NULL;

      at[1] = bench_cpu_now ();
      for (guint i = 0; i < wicks->len; i++)
        {
          const WbWick *wick = g_ptr_array_index (wicks, i);
          WbCraftSeat seat = { .step = wick->step, .wicks = 1, .inner_mm = question->inner_diameter_mm, .load_pct = question->load_pct };

          wb_craft_register_seat (&school->names, &seat, wick->series, wick->size, question->wax, FALSE);
          g_array_append_val (seats, seat);
        }
      foretell = wb_craft_foretell_new (school, question, seats, LADDER_DRAWS, 1);
      at[2] = bench_cpu_now ();
      score = wb_craft_foretell_score (foretell);
      at[3] = bench_cpu_now ();
      ladder = wb_craft_ladder_new (question, school, wicks, guides, waxes, 1);
      at[4] = bench_cpu_now ();
      for (guint part = 0; part < N_PARTS; part++)
        best[part] = MIN (best[part], at[part + 1] - at[part]);
    }
  for (guint part = 0; part < N_PARTS; part++)
    g_print ("  of it %s: %.3f s, ratio %.2f\n", names[part], best[part], best[part] / floor);
}
