// SPDX-License-Identifier: GPL-3.0-or-later
// Growth by doubling, so that adding n items copies fewer than 2n; what is large grows by half,
// since it moves without a copy (arena.c) and what it has too much is memory that nobody uses.
#include "list.h"

enum { LARGE = 1024 * 1024 };

void* why_list_room(why_arena* arena, void* at, size_t count, size_t* room, size_t size) {
  if (count < *room)
    return at;
  size_t larger = *room ? *room * 2 : 4;
  if (*room * size >= LARGE)
    larger = *room + *room / 2;
  void* grown = why_arena_grow(arena, at, *room * size, larger * size);
  *room = larger;
  return grown;
}
