// SPDX-License-Identifier: GPL-3.0-or-later
// The coverage of a week: words stay apart however long names and bars are, and each head has its
// figures.
#include "tell/week_picture.h"

#include "tell/marks.h"

#include <criterion/criterion.h>
#include <math.h>

static const why_picture* drawn(const why_week_bars* bars, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_part_week(arena, root, bars);
  return root->first ? why_node_draw(root->first, arena) : NULL;
}

Test(week_picture, keeps_words_apart) {
  why_arena* arena = why_arena_new(0);
  why_week_bars bars = {0};
  *WHY_LIST_ADD(arena, bars) =
      (why_week_bar){"flexor digitorum superficialis and profundus", 12, 30, 15};
  *WHY_LIST_ADD(arena, bars) = (why_week_bar){"soleus", 0, 0.5, NAN};
  *WHY_LIST_ADD(arena, bars) = (why_week_bar){"biceps femoris short head", 0, 0, 8};
  const why_picture* picture = drawn(&bars, arena);
  cr_assert_not_null(picture);
  marks_check(picture, "week");
  cr_expect(marks_say(picture, "12; 30") && marks_say(picture, "0; 0.5"));
  cr_expect(marks_say(picture, "30") && marks_say(picture, "aim"));
  why_arena_free(arena);
}

Test(week_picture, names_an_aim_only_where_there_is_one) {
  why_arena* arena = why_arena_new(0);
  why_week_bars bars = {0};
  *WHY_LIST_ADD(arena, bars) = (why_week_bar){"soleus", 4, 6, NAN};
  cr_expect_not(marks_say(drawn(&bars, arena), "aim"));
  why_week_bars none = {0};
  cr_expect_null(drawn(&none, arena));
  why_arena_free(arena);
}
