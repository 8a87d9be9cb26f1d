// SPDX-License-Identifier: GPL-3.0-or-later
// Where in its range an exercise is hardest, beside what every coach knows (common practice): a
// curl is hardest where the forearm is level, a lateral raise at the top, a squat at the bottom.
// With WHY_SHOW in the environment the curves of all exercises are printed.
#include "body/hardness.h"
#include "body/mechanics.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>

static mechanics opened;

static void open_knowledge(void) {
  mechanics_open(&opened);
}

static void close_knowledge(void) {
  mechanics_close(&opened);
}

TestSuite(hardness, .init = open_knowledge, .fini = close_knowledge);

static why_hardness hardness_of(const why_exercise* exercise) {
  why_hardness made;
  cr_expect(why_hardness_find(opened.sharer, why_effort_find(opened.sharer, exercise), &made));
  return made;
}

Test(hardness, is_greatest_where_coaches_say) {
  enum { STRETCHED, MIDDLE, SHORTENED };
  static const struct {
    const char* id;
    int most;
    int least;
  } FACTS[] = {
      {"barbell-curl", MIDDLE, STRETCHED},
      {"push-up", STRETCHED, SHORTENED},
      {"dumbbell-fly", STRETCHED, SHORTENED},
      {"dumbbell-pullover", STRETCHED, SHORTENED},
      {"barbell-back-squat", STRETCHED, SHORTENED},
      {"barbell-romanian-deadlift", STRETCHED, SHORTENED},
      {"dumbbell-lateral-raise", SHORTENED, STRETCHED},
      {"dumbbell-kickback", SHORTENED, STRETCHED},
  };
  for (size_t i = 0; i < sizeof FACTS / sizeof *FACTS; i++) {
    why_hardness found = hardness_of(mechanics_exercise(&opened, FACTS[i].id));
    cr_expect_eq(found.part[FACTS[i].most], 1, "%s: %.2f %.2f %.2f", FACTS[i].id, found.part[0],
                 found.part[1], found.part[2]);
    for (int k = 0; k < WHY_HARDNESS_PARTS; k++)
      cr_expect_geq(found.part[k], found.part[FACTS[i].least], "%s", FACTS[i].id);
  }
}

Test(hardness, is_a_share_of_the_hardest_third) {
  const why_exercise_table* table = &opened.tables->exercises;
  for (size_t i = 0; i < table->rows.count; i += getenv("WHY_SHOW") ? 1 : 20) {
    const why_exercise* row = &table->rows.at[i];
    if (row->held)
      continue;
    why_hardness found = hardness_of(row);
    double most = 0;
    for (int k = 0; k < WHY_HARDNESS_PARTS; k++) {
      cr_expect(found.part[k] >= 0 && found.part[k] <= 1);
      most = found.part[k] > most ? found.part[k] : most;
    }
    cr_expect_eq(most, 1);
    if (getenv("WHY_SHOW"))
      printf("%-40s %.2f %.2f %.2f\n", why_symbols_text(opened.tables->symbols, row->id),
             found.part[0], found.part[1], found.part[2]);
  }
}
