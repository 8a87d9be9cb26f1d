// SPDX-License-Identifier: GPL-3.0-or-later
#include "random.h"

#include <stdio.h>
#include <string.h>

enum { CONSTANTS = 6, NAMES = 4, NUMBERS = 2, BODY = 3 };

/// SplitMix64.
static uint64_t next(uint64_t* state) {
  uint64_t z = (*state += UINT64_C(0x9e3779b97f4a7c15));
  z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
  return z ^ (z >> 31);
}

unsigned random_below(uint64_t* state, unsigned bound) {
  return (unsigned)((next(state) >> 33) % bound);
}

void random_shuffle(random_texts* texts, uint64_t* state) {
  for (size_t i = texts->count; i > 1; i--) {
    size_t other = random_below(state, (unsigned)i);
    const char* kept = texts->at[i - 1];
    texts->at[i - 1] = texts->at[other];
    texts->at[other] = kept;
  }
}

/// A rule while it is being drawn. Variables x0 to x3 hold names, n0 and n1 numbers, m the result
/// of a total; bits say which are bound.
typedef struct {
  why_arena* arena;
  uint64_t* state;
  const random_program* program;
  unsigned stratum;
  unsigned names;
  unsigned numbers;
  bool total;
  why_buffer xml;
  why_buffer logic;
} draft;

static bool is_number(const random_relation* relation, unsigned slot) {
  return relation->numeric && slot + 1 == relation->arity;
}

/// A variable or constant in both notations.
typedef struct {
  char xml[8];
  char logic[8];
} term;

static term variable(char kind, unsigned number) {
  term made;
  snprintf(made.xml, sizeof made.xml, "?%c%u", kind, number % 10);
  snprintf(made.logic, sizeof made.logic, "%c%u", kind == 'x' ? 'X' : 'N', number % 10);
  return made;
}

static term constant(draft* at, bool number) {
  term made;
  if (number)
    snprintf(made.xml, sizeof made.xml, "%u", random_below(at->state, 5) % 10);
  else
    snprintf(made.xml, sizeof made.xml, "c%u", random_below(at->state, CONSTANTS) % 10);
  memcpy(made.logic, made.xml, sizeof made.logic);
  return made;
}

/// One of the variables in `bound`, or a constant when there is none.
static term bound_term(draft* at, bool number) {
  unsigned bound = number ? at->numbers : at->names;
  unsigned count = number ? NUMBERS : NAMES;
  unsigned first = random_below(at->state, count);
  for (unsigned i = 0; i < count; i++)
    if (bound >> (first + i) % count & 1)
      return variable(number ? 'n' : 'x', (first + i) % count);
  return constant(at, number);
}

static void add_atom(draft* at, const char* element, const random_relation* relation,
                     const term* terms) {
  bool absent = strcmp(element, "unless") == 0;
  why_buffer_print(&at->xml, "<%s fact='%s'", element, relation->name);
  if (strcmp(element, "then") != 0)
    why_buffer_print(&at->logic, "%s%s", at->logic.length ? ", " : "", absent ? "not " : "");
  why_buffer_print(&at->logic, "%s(", relation->name);
  for (unsigned i = 0; i < relation->arity; i++) {
    why_buffer_print(&at->xml, " s%u='%s'", i, terms[i].xml);
    why_buffer_print(&at->logic, "%s%s", i ? "," : "", terms[i].logic);
  }
  why_buffer_add(&at->xml, "/>");
  why_buffer_add(&at->logic, ")");
}

/// A relation of a stratum up to `most`, counted from 0 for the given ones.
static const random_relation* draw_relation(draft* at, unsigned most) {
  unsigned count = most == 0 ? RANDOM_GIVEN : RANDOM_GIVEN + 2 * most;
  return &at->program->relations[random_below(at->state, count)];
}

static void add_positive(draft* at) {
  const random_relation* relation = draw_relation(at, at->stratum);
  term terms[RANDOM_ARITY];
  for (unsigned i = 0; i < relation->arity; i++) {
    bool number = is_number(relation, i);
    unsigned which = random_below(at->state, number ? NUMBERS : NAMES);
    if (random_below(at->state, 12) == 0) {
      terms[i] = constant(at, number);
      continue;
    }
    terms[i] = variable(number ? 'n' : 'x', which);
    *(number ? &at->numbers : &at->names) |= 1U << which;
  }
  add_atom(at, "if", relation, terms);
}

static void add_negative(draft* at) {
  const random_relation* relation = draw_relation(at, at->stratum - 1);
  term terms[RANDOM_ARITY];
  for (unsigned i = 0; i < relation->arity; i++) {
    terms[i] = bound_term(at, is_number(relation, i));
    if (random_below(at->state, 5) == 0)
      terms[i] = (term){"_", "_"};
  }
  add_atom(at, "unless", relation, terms);
}

static void add_comparison(draft* at) {
  bool number = random_below(at->state, 2) == 0 && at->numbers;
  if (!number && !at->names)
    return;
  static const char* const IS[][2] = {{"differs", "!="}, {"equals", "="},   {"below", "<"},
                                      {"above", ">"},    {"at-most", "<="}, {"at-least", ">="}};
  unsigned which = number ? random_below(at->state, 6) : 0;
  term left = bound_term(at, number);
  term right = random_below(at->state, 2) ? bound_term(at, number) : constant(at, number);
  why_buffer_print(&at->xml, "<where left='%s' is='%s' right='%s'/>", left.xml, IS[which][0],
                   right.xml);
  why_buffer_print(&at->logic, ", %s %s %s", left.logic, IS[which][1], right.logic);
}

/// count, sum, least or most of an earlier relation of two or three slots, grouped by its first.
static void add_total(draft* at) {
  const random_relation* relation = draw_relation(at, at->stratum - 1);
  if (relation->arity < 2 || !at->names)
    return;
  term by = bound_term(at, false);
  unsigned last = relation->arity - 1;
  unsigned which = relation->numeric ? random_below(at->state, 4) : 0;
  static const char* const ELEMENTS[] = {"count", "sum", "least", "most"};
  static const char* const TOTALS[] = {"count", "sum", "min", "max"};
  why_buffer_print(&at->xml, "<%s name='?m' by='%s'", ELEMENTS[which], by.xml);
  if (which == 0)
    why_buffer_add(&at->xml, last == 2 ? " over='?w1 ?w2' else='0'" : " over='?w1' else='0'");
  else if (which == 1)
    why_buffer_add(&at->xml,
                   last == 2 ? " of='?w2' over='?w1' else='0'" : " of='?w1' over='?w1' else='0'");
  else
    why_buffer_print(&at->xml, " of='?w%u'", last);
  why_buffer_print(&at->xml, "><if fact='%s' s0='%s' s1='?w1'%s/></%s>", relation->name, by.xml,
                   last == 2 ? " s2='?w2'" : "", ELEMENTS[which]);
  const char* tuple = last == 2 ? "W2,W1" : "W1";
  const char* rest = last == 2 ? ",W2" : "";
  // An empty least has no value here, and an infinite one there.
  if (which >= 2)
    why_buffer_print(&at->logic, ", %s(%s,_%s)", relation->name, by.logic, last == 2 ? ",_" : "");
  why_buffer_print(&at->logic, ", M = #%s { %s : %s(%s,W1%s) }", TOTALS[which], tuple,
                   relation->name, by.logic, rest);
  at->total = true;
}

static void add_rule(random_program* program, why_arena* arena, uint64_t* state, unsigned number) {
  unsigned head = RANDOM_GIVEN + random_below(state, RANDOM_DERIVED);
  if (number < RANDOM_DERIVED)
    head = RANDOM_GIVEN + number; // every relation gets a rule
  const random_relation* relation = &program->relations[head];
  draft at = {.arena = arena,
              .state = state,
              .program = program,
              .stratum = relation->stratum,
              .xml = {.arena = arena},
              .logic = {.arena = arena}};
  unsigned count = 1 + random_below(state, BODY);
  for (unsigned i = 0; i < count; i++)
    add_positive(&at);
  if (random_below(state, 3) == 0)
    add_negative(&at);
  if (random_below(state, 3) == 0)
    add_comparison(&at);
  if (relation->numeric && random_below(state, 2) == 0)
    add_total(&at);
  const char* body = why_buffer_text(&at.logic);
  at.logic = (why_buffer){.arena = arena};
  term terms[RANDOM_ARITY];
  for (unsigned i = 0; i < relation->arity; i++)
    terms[i] = is_number(relation, i) && at.total ? (term){"?m", "M"}
                                                  : bound_term(&at, is_number(relation, i));
  add_atom(&at, "then", relation, terms);
  why_buffer_print(&program->logic, "%s :- %s.\n", why_buffer_text(&at.logic), body);
  *WHY_LIST_ADD(arena, program->rules) =
      why_arena_print(arena, "<rule id='r%u' grounds='practice'><title>drawn</title>%s</rule>\n",
                      number, why_buffer_text(&at.xml));
}

static void add_facts(random_program* program, why_arena* arena, uint64_t* state, unsigned number) {
  const random_relation* relation = &program->relations[number];
  unsigned count = relation->arity == 1 ? 4 : 9;
  for (unsigned i = 0; i < count; i++) {
    random_fact* fact = WHY_LIST_ADD(arena, program->facts);
    *fact = (random_fact){.relation = number};
    for (unsigned s = 0; s < relation->arity; s++)
      fact->values[s] = is_number(relation, s)
                            ? why_arena_print(arena, "%u", random_below(state, 5))
                            : why_arena_print(arena, "c%u", random_below(state, CONSTANTS));
  }
}

random_program* random_program_new(why_arena* arena, uint64_t seed) {
  uint64_t state = seed;
  random_program* made = WHY_NEW(arena, random_program);
  made->logic.arena = arena;
  for (unsigned i = 0; i < RANDOM_RELATIONS; i++) {
    random_relation* relation = &made->relations[i];
    bool given = i < RANDOM_GIVEN;
    snprintf(relation->name, sizeof relation->name, "%c%u", given ? 'e' : 'd',
             (given ? i : i - RANDOM_GIVEN) % 10);
    relation->arity = given ? 1 + (i + 1) % RANDOM_ARITY : 1 + random_below(&state, RANDOM_ARITY);
    relation->numeric = relation->arity > 1 && (given ? i == 3 : random_below(&state, 2) == 0);
    relation->stratum = given ? 0 : 1 + (i - RANDOM_GIVEN) / 2;
  }
  made->relations[3].arity = 2;
  made->relations[3].numeric = true;
  for (unsigned i = 0; i < RANDOM_GIVEN; i++)
    add_facts(made, arena, &state, i);
  for (unsigned i = 0; i < 3 * RANDOM_DERIVED; i++)
    add_rule(made, arena, &state, i);
  return made;
}

const char* random_relation_xml(why_arena* arena, const random_program* from, unsigned number,
                                bool assumable) {
  const random_relation* relation = &from->relations[number];
  why_buffer text = {.arena = arena};
  why_buffer_print(&text, "<relation name='%s'%s>", relation->name,
                   assumable ? " assumable='yes'" : "");
  for (unsigned i = 0; i < relation->arity; i++)
    why_buffer_print(&text, "<slot name='s%u' kind='%s'/>", i,
                     is_number(relation, i) ? "number" : "thing");
  why_buffer_add(&text, "</relation>\n");
  return why_buffer_text(&text);
}

const char* random_fact_xml(why_arena* arena, const random_program* from, size_t number) {
  const random_fact* fact = &from->facts.at[number];
  why_buffer text = {.arena = arena};
  why_buffer_print(&text, "<fact relation='%s'", from->relations[fact->relation].name);
  for (unsigned i = 0; fact->values[i]; i++)
    why_buffer_print(&text, " s%u='%s'", i, fact->values[i]);
  why_buffer_add(&text, "/>\n");
  return why_buffer_text(&text);
}

const char* random_fact_logic(why_arena* arena, const random_program* from, size_t number) {
  const random_fact* fact = &from->facts.at[number];
  why_buffer text = {.arena = arena};
  why_buffer_print(&text, "%s(", from->relations[fact->relation].name);
  for (unsigned i = 0; fact->values[i]; i++)
    why_buffer_print(&text, "%s%s", i ? "," : "", fact->values[i]);
  why_buffer_add(&text, ").\n");
  return why_buffer_text(&text);
}
