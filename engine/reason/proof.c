// SPDX-License-Identifier: GPL-3.0-or-later
// The best derivation of a fact as a tree. Costs (rule applications in the tree) of all facts that
// can be reached are lowered until none can be lowered further; a fact's best derivation then rests
// only on facts that cost less, so that no fact stands below itself (Knuth 1977, "A generalization
// of Dijkstra's algorithm", doi 10.1016/0020-0190(77)90002-3). Facts of the base have theirs
// already (best.c), so that a question looks at no more than what is its own.
#include "store.h"

#include <math.h>

/// What a derivation rests on: a node, or a fact of the base, of which the steps are known.
typedef struct {
  why_fact fact;
  uint32_t node; ///< Its number, plus one; 0: of the base.
  double steps;  ///< Of a fact of the base.
} part;

/// One way in which a fact of the question follows.
typedef struct {
  size_t record;
  size_t parts; ///< Where its parts begin ...
  size_t end;   ///< ... and end.
} way;

typedef struct {
  why_fact fact;
  size_t ways;      ///< Where its ways begin: none of what was given, or is of the base.
  size_t way_count; ///< Newest first.
  size_t best;      ///< Of all ways, by number.
  double steps;     ///< Of the best tree found so far.
  why_proof* proof; ///< Built when first asked for.
  uint32_t walk;    ///< The last that came by.
} node;

typedef struct why_proofs {
  WHY_LIST(node) nodes;
  uint32_t* slots; ///< Open addressing by fact: number of the node, plus one.
  size_t slot_count;
  size_t settled; ///< Nodes before this have their final costs.
  WHY_LIST(way) ways;
  WHY_LIST(part) parts;
  why_fact_list facts;      ///< Of the record at work.
  WHY_LIST(double) steps;   ///< Of the parts of the way at work.
  uint32_t walk;            ///< The one at work, from 1.
  WHY_LIST(uint32_t) ahead; ///< Nodes that it has still to come by.
} why_proofs;

static uint32_t* find_slot(why_proofs* proofs, why_fact fact) {
  uint64_t hash = ((uint64_t)fact.relation << 32 | fact.row) * UINT64_C(0x9e3779b97f4a7c15);
  size_t mask = proofs->slot_count - 1;
  size_t at = (size_t)(hash >> 20) & mask;
  for (; proofs->slots[at]; at = (at + 1) & mask) {
    why_fact known = proofs->nodes.at[proofs->slots[at] - 1].fact;
    if (known.relation == fact.relation && known.row == fact.row)
      break;
  }
  return &proofs->slots[at];
}

static void enlarge(why_proofs* proofs, why_arena* arena) {
  proofs->slot_count = proofs->slot_count ? proofs->slot_count * 2 : 256;
  proofs->slots = WHY_NEW_ARRAY(arena, uint32_t, proofs->slot_count);
  for (size_t i = 0; i < proofs->nodes.count; i++)
    *find_slot(proofs, proofs->nodes.at[i].fact) = (uint32_t)i + 1;
}

static bool is_based(const why_overlay* overlay, why_fact fact) {
  return why_store_of(&overlay->store, fact.relation) != &overlay->store;
}

/// Of the best derivation of a fact of the base.
static double base_steps(const why_overlay* overlay, why_fact fact) {
  const why_tuples* tuples = why_store_tuples(&overlay->store, fact.relation);
  return tuples->steps ? tuples->steps[fact.row] : 0;
}

/// The number of a fact's node, made if new.
static size_t find_node(why_overlay* overlay, why_fact fact) {
  why_proofs* proofs = overlay->proofs;
  if ((proofs->nodes.count + 1) * 2 > proofs->slot_count)
    enlarge(proofs, overlay->store.arena);
  uint32_t* slot = find_slot(proofs, fact);
  if (*slot)
    return *slot - 1;
  node made = {.fact = fact, .steps = INFINITY};
  if (is_based(overlay, fact))
    made.steps = base_steps(overlay, fact);
  else if (why_tuples_given(why_store_tuples(&overlay->store, fact.relation), fact.row))
    made.steps = 0;
  *WHY_LIST_ADD(overlay->store.arena, proofs->nodes) = made;
  *slot = (uint32_t)proofs->nodes.count;
  return proofs->nodes.count - 1;
}

static part part_of(why_overlay* overlay, why_fact fact) {
  if (is_based(overlay, fact))
    return (part){.fact = fact, .steps = base_steps(overlay, fact)};
  return (part){.fact = fact, .node = (uint32_t)find_node(overlay, fact) + 1};
}

/// Add a way in which a fact follows, with nodes for all that it rests on.
static void add_way(why_overlay* overlay, size_t record) {
  why_proofs* proofs = overlay->proofs;
  why_arena* arena = overlay->store.arena;
  way made = {.record = record, .parts = proofs->parts.count};
  why_record_facts(&overlay->store, &overlay->store, record, arena, &proofs->facts);
  for (size_t i = 0; i < proofs->facts.count; i++) {
    part each = part_of(overlay, proofs->facts.at[i]);
    *WHY_LIST_ADD(arena, proofs->parts) = each;
  }
  made.end = proofs->parts.count;
  *WHY_LIST_ADD(arena, proofs->ways) = made;
}

/// Find the ways to every node from `first` on whose steps are not known, and nodes for all that
/// they rest on.
static void reach(why_overlay* overlay, size_t first) {
  why_proofs* proofs = overlay->proofs;
  for (size_t i = first; i < proofs->nodes.count; i++) {
    if (isfinite(proofs->nodes.at[i].steps))
      continue;
    why_fact fact = proofs->nodes.at[i].fact;
    size_t ways = proofs->ways.count;
    uint32_t record = why_store_tuples(&overlay->store, fact.relation)->derived[fact.row];
    for (; record; record = overlay->store.words.at[record - 1 + WHY_RECORD_BEFORE])
      add_way(overlay, record - 1);
    proofs->nodes.at[i].ways = ways;
    proofs->nodes.at[i].way_count = proofs->ways.count - ways;
  }
}

/// Steps of the tree of a way.
static double cost_of(why_overlay* overlay, const way* of) {
  why_proofs* proofs = overlay->proofs;
  proofs->steps.count = 0;
  for (size_t i = of->parts; i < of->end; i++) {
    const part* each = &proofs->parts.at[i];
    *WHY_LIST_ADD(overlay->store.arena, proofs->steps) =
        each->node ? proofs->nodes.at[each->node - 1].steps : each->steps;
  }
  return why_steps_over(proofs->steps.at, proofs->steps.count);
}

/// Lower the steps of a node by its ways; whether any way could not be weighed yet.
static bool lower(why_overlay* overlay, node* at, bool* changed) {
  bool endless = false;
  for (size_t i = at->ways; i < at->ways + at->way_count; i++) {
    double steps = cost_of(overlay, &overlay->proofs->ways.at[i]);
    endless = endless || !isfinite(steps);
    if (steps >= at->steps)
      continue;
    at->steps = steps;
    at->best = i;
    *changed = true;
  }
  return endless;
}

static why_derivation restore(why_overlay* overlay, const node* at, size_t number) {
  why_store* store = &overlay->store;
  return why_record_restore(store, store, overlay->proofs->ways.at[number].record, at->fact);
}

/// Of the ways that cost least, the first by rule and texts: ties fall the same way always.
static void choose(why_overlay* overlay, node* at) {
  const why_proofs* proofs = overlay->proofs;
  why_derivation first = {0};
  size_t end = at->ways + at->way_count;
  for (size_t i = at->way_count > 1 && isfinite(at->steps) ? at->ways : end; i < end; i++) {
    if (i == at->best || cost_of(overlay, &proofs->ways.at[i]) != at->steps)
      continue;
    if (!first.rule)
      first = restore(overlay, at, at->best);
    why_derivation each = restore(overlay, at, i);
    if (why_derivation_compare(&overlay->store, &each, &first) >= 0)
      continue;
    at->best = i;
    first = each;
  }
}

/// Later nodes are what earlier ones rest on, so going backwards settles most in one pass; and all,
/// when every way could be weighed in it. Else what was weighed early is weighed again until
/// nothing changes any more.
static void settle(why_overlay* overlay, size_t first) {
  why_proofs* proofs = overlay->proofs;
  bool endless = false;
  for (bool again = true; again;) {
    bool changed = false;
    for (size_t i = proofs->nodes.count; i-- > first;)
      endless = lower(overlay, &proofs->nodes.at[i], &changed) || endless;
    again = changed && endless;
  }
  for (size_t i = first; i < proofs->nodes.count; i++)
    choose(overlay, &proofs->nodes.at[i]);
  proofs->settled = proofs->nodes.count;
}

/// The best derivation of a node whose costs are final.
static why_derivation derivation_of(why_overlay* overlay, const node* at) {
  if (at->way_count)
    return restore(overlay, at, at->best);
  const why_store* of = why_store_of(&overlay->store, at->fact.relation);
  const why_tuples* tuples = &of->tuples[at->fact.relation];
  uint32_t record = tuples->best ? tuples->best[at->fact.row] : 0;
  return record ? why_record_restore(&overlay->store, of, record - 1, at->fact)
                : why_given_restore(of, at->fact);
}

static const why_proof* prove(why_overlay* overlay, size_t number) {
  node* at = &overlay->proofs->nodes.at[number];
  if (at->proof || !isfinite(at->steps))
    return at->proof;
  at->proof = WHY_NEW(overlay->store.arena, why_proof);
  *at->proof = (why_proof){
      .step = derivation_of(overlay, at), .steps = at->steps, .number = (uint32_t)number};
  return at->proof;
}

/// The node of a fact, with its final costs.
static size_t settle_fact(why_overlay* overlay, why_fact fact) {
  if (!overlay->proofs)
    overlay->proofs = WHY_NEW(overlay->store.arena, why_proofs);
  size_t before = overlay->proofs->settled;
  size_t number = find_node(overlay, fact);
  if (number >= before) {
    reach(overlay, before);
    settle(overlay, before);
  }
  return number;
}

const why_proof* why_proof_best(why_overlay* overlay, why_fact fact) {
  return prove(overlay, settle_fact(overlay, fact));
}

// ---- walks ----

/// Come by all parts of a node's best way: enter facts of the base, put nodes on the stack.
static void pass_on(why_overlay* overlay, const node* from,
                    bool (*enter)(void* user, why_fact fact), void* user) {
  why_proofs* proofs = overlay->proofs;
  const way none = {0};
  const way* best = from->way_count ? &proofs->ways.at[from->best] : &none;
  for (size_t i = best->parts; i < best->end; i++) {
    const part* each = &proofs->parts.at[i];
    if (each->node)
      *WHY_LIST_ADD(overlay->store.arena, proofs->ahead) = each->node - 1;
    else
      enter(user, each->fact);
  }
}

void why_proof_walk(why_overlay* overlay, why_fact fact, bool (*enter)(void* user, why_fact fact),
                    void* user) {
  uint32_t number = (uint32_t)settle_fact(overlay, fact);
  why_proofs* proofs = overlay->proofs;
  proofs->walk++;
  proofs->ahead.count = 0;
  *WHY_LIST_ADD(overlay->store.arena, proofs->ahead) = number;
  while (proofs->ahead.count) {
    node* here = &proofs->nodes.at[proofs->ahead.at[--proofs->ahead.count]];
    if (here->walk == proofs->walk || !isfinite(here->steps))
      continue;
    here->walk = proofs->walk;
    if (enter(user, here->fact))
      pass_on(overlay, here, enter, user);
  }
}
