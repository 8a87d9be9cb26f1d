// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of studies are bits in order of their ids. Facts of a base are taken in order of the size of
// their trees, so that what a fact rests on has its set already; sets that say the same as that of
// something they rest on are one.
#include "behind.h"

#include <stdlib.h>
#include <string.h>

enum { STUDIES_LIMIT = 12, WORD = 64 };

/// A study or a published source, found by its symbol.
typedef struct {
  why_symbol id;
  const char* text; ///< Of the id.
  size_t bit;
} entry;

/// By row of a relation of the base; NULL: nothing is behind it.
typedef struct {
  const why_behind_set** sets;
  size_t count;
} rows;

struct why_behind {
  const why_program* program;
  const bool* studied;     ///< By relation: its facts can rest on studies or sources.
  uint32_t* named;         ///< By relation: slots that name a study or a source.
  WHY_LIST(entry) entries; ///< By symbol.
  const why_symbol* ids;   ///< By bit.
  size_t words;            ///< Of a set.
  rows* base;              ///< By relation.
};

void why_behind_add(why_arena* arena, why_symbol_list* studies, why_symbol study) {
  for (size_t i = 0; i < studies->count; i++)
    if (studies->at[i] == study)
      return;
  if (studies->count < STUDIES_LIMIT)
    *WHY_LIST_ADD(arena, *studies) = study;
}

why_behind_set* why_behind_none(const why_behind* behind, why_arena* arena) {
  return WHY_NEW_ARRAY(arena, why_behind_set, behind->words + 1);
}

static int compare_entries(const void* left, const void* right) {
  const entry* a = left;
  const entry* b = right;
  return (a->id > b->id) - (a->id < b->id);
}

/// What a fact itself names.
static void add_named(const why_behind* behind, const why_overlay* overlay, why_fact fact,
                      why_behind_set* set) {
  uint32_t named = behind->named[fact.relation];
  for (int slot = 0; named >> slot; slot++) {
    const entry wanted = {.id = named >> slot & 1 ? why_fact_symbol(overlay, fact, slot) : 0};
    const entry* found = wanted.id ? bsearch(&wanted, behind->entries.at, behind->entries.count,
                                             sizeof wanted, compare_entries)
                                   : NULL;
    if (found)
      set[found->bit / WORD] |= UINT64_C(1) << found->bit % WORD;
  }
}

/// The set of a fact of the base, or NULL.
static const why_behind_set* set_of(const why_behind* behind, why_fact fact) {
  const rows* of = &behind->base[fact.relation];
  return fact.row < of->count ? of->sets[fact.row] : NULL;
}

static void add_base(const why_behind* behind, why_fact fact, why_behind_set* set) {
  const why_behind_set* more = set_of(behind, fact);
  for (size_t i = 0; more && i < behind->words; i++)
    set[i] |= more[i];
}

/// A walk at work.
typedef struct {
  const why_behind* behind;
  const why_overlay* overlay;
  why_behind_set* set;
} taking;

static bool enter(void* user, why_fact fact) {
  const taking* at = user;
  if (!at->behind->studied[fact.relation])
    return false;
  if (why_program_relation(at->behind->program, fact.relation)->reached)
    add_named(at->behind, at->overlay, fact, at->set);
  else
    add_base(at->behind, fact, at->set);
  return true;
}

void why_behind_take(const why_behind* behind, why_overlay* overlay, why_fact fact,
                     why_behind_set* set) {
  if (behind->studied[fact.relation])
    why_proof_walk(overlay, fact, enter, &(taking){behind, overlay, set});
}

void why_behind_list(const why_behind* behind, const why_behind_set* set, why_arena* arena,
                     why_symbol_list* studies) {
  for (size_t i = 0; i < behind->words; i++)
    for (why_behind_set left = set[i]; left; left &= left - 1)
      why_behind_add(arena, studies, behind->ids[i * WORD + (size_t)__builtin_ctzll(left)]);
}

// ---- what there is ----

static int compare_texts(const void* left, const void* right) {
  return strcmp(((const entry*)left)->text, ((const entry*)right)->text);
}

static void name(why_behind* behind, const why_symbols* symbols, why_symbol id, why_arena* arena) {
  *WHY_LIST_ADD(arena, behind->entries) = (entry){id, why_symbols_text(symbols, id), 0};
}

/// Name all studies, and all published sources; that coaches agree is no publication.
static void name_all(why_behind* behind, const why_tables* tables, why_arena* arena) {
  for (size_t i = 0; i < tables->studies.rows.count; i++)
    name(behind, tables->symbols, tables->studies.rows.at[i].id, arena);
  for (size_t i = 0; i < tables->measurements.sources.count; i++)
    if (*tables->measurements.sources.at[i].journal)
      name(behind, tables->symbols, tables->measurements.sources.at[i].id, arena);
  size_t count = behind->entries.count;
  why_symbol* ids = WHY_NEW_ARRAY(arena, why_symbol, count + 1);
  if (count)
    qsort(behind->entries.at, count, sizeof *behind->entries.at, compare_texts);
  for (size_t i = 0; i < count; i++) {
    behind->entries.at[i].bit = i;
    ids[i] = behind->entries.at[i].id;
  }
  if (count)
    qsort(behind->entries.at, count, sizeof *behind->entries.at, compare_entries);
  behind->ids = ids;
  behind->words = (count + WORD - 1) / WORD;
}

/// The slots of a relation that name a study or a source.
static uint32_t slots_of(const why_program* program, const why_symbols* symbols,
                         why_relation relation) {
  const why_relation_info* info = why_program_relation(program, relation);
  uint32_t slots = 0;
  for (unsigned i = 0; i < info->slot_count; i++) {
    const char* kind = why_symbols_text(symbols, info->slots[i].kind);
    if (strcmp(kind, "study") == 0 || strcmp(kind, "source") == 0)
      slots |= UINT32_C(1) << i;
  }
  return slots;
}

static why_behind* new_behind(const why_program* program, const why_tables* tables,
                              why_arena* arena) {
  size_t count = why_program_relation_count(program);
  const bool* studies = why_program_leading_to(program, "study", arena);
  const bool* sources = why_program_leading_to(program, "source", arena);
  bool* studied = WHY_NEW_ARRAY(arena, bool, count);
  why_behind* made = WHY_NEW(arena, why_behind);
  *made = (why_behind){.program = program,
                       .studied = studied,
                       .named = WHY_NEW_ARRAY(arena, uint32_t, count),
                       .base = WHY_NEW_ARRAY(arena, rows, count)};
  for (size_t i = 0; i < count; i++) {
    studied[i] = studies[i] || sources[i];
    made->named[i] = slots_of(program, tables->symbols, (why_relation)i);
  }
  name_all(made, tables, arena);
  return made;
}

// ---- the sets of a base ----

typedef WHY_LIST(const why_proof*) proof_list;

static int compare_sizes(const void* left, const void* right) {
  double a = (*(const why_proof* const*)left)->steps;
  double b = (*(const why_proof* const*)right)->steps;
  return (a > b) - (a < b);
}

/// `wanted` as it is kept: that of a premise which says the same, else one of its own; NULL when it
/// is empty.
static const why_behind_set* keep(const why_behind* behind, const why_proof* proof,
                                  const why_behind_set* wanted, why_arena* arena) {
  size_t size = behind->words * sizeof *wanted;
  bool any = false;
  for (size_t i = 0; i < behind->words; i++)
    any = any || wanted[i];
  for (size_t i = 0; any && i < proof->step.premise_count; i++) {
    const why_premise* premise = &proof->step.premises[i];
    const why_behind_set* known =
        premise->kind == WHY_ABSENT ? NULL : set_of(behind, premise->fact);
    if (known && memcmp(known, wanted, size) == 0)
      return known;
  }
  return any ? memcpy(why_behind_none(behind, arena), wanted, size) : NULL;
}

static void settle(why_behind* behind, const why_overlay* overlay, const why_proof* proof,
                   why_behind_set* room, why_arena* arena) {
  why_fact fact = proof->step.fact;
  memset(room, 0, behind->words * sizeof *room);
  add_named(behind, overlay, fact, room);
  for (size_t i = 0; i < proof->step.premise_count; i++)
    if (proof->step.premises[i].kind != WHY_ABSENT)
      add_base(behind, proof->step.premises[i].fact, room);
  behind->base[fact.relation].sets[fact.row] = keep(behind, proof, room, arena);
}

/// Take in the facts of a relation, with room for their sets.
static void take_relation(why_behind* behind, why_overlay* overlay, why_relation relation,
                          why_arena* arena, proof_list* proofs) {
  why_facts facts = why_facts_find(overlay, relation, 0, NULL);
  rows* of = &behind->base[relation];
  for (size_t i = 0; i < facts.count; i++) {
    const why_proof* proof = why_proof_best(overlay, facts.at[i]);
    of->count = facts.at[i].row >= of->count ? facts.at[i].row + 1 : of->count;
    if (proof)
      *WHY_LIST_ADD(why_arena_scratch(arena), *proofs) = proof;
  }
  of->sets = WHY_NEW_ARRAY(arena, const why_behind_set*, of->count + 1);
}

const why_behind* why_behind_new(const why_base* base, const why_program* program,
                                 const why_tables* tables, why_arena* arena) {
  why_behind* made = new_behind(program, tables, arena);
  why_overlay* overlay = why_overlay_new(base, why_arena_scratch(arena), NULL);
  why_behind_set* room = why_behind_none(made, why_arena_scratch(arena));
  proof_list proofs = {0};
  for (size_t i = 0; i < why_program_relation_count(program); i++)
    if (made->studied[i] && !why_program_relation(program, (why_relation)i)->reached)
      take_relation(made, overlay, (why_relation)i, arena, &proofs);
  if (proofs.count)
    qsort(proofs.at, proofs.count, sizeof *proofs.at, compare_sizes);
  for (size_t i = 0; i < proofs.count; i++)
    settle(made, overlay, proofs.at[i], room, arena);
  return made;
}
