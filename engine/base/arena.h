// SPDX-License-Identifier: GPL-3.0-or-later
/// Memory that is given back all at once. Everything of one knowledge base or one answer lives in
/// one arena; nothing in it is freed alone, and every pointer into it dies with it.
#ifndef WHY_BASE_ARENA_H
#define WHY_BASE_ARENA_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

typedef struct why_arena why_arena;

/// Make an empty arena that will never hold more than `limit` bytes (0: no limit).
/// Returns NULL when the machine has no memory.
why_arena* why_arena_new(size_t limit);

/// An empty arena for work on the side of `parent`, to be given back before it, or with it at the
/// latest. It has the limit of `parent` for itself, and exhausted memory takes the door of
/// `parent`.
why_arena* why_arena_branch(why_arena* parent);

/// Give back everything, running deferred clean-ups last in, first out. NULL is accepted.
void why_arena_free(why_arena* arena);

/// Name the place to jump to when memory runs out. The door that made the arena sets it with
/// `if (setjmp(door)) { why_arena_free(arena); return WHY_MACHINE; }` before any other use, so that
/// no other function needs to handle exhaustion. Without a door, exhaustion ends the process.
void why_arena_guard(why_arena* arena, jmp_buf* door);

/// Leave as when memory runs out: for memory that an outside library could not get. Does not
/// return.
_Noreturn void why_arena_exhaust(why_arena* arena);

/// `size` bytes, zeroed and aligned for any type. Never returns NULL (see `why_arena_guard`).
void* why_arena_alloc(why_arena* arena, size_t size);

/// `count` zeroed items of `size` bytes. An overflow counts as exhaustion.
void* why_arena_array(why_arena* arena, size_t count, size_t size);

/// Grow `old` from `old_size` to `new_size` bytes: in place when it is the newest piece, else by
/// copying. What is new is zeroed. `old` may be NULL; a `new_size` no larger gives `old` itself.
void* why_arena_grow(why_arena* arena, void* old, size_t old_size, size_t new_size);

/// Say that `piece` of `size` bytes will not be looked at again; a mapped arena (image.h) then uses
/// its room for something else. Growing says it of the old piece.
void why_arena_leave(why_arena* arena, void* piece, size_t size);

/// A terminated copy of `length` bytes of `text`.
char* why_arena_copy(why_arena* arena, const char* text, size_t length);

/// A terminated string printed as by printf.
char* why_arena_print(why_arena* arena, const char* format, ...)
    __attribute__((format(printf, 2, 3)));
char* why_arena_vprint(why_arena* arena, const char* format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

/// Run `clean(object)` when the arena is freed, or at once if memory runs out here: for objects of
/// outside libraries.
void why_arena_defer(why_arena* arena, void (*clean)(void* object), void* object);

/// The one branch of `arena` for what is needed while something is being made and not afterwards;
/// it ends with why_arena_settle. A branch is its own scratch. What makes a knowledge base takes
/// its working memory here, since all that lies in the base's own arena is kept in snapshots
/// (image.h).
why_arena* why_arena_scratch(why_arena* arena);

/// Give back the scratch.
void why_arena_settle(why_arena* arena);

/// A place for an object of an outside library that stands for something in the arena, such as the
/// machine code of a pattern. Unlike the arena it can still be filled once nothing else changes, by
/// any thread, and it is empty again when the arena comes from a snapshot.
typedef struct why_holder why_holder;

why_holder* why_arena_holder(why_arena* arena);

/// What it holds, or NULL.
void* why_holder_object(why_holder* holder);

/// Fill it; `clean(object)` is run when the arena is freed. Returns what it holds then: `object`,
/// or what another thread was faster to put there (`object` is cleaned at once).
void* why_holder_fill(why_holder* holder, void* object, void (*clean)(void* object));

/// Bytes handed out so far.
size_t why_arena_used(const why_arena* arena);

#define WHY_NEW(arena, type)              ((type*)why_arena_alloc((arena), sizeof(type)))
#define WHY_NEW_ARRAY(arena, type, count) ((type*)why_arena_array((arena), (count), sizeof(type)))

#endif
