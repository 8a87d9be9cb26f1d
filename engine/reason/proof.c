// SPDX-License-Identifier: GPL-3.0-or-later
// The best derivation of a fact as a tree. Costs (rule applications in the tree) of all facts that
// can be reached are lowered until none can be lowered further; a fact's best derivation then rests
// only on facts that cost less, so that no fact stands below itself (Knuth 1977, "A generalization
// of Dijkstra's algorithm", doi 10.1016/0020-0190(77)90002-3). Facts of the base have theirs
// already (best.c), so that a question looks at no more than what is its own.
#include "store.h"

#include <math.h>

typedef struct {
  why_fact fact;
  bool based; ///< Of the base: its derivations are not looked at.
  const why_derivation* derivations;
  size_t derivation_count;
  size_t parts; ///< Where the nodes of their premises begin in the list of parts.
  double steps; ///< Of the best tree found so far.
  size_t best;
  why_proof* proof; ///< Built when first asked for.
  uint32_t walk;    ///< The last that entered it.
} node;

/// What a derivation rests on: a node, or a fact of the base, of which the steps are known.
typedef struct {
  uint32_t node; ///< Its number, plus one; 0: of the base.
  double steps;  ///< Of a fact of the base.
} part;

typedef struct why_proofs {
  WHY_LIST(node) nodes;
  uint32_t* slots; ///< Open addressing by fact: number of the node, plus one.
  size_t slot_count;
  size_t settled;         ///< Nodes before this have their final costs.
  WHY_LIST(part) parts;   ///< What derivations rest on, in order of their premises.
  WHY_LIST(double) steps; ///< Of the parts of a derivation at work.
  uint32_t walk;          ///< The one at work, from 1.
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
  node made = {.fact = fact, .based = is_based(overlay, fact), .steps = INFINITY};
  if (made.based)
    made.steps = base_steps(overlay, fact);
  *WHY_LIST_ADD(overlay->store.arena, proofs->nodes) = made;
  *slot = (uint32_t)proofs->nodes.count;
  return proofs->nodes.count - 1;
}

static part part_of(why_overlay* overlay, why_fact fact) {
  if (is_based(overlay, fact))
    return (part){.steps = base_steps(overlay, fact)};
  return (part){.node = (uint32_t)find_node(overlay, fact) + 1};
}

/// Find the derivations of every node from `first` on, and nodes for all that they rest on.
static void reach(why_overlay* overlay, size_t first) {
  why_proofs* proofs = overlay->proofs;
  for (size_t i = first; i < proofs->nodes.count; i++) {
    const why_derivation* list = NULL;
    if (proofs->nodes.at[i].based)
      continue;
    size_t count = why_derivations(overlay, proofs->nodes.at[i].fact, &list);
    proofs->nodes.at[i].derivations = list;
    proofs->nodes.at[i].derivation_count = count;
    proofs->nodes.at[i].parts = proofs->parts.count;
    for (size_t d = 0; d < count; d++)
      for (size_t p = 0; p < list[d].premise_count; p++) {
        if (list[d].premises[p].kind == WHY_ABSENT)
          continue;
        part made = part_of(overlay, list[d].premises[p].fact);
        *WHY_LIST_ADD(overlay->store.arena, proofs->parts) = made;
      }
  }
}

/// Steps of the tree of a derivation; `next` begins at its own parts and ends behind them.
static double cost_of(why_overlay* overlay, const why_derivation* derivation, size_t* next) {
  why_proofs* proofs = overlay->proofs;
  proofs->steps.count = 0;
  for (size_t i = 0; i < derivation->premise_count; i++) {
    if (derivation->premises[i].kind == WHY_ABSENT)
      continue;
    const part* each = &proofs->parts.at[(*next)++];
    *WHY_LIST_ADD(overlay->store.arena, proofs->steps) =
        each->node ? proofs->nodes.at[each->node - 1].steps : each->steps;
  }
  return derivation->rule ? why_steps_over(proofs->steps.at, proofs->steps.count) : 0;
}

static bool lower(why_overlay* overlay, size_t number) {
  bool changed = false;
  node* at = &overlay->proofs->nodes.at[number];
  size_t next = at->parts;
  for (size_t i = 0; i < at->derivation_count; i++) {
    double steps = cost_of(overlay, &at->derivations[i], &next);
    if (steps >= at->steps)
      continue;
    at->steps = steps;
    at->best = i;
    changed = true;
  }
  return changed;
}

/// The first of the derivations, in their order, that costs least: ties fall the same way always.
static void choose(why_overlay* overlay, size_t number) {
  node* at = &overlay->proofs->nodes.at[number];
  size_t next = at->parts;
  for (size_t i = 0; at->derivation_count > 1 && i < at->derivation_count; i++) {
    if (cost_of(overlay, &at->derivations[i], &next) == at->steps) {
      at->best = i;
      return;
    }
  }
}

/// Later nodes are what earlier ones rest on, so going backwards settles most in one pass.
static void settle(why_overlay* overlay, size_t first) {
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = overlay->proofs->nodes.count; i-- > first;)
      changed = lower(overlay, i) || changed;
  }
  for (size_t i = first; i < overlay->proofs->nodes.count; i++)
    choose(overlay, i);
  overlay->proofs->settled = overlay->proofs->nodes.count;
}

/// The best derivation of a node whose costs are final.
static why_derivation derivation_of(why_overlay* overlay, const node* at) {
  if (!at->based)
    return at->derivations[at->best];
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

static why_proofs* proofs_of(why_overlay* overlay) {
  if (!overlay->proofs)
    overlay->proofs = WHY_NEW(overlay->store.arena, why_proofs);
  return overlay->proofs;
}

void why_proofs_walk(why_overlay* overlay) {
  proofs_of(overlay)->walk++;
}

bool why_proof_enter(why_overlay* overlay, const why_proof* proof) {
  uint32_t* entered = &overlay->proofs->nodes.at[proof->number].walk;
  bool first = *entered != overlay->proofs->walk;
  *entered = overlay->proofs->walk;
  return first;
}

const why_proof* why_proof_best(why_overlay* overlay, why_fact fact) {
  size_t before = proofs_of(overlay)->settled;
  size_t number = find_node(overlay, fact);
  if (number >= before) {
    reach(overlay, before);
    settle(overlay, before);
  }
  return prove(overlay, number);
}
