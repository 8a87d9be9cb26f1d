// SPDX-License-Identifier: GPL-3.0-or-later
/// Which relations the rules say are shown in a part of an answer (facts "shows" of
/// rules/reasoning/answer.xml), and what they say about one exercise.
#ifndef WHY_PICK_SHOWN_H
#define WHY_PICK_SHOWN_H

#include "answer.h"

/// The relations of `part` ("reasons", "why" ...), in the order in which they are shown; names that
/// no relation bears are passed over.
const why_relation_list* why_shown_relations(const why_picked* answer, const char* part);

/// Facts of `relation` whose slot "exercise" is `exercise`; none when it has no such slot or is
/// WHY_NO_RELATION.
why_facts why_shown_about(const why_picked* answer, why_relation relation, why_symbol exercise);

#endif
