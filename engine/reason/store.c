// SPDX-License-Identifier: GPL-3.0-or-later
// Adding rows, finding them, and settling keys.
#include "store.h"

#include "value.h"

#include <string.h>

enum {
  USUAL_FACTS = 2 * 1000 * 1000,
  USUAL_DERIVATIONS = 4 * 1000 * 1000,
  USUAL_ROUNDS = 1000 * 1000,
  USUAL_STEPS = 1000 * 1000 * 1000
};

static size_t or_usual(size_t wanted, size_t usual) {
  return wanted ? wanted : usual;
}

void why_store_init(why_store* store, const why_program* program, why_symbols* symbols,
                    why_arena* arena, const why_store* below, const why_limits* limits) {
  why_limits wanted = limits ? *limits : (why_limits){0};
  *store = (why_store){.program = program,
                       .symbols = symbols,
                       .arena = arena,
                       .below = below,
                       .tuples = WHY_NEW_ARRAY(arena, why_tuples, program->relation_count + 1),
                       .limits = {.facts = or_usual(wanted.facts, USUAL_FACTS),
                                  .derivations = or_usual(wanted.derivations, USUAL_DERIVATIONS),
                                  .rounds = or_usual(wanted.rounds, USUAL_ROUNDS),
                                  .steps = or_usual(wanted.steps, USUAL_STEPS)}};
  for (size_t i = 0; i < program->relation_count; i++) {
    const why_relation_inner* relation = &program->relations[i];
    why_tuples* tuples = &store->tuples[i];
    tuples->width = relation->info.slot_count;
    if (below && !relation->info.reached)
      continue;
    tuples->indexes = WHY_NEW_ARRAY(arena, why_index, relation->indexes.count);
    for (size_t k = 0; k < relation->indexes.count; k++)
      tuples->indexes[k] =
          (why_index){.mask = relation->indexes.at[k], .width = relation->info.slot_count};
  }
}

const why_store* why_store_of(const why_store* store, why_relation relation) {
  bool here = !store->below || store->program->relations[relation].info.reached;
  return here ? store : store->below;
}

why_tuples* why_store_tuples(const why_store* store, why_relation relation) {
  return &why_store_of(store, relation)->tuples[relation];
}

uint32_t why_tuples_first(why_tuples* tuples, why_arena* arena, unsigned index,
                          const why_value* values) {
  why_index* used = &tuples->indexes[index];
  if (used->next.count < tuples->count)
    why_index_fill(used, arena, tuples->rows, tuples->count);
  return why_index_first(used, tuples->rows, why_index_hash(used->mask, values), values);
}

static void make_room(why_store* store, why_tuples* tuples) {
  if (tuples->count < tuples->room)
    return;
  uint32_t room = tuples->room ? tuples->room * 2 : 8;
  size_t width = tuples->width * sizeof(why_value);
  tuples->rows = why_arena_grow(store->arena, tuples->rows, tuples->room * width, room * width);
  tuples->derived = why_arena_grow(store->arena, tuples->derived, tuples->room * sizeof(uint32_t),
                                   room * sizeof(uint32_t));
  tuples->given = why_arena_grow(store->arena, tuples->given, tuples->room * sizeof(uint32_t),
                                 room * sizeof(uint32_t));
  tuples->room = room;
}

uint32_t why_store_add(why_store* store, why_relation relation, const why_value* values) {
  why_tuples* tuples = &store->tuples[relation];
  uint32_t known = why_tuples_first(tuples, store->arena, 0, values);
  if (known != WHY_NO_ROW)
    return known;
  make_room(store, tuples);
  memcpy(tuples->rows + (size_t)tuples->count * tuples->width, values,
         tuples->width * sizeof *values);
  tuples->derived[tuples->count] = 0;
  tuples->given[tuples->count] = 0;
  store->facts++;
  tuples->visible = tuples->count + 1;
  return tuples->count++;
}

/// Whether row `a` prevails over row `b` of the same key; 0 when precedence does not decide.
static int prevails(const why_store* store, const why_relation_inner* relation, const why_value* a,
                    const why_value* b) {
  for (unsigned i = 0; i < relation->info.slot_count; i++) {
    const why_slot* slot = &relation->info.slots[i];
    if (slot->prefer == WHY_PREFER_NONE)
      continue;
    int order = why_value_compare(slot, store->symbols, a[i], b[i]);
    if (order)
      return slot->prefer == WHY_PREFER_LEAST ? -order : order;
  }
  return 0;
}

/// Where a row comes from: given, else the first place of a rule that concludes it.
static why_place place_of_row(const why_store* store, const why_tuples* tuples, uint32_t row) {
  why_place first = {0};
  if (tuples->given[row])
    return store->givens.at[tuples->given[row] - 1].place;
  for (uint32_t i = tuples->derived[row]; i; i = store->records.at[i - 1].before) {
    const why_place* each = &store->program->rules.at[store->records.at[i - 1].rule].info.place;
    if (!first.file || why_place_compare(each, &first) < 0)
      first = *each;
  }
  return first;
}

static void report_key(why_store* store, why_relation relation, uint32_t row, uint32_t other,
                       why_problems* problems) {
  const why_relation_info* info = &store->program->relations[relation].info;
  const why_tuples* tuples = &store->tuples[relation];
  const char* a = why_row_text(info, store->symbols, why_slots_all(info->slot_count),
                               why_tuples_row(tuples, row), store->arena);
  const char* b = why_row_text(info, store->symbols, why_slots_all(info->slot_count),
                               why_tuples_row(tuples, other), store->arena);
  bool swap = strcmp(a, b) > 0;
  why_problems_add(problems, WHY_ERROR, "key", place_of_row(store, tuples, swap ? other : row),
                   "two values for one key: %s and %s", swap ? b : a, swap ? a : b);
  why_problems_also(problems, place_of_row(store, tuples, swap ? row : other));
}

/// Which rows of a relation are overruled, and which only tie.
typedef struct {
  bool* overruled;
  uint32_t* ties; ///< By overruled row: the row that it ties with, plus one; 0 where it loses.
} settlement;

static settlement compare_keys(why_store* store, why_relation relation) {
  const why_relation_inner* inner = &store->program->relations[relation];
  why_tuples* tuples = &store->tuples[relation];
  settlement made = {.overruled = WHY_NEW_ARRAY(store->arena, bool, tuples->count + 1),
                     .ties = WHY_NEW_ARRAY(store->arena, uint32_t, tuples->count + 1)};
  for (uint32_t row = 0; row < tuples->count; row++) {
    const why_value* values = why_tuples_row(tuples, row);
    // The key's index is the second of a relation with a key (declare.c).
    uint32_t other = why_tuples_first(tuples, store->arena, 1, values);
    for (; other != WHY_NO_ROW && other < row; other = why_index_next(&tuples->indexes[1], other)) {
      if (made.overruled[other])
        continue;
      int order = prevails(store, inner, values, why_tuples_row(tuples, other));
      made.overruled[order > 0 ? other : row] = true;
      if (order == 0)
        made.ties[row] = other + 1;
      break; // one row of a key is not overruled at any time
    }
  }
  return made;
}

/// Rows that tie with one that nothing overrules are errors. The first by its texts is named with
/// each of the others, whatever the order in which they were found.
static void report_ties(why_store* store, why_relation relation, const settlement* made,
                        why_problems* problems) {
  const why_relation_info* info = &store->program->relations[relation].info;
  const why_tuples* tuples = &store->tuples[relation];
  uint32_t* least = WHY_NEW_ARRAY(store->arena, uint32_t, tuples->count + 1);
  for (uint32_t row = 0; row < tuples->count; row++) {
    least[row] = row;
    uint32_t other = made->ties[row] - 1;
    if (made->ties[row] && why_row_compare(info, store->symbols, why_tuples_row(tuples, row),
                                           why_tuples_row(tuples, least[other])) < 0)
      least[other] = row;
  }
  for (uint32_t row = 0; row < tuples->count; row++) {
    uint32_t other = made->ties[row] ? made->ties[row] - 1 : row;
    if (!made->overruled[other] && least[other] != row)
      report_key(store, relation, row, least[other], problems);
  }
}

void why_store_settle(why_store* store, why_relation relation, why_problems* problems) {
  why_tuples* tuples = &store->tuples[relation];
  uint32_t key = store->program->relations[relation].key_mask;
  if (!key || key == why_slots_all(tuples->width) || tuples->count < 2)
    return;
  const settlement made = compare_keys(store, relation);
  report_ties(store, relation, &made, problems);
  why_tuples sorted = {.width = tuples->width, .room = tuples->room, .count = tuples->count};
  sorted.rows = WHY_NEW_ARRAY(store->arena, why_value, (size_t)tuples->room * tuples->width);
  sorted.derived = WHY_NEW_ARRAY(store->arena, uint32_t, tuples->room);
  sorted.given = WHY_NEW_ARRAY(store->arena, uint32_t, tuples->room);
  uint32_t next = 0;
  for (int behind = 0; behind <= 1; behind++) {
    for (uint32_t row = 0; row < tuples->count; row++) {
      if (made.overruled[row] != (behind == 1))
        continue;
      memcpy(sorted.rows + (size_t)next * tuples->width, why_tuples_row(tuples, row),
             tuples->width * sizeof(why_value));
      sorted.derived[next] = tuples->derived[row];
      sorted.given[next] = tuples->given[row];
      next++;
    }
    if (!behind)
      sorted.visible = next;
  }
  size_t index_count = store->program->relations[relation].indexes.count;
  sorted.indexes = WHY_NEW_ARRAY(store->arena, why_index, index_count);
  for (size_t i = 0; i < index_count; i++)
    sorted.indexes[i] = (why_index){.mask = tuples->indexes[i].mask, .width = tuples->width};
  *tuples = sorted;
}
