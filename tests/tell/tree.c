// SPDX-License-Identifier: GPL-3.0-or-later
// Drawn chains: boxes apart, nothing lost without being counted; and the same chains as graphs.
#include "tell/tree.h"

#include "tell/format.h"
#include "tell/marks.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static why_node* add_step(why_arena* arena, why_node* list, const char* words) {
  why_node* step = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  step->role = WHY_ROLE_STEP;
  step->words = words;
  step->mark = "rule of-some-kind, mechanism";
  return step;
}

/// A chain drawn by lot: sizes of texts, numbers of parts and depths differ.
static void grow(why_arena* arena, why_node* list, uint64_t* state, int depth, size_t* count) {
  static const char* const TEXTS[] = {
      "Short.", "A sentence that is long enough to need a second line, and then some more words.",
      "In between, of two lines or so, it seems."};
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  int parts = (int)(*state >> 40) % 4 + (depth == 0);
  for (int i = 0; i < parts; i++) {
    why_node* step = add_step(arena, list, TEXTS[(*state >> 33) % 3]);
    ++*count;
    if (depth < 8)
      grow(arena, why_node_add(arena, step, WHY_NODE_LIST, "because"), state, depth + 1, count);
  }
}

static const why_picture* draw(why_arena* arena, const why_node* list) {
  why_picture* picture = WHY_NEW(arena, why_picture);
  picture->arena = arena;
  why_tree_draw(list, "The question", picture);
  return picture;
}

static why_box box_of(const why_mark* mark) {
  return (why_box){mark->spots[0].x, mark->spots[0].y, mark->spots[2].x, mark->spots[2].y};
}

static size_t check_boxes(const why_picture* picture) {
  size_t boxes = 0;
  for (size_t i = 0; i < picture->marks.count; i++) {
    const why_mark* a = &picture->marks.at[i];
    if (a->shape != WHY_SHAPE_AREA)
      continue;
    boxes++;
    for (size_t k = i + 1; k < picture->marks.count; k++) {
      const why_mark* b = &picture->marks.at[k];
      why_box one = box_of(a);
      why_box other = b->shape == WHY_SHAPE_AREA ? box_of(b) : one;
      cr_expect(b->shape != WHY_SHAPE_AREA || !why_box_meets(&one, &other), "boxes meet");
    }
  }
  return boxes;
}

/// The numbers after "+ " in the words of a picture.
static size_t count_left_out(const why_picture* picture) {
  size_t sum = 0;
  for (size_t i = 0; i < picture->marks.count; i++) {
    unsigned long number = 0;
    if (picture->marks.at[i].words &&
        sscanf(picture->marks.at[i].words, "+ %lu step", &number) == 1)
      sum += number;
  }
  return sum;
}

Test(tree, keeps_boxes_apart_and_counts_what_it_leaves_out) {
  for (uint64_t seed = 1; seed <= 60; seed++) {
    why_arena* arena = why_arena_new(0);
    why_node* list = why_node_add(arena, NULL, WHY_NODE_LIST, "chain");
    uint64_t state = seed;
    size_t count = 0;
    grow(arena, list, &state, 0, &count);
    const why_picture* picture = draw(arena, list);
    marks_check(picture, "random tree");
    size_t boxes = check_boxes(picture);
    cr_expect_eq(boxes - 1 + count_left_out(picture), count, "%zu boxes for %zu steps", boxes,
                 count);
    why_arena_free(arena);
  }
}

/// Every step stands half-way between its first and last part, unless its column was taken.
Test(tree, puts_a_step_between_its_parts) {
  why_arena* arena = why_arena_new(0);
  why_node* list = why_node_add(arena, NULL, WHY_NODE_LIST, "chain");
  why_node* step = add_step(arena, list, "conclusion");
  for (int i = 0; i < 3; i++)
    add_step(arena, step, "ground");
  const why_picture* picture = draw(arena, list);
  why_box boxes[5];
  size_t count = 0;
  for (size_t i = 0; i < picture->marks.count; i++)
    if (picture->marks.at[i].shape == WHY_SHAPE_AREA)
      boxes[count++] = box_of(&picture->marks.at[i]);
  cr_assert_eq(count, 5);
  double middle = (boxes[1].top + boxes[1].bottom) / 2;
  cr_expect_float_eq(middle, (boxes[2].top + boxes[4].bottom) / 2, 0.01);
  cr_expect_float_eq(middle, (boxes[0].top + boxes[0].bottom) / 2, 0.01);
  why_arena_free(arena);
}

static size_t count_of(const char* text, const char* part) {
  size_t count = 0;
  for (const char* at = text; (at = strstr(at, part)); at += strlen(part))
    count++;
  return count;
}

Test(tree, is_a_graph_with_an_edge_less_than_steps) {
  why_arena* arena = why_arena_new(0);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE, "a \"title\" \\");
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "chain");
  why_node* step = add_step(arena, list, "say \"this\" \\n \xFF");
  add_step(arena, why_node_add(arena, step, WHY_NODE_LIST, "because"), "that");
  why_buffer out = {.arena = arena};
  cr_assert(why_dot_write(root, &out));
  const char* text = why_buffer_text(&out);
  cr_expect_eq(count_of(text, " -> "), 1);
  cr_expect_not_null(strstr(text, "label=\"a \\\"title\\\" \\\\\""));
  cr_expect_not_null(strstr(text, "say \\\"this\\\" \\\\n \xEF\xBF\xBD\\l"));
  why_arena_free(arena);
}

Test(tree, is_refused_where_there_is_no_chain) {
  why_arena* arena = why_arena_new(0);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE, "only words");
  why_buffer out = {.arena = arena};
  cr_expect_not(why_dot_write(root, &out));
  cr_expect_not(why_sheet_write(root, &out));
  why_arena_free(arena);
}
