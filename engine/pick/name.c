// SPDX-License-Identifier: GPL-3.0-or-later
// Display names: each kind of thing keeps its names in its own file; what has none there is named
// by the lexicon, else by its id with blanks.
#include "ground.h"

#include <ctype.h>
#include <string.h>

/// Names of anatomy begin with a capital and set parts off by a comma in their files; inside a
/// sentence they do neither: "biceps femoris long head".
static const char* in_sentence(why_arena* arena, const char* name) {
  char* made = why_arena_copy(arena, name, strlen(name));
  if (made[0] && islower((unsigned char)made[1]))
    made[0] = (char)tolower((unsigned char)made[0]);
  char* to = made;
  for (const char* from = made; *from; from++)
    if (*from != ',')
      *to++ = *from;
  *to = '\0';
  return made;
}

static const char* exercise_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_exercise* row = why_exercise_find(&tables->exercises, id);
  return row ? row->name : NULL;
}

static const char* head_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  const why_head* row = why_head_find(&tables->anatomy, id);
  return row ? in_sentence(arena, row->name) : NULL;
}

static const char* group_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  const why_group* row = why_group_find(&tables->anatomy, id);
  return row ? in_sentence(arena, row->name) : NULL;
}

static const char* item_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_equipment_item* row = why_equipment_item_find(&tables->equipment, id);
  return row ? row->name : NULL;
}

static const char* place_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_equipment_place* row = why_equipment_place_find(&tables->equipment, id);
  return row ? row->name : NULL;
}

static const char* kind_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_equipment_kind* row = why_equipment_kind_find(&tables->equipment, id);
  return row ? row->name : NULL;
}

static const char* restriction_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_restriction* row = why_restriction_find(&tables->restrictions, id);
  return row ? row->name : NULL;
}

static const char* set_name(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  const why_lexicon_entry* row = why_lexicon_set_find(&tables->lexicon, id);
  return row && *row->name ? row->name : NULL;
}

static const char* id_as_is(const why_tables* tables, why_arena* arena, why_symbol id) {
  (void)arena;
  return why_symbols_text(tables->symbols, id);
}

typedef struct {
  const char* kind;
  const char* (*name)(const why_tables* tables, why_arena* arena, why_symbol id);
} row;

static const row ROWS[] = {
    {"exercise", exercise_name},
    {"head", head_name},
    {"group", group_name},
    {"item", item_name},
    {"place", place_name},
    {"kind", kind_name},
    {"equipment-kind", kind_name},
    {"restriction", restriction_name},
    {"set", set_name},
    {"study", id_as_is},
    {"text", id_as_is},
};

const char* why_ground_name(const why_ground* ground, why_arena* arena, const char* kind,
                            const char* id) {
  const why_tables* tables = ground->tables;
  why_symbol symbol = why_symbols_find(ground->symbols, id);
  if (!symbol)
    return id; // a name that the question brought
  for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
    if (strcmp(ROWS[i].kind, kind) != 0)
      continue;
    const char* name = ROWS[i].name(tables, arena, symbol);
    if (name)
      return name;
  }
  return why_lexicon_name_of(&tables->lexicon, ground->symbols, arena, symbol);
}
