// SPDX-License-Identifier: GPL-3.0-or-later
// Labels in narrow rooms: apart from each other, inside, or not at all.
#include "tell/label.h"

#include "tell/marks.h"

#include <criterion/criterion.h>
#include <stdio.h>

/// A linear congruential generator (Knuth, The Art of Computer Programming 2, MMIX): the same
/// numbers everywhere.
static double draw(uint64_t* state) {
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return (double)(*state >> 11) / 9007199254740992.0;
}

Test(label, never_covers_another) {
  uint64_t state = 1;
  size_t refused = 0;
  for (int round = 0; round < 200; round++) {
    why_arena* arena = why_arena_new(0);
    why_picture picture = {.arena = arena, .title = "", .width = 300, .height = 300};
    why_labels labels = why_labels_in(&picture, (why_box){0, 0, 300, 300});
    for (int i = 0; i < 12; i++) {
      why_spot at = {300 * draw(&state), 300 * draw(&state)};
      why_labels_avoid(&labels, at, (why_spot){150, 150});
      why_spot way = {draw(&state) - 0.5, draw(&state) - 0.5};
      refused += !why_labels_place(&labels, at, way, 11, "support 1471 N");
    }
    marks_check(&picture, "random");
    why_arena_free(arena);
  }
  cr_expect_eq(refused, 0, "%zu labels found no room in a ninth of the area they need", refused);
}

Test(label, draws_nothing_without_room) {
  why_arena* arena = why_arena_new(0);
  why_picture picture = {.arena = arena, .title = "", .width = 60, .height = 20};
  why_labels labels = why_labels_in(&picture, (why_box){0, 0, 60, 20});
  cr_expect_not(why_labels_place(&labels, (why_spot){30, 10}, (why_spot){1, 0}, 11,
                                 "much too long for this room"));
  cr_expect_eq(picture.marks.count, 0);
  why_arena_free(arena);
}

Test(label, leaves_lines_free_when_it_can) {
  why_arena* arena = why_arena_new(0);
  why_picture picture = {.arena = arena, .title = "", .width = 300, .height = 100};
  why_labels labels = why_labels_in(&picture, (why_box){0, 0, 300, 100});
  why_labels_avoid(&labels, (why_spot){150, 50}, (why_spot){300, 50});
  cr_assert(why_labels_place(&labels, (why_spot){150, 50}, (why_spot){1, 0}, 11, "aside"));
  why_box box = why_words_box(&picture.marks.at[picture.marks.count - 1]);
  cr_expect(box.bottom < 50 || box.top > 50 || box.right < 150);
  why_arena_free(arena);
}
