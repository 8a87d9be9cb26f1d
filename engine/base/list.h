// SPDX-License-Identifier: GPL-3.0-or-later
/// A growing array in an arena: `WHY_LIST(type) name;` starts empty when zeroed, and
/// `WHY_LIST_ADD(arena, name)` gives the address of a new item at its end, zeroed unless the list
/// was longer before. Addresses of items hold until the next addition; indexes hold for ever.
#ifndef WHY_BASE_LIST_H
#define WHY_BASE_LIST_H

#include "arena.h"

#define WHY_LIST(type)                                                                             \
  struct {                                                                                         \
    type* at;                                                                                      \
    size_t count;                                                                                  \
    size_t room;                                                                                   \
  }

#define WHY_LIST_ADD(arena, list)                                                                  \
  ((list).at = why_list_room((arena), (list).at, (list).count, &(list).room, sizeof *(list).at),   \
   &(list).at[(list).count++])

/// Make room for one more item behind `count`; returns the (possibly moved) items.
void* why_list_room(why_arena* arena, void* at, size_t count, size_t* room, size_t size);

#endif
