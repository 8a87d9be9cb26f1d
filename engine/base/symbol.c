// SPDX-License-Identifier: GPL-3.0-or-later
// An open-addressing hash table of texts; a table may stand on a frozen one below it.
#include "symbol.h"

#include <string.h>

struct why_symbols {
  why_arena* arena;
  const why_symbols* below;
  uint64_t seed;
  why_symbol first; ///< Number of this table's own first text.
  WHY_LIST(const char*) texts;
  why_symbol* slots; ///< Zero where free; `first + index`, shifted by one to keep 0 free.
  size_t slot_count; ///< A power of two.
};

/// FNV-1a, 64 bits, with the seed mixed into the offset basis (the published constants).
static uint64_t hash(uint64_t seed, const char* bytes, size_t length) {
  uint64_t value = UINT64_C(0xcbf29ce484222325) ^ (seed * UINT64_C(0x9e3779b97f4a7c15));
  for (size_t i = 0; i < length; i++)
    value = (value ^ (unsigned char)bytes[i]) * UINT64_C(0x100000001b3);
  return value ^ (value >> 29);
}

why_symbols* why_symbols_new(why_arena* arena, const why_symbols* below, uint64_t seed) {
  why_symbols* made = WHY_NEW(arena, why_symbols);
  made->arena = arena;
  made->below = below;
  made->seed = seed;
  made->slot_count = 64;
  made->slots = WHY_NEW_ARRAY(arena, why_symbol, made->slot_count);
  if (below)
    made->first = (why_symbol)why_symbols_count(below);
  else
    *WHY_LIST_ADD(arena, made->texts) = why_arena_copy(arena, "", 0);
  return made;
}

static size_t find_slot(const why_symbols* symbols, const char* bytes, size_t length) {
  size_t mask = symbols->slot_count - 1;
  size_t slot = (size_t)hash(symbols->seed, bytes, length) & mask;
  for (; symbols->slots[slot]; slot = (slot + 1) & mask) {
    const char* text = symbols->texts.at[symbols->slots[slot] - 1];
    if (strncmp(text, bytes, length) == 0 && text[length] == '\0')
      break;
  }
  return slot;
}

static why_symbol find(const why_symbols* symbols, const char* bytes, size_t length) {
  if (length == 0)
    return 0;
  if (symbols->below) {
    why_symbol known = find(symbols->below, bytes, length);
    if (known)
      return known;
  }
  why_symbol index = symbols->slots[find_slot(symbols, bytes, length)];
  return index ? symbols->first + index - 1 : 0;
}

static void enlarge(why_symbols* symbols) {
  why_arena_leave(symbols->arena, symbols->slots, symbols->slot_count * sizeof *symbols->slots);
  symbols->slot_count *= 2;
  symbols->slots = WHY_NEW_ARRAY(symbols->arena, why_symbol, symbols->slot_count);
  for (size_t i = 0; i < symbols->texts.count; i++) {
    const char* text = symbols->texts.at[i];
    if (*text)
      symbols->slots[find_slot(symbols, text, strlen(text))] = (why_symbol)(i + 1);
  }
}

why_symbol why_symbols_add_bytes(why_symbols* symbols, const char* bytes, size_t length) {
  length = strnlen(bytes, length);
  why_symbol known = find(symbols, bytes, length);
  if (known || length == 0)
    return known;
  if (symbols->texts.count * 2 >= symbols->slot_count)
    enlarge(symbols);
  size_t slot = find_slot(symbols, bytes, length);
  *WHY_LIST_ADD(symbols->arena, symbols->texts) = why_arena_copy(symbols->arena, bytes, length);
  symbols->slots[slot] = (why_symbol)symbols->texts.count;
  return symbols->first + (why_symbol)(symbols->texts.count - 1);
}

why_symbol why_symbols_add(why_symbols* symbols, const char* text) {
  return why_symbols_add_bytes(symbols, text, strlen(text));
}

why_symbol why_symbols_find(const why_symbols* symbols, const char* text) {
  return find(symbols, text, strlen(text));
}

const char* why_symbols_text(const why_symbols* symbols, why_symbol symbol) {
  while (symbol < symbols->first)
    symbols = symbols->below;
  return symbols->texts.at[symbol - symbols->first];
}

size_t why_symbols_count(const why_symbols* symbols) {
  return symbols->first + symbols->texts.count;
}

int why_symbol_compare(const why_symbols* symbols, why_symbol a, why_symbol b) {
  return a == b ? 0 : strcmp(why_symbols_text(symbols, a), why_symbols_text(symbols, b));
}
