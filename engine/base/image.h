// SPDX-License-Identifier: GPL-3.0-or-later
/// An arena in a file. The arena stands at an address of its own choice, the same in every process,
/// so that its pointers hold wherever the file is mapped there again: nothing is read, moved or
/// built anew. For this all that its pointers reach must lie in the arena: no pointer to constants
/// of the program, to functions, or to objects of other libraries (these go into holders, arena.h).
/// Writing makes sure of it and refuses otherwise. A map that comes from a file cannot be written
/// to.
#ifndef WHY_BASE_IMAGE_H
#define WHY_BASE_IMAGE_H

#include "arena.h"

#include <stdbool.h>

enum {
  WHY_IMAGE_SLOTS = 64, ///< Addresses to choose from, so that several images can be in use at once.
  WHY_LABEL_LIMIT = 256 ///< Longest label, bytes with its end.
};

/// An empty arena at address number `slot`. NULL when the address is taken or the machine cannot
/// give it; then there can be no image.
why_arena* why_image_new(unsigned slot);

/// Whether `arena` was made by why_image_new.
bool why_image_is(const why_arena* arena);

/// The first word in the arena that could be a pointer to something outside of it; NULL when there
/// is none. Numbers can look like pointers: that is rare, since addresses are drawn anew for every
/// process and pairs of small numbers are passed over, and costs a snapshot. The arena is settled.
const void* why_image_stranger(const why_arena* arena);

/// Write `arena` to the new file open as `file`. `label` tells what the image is of. `root` is
/// where a reader begins; it lies in the arena. False when the arena holds what no file can keep,
/// or the file cannot be written.
bool why_image_write(const why_arena* arena, const void* root, const char* label, int file);

/// The image in `file`, as an arena (why_arena_free gives it back) with its root. NULL unless the
/// file is whole, was written by why_image_write on a machine like this one with the very same
/// `label`, and its address is free.
why_arena* why_image_read(int file, unsigned slot, const char* label, const void** root);

#endif
