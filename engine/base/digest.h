// SPDX-License-Identifier: GPL-3.0-or-later
/// A content digest (SHA-256, computed by the nettle library) that names a knowledge base.
#ifndef WHY_BASE_DIGEST_H
#define WHY_BASE_DIGEST_H

#include "arena.h"

/// The first 16 hexadecimal digits of the SHA-256 of `length` bytes, as a string in `arena`.
const char* why_digest_of(why_arena* arena, const char* bytes, size_t length);

#endif
