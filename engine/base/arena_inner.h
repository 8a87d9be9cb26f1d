// SPDX-License-Identifier: GPL-3.0-or-later
/// What an arena is made of. Private to base: image.c keeps arenas in files.
#ifndef WHY_BASE_ARENA_INNER_H
#define WHY_BASE_ARENA_INNER_H

#include "arena.h"

#include <stdalign.h>
#include <stdatomic.h>

enum { WHY_ARENA_ALIGN = alignof(max_align_t) };

typedef struct why_block {
  struct why_block* before;
  struct why_block* after; ///< Of large pieces only.
  size_t used;
  size_t room;
  alignas(max_align_t) char bytes[];
} why_block;

/// Room in a map that a piece left when it grew elsewhere.
typedef struct why_left {
  struct why_left* next;
  size_t size;
} why_left;

enum { WHY_LEFT_KINDS = 40 }; ///< By the binary logarithm of their sizes.

typedef struct why_deferral {
  struct why_deferral* before;
  void (*clean)(void*);
  void* object;
} why_deferral;

struct why_holder {
  _Atomic(void*) object;
  void (*clean)(void* object);
};

struct why_arena {
  why_block* newest;
  why_block* large; ///< The newest block with one large piece.
  why_deferral* deferred;
  jmp_buf* door;
  why_arena* parent;  ///< Of a branch.
  why_arena* branch;  ///< The newest branch that was not given back; older ones follow it.
  why_arena* older;   ///< Of a branch: the next older one of the same parent.
  why_arena* scratch; ///< The branch for working memory; NULL until asked for.
  size_t limit;
  size_t held;   ///< Bytes asked from the machine.
  size_t used;   ///< Bytes handed out.
  size_t mapped; ///< Bytes of the one map it stands in, itself at the start; 0: it has none.
  why_left* left[WHY_LEFT_KINDS]; ///< Of a mapped arena, as all below.
  why_holder* holders;
  size_t holder_count;
  size_t holder_room;
};

#endif
