// SPDX-License-Identifier: GPL-3.0-or-later
// Adding rows, finding them, and settling keys.
#include "store.h"

#include "value.h"

#include <string.h>

enum {
  USUAL_FACTS = 20 * 1000 * 1000,
  USUAL_DERIVATIONS = 40 * 1000 * 1000,
  USUAL_ROUNDS = 1000 * 1000,
  USUAL_STEPS = 1000 * 1000 * 1000
};

/// Room for records to begin with: a question has more in nearly every case.
enum { FIRST_WORDS = 4096 };

static size_t or_usual(size_t wanted, size_t usual) {
  return wanted ? wanted : usual;
}

static bool is_here(const why_store* store, size_t relation) {
  return !store->below || store->program->relations[relation].info.reached;
}

static const why_masks* masks_of(const why_store* store, size_t relation) {
  return store->plans ? &store->plans->masks[relation]
                      : &store->program->relations[relation].indexes;
}

/// For how many rows of a relation there is room to begin with.
static uint32_t first_room(const why_store* store, size_t relation) {
  enum { USUAL = 8 };
  return store->plans ? store->plans->rooms[relation] : USUAL;
}

/// Empty relations, with their indexes from `indexes` on; those kept elsewhere stay as they are.
static void lay_out(const why_store* store, why_tuples* all, why_index* indexes) {
  for (size_t i = 0; i < store->program->relation_count; i++) {
    why_tuples* tuples = &all[i];
    if (!is_here(store, i))
      continue;
    const why_masks* masks = masks_of(store, i);
    tuples->width = store->program->relations[i].info.slot_count;
    tuples->complete = !store->below;
    tuples->index_count = masks->count;
    tuples->indexes = indexes;
    for (size_t k = 0; k < masks->count; k++)
      *indexes++ = why_index_new(masks->at[k], tuples->width, first_room(store, i));
  }
}

static size_t count_indexes(const why_store* store) {
  size_t count = 0;
  for (size_t i = 0; i < store->program->relation_count; i++)
    count += is_here(store, i) ? masks_of(store, i)->count : 0;
  return count;
}

static void init_tuples(why_store* store) {
  lay_out(store, store->tuples, WHY_NEW_ARRAY(store->arena, why_index, count_indexes(store) + 1));
  for (size_t i = 0; i < store->program->relation_count; i++)
    store->seen[i] = is_here(store, i) ? &store->tuples[i] : &store->below->tuples[i];
}

/// The same as a copy of what was laid out before: questions are many.
static void copy_tuples(why_store* store) {
  const why_question_plans* plans = store->plans;
  size_t count = store->program->relation_count;
  why_index* indexes = WHY_NEW_ARRAY(store->arena, why_index, plans->index_count + 1);
  memcpy(indexes, plans->indexes, plans->index_count * sizeof *indexes);
  memcpy(store->tuples, plans->empty, count * sizeof *store->tuples);
  for (size_t i = 0; i < count; i++) {
    why_tuples* tuples = &store->tuples[i];
    store->seen[i] = tuples->indexes ? tuples : &store->below->tuples[i];
    if (tuples->indexes)
      tuples->indexes = indexes + (tuples->indexes - plans->indexes);
  }
}

void why_base_lay_out(why_base* base) {
  const why_program* program = base->store.program;
  why_arena* arena = base->store.arena;
  why_question_plans* plans = &base->plans;
  const why_store question = {.program = program, .below = &base->store, .plans = plans};
  plans->index_count = count_indexes(&question);
  plans->empty = WHY_NEW_ARRAY(arena, why_tuples, program->relation_count + 1);
  why_index* indexes = WHY_NEW_ARRAY(arena, why_index, plans->index_count + 1);
  lay_out(&question, plans->empty, indexes);
  plans->indexes = indexes;
}

void why_store_init(why_store* store, const why_program* program, why_symbols* symbols,
                    why_arena* arena, const why_store* below, const why_question_plans* plans,
                    const why_limits* limits) {
  why_limits wanted = limits ? *limits : (why_limits){0};
  size_t count = program->relation_count;
  *store = (why_store){.program = program,
                       .symbols = symbols,
                       .arena = arena,
                       .work = below ? arena : why_arena_scratch(arena),
                       .below = below,
                       .plans = plans,
                       .tuples = WHY_NEW_ARRAY(arena, why_tuples, count + 1),
                       .seen = WHY_NEW_ARRAY(arena, why_tuples*, count + 1),
                       .limits = {.facts = or_usual(wanted.facts, USUAL_FACTS),
                                  .derivations = or_usual(wanted.derivations, USUAL_DERIVATIONS),
                                  .rounds = or_usual(wanted.rounds, USUAL_ROUNDS),
                                  .steps = or_usual(wanted.steps, USUAL_STEPS)}};
  if (plans && plans->indexes)
    copy_tuples(store);
  else
    init_tuples(store);
  store->words.at = WHY_NEW_ARRAY(arena, uint32_t, FIRST_WORDS);
  store->words.room = FIRST_WORDS;
}

const why_store* why_store_of(const why_store* store, why_relation relation) {
  return is_here(store, relation) ? store : store->below;
}

const why_rule_plans* why_store_plans(const why_store* store, const why_rule* rule) {
  return store->plans && rule->in_overlay ? &store->plans->rules[rule->number]
                                          : &store->program->plans[rule->number];
}

/// What is large moves without a copy, and wastes less when it grows by half.
static void make_room(why_store* store, why_tuples* tuples) {
  enum { LARGE = 100000 };
  if (tuples->count < tuples->room)
    return;
  uint32_t room = tuples->room < LARGE ? tuples->room * 2 : tuples->room + tuples->room / 2;
  room = tuples->room ? room : first_room(store, (size_t)(tuples - store->tuples));
  size_t width = tuples->width * sizeof(why_value);
  tuples->rows = why_arena_grow(store->arena, tuples->rows, tuples->room * width, room * width);
  tuples->derived = why_arena_grow(store->arena, tuples->derived, tuples->room * sizeof(uint32_t),
                                   room * sizeof(uint32_t));
  if (tuples->given)
    tuples->given = why_arena_grow(store->arena, tuples->given, tuples->room * sizeof(uint32_t),
                                   room * sizeof(uint32_t));
  tuples->room = room;
}

uint32_t why_store_add(why_store* store, why_relation relation, const why_value* values,
                       uint32_t hash) {
  why_tuples* tuples = &store->tuples[relation];
  uint32_t row =
      why_index_meet(&tuples->indexes[0], store->arena, tuples->rows, hash, values, tuples->count);
  if (row < tuples->count)
    return row;
  make_room(store, tuples);
  why_value* made = tuples->rows + (size_t)row * tuples->width;
  for (unsigned i = 0; i < tuples->width; i++)
    made[i] = values[i];
  store->facts++;
  return tuples->count++;
}

void why_store_give(why_store* store, why_relation relation, const why_value* values,
                    why_place place, const why_from* from) {
  why_tuples* tuples = &store->tuples[relation];
  uint32_t row =
      why_store_add(store, relation, values, why_index_hash(why_slots_all(tuples->width), values));
  if (!tuples->given)
    tuples->given = WHY_NEW_ARRAY(store->arena, uint32_t, tuples->room);
  uint32_t* given = &tuples->given[row];
  if (*given) {
    // The same fact given twice: the place that comes first, whatever the order of reading.
    why_given_at* known = &store->givens.at[*given - 1];
    if (why_place_compare(&place, &known->place) < 0)
      *known = (why_given_at){place, from};
    return;
  }
  *WHY_LIST_ADD(store->arena, store->givens) = (why_given_at){place, from};
  *given = (uint32_t)store->givens.count;
}

uint32_t* why_store_record(why_store* store, size_t count) {
  if (store->words.count + count >= UINT32_MAX)
    return NULL;
  while (store->words.room < store->words.count + count)
    store->words.at = why_list_room(store->arena, store->words.at, store->words.room,
                                    &store->words.room, sizeof *store->words.at);
  uint32_t* made = store->words.at + store->words.count;
  store->words.count += count;
  store->derivations++;
  return made;
}

// ---- sets of values ----

static uint64_t* find_value(const why_value_set* set, uint64_t turned) {
  uint32_t last = set->slot_count - 1;
  uint64_t hash = turned * UINT64_C(0x9e3779b97f4a7c15);
  for (uint32_t at = (uint32_t)(hash >> 32) & last;; at = (at + 1) & last)
    if (!set->slots[at] || set->slots[at] == turned)
      return &set->slots[at];
}

bool why_value_set_has(const why_value_set* set, why_value value) {
  return set->count && *find_value(set, ~value.bits);
}

bool why_value_set_add(why_value_set* set, why_arena* arena, why_value value) {
  if (set->count * 2 >= set->slot_count) {
    const why_value_set old = *set;
    set->slot_count = old.slot_count ? old.slot_count * 2 : 32;
    set->slots = WHY_NEW_ARRAY(arena, uint64_t, set->slot_count);
    for (uint32_t i = 0; i < old.slot_count; i++)
      if (old.slots[i])
        *find_value(set, old.slots[i]) = old.slots[i];
  }
  uint64_t* slot = find_value(set, ~value.bits);
  if (*slot)
    return false;
  *slot = ~value.bits;
  set->count++;
  return true;
}

// ---- keys ----

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
  if (why_tuples_given(tuples, row))
    return store->givens.at[tuples->given[row] - 1].place;
  for (uint32_t i = tuples->derived[row]; i; i = store->words.at[i - 1 + WHY_RECORD_BEFORE]) {
    const why_place* each =
        &store->program->rules.at[store->words.at[i - 1 + WHY_RECORD_RULE]].info.place;
    if (!first.file || why_place_compare(each, &first) < 0)
      first = *each;
  }
  return first;
}

static void report_key(why_store* store, why_relation relation, uint32_t row, uint32_t other) {
  const why_relation_info* info = &store->program->relations[relation].info;
  const why_tuples* tuples = &store->tuples[relation];
  const char* a = why_row_text(info, store->symbols, why_slots_all(info->slot_count),
                               why_tuples_row(tuples, row), store->work);
  const char* b = why_row_text(info, store->symbols, why_slots_all(info->slot_count),
                               why_tuples_row(tuples, other), store->work);
  bool swap = strcmp(a, b) > 0;
  why_problems_add(store->problems, WHY_ERROR, "key",
                   place_of_row(store, tuples, swap ? other : row),
                   "two values for one key: %s and %s", swap ? b : a, swap ? a : b);
  why_problems_also(store->problems, place_of_row(store, tuples, swap ? row : other));
}

/// Rows from `first` on that are overruled, and those that only tie. Numbers count from `first`.
typedef struct {
  uint32_t first;
  uint32_t count;
  bool* overruled;
  uint32_t* ties; ///< By overruled row: the row that it ties with, plus one; 0 where it loses.
} settlement;

/// The key's index is the second of a relation with a key (declare.c).
enum { KEY_INDEX = 1 };

/// Whether every row from `first` on is alone with its key, as nearly always.
static bool are_alone(const why_store* store, why_tuples* tuples, uint32_t first) {
  why_index* key = &tuples->indexes[KEY_INDEX];
  why_index_fill(key, store->arena, tuples->rows, first);
  uint32_t before = key->used;
  why_index_fill(key, store->arena, tuples->rows, tuples->count);
  return key->used - before == tuples->count - first;
}

static settlement compare_keys(const why_store* store, why_relation relation, uint32_t first) {
  const why_relation_inner* inner = &store->program->relations[relation];
  why_tuples* tuples = &store->tuples[relation];
  uint32_t count = tuples->count - first;
  settlement made = {.first = first,
                     .count = count,
                     .overruled = WHY_NEW_ARRAY(store->work, bool, count),
                     .ties = WHY_NEW_ARRAY(store->work, uint32_t, count)};
  for (uint32_t i = 0; i < count; i++) {
    const why_value* values = why_tuples_row(tuples, first + i);
    why_index_reader other = why_tuples_first(tuples, store->arena, KEY_INDEX, values);
    for (; other.row < first + i; why_index_next(&tuples->indexes[KEY_INDEX], &other)) {
      if (made.overruled[other.row - first])
        continue;
      int order = prevails(store, inner, values, why_tuples_row(tuples, other.row));
      made.overruled[order > 0 ? other.row - first : i] = true;
      if (order == 0)
        made.ties[i] = other.row - first + 1;
      break; // one row of a key is not overruled at any time
    }
  }
  return made;
}

/// Rows that tie with one that nothing overrules are errors. The first by its texts is named with
/// each of the others, whatever the order in which they were found.
static void report_ties(why_store* store, why_relation relation, const settlement* made) {
  const why_relation_info* info = &store->program->relations[relation].info;
  const why_tuples* tuples = &store->tuples[relation];
  uint32_t* least = WHY_NEW_ARRAY(store->work, uint32_t, made->count);
  for (uint32_t i = 0; i < made->count; i++) {
    least[i] = i;
    uint32_t other = made->ties[i] - 1;
    if (made->ties[i] &&
        why_row_compare(info, store->symbols, why_tuples_row(tuples, made->first + i),
                        why_tuples_row(tuples, made->first + least[other])) < 0)
      least[other] = i;
  }
  for (uint32_t i = 0; i < made->count; i++) {
    uint32_t other = made->ties[i] ? made->ties[i] - 1 : i;
    if (!made->overruled[other] && least[other] != i)
      report_key(store, relation, made->first + i, made->first + least[other]);
  }
}

static void hide_rows(why_store* store, why_tuples* tuples, const settlement* made) {
  uint32_t room = made->first + made->count;
  tuples->hidden =
      why_arena_grow(store->arena, tuples->hidden, tuples->hidden_room, room * sizeof(bool));
  tuples->hidden_room = room;
  for (uint32_t i = 0; i < made->count; i++) {
    tuples->hidden[made->first + i] = made->overruled[i];
    tuples->hidden_count += made->overruled[i];
  }
}

void why_store_settle(why_store* store, why_relation relation, uint32_t first) {
  why_tuples* tuples = &store->tuples[relation];
  uint32_t key = store->program->relations[relation].key_mask;
  if (!key || key == why_slots_all(tuples->width) || are_alone(store, tuples, first))
    return;
  const settlement made = compare_keys(store, relation, first);
  if (store->problems)
    report_ties(store, relation, &made);
  hide_rows(store, tuples, &made);
}
