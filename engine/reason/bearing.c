// SPDX-License-Identifier: GPL-3.0-or-later
// How assumptions bear on a conclusion, read off the rules: an `unless` turns the sense round;
// totals, else- values and precedence can turn either way.
#include "program.h"

enum { BOTH = WHY_BEARS_FOR | WHY_BEARS_AGAINST };

static unsigned char turned(unsigned char bearing) {
  return (unsigned char)((bearing & WHY_BEARS_FOR ? WHY_BEARS_AGAINST : 0) |
                         (bearing & WHY_BEARS_AGAINST ? WHY_BEARS_FOR : 0));
}

/// Add what conditions say; whether anything was new.
static bool add_conditions(unsigned char* bearings, const why_condition* conditions, size_t count,
                           unsigned char bearing) {
  bool news = false;
  for (size_t i = 0; i < count; i++) {
    const why_condition* each = &conditions[i];
    if (each->group) {
      news = add_conditions(bearings, each->group->inside, each->group->inside_count, BOTH) || news;
      continue;
    }
    if (each->kind != WHY_IF && each->kind != WHY_UNLESS)
      continue;
    unsigned char more = each->kind == WHY_UNLESS ? turned(bearing) : bearing;
    if (each->else_mask)
      more = BOTH;
    unsigned char* known = &bearings[each->atom.relation];
    news = news || (more & ~*known);
    *known = (unsigned char)(*known | more);
  }
  return news;
}

const unsigned char* why_program_bearing(const why_program* program, why_relation relation,
                                         why_arena* arena) {
  unsigned char* bearings = WHY_NEW_ARRAY(arena, unsigned char, program->relation_count + 1);
  bearings[relation] = WHY_BEARS_FOR;
  for (bool news = true; news;) {
    news = false;
    for (size_t i = 0; i < program->rules.count; i++) {
      const why_rule* rule = &program->rules.at[i];
      unsigned char bearing = bearings[rule->head.relation];
      if (bearing && program->relations[rule->head.relation].prefers)
        bearing = BOTH;
      if (bearing)
        news = add_conditions(bearings, rule->conditions, rule->condition_count, bearing) || news;
    }
  }
  return bearings;
}
