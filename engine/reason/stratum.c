// SPDX-License-Identifier: GPL-3.0-or-later
// Strata: the strongly connected components of "depends on" (Tarjan 1972), in the order in which
// they can be evaluated; which relations a question reaches; and the errors of recursion.
#include "program.h"

#include <string.h>

/// One use of a relation by a rule; `blocks` when the whole relation must be known before.
typedef struct {
  why_relation head;
  why_relation body;
  bool blocks;
  why_place place;
} edge;

typedef struct {
  why_compiler* compiler;
  why_program* program;
  WHY_LIST(edge) edges;
  uint32_t* first; ///< By head: index of its first edge.
  // Tarjan's numbers by relation.
  uint32_t* index;
  uint32_t* low;
  bool* on_stack;
  why_relation* stack;
  size_t stack_count;
  uint32_t next_index;
} search;

static void add_edge(search* run, why_relation head, const why_condition* condition, bool blocks) {
  *WHY_LIST_ADD(run->compiler->arena, run->edges) =
      (edge){head, condition->atom.relation, blocks, condition->row->place};
}

static void add_edges_of(search* run, why_relation head, const why_condition* conditions,
                         size_t count, bool inside) {
  for (size_t i = 0; i < count; i++) {
    const why_condition* each = &conditions[i];
    if (each->kind == WHY_IF)
      add_edge(run, head, each, inside || each->else_mask);
    if (each->kind == WHY_UNLESS)
      add_edge(run, head, each, true);
    if (each->group)
      add_edges_of(run, head, each->group->inside, each->group->inside_count, true);
  }
}

/// Edges come rule by rule; bring them into order of heads by counting.
static void sort_edges(search* run) {
  size_t count = run->edges.count;
  size_t relations = run->program->relation_count;
  edge* sorted = WHY_NEW_ARRAY(run->compiler->arena, edge, count + 1);
  run->first = WHY_NEW_ARRAY(run->compiler->arena, uint32_t, relations + 2);
  for (size_t i = 0; i < count; i++)
    run->first[run->edges.at[i].head + 1]++;
  for (size_t i = 0; i < relations; i++)
    run->first[i + 1] += run->first[i];
  uint32_t* next = WHY_NEW_ARRAY(run->compiler->arena, uint32_t, relations + 1);
  memcpy(next, run->first, relations * sizeof *next);
  for (size_t i = 0; i < count; i++)
    sorted[next[run->edges.at[i].head]++] = run->edges.at[i];
  run->edges.at = sorted;
}

static void pop_component(search* run, why_relation root) {
  why_relation popped;
  unsigned number = (unsigned)run->program->strata.count;
  why_stratum* made = WHY_LIST_ADD(run->compiler->arena, run->program->strata);
  do {
    popped = run->stack[--run->stack_count];
    run->on_stack[popped] = false;
    run->program->relations[popped].stratum = number;
    *WHY_LIST_ADD(run->compiler->arena, made->relations) = popped;
  } while (popped != root);
}

static void visit(search* run, why_relation at) {
  run->index[at] = run->low[at] = ++run->next_index;
  run->stack[run->stack_count++] = at;
  run->on_stack[at] = true;
  for (uint32_t i = run->first[at]; i < run->first[at + 1]; i++) {
    why_relation body = run->edges.at[i].body;
    if (!run->index[body])
      visit(run, body);
    if (run->on_stack[body] && run->low[body] < run->low[at])
      run->low[at] = run->low[body];
  }
  if (run->low[at] == run->index[at])
    pop_component(run, at);
}

/// "head <- body <- ... <- head": each follows from the next. A shortest such cycle of one
/// component, searched in breadth from `body`.
static const char* cycle_text(search* run, why_relation head, why_relation body) {
  size_t count = run->program->relation_count;
  why_relation* queue = WHY_NEW_ARRAY(run->compiler->arena, why_relation, count + 1);
  uint32_t* before = WHY_NEW_ARRAY(run->compiler->arena, uint32_t, count + 1);
  size_t tail = 0;
  queue[tail++] = body;
  before[body] = (uint32_t)body + 1;
  for (size_t next = 0; next < tail && !before[head]; next++) {
    why_relation at = queue[next];
    for (uint32_t i = run->first[at]; i < run->first[at + 1]; i++) {
      why_relation found = run->edges.at[i].body;
      if (before[found])
        continue;
      before[found] = (uint32_t)at + 1;
      queue[tail++] = found;
    }
  }
  // The way leads from the head back to the body; the queue has served and takes it.
  size_t length = 0;
  for (why_relation at = head; at != body; at = before[at] - 1)
    queue[length++] = at;
  queue[length++] = body;
  why_buffer text = {.arena = run->compiler->arena};
  why_buffer_add(&text,
                 why_symbols_text(run->compiler->symbols, run->program->relations[head].info.name));
  while (length-- > 0)
    why_buffer_print(
        &text, " <- %s",
        why_symbols_text(run->compiler->symbols, run->program->relations[queue[length]].info.name));
  return why_buffer_text(&text);
}

static void check_cycles(search* run) {
  for (size_t i = 0; i < run->edges.count; i++) {
    const edge* each = &run->edges.at[i];
    why_relation_inner* head = &run->program->relations[each->head];
    bool same = head->stratum == run->program->relations[each->body].stratum;
    if (!same || (!each->blocks && !head->prefers))
      continue;
    why_problems_add(
        run->compiler->problems, WHY_ERROR, "stratification", each->place,
        "a cycle through negation or a total: %s rests on the whole of %s, and that "
        "on it",
        why_symbols_text(run->compiler->symbols, head->info.name),
        why_symbols_text(run->compiler->symbols, run->program->relations[each->body].info.name));
    why_problems_hint(run->compiler->problems, "the cycle: %s",
                      cycle_text(run, each->head, each->body));
  }
}

/// Numbers made in a recursion need not come to an end.
static void check_arithmetic(search* run) {
  const why_rule_row* reported = NULL; // a rule of several conclusions is reported once
  for (size_t r = 0; r < run->program->rules.count; r++) {
    const why_rule* rule = &run->program->rules.at[r];
    unsigned stratum = run->program->relations[rule->head.relation].stratum;
    bool recursive = false;
    for (unsigned p = 0; p < rule->premise_count; p++)
      recursive =
          recursive || run->program->relations[rule->premises[p]->atom.relation].stratum == stratum;
    if (rule->row == reported)
      continue;
    for (size_t i = 0; recursive && i < rule->condition_count; i++) {
      const why_condition* each = &rule->conditions[i];
      if (each->kind != WHY_LET || rule->variables[each->variable].slot.type != WHY_SLOT_NUMBER)
        continue;
      reported = rule->row;
      why_problems_add(run->compiler->problems, WHY_ERROR, "arithmetic-in-recursion",
                       each->row->place, "rule %s: arithmetic inside a recursion may never end",
                       why_symbols_text(run->compiler->symbols, rule->info.id));
    }
  }
}

/// A relation is evaluated for every question when an assumable one reaches it.
static void find_reached(search* run) {
  why_program* program = run->program;
  for (size_t i = 0; i < program->relation_count; i++)
    program->relations[i].info.reached = program->relations[i].info.assumable;
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < run->edges.count; i++) {
      why_relation_info* head = &program->relations[run->edges.at[i].head].info;
      if (head->reached || !program->relations[run->edges.at[i].body].info.reached)
        continue;
      head->reached = true;
      changed = true;
    }
  }
}

/// What rules and strata know of recursion and questions, and relations of their rules.
static void mark_rules(search* run) {
  why_program* program = run->program;
  for (size_t i = 0; i < program->rules.count; i++) {
    why_rule* rule = &program->rules.at[i];
    why_relation_inner* head = &program->relations[rule->head.relation];
    rule->in_overlay = head->info.reached;
    for (unsigned p = 0; p < rule->outer_premise_count; p++)
      rule->recursive =
          rule->recursive ||
          program->relations[rule->premises[p]->atom.relation].stratum == head->stratum;
    why_stratum* stratum = &program->strata.at[head->stratum];
    stratum->recursive = stratum->recursive || rule->recursive;
    *WHY_LIST_ADD(run->compiler->arena, head->rules) = (uint32_t)i;
  }
  for (size_t i = 0; i < program->relation_count; i++)
    if (program->relations[i].info.reached)
      program->strata.at[program->relations[i].stratum].reached = true;
}

void why_strata_find(why_compiler* compiler) {
  why_program* program = compiler->program;
  size_t count = program->relation_count;
  search run = {.compiler = compiler,
                .program = program,
                .index = WHY_NEW_ARRAY(compiler->arena, uint32_t, count + 1),
                .low = WHY_NEW_ARRAY(compiler->arena, uint32_t, count + 1),
                .on_stack = WHY_NEW_ARRAY(compiler->arena, bool, count + 1),
                .stack = WHY_NEW_ARRAY(compiler->arena, why_relation, count + 1)};
  for (size_t i = 0; i < program->rules.count; i++) {
    const why_rule* rule = &program->rules.at[i];
    add_edges_of(&run, rule->head.relation, rule->conditions, rule->condition_count, false);
  }
  sort_edges(&run);
  for (size_t i = 0; i < count; i++)
    if (!run.index[i])
      visit(&run, (why_relation)i);
  find_reached(&run);
  mark_rules(&run);
  check_cycles(&run);
  check_arithmetic(&run);
}
