// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of a base are taken in order of the size of their trees, so that what a fact rests on has
// its list already. A list holds each study where it first comes up on a walk from the fact down;
// lists that say the same are one.
#include "behind.h"

#include <stdlib.h>
#include <string.h>

enum { STUDIES_LIMIT = 12 };

/// By row of a relation of the base: the number of its list, plus one; 0: nothing is behind it.
typedef struct {
  uint32_t* lists;
  size_t count;
} rows;

struct why_behind {
  const why_program* program;
  const why_tables* tables;
  const bool* studied; ///< By relation: its facts can rest on studies or sources.
  uint32_t* studies;   ///< By relation: slots that name a study ...
  uint32_t* sources;   ///< ... or a source.
  rows* base;          ///< By relation.
  WHY_LIST(why_symbol_list) lists;
};

static bool holds(const why_symbol_list* list, why_symbol symbol) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i] == symbol)
      return true;
  return false;
}

void why_behind_add(why_arena* arena, why_symbol_list* studies, why_symbol study) {
  if (studies->count < STUDIES_LIMIT && !holds(studies, study))
    *WHY_LIST_ADD(arena, *studies) = study;
}

/// What a fact itself names: trials, and published sources of figures; that coaches agree is no
/// publication.
static void add_named(const why_behind* behind, const why_overlay* overlay, why_fact fact,
                      why_arena* arena, why_symbol_list* studies) {
  uint32_t sources = behind->sources[fact.relation];
  uint32_t named = behind->studies[fact.relation] | sources;
  for (int slot = 0; named >> slot; slot++) {
    if (!(named >> slot & 1))
      continue;
    why_symbol symbol = why_fact_symbol(overlay, fact, slot);
    const why_source* source =
        sources >> slot & 1 ? why_source_find(&behind->tables->measurements, symbol) : NULL;
    if (!(sources >> slot & 1) || (source && *source->journal))
      why_behind_add(arena, studies, symbol);
  }
}

/// The list of a fact of the base, or NULL.
static const why_symbol_list* list_of(const why_behind* behind, why_fact fact) {
  const rows* of = &behind->base[fact.relation];
  uint32_t number = fact.row < of->count ? of->lists[fact.row] : 0;
  return number ? &behind->lists.at[number - 1] : NULL;
}

static void add_list(const why_behind* behind, why_fact fact, why_arena* arena,
                     why_symbol_list* studies) {
  const why_symbol_list* list = list_of(behind, fact);
  for (size_t i = 0; list && i < list->count; i++)
    why_behind_add(arena, studies, list->at[i]);
}

void why_behind_gather(const why_behind* behind, why_overlay* overlay, why_fact fact,
                       why_arena* arena, why_symbol_list* studies) {
  if (!behind->studied[fact.relation])
    return;
  if (!why_program_relation(behind->program, fact.relation)->reached) {
    add_list(behind, fact, arena, studies);
    return;
  }
  const why_proof* proof = why_proof_best(overlay, fact);
  if (!proof || !why_proof_enter(overlay, proof))
    return;
  add_named(behind, overlay, fact, arena, studies);
  for (size_t i = 0; i < proof->step.premise_count; i++)
    if (proof->step.premises[i].kind != WHY_ABSENT)
      why_behind_gather(behind, overlay, proof->step.premises[i].fact, arena, studies);
}

// ---- the lists of a base ----

typedef WHY_LIST(const why_proof*) proof_list;

static int compare_sizes(const void* left, const void* right) {
  const why_proof* a = *(const why_proof* const*)left;
  const why_proof* b = *(const why_proof* const*)right;
  if (a->steps != b->steps)
    return a->steps < b->steps ? -1 : 1;
  return (a->number > b->number) - (a->number < b->number);
}

static bool same_list(const why_symbol_list* a, const why_symbol_list* b) {
  return a->count == b->count && memcmp(a->at, b->at, a->count * sizeof *a->at) == 0;
}

/// The number of a list that says the same among those of a fact's premises, plus one; or 0.
static uint32_t find_same(const why_behind* behind, const why_proof* proof,
                          const why_symbol_list* wanted) {
  for (size_t i = 0; i < proof->step.premise_count; i++) {
    const why_premise* premise = &proof->step.premises[i];
    const why_symbol_list* list =
        premise->kind == WHY_ABSENT ? NULL : list_of(behind, premise->fact);
    if (list && same_list(list, wanted))
      return (uint32_t)(list - behind->lists.at) + 1;
  }
  return 0;
}

static void list_fact(why_behind* behind, const why_overlay* overlay, const why_proof* proof,
                      why_arena* arena) {
  why_fact fact = proof->step.fact;
  why_symbol_list made = {0};
  add_named(behind, overlay, fact, why_arena_scratch(arena), &made);
  for (size_t i = 0; i < proof->step.premise_count; i++)
    if (proof->step.premises[i].kind != WHY_ABSENT)
      add_list(behind, proof->step.premises[i].fact, why_arena_scratch(arena), &made);
  uint32_t* number = &behind->base[fact.relation].lists[fact.row];
  if (made.count)
    *number = find_same(behind, proof, &made);
  if (!made.count || *number)
    return;
  why_symbol_list kept = {
      .at = WHY_NEW_ARRAY(arena, why_symbol, made.count), .count = made.count, .room = made.count};
  memcpy(kept.at, made.at, made.count * sizeof *made.at);
  *WHY_LIST_ADD(arena, behind->lists) = kept;
  *number = (uint32_t)behind->lists.count;
}

/// Take in the facts of a relation, with room for their lists.
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
  of->lists = WHY_NEW_ARRAY(arena, uint32_t, of->count + 1);
}

/// The slots of a relation that are of a kind.
static uint32_t slots_of(const why_program* program, const why_symbols* symbols,
                         why_relation relation, const char* kind) {
  const why_relation_info* info = why_program_relation(program, relation);
  uint32_t slots = 0;
  for (unsigned i = 0; i < info->slot_count; i++)
    if (strcmp(why_symbols_text(symbols, info->slots[i].kind), kind) == 0)
      slots |= UINT32_C(1) << i;
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
                       .tables = tables,
                       .studied = studied,
                       .studies = WHY_NEW_ARRAY(arena, uint32_t, count),
                       .sources = WHY_NEW_ARRAY(arena, uint32_t, count),
                       .base = WHY_NEW_ARRAY(arena, rows, count)};
  for (size_t i = 0; i < count; i++) {
    studied[i] = studies[i] || sources[i];
    made->studies[i] = slots_of(program, tables->symbols, (why_relation)i, "study");
    made->sources[i] = slots_of(program, tables->symbols, (why_relation)i, "source");
  }
  return made;
}

const why_behind* why_behind_new(const why_base* base, const why_program* program,
                                 const why_tables* tables, why_arena* arena) {
  why_behind* made = new_behind(program, tables, arena);
  why_overlay* overlay = why_overlay_new(base, why_arena_scratch(arena), NULL);
  proof_list proofs = {0};
  for (size_t i = 0; i < why_program_relation_count(program); i++)
    if (made->studied[i] && !why_program_relation(program, (why_relation)i)->reached)
      take_relation(made, overlay, (why_relation)i, arena, &proofs);
  if (proofs.count)
    qsort(proofs.at, proofs.count, sizeof *proofs.at, compare_sizes);
  for (size_t i = 0; i < proofs.count; i++)
    list_fact(made, overlay, proofs.at[i], arena);
  return made;
}
