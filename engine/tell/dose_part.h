// SPDX-License-Identifier: GPL-3.0-or-later
/// How exercises are dosed, as a part of an answer. Private to tell.
#ifndef WHY_TELL_DOSE_PART_H
#define WHY_TELL_DOSE_PART_H

#include "node.h"

#include "pick/pick.h"

/// "3 sets of 6–15, 1–3 in reserve, rest 120–180 s"; `sets` 0: as the dose says.
const char* why_dose_words(const why_dose* dose, double sets, why_arena* arena);

/// The dose as a record "dose" of `record`: from and to of each aspect, and its measurement.
void why_part_dose(const why_ground* ground, why_arena* arena, why_node* record,
                   const why_dose* dose);

/// The doses of all picks shown, what holds for every exercise, and what both rest on.
void why_part_doses(const why_picked* answer, why_node* root);

/// The measurements of doses and sentences, each once, as a list "dose_sources" of `root`.
void why_part_dose_sources(const why_ground* ground, why_arena* arena, why_node* root,
                           const why_doses* doses, const why_symbol_list* more);

/// What holds for every exercise, as points of a list "general" of `root`.
void why_part_dose_general(const why_picked* answer, why_node* root, why_symbol_list* measurements);

#endif
