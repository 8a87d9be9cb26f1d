// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out stresses and fibre lengths of heads: a table for people, numbers for programs.
#include "working.h"

#include <math.h>
#include <stdlib.h>

/// Less is not worth a line.
static const double LEAST_MOVING = 0.05;
static const double LEAST_HOLDING = 0.2;

/// One head on its way into a table.
typedef struct {
  size_t head;
  double rank; ///< Mean moving stress, or greatest holding stress.
} line;

typedef WHY_LIST(line) lines;

static int by_rank(const void* left, const void* right) {
  const line* a = left;
  const line* b = right;
  if (a->rank != b->rank)
    return a->rank < b->rank ? 1 : -1;
  return a->head < b->head ? -1 : 1;
}

static lines choose(const why_exertion* exertion, why_arena* arena, bool moving) {
  lines made = {0};
  for (size_t i = 0; i < exertion->muscles->count; i++) {
    const why_feature* each = &exertion->features[i];
    double rank = moving ? each->moving : each->holding;
    if (each->moves == moving && rank >= (moving ? LEAST_MOVING : LEAST_HOLDING))
      *WHY_LIST_ADD(arena, made) = (line){i, rank};
  }
  if (made.count)
    qsort(made.at, made.count, sizeof *made.at, by_rank);
  return made;
}

static const char* head_name(const why_exertion* exertion, why_arena* arena, size_t head) {
  const why_ground* ground = exertion->motion->ground;
  return why_ground_name(ground, arena, "head",
                         why_symbols_text(ground->symbols, exertion->features[head].head->id));
}

/// The three positions among the postures of the path.
static size_t posture_of(const why_exertion* exertion, int position) {
  return (exertion->effort->count - 1) * (size_t)position / (WHY_POSITIONS - 1);
}

static const char* cell_text(const why_exertion* exertion, why_arena* arena, size_t head, int side,
                             int position) {
  const why_head_share* share =
      &exertion->effort->at[posture_of(exertion, position)].heads[side][head];
  return why_arena_print(arena, "%.0f %% at %.2f", share->stress * 100, share->state.fibre);
}

static void add_positions(const why_exertion* exertion, why_arena* arena, why_node* record,
                          size_t head, int side) {
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "path");
  for (size_t i = 0; i < exertion->effort->count; i++) {
    const why_head_share* share = &exertion->effort->at[i].heads[side][head];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    why_node_number(arena, each, "place", why_effort_place(exertion->effort, i));
    why_node_number(arena, each, "stress", share->stress);
    why_node_number(arena, each, "fibre_length", share->state.fibre);
    why_node_number(arena, each, "force_n", share->stress * share->state.capacity_n);
    why_node_number(arena, each, "active_share", share->state.fibre < 1 ? 1 : share->state.active);
  }
}

static void add_head(const why_exertion* exertion, why_arena* arena, why_node* list, size_t head) {
  const why_feature* feature = &exertion->features[head];
  const why_symbols* symbols = exertion->motion->ground->symbols;
  int side = feature->side;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ROW;
  record->words = why_arena_print(arena, "%s\t%s\t%s\t%s", head_name(exertion, arena, head),
                                  cell_text(exertion, arena, head, side, 0),
                                  cell_text(exertion, arena, head, side, 1),
                                  cell_text(exertion, arena, head, side, 2));
  why_node_text(arena, record, "head", why_symbols_text(symbols, feature->head->id));
  why_node_text(arena, record, "does", feature->moves ? "moves" : "holds");
  why_node_number(arena, record, "mean_stress", feature->stress);
  why_node_number(arena, record, "shortening", feature->shortening);
  why_node_text(arena, record, "outside_fit", feature->outside ? "yes" : "no");
  add_positions(exertion, arena, record, head, side);
}

static void add_table(const why_exertion* exertion, why_arena* arena, why_node* root, bool moving) {
  lines heads = choose(exertion, arena, moving);
  const char* title = moving ? "Heads that move it" : "Heads that hold";
  if (heads.count)
    why_node_words(arena, root, WHY_ROLE_HEADING, title);
  why_node* list =
      why_node_add(arena, root, WHY_NODE_LIST, moving ? "moving_heads" : "holding_heads");
  if (!heads.count)
    return;
  list->role = WHY_ROLE_TABLE;
  list->words = title;
  why_node_words(arena, list, WHY_ROLE_COLUMNS, "head\tstretched\tmiddle\tshortened");
  for (size_t i = 0; i < heads.count; i++)
    add_head(exertion, arena, list, heads.at[i].head);
}

/// How the set ends, in a sentence.
static const char* end_text(const why_exertion* exertion, why_arena* arena) {
  const why_effort* effort = exertion->effort;
  const char* head = effort->head < 0 ? "" : head_name(exertion, arena, (size_t)effort->head);
  if (!effort->settled)
    return "The forces of this posture could not be found, so that stresses mean nothing.";
  if (effort->head < 0)
    return "No head moves this exercise against a load.";
  if (effort->end == WHY_LOAD_REACHED)
    return why_arena_print(
        arena,
        "Near the end of a set, with %.1f times the usual load in this model, %s "
        "is at its capacity.",
        effort->factor, head);
  if (effort->end == WHY_LOAD_OVER)
    return why_arena_print(arena, "The body alone asks more than %s can hold: %.0f %% of capacity.",
                           head, effort->peak * 100);
  if (effort->end == WHY_LOAD_IDLE)
    return why_arena_print(
        arena,
        "More load does not stress the movers more; under the usual one %s is at "
        "%.0f %% of its capacity.",
        head, effort->peak * 100);
  return why_arena_print(arena,
                         "There is no load to raise: in one repetition %s is at %.0f %% of its "
                         "capacity, and a set would end with %.1f times as much.",
                         head, effort->peak * 100, 1 / effort->peak);
}

void why_part_working(const why_exertion* exertion, why_arena* arena, why_node* root) {
  static const char* const ENDS[] = {[WHY_LOAD_REACHED] = "reached",
                                     [WHY_LOAD_NONE] = "no-load",
                                     [WHY_LOAD_OVER] = "body-too-heavy",
                                     [WHY_LOAD_IDLE] = "load-idle"};
  why_node_words(arena, root, WHY_ROLE_PARAGRAPH, end_text(exertion, arena));
  why_node* set = why_node_add(arena, root, WHY_NODE_RECORD, "near_failure");
  why_node_text(arena, set, "end", ENDS[exertion->effort->end]);
  why_node_number(arena, set, "load_factor", exertion->effort->factor);
  why_node_number(arena, set, "peak_stress", exertion->effort->peak);
  add_table(exertion, arena, root, true);
  add_table(exertion, arena, root, false);
  why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                 "Per cent of capacity, at fibre length in optimal fibre lengths; above 1 passive "
                 "tension makes up for what contraction loses. Holding is not yet training: it "
                 "tells of fatigue, grip and balance.");
}
