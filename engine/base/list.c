// SPDX-License-Identifier: GPL-3.0-or-later
// Growth by doubling, so that adding n items copies fewer than 2n.
#include "list.h"

void* why_list_room(why_arena* arena, void* at, size_t count, size_t* room, size_t size) {
  if (count < *room)
    return at;
  size_t larger = *room ? *room * 2 : 4;
  void* grown = why_arena_grow(arena, at, *room * size, larger * size);
  *room = larger;
  return grown;
}
