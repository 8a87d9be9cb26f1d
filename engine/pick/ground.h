// SPDX-License-Identifier: GPL-3.0-or-later
/// What every question stands on: the tables of a knowledge base, the index of words, the compiled
/// rules, and all that follows without a question. Never changes; shared by threads.
#ifndef WHY_PICK_GROUND_H
#define WHY_PICK_GROUND_H

#include "behind.h"

#include "pool/pool.h"
#include "read/read.h"
#include "reason/reason.h"

typedef WHY_LIST(why_relation) why_relation_list;

/// A part of an answer, and the relations whose sentences stand in it, in their order.
typedef struct {
  const char* part;
  why_relation_list relations;
} why_shown;

typedef struct {
  const why_tables* tables;
  const why_words* words;
  const why_phrases* phrases;
  const why_program* program;
  const why_base* base;
  const why_outlook* outlook; ///< What the growth model expects; NULL when the rules want none.
  why_symbols* symbols;       ///< Of the base; only read once the ground stands.
  const why_behind* behind;   ///< The studies that facts rest on.
  why_holder** pictures;      ///< For every exercise in the order of its table: a place to keep its
                              ///< figures once they are drawn.
  WHY_LIST(why_shown) shown;  ///< Facts "shows" of the rules.
} why_ground;

/// Open the knowledge base in `folder` into `arena`. Problems are added and sorted. `*ground` is
/// set on WHY_OK only.
why_status why_ground_open(const char* folder, const why_read_settings* settings, why_arena* arena,
                           why_problems* problems, const why_ground** ground);

/// The display name of `id`, a thing of kind `kind` (a slot's kind: "head", "exercise", "item"
/// ...); in `arena` or in the tables, never NULL.
const char* why_ground_name(const why_ground* ground, why_arena* arena, const char* kind,
                            const char* id);

#endif
