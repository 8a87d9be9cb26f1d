// SPDX-License-Identifier: GPL-3.0-or-later
// The best derivation of a fact as a tree. Costs (rule applications in the tree) of all facts that
// can be reached are lowered until none can be lowered further; a fact's best derivation then rests
// only on facts that cost less, so that no fact stands below itself (Knuth 1977, "A generalization
// of Dijkstra's algorithm", doi 10.1016/0020-0190(77)90002-3).
#include "store.h"

#include <math.h>

/// Sizes of trees end here; what lies between and the largest number still tells costs apart.
#define LARGEST_SIZE 1e300

typedef struct {
  why_fact fact;
  const why_derivation* derivations;
  size_t derivation_count;
  double steps; ///< Of the best tree found so far.
  size_t best;
  why_proof* proof; ///< Built when first asked for.
} node;

typedef struct why_proofs {
  WHY_LIST(node) nodes;
  uint32_t* slots; ///< Open addressing by fact: number of the node, plus one.
  size_t slot_count;
  size_t settled; ///< Nodes before this have their final costs.
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

/// The number of a fact's node, made if new.
static size_t find_node(why_overlay* overlay, why_fact fact) {
  why_proofs* proofs = overlay->proofs;
  if ((proofs->nodes.count + 1) * 2 > proofs->slot_count)
    enlarge(proofs, overlay->store.arena);
  uint32_t* slot = find_slot(proofs, fact);
  if (*slot)
    return *slot - 1;
  *WHY_LIST_ADD(overlay->store.arena, proofs->nodes) = (node){.fact = fact, .steps = INFINITY};
  *slot = (uint32_t)proofs->nodes.count;
  return proofs->nodes.count - 1;
}

/// Find the derivations of every node from `first` on, and nodes for all that they rest on.
static void reach(why_overlay* overlay, size_t first) {
  for (size_t i = first; i < overlay->proofs->nodes.count; i++) {
    const why_derivation* list = NULL;
    size_t count = why_derivations(overlay, overlay->proofs->nodes.at[i].fact, &list);
    for (size_t d = 0; d < count; d++)
      for (size_t p = 0; p < list[d].premise_count; p++)
        if (list[d].premises[p].kind != WHY_ABSENT)
          find_node(overlay, list[d].premises[p].fact);
    node* at = &overlay->proofs->nodes.at[i];
    at->derivations = list;
    at->derivation_count = count;
  }
}

/// Steps of the tree: one more than all its parts have. Trees share parts, so that their sizes can
/// outgrow what a number tells apart; the next larger number then stands in, since what follows
/// must cost more than each thing it rests on.
static double cost_of(why_overlay* overlay, const why_derivation* derivation) {
  double steps = derivation->rule ? 1 : 0;
  double most = 0;
  for (size_t i = 0; i < derivation->premise_count; i++) {
    if (derivation->premises[i].kind == WHY_ABSENT)
      continue;
    size_t part = find_node(overlay, derivation->premises[i].fact);
    steps += overlay->proofs->nodes.at[part].steps;
    most = fmax(most, overlay->proofs->nodes.at[part].steps);
  }
  if (!derivation->rule || isinf(most))
    return most;
  steps = fmin(steps, LARGEST_SIZE);
  return steps > most ? steps : nextafter(most, INFINITY);
}

static bool lower(why_overlay* overlay, size_t number) {
  bool changed = false;
  const node* at = &overlay->proofs->nodes.at[number];
  const why_derivation* list = at->derivations;
  for (size_t i = 0; i < at->derivation_count; i++) {
    double steps = cost_of(overlay, &list[i]);
    if (steps >= overlay->proofs->nodes.at[number].steps)
      continue;
    overlay->proofs->nodes.at[number].steps = steps;
    overlay->proofs->nodes.at[number].best = i;
    changed = true;
  }
  return changed;
}

/// The first of the derivations, in their order, that costs least: ties fall the same way always.
static void choose(why_overlay* overlay, size_t number) {
  const node* at = &overlay->proofs->nodes.at[number];
  for (size_t i = 0; i < at->derivation_count; i++) {
    if (cost_of(overlay, &at->derivations[i]) == at->steps) {
      overlay->proofs->nodes.at[number].best = i;
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

typedef WHY_LIST(size_t) numbers;

/// Put the premises that still lack a proof on `open`; whether there was any.
static bool open_premises(why_overlay* overlay, const node* at, numbers* open) {
  bool any = false;
  const why_derivation* best = &at->derivations[at->best];
  for (size_t i = 0; i < best->premise_count; i++) {
    if (best->premises[i].kind == WHY_ABSENT)
      continue;
    size_t part = find_node(overlay, best->premises[i].fact);
    if (overlay->proofs->nodes.at[part].proof)
      continue;
    *WHY_LIST_ADD(overlay->store.arena, *open) = part;
    any = true;
  }
  return any;
}

/// The proof of a node all of whose premises have theirs.
static why_proof* join(why_overlay* overlay, size_t number) {
  const node* at = &overlay->proofs->nodes.at[number];
  why_proof* made = WHY_NEW(overlay->store.arena, why_proof);
  made->step = at->derivations[at->best];
  made->steps = at->steps;
  made->number = (uint32_t)number;
  why_premise* premises =
      WHY_NEW_ARRAY(overlay->store.arena, why_premise, made->step.premise_count + 1);
  for (size_t i = 0; i < made->step.premise_count; i++) {
    premises[i] = made->step.premises[i];
    if (premises[i].kind != WHY_ABSENT)
      premises[i].proof = overlay->proofs->nodes.at[find_node(overlay, premises[i].fact)].proof;
  }
  made->step.premises = premises;
  return made;
}

/// Proofs from the leaves up. Chains can be longer than a stack is deep, so there is no recursion.
static const why_proof* build(why_overlay* overlay, size_t number) {
  numbers open = {0};
  if (!isfinite(overlay->proofs->nodes.at[number].steps))
    return NULL;
  *WHY_LIST_ADD(overlay->store.arena, open) = number;
  while (open.count) {
    size_t last = open.at[open.count - 1];
    node* at = &overlay->proofs->nodes.at[last];
    if (at->proof || !open_premises(overlay, at, &open)) {
      if (!at->proof)
        at->proof = join(overlay, last);
      open.count--;
    }
  }
  return overlay->proofs->nodes.at[number].proof;
}

size_t why_proof_count(const why_overlay* overlay) {
  return overlay->proofs ? overlay->proofs->nodes.count : 0;
}

const why_proof* why_proof_best(why_overlay* overlay, why_fact fact) {
  if (!overlay->proofs)
    overlay->proofs = WHY_NEW(overlay->store.arena, why_proofs);
  size_t before = overlay->proofs->settled;
  size_t number = find_node(overlay, fact);
  if (number >= before) {
    reach(overlay, before);
    settle(overlay, before);
  }
  return build(overlay, number);
}
