// SPDX-License-Identifier: GPL-3.0-or-later
/// One set of pooled trials in the tree, and what its neighbours in the report share with it.
#ifndef WHY_TELL_TRIALS_PART_H
#define WHY_TELL_TRIALS_PART_H

#include "node.h"

#include "pick/pick.h"

typedef struct {
  const why_trials* trials;
  const why_ground* ground;
  why_arena* arena;
} why_teller;

/// The text of an id (NULL for none), and its display name.
const char* why_teller_id(const why_teller* teller, why_symbol symbol);
const char* why_teller_name(const why_teller* teller, const char* kind, why_symbol symbol);

/// What the trials are about, by its name.
const char* why_teller_subject(const why_teller* teller);

/// Words for people only.
void why_teller_say(const why_teller* teller, why_node* into, why_role role, const char* words);

/// A list of ids for programs.
void why_teller_symbols(const why_teller* teller, why_node* into, const char* name,
                        why_symbol_list list);

/// The forest plot of a set as a picture.
void why_part_forest(const why_teller* teller, why_node* parent, const why_trial_set* set);

/// Forest plot, pooled numbers, what they rest on, and risk of bias of one set.
void why_part_trial_set(const why_teller* teller, why_node* list, const why_trial_set* set);

#endif
