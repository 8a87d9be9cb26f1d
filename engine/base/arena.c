// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks of doubling size in a chain; the newest block is filled from its start. A large piece has
// a block of its own, so that it can grow where it stands, or be moved by the machine without a
// copy.
#include "arena_inner.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/asan_interface.h>
#endif

// In a build with the address sanitizer, whoever still looks at a piece that was left is found.
#ifdef __SANITIZE_ADDRESS__
#define forbid(piece, size) ASAN_POISON_MEMORY_REGION(piece, size)
#define allow(piece, size)  ASAN_UNPOISON_MEMORY_REGION(piece, size)
#else
#define forbid(piece, size) ((void)(size))
#define allow(piece, size)  ((void)(size))
#endif

enum { FIRST_BLOCK = 16 * 1024, LARGEST_BLOCK = 4 * 1024 * 1024, LARGE_PIECE = 512 * 1024 };

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

static void free_blocks(why_block* newest) {
  while (newest) {
    why_block* before = newest->before;
    free(newest);
    newest = before;
  }
}

static void clean_holder(void* holder) {
  why_holder* at = holder;
  void* object = atomic_load(&at->object);
  if (object)
    at->clean(object);
}

void why_arena_free(why_arena* arena) {
  if (!arena)
    return;
  while (arena->branch)
    why_arena_free(arena->branch);
  if (arena->parent)
    leave_parent(arena);
  for (why_deferral* each = arena->deferred; each; each = each->before)
    each->clean(each->object);
  for (size_t i = 0; i < arena->holder_count; i++)
    clean_holder(&arena->holders[i]);
  if (arena->mapped) {
    allow(arena, arena->mapped);
    munmap(arena, arena->mapped);
    return;
  }
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
static why_block* add_block(why_arena* arena, size_t size) {
  if (arena->mapped)
    return NULL;
  size_t left = arena->limit ? arena->limit - arena->held : SIZE_MAX;
  size_t room = arena->newest ? arena->newest->room * 2 : FIRST_BLOCK;
  if (room > LARGEST_BLOCK)
    room = LARGEST_BLOCK;
  if (room < size || room > left)
    room = size;
  if (room > left)
    return NULL;
  why_block* made = malloc(sizeof *made + room);
  if (!made)
    return NULL;
  *made = (why_block){.before = arena->newest, .room = room};
  arena->newest = made;
  arena->held += room;
  return made;
}

/// `size` rounded up to where the next piece may start; `size` is at most SIZE_MAX -
/// WHY_ARENA_ALIGN.
static size_t round_up(size_t size) {
  return (size + WHY_ARENA_ALIGN - 1) / WHY_ARENA_ALIGN * WHY_ARENA_ALIGN;
}

/// Make `made` known in place of what it was before it was moved.
static void relink(why_arena* arena, why_block* made) {
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
  why_block* made = calloc(1, sizeof *made + size);
  if (!made)
    return NULL;
  *made = (why_block){.before = arena->large, .used = size, .room = size};
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
  why_block* made = realloc(old - offsetof(why_block, bytes), sizeof *made + new_size);
  if (!made)
    return NULL;
  made->used = made->room = new_size;
  relink(arena, made);
  arena->held += new_size - old_size;
  arena->used += new_size - old_size;
  return made->bytes;
}

// ---- room that is used again ----
//
// In a map, which becomes a file, what lists leave behind as they grow would be as large as all
// that they hold.

static size_t kind_of(size_t size) {
  size_t kind = 0;
  while (size >>= 1)
    kind++;
  return kind;
}

/// Take note of `size` bytes that nobody uses any more; a multiple of WHY_ARENA_ALIGN.
static void leave(why_arena* arena, void* piece, size_t size) {
  if (!arena->mapped || size < sizeof(why_left))
    return;
  why_left* made = piece;
  why_left** kind = &arena->left[kind_of(size)];
  *made = (why_left){*kind, size};
  *kind = made;
  forbid((char*)piece + sizeof *made, size - sizeof *made);
}

/// `size` zeroed bytes of what was left, or NULL: of its own kind when the newest is large enough,
/// else of the next.
static void* use_again(why_arena* arena, size_t size) {
  for (size_t kind = kind_of(size); kind < WHY_LEFT_KINDS; kind++) {
    why_left* found = arena->left[kind];
    if (!found || found->size < size)
      continue;
    size_t left = found->size - size;
    arena->left[kind] = found->next;
    allow(found, found->size);
    leave(arena, (char*)found + size, left);
    return memset(found, 0, size);
  }
  return NULL;
}

/// `size` bytes of which those from `kept` on are zero, or NULL when there is no room.
static void* take_beyond(why_arena* arena, size_t size, size_t kept) {
  if (size > SIZE_MAX - WHY_ARENA_ALIGN - sizeof(why_block))
    return NULL;
  size_t rounded = round_up(size);
  if (rounded >= LARGE_PIECE && !arena->mapped)
    return take_large(arena, rounded);
  void* again = arena->mapped ? use_again(arena, rounded) : NULL;
  if (again)
    return again;
  why_block* from = arena->newest;
  if (!from || from->room - from->used < rounded)
    from = add_block(arena, rounded);
  if (!from)
    return NULL;
  void* piece = from->bytes + from->used;
  from->used += rounded;
  arena->used += rounded;
  if (!arena->mapped) // a map is zero where nothing was
    memset((char*)piece + kept, 0, rounded - kept);
  return piece;
}

/// `size` zeroed bytes, or NULL when there is no room.
static void* take(why_arena* arena, size_t size) {
  return take_beyond(arena, size, 0);
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
static bool fits_in_place(const why_arena* arena, const char* old, size_t rounded,
                          size_t new_size) {
  const why_block* top = arena->newest;
  if (!top || old + rounded != top->bytes + top->used)
    return false;
  if (round_up(new_size) >= LARGE_PIECE && !arena->mapped)
    return false;
  size_t room = top->room - (top->used - rounded);
  return new_size <= room && round_up(new_size) <= room;
}

void* why_arena_grow(why_arena* arena, void* old, size_t old_size, size_t new_size) {
  if (old && new_size <= old_size)
    return old;
  if (new_size > SIZE_MAX - WHY_ARENA_ALIGN - sizeof(why_block))
    why_arena_exhaust(arena);
  size_t rounded = round_up(old_size);
  if (old && rounded >= LARGE_PIECE && !arena->mapped) {
    char* grown = grow_large(arena, old, rounded, round_up(new_size));
    if (!grown)
      why_arena_exhaust(arena);
    memset(grown + old_size, 0, round_up(new_size) - old_size);
    return grown;
  }
  if (old && fits_in_place(arena, old, rounded, new_size)) {
    size_t more = round_up(new_size) - rounded;
    arena->newest->used += more;
    arena->used += more;
    memset((char*)old + old_size, 0, rounded + more - old_size);
    return old;
  }
  void* made = take_beyond(arena, new_size, old ? old_size : 0);
  if (!made)
    why_arena_exhaust(arena);
  if (old && old_size)
    memcpy(made, old, old_size);
  why_arena_leave(arena, old, old_size);
  return made;
}

void why_arena_leave(why_arena* arena, void* piece, size_t size) {
  if (piece)
    leave(arena, piece, round_up(size));
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
  char few[256]; // most texts are short: printed once
  va_list again;
  va_copy(again, arguments);
  int length = vsnprintf(few, sizeof few, format, arguments);
  if (length < 0)
    why_arena_exhaust(arena);
  char* made = why_arena_copy(arena, few, (size_t)length < sizeof few ? (size_t)length : 0);
  if ((size_t)length >= sizeof few) {
    made = why_arena_alloc(arena, (size_t)length + 1);
    vsnprintf(made, (size_t)length + 1, format, again);
  }
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
  why_deferral* made = take(arena, sizeof *made);
  if (!made) {
    clean(object); // nobody else knows of it
    why_arena_exhaust(arena);
  }
  *made = (why_deferral){.before = arena->deferred, .clean = clean, .object = object};
  arena->deferred = made;
}

size_t why_arena_used(const why_arena* arena) {
  return arena->used;
}

why_arena* why_arena_scratch(why_arena* arena) {
  if (arena->parent)
    return arena;
  if (!arena->scratch)
    arena->scratch = why_arena_branch(arena);
  return arena->scratch;
}

void why_arena_settle(why_arena* arena) {
  for (size_t kind = 0; kind < WHY_LEFT_KINDS; kind++)
    arena->left[kind] = NULL;
  if (arena->mapped)
    allow(arena->newest->bytes, arena->newest->used);
  why_arena_free(arena->scratch);
  arena->scratch = NULL;
}

why_holder* why_arena_holder(why_arena* arena) {
  if (arena->holder_count < arena->holder_room)
    return &arena->holders[arena->holder_count++];
  why_holder* made = WHY_NEW(arena, why_holder);
  why_arena_defer(arena, clean_holder, made);
  return made;
}

void* why_holder_object(why_holder* holder) {
  return atomic_load(&holder->object);
}

void* why_holder_fill(why_holder* holder, void* object, void (*clean)(void* object)) {
  void* known = NULL;
  if (!atomic_compare_exchange_strong(&holder->object, &known, object)) {
    clean(object);
    return known;
  }
  holder->clean = clean;
  return object;
}
