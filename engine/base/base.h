// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of base: memory, growing lists and text, interned names, problems, digests, images
/// of arenas in files.
#ifndef WHY_BASE_H
#define WHY_BASE_H

#include "arena.h"   // IWYU pragma: export
#include "buffer.h"  // IWYU pragma: export
#include "cache.h"   // IWYU pragma: export
#include "digest.h"  // IWYU pragma: export
#include "image.h"   // IWYU pragma: export
#include "list.h"    // IWYU pragma: export
#include "problem.h" // IWYU pragma: export
#include "symbol.h"  // IWYU pragma: export
#include "text.h"    // IWYU pragma: export

#endif
