// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks of doubling size in a chain; the newest block is filled from its start. A large piece has
// a block of its own, so that it can grow where it stands, or be moved by the machine without a
// copy.
#include "arena.h"

#include <stdalign.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  FIRST_BLOCK = 16 * 1024,
  LARGEST_BLOCK = 4 * 1024 * 1024,
  LARGE_PIECE = 512 * 1024,
  ALIGN = alignof(max_align_t)
};

typedef struct block {
  struct block* before;
  struct block* after; ///< Of large pieces only.
  size_t used;
  size_t room;
  alignas(max_align_t) char bytes[];
} block;

typedef struct deferral {
  struct deferral* before;
  void (*clean)(void*);
  void* object;
} deferral;

struct why_arena {
  block* newest;
  block* large; ///< The newest block with one large piece.
  deferral* deferred;
  jmp_buf* door;
  why_arena* parent; ///< Of a branch.
  why_arena* branch; ///< The newest branch that was not given back; older ones follow it.
  why_arena* older;  ///< Of a branch: the next older one of the same parent.
  size_t limit;
  size_t held; ///< Bytes asked from the machine.
  size_t used; ///< Bytes handed out.
};

why_arena* why_arena_new(size_t limit) {
  why_arena* arena = calloc(1, sizeof *arena);
  if (arena)
    arena->limit = limit;
  return arena;
}

why_arena* why_arena_branch(why_arena* parent) {
  why_arena* arena = why_arena_new(parent->limit);
  if (!arena)
    why_arena_exhaust(parent);
  arena->parent = parent;
  arena->older = parent->branch;
  parent->branch = arena;
  return arena;
}

/// The parent forgets a branch that is given back.
static void leave_parent(why_arena* arena) {
  why_arena** at = &arena->parent->branch;
  while (*at != arena)
    at = &(*at)->older;
  *at = arena->older;
}

static void free_blocks(block* newest) {
  while (newest) {
    block* before = newest->before;
    free(newest);
    newest = before;
  }
}

void why_arena_free(why_arena* arena) {
  if (!arena)
    return;
  while (arena->branch)
    why_arena_free(arena->branch);
  if (arena->parent)
    leave_parent(arena);
  for (deferral* each = arena->deferred; each; each = each->before)
    each->clean(each->object);
  free_blocks(arena->newest);
  free_blocks(arena->large);
  free(arena);
}

void why_arena_guard(why_arena* arena, jmp_buf* door) {
  arena->door = door;
}

_Noreturn void why_arena_exhaust(why_arena* arena) {
  while (arena->parent)
    arena = arena->parent;
  if (arena->door)
    longjmp(*arena->door, 1);
  fputs("whylift: out of memory\n", stderr);
  exit(4);
}

/// A block with room for `size` bytes at least, made the newest; NULL when the limit or the machine
/// does not allow it. Near the limit it is no larger than it must be.
static block* add_block(why_arena* arena, size_t size) {
  size_t left = arena->limit ? arena->limit - arena->held : SIZE_MAX;
  size_t room = arena->newest ? arena->newest->room * 2 : FIRST_BLOCK;
  if (room > LARGEST_BLOCK)
    room = LARGEST_BLOCK;
  if (room < size || room > left)
    room = size;
  if (room > left)
    return NULL;
  block* made = malloc(sizeof *made + room);
  if (!made)
    return NULL;
  *made = (block){.before = arena->newest, .room = room};
  arena->newest = made;
  arena->held += room;
  return made;
}

/// `size` rounded up to where the next piece may start; `size` is at most SIZE_MAX - ALIGN.
static size_t round_up(size_t size) {
  return (size + ALIGN - 1) / ALIGN * ALIGN;
}

/// Make `made` known in place of what it was before it was moved.
static void relink(why_arena* arena, block* made) {
  if (made->before)
    made->before->after = made;
  if (made->after)
    made->after->before = made;
  else
    arena->large = made;
}

/// `size` zeroed bytes in a block of their own, or NULL when there is no room.
static void* take_large(why_arena* arena, size_t size) {
  if (arena->limit && size > arena->limit - arena->held)
    return NULL;
  block* made = calloc(1, sizeof *made + size);
  if (!made)
    return NULL;
  *made = (block){.before = arena->large, .used = size, .room = size};
  relink(arena, made);
  arena->held += size;
  arena->used += size;
  return made->bytes;
}

/// A large piece of `old_size` bytes made `new_size` bytes, both rounded; NULL when there is no
/// room.
static void* grow_large(why_arena* arena, char* old, size_t old_size, size_t new_size) {
  if (arena->limit && new_size - old_size > arena->limit - arena->held)
    return NULL;
  block* made = realloc(old - offsetof(block, bytes), sizeof *made + new_size);
  if (!made)
    return NULL;
  made->used = made->room = new_size;
  relink(arena, made);
  arena->held += new_size - old_size;
  arena->used += new_size - old_size;
  return made->bytes;
}

/// `size` zeroed bytes, or NULL when there is no room.
static void* take(why_arena* arena, size_t size) {
  if (size > SIZE_MAX - ALIGN - sizeof(block))
    return NULL;
  size_t rounded = round_up(size);
  if (rounded >= LARGE_PIECE)
    return take_large(arena, rounded);
  block* from = arena->newest;
  if (!from || from->room - from->used < rounded)
    from = add_block(arena, rounded);
  if (!from)
    return NULL;
  void* piece = from->bytes + from->used;
  from->used += rounded;
  arena->used += rounded;
  return memset(piece, 0, rounded);
}

void* why_arena_alloc(why_arena* arena, size_t size) {
  void* piece = take(arena, size);
  if (!piece)
    why_arena_exhaust(arena);
  return piece;
}

void* why_arena_array(why_arena* arena, size_t count, size_t size) {
  if (size && count > SIZE_MAX / size)
    why_arena_exhaust(arena);
  return why_arena_alloc(arena, count * size);
}

/// Whether the newest piece, `old` of `rounded` bytes, can become `new_size` bytes where it stands.
static bool fits_in_place(const block* top, const char* old, size_t rounded, size_t new_size) {
  if (!top || old + rounded != top->bytes + top->used || round_up(new_size) >= LARGE_PIECE)
    return false;
  size_t room = top->room - (top->used - rounded);
  return new_size <= room && round_up(new_size) <= room;
}

void* why_arena_grow(why_arena* arena, void* old, size_t old_size, size_t new_size) {
  if (old && new_size <= old_size)
    return old;
  if (new_size > SIZE_MAX - ALIGN - sizeof(block))
    why_arena_exhaust(arena);
  size_t rounded = round_up(old_size);
  if (old && rounded >= LARGE_PIECE) {
    char* grown = grow_large(arena, old, rounded, round_up(new_size));
    if (!grown)
      why_arena_exhaust(arena);
    memset(grown + old_size, 0, round_up(new_size) - old_size);
    return grown;
  }
  if (old && fits_in_place(arena->newest, old, rounded, new_size)) {
    size_t more = round_up(new_size) - rounded;
    arena->newest->used += more;
    arena->used += more;
    memset((char*)old + old_size, 0, rounded + more - old_size);
    return old;
  }
  void* made = why_arena_alloc(arena, new_size);
  if (old && old_size)
    memcpy(made, old, old_size);
  return made;
}

char* why_arena_copy(why_arena* arena, const char* text, size_t length) {
  if (length == SIZE_MAX)
    why_arena_exhaust(arena);
  char* made = why_arena_alloc(arena, length + 1);
  if (length)
    memcpy(made, text, length);
  return made;
}

char* why_arena_vprint(why_arena* arena, const char* format, va_list arguments) {
  va_list again;
  va_copy(again, arguments);
  int length = vsnprintf(NULL, 0, format, arguments);
  if (length < 0)
    why_arena_exhaust(arena);
  char* made = why_arena_alloc(arena, (size_t)length + 1);
  vsnprintf(made, (size_t)length + 1, format, again);
  va_end(again);
  return made;
}

char* why_arena_print(why_arena* arena, const char* format, ...) {
  va_list arguments;
  va_start(arguments, format);
  char* made = why_arena_vprint(arena, format, arguments);
  va_end(arguments);
  return made;
}

void why_arena_defer(why_arena* arena, void (*clean)(void*), void* object) {
  deferral* made = take(arena, sizeof *made);
  if (!made) {
    clean(object); // nobody else knows of it
    why_arena_exhaust(arena);
  }
  *made = (deferral){.before = arena->deferred, .clean = clean, .object = object};
  arena->deferred = made;
}

size_t why_arena_used(const why_arena* arena) {
  return arena->used;
}
