// SPDX-License-Identifier: GPL-3.0-or-later
/// Interned names: equal texts get the same small number, so that rows compare by number. Numbers
/// depend on the order of interning and must never decide the order of anything that is shown:
/// sort by `why_symbol_compare`, which goes by the texts.
#ifndef WHY_BASE_SYMBOL_H
#define WHY_BASE_SYMBOL_H

#include "arena.h"
#include "list.h"

#include <stdint.h>

typedef uint32_t why_symbol; ///< 0 stands for "no name" (the empty text).

typedef WHY_LIST(why_symbol) why_symbol_list;

typedef struct why_symbols why_symbols;

/// An empty table in `arena`. `seed` changes the hashing and nothing that can be seen. A table may
/// stand on another: names of `below` (may be NULL) keep their numbers and are only read, so that
/// many overlays can share one base; nothing may be added to `below` from then on. The table lives
/// as long as the arena.
why_symbols* why_symbols_new(why_arena* arena, const why_symbols* below, uint64_t seed);

/// The number of `text`, made if new. Bytes behind a zero byte do not count.
why_symbol why_symbols_add(why_symbols* symbols, const char* text);
why_symbol why_symbols_add_bytes(why_symbols* symbols, const char* bytes, size_t length);

/// The number of `text`, or 0 when it was never added.
why_symbol why_symbols_find(const why_symbols* symbols, const char* text);

/// The text of a number; "" for 0. Lives as long as the table.
const char* why_symbols_text(const why_symbols* symbols, why_symbol symbol);

/// How many numbers are given, those of the table below included; the largest is one less.
size_t why_symbols_count(const why_symbols* symbols);

/// Order by text (bytes), as strcmp does.
int why_symbol_compare(const why_symbols* symbols, why_symbol a, why_symbol b);

#endif
