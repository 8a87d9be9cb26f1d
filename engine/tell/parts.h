// SPDX-License-Identifier: GPL-3.0-or-later
/// Parts of a report that several answers share.
#ifndef WHY_TELL_PARTS_H
#define WHY_TELL_PARTS_H

#include "node.h"

#include "pick/pick.h"

/// How a sentence was understood, and what of it was not, into the record of what was understood;
/// nothing when the question did not come as a sentence.
void why_part_asked(const why_question* question, why_arena* arena, why_node* record);

/// What was understood: a title for people, "understood" for programs.
void why_part_understood(const why_picked* answer, why_node* root);

/// Under which terms: what is at hand, missing and to be avoided, as lists of `record`; and in
/// words.
void why_part_terms(const why_picked* answer, why_node* record);
const char* why_part_terms_words(const why_picked* answer);

/// One pick as a numbered entry; `before` is the pick above it or NULL.
void why_part_pick(const why_picked* answer, why_node* list, const why_pick_row* pick,
                   const why_pick_row* before);

/// Reasons as points under the entry that holds them.
void why_part_reasons(const why_picked* answer, why_node* record, const why_reasons* reasons);

/// The studies that any shown reason rests on, with title, journal and DOI.
void why_part_sources(const why_picked* answer, why_node* root);

/// The same of `count` lists of reasons.
void why_part_sources_of(const why_picked* answer, why_node* root, const why_reasons* const* lists,
                         size_t count);

/// One study as a source, under its id; nothing when there is none of that id.
void why_part_source(const why_ground* ground, why_arena* arena, why_node* list, why_symbol id);

/// The three positions of an exercise as stick figures. `motion` may be NULL: it is then found when
/// the first figure is drawn.
void why_part_figures(const why_ground* ground, why_arena* arena, why_node* parent,
                      why_symbol exercise, const why_motion* motion);

/// Two exercises over each other: stress of the heads that move `a`, over the length of their
/// fibres.
void why_part_two(const why_ground* ground, why_arena* arena, why_node* parent, why_symbol a,
                  why_symbol b);

/// The caution in plain words, and which knowledge base spoke.
void why_part_closing(const why_ground* ground, why_arena* arena, why_node* root);

#endif
