// SPDX-License-Identifier: GPL-3.0-or-later
/// The trials and published sources of figures that stand behind facts, wherever they are named in
/// the best derivation. Those behind the facts of a base are gathered once, for all questions.
#ifndef WHY_PICK_BEHIND_H
#define WHY_PICK_BEHIND_H

#include "read/read.h"
#include "reason/reason.h"

typedef struct why_behind why_behind;

/// Some of the studies and sources there are, a bit each.
typedef uint64_t why_behind_set;

/// What stands behind the facts of a base that has run; in `arena`.
const why_behind* why_behind_new(const why_base* base, const why_program* program,
                                 const why_tables* tables, why_arena* arena);

/// An empty set.
why_behind_set* why_behind_none(const why_behind* behind, why_arena* arena);

/// Add to a set what is behind a fact.
void why_behind_take(const why_behind* behind, why_overlay* overlay, why_fact fact,
                     why_behind_set* set);

/// The ids of a set in their order, the first few; the list grows in `arena`.
void why_behind_list(const why_behind* behind, const why_behind_set* set, why_arena* arena,
                     why_symbol_list* studies);

/// Add to a list that names each study once; long lists are cut.
void why_behind_add(why_arena* arena, why_symbol_list* studies, why_symbol study);

#endif
