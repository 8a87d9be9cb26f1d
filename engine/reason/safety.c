// SPDX-License-Identifier: GPL-3.0-or-later
// Which conditions give a variable its value and which need it already: the ground for refusing
// unsafe rules and for the order of joins.
#include "program.h"

uint64_t why_atom_variables(const why_atom* atom, unsigned slot_count) {
  uint64_t bits = 0;
  for (unsigned i = 0; i < slot_count; i++)
    if (atom->terms[i].kind == WHY_TERM_VARIABLE)
      bits |= why_bit(atom->terms[i].variable);
  return bits;
}

static void add_bit(void* user, uint32_t variable) {
  *(uint64_t*)user |= why_bit(variable);
}

uint64_t why_expression_bits(const why_expression* expression) {
  uint64_t bits = 0;
  why_expression_variables(expression, add_bit, &bits);
  return bits;
}

static uint64_t bits_of(const uint32_t* variables, size_t count) {
  uint64_t bits = 0;
  for (size_t i = 0; i < count; i++)
    bits |= why_bit(variables[i]);
  return bits;
}

static why_flow if_flow(const why_program* program, const why_condition* condition) {
  unsigned slot_count = program->relations[condition->atom.relation].info.slot_count;
  uint64_t all = why_atom_variables(&condition->atom, slot_count);
  if (condition->kind == WHY_UNLESS)
    return (why_flow){.needs = all};
  if (!condition->else_mask)
    return (why_flow){.gives = all};
  uint64_t otherwise = 0;
  uint64_t others = 0;
  for (unsigned i = 0; i < slot_count; i++)
    if (condition->atom.terms[i].kind == WHY_TERM_VARIABLE)
      *(condition->else_mask >> i & 1 ? &otherwise : &others) |=
          why_bit(condition->atom.terms[i].variable);
  return (why_flow){.needs = others, .gives = otherwise};
}

/// What the inside of an aggregate cannot bind itself must be bound before.
static why_flow group_flow(const why_program* program, const why_aggregate* group, uint64_t bound) {
  uint64_t by = bits_of(group->by, group->by_count);
  uint64_t wanted =
      by | bits_of(group->over, group->over_count) | bits_of(group->keep_inside, group->keep_count);
  if (group->of != WHY_NO_VARIABLE)
    wanted |= why_bit(group->of);
  uint64_t ready = 0;
  uint64_t inside =
      why_conditions_bind(program, group->inside, group->inside_count, bound & by, &ready);
  why_flow flow = {.gives = by | why_bit(group->result) |
                            bits_of(group->keep_outside, group->keep_count)};
  flow.needs = wanted & ~inside;
  if (ready != (UINT64_C(1) << group->inside_count) - 1)
    flow.needs |= by & ~bound ? by & ~bound : UINT64_MAX;
  if (group->has_none)
    flow.needs |= by;
  return flow;
}

why_flow why_condition_flow(const why_program* program, const why_condition* condition,
                            uint64_t bound) {
  switch (condition->kind) {
  case WHY_IF:
  case WHY_UNLESS:
    return if_flow(program, condition);
  case WHY_WHERE:
    return (why_flow){.needs = why_expression_bits(condition->left) |
                               why_expression_bits(condition->right)};
  case WHY_LET:
    return (why_flow){.needs = why_expression_bits(condition->left),
                      .gives = why_bit(condition->variable)};
  case WHY_MATCHES:
    return (why_flow){.needs = why_bit(condition->variable)};
  default:
    return group_flow(program, condition->group, bound);
  }
}

uint64_t why_conditions_bind(const why_program* program, const why_condition* conditions,
                             size_t count, uint64_t bound, uint64_t* ready) {
  uint64_t met = 0;
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < count; i++) {
      if (met & why_bit((uint32_t)i))
        continue;
      why_flow flow = why_condition_flow(program, &conditions[i], bound);
      if (flow.needs & ~bound)
        continue;
      met |= why_bit((uint32_t)i);
      bound |= flow.gives;
      changed = true;
    }
  }
  if (ready)
    *ready = met;
  return bound;
}

static void report_unbound(why_builder* builder, uint64_t unbound, why_place place,
                           const char* what) {
  for (uint32_t i = 0; i < builder->rule->variable_count; i++) {
    if (!(unbound & why_bit(i)))
      continue;
    const why_variable* variable = &builder->rule->variables[i];
    const char* name = why_symbols_text(builder->compiler->symbols, variable->name);
    why_builder_report(builder, "unsafe", place, "%s uses ?%s, which no condition binds", what,
                       name);
    why_problems_hint(builder->compiler->problems,
                      "name ?%s in an <if> of the rule, or write _ where any value will do", name);
    return;
  }
}

static const char* name_of(why_condition_kind kind) {
  static const char* const NAMES[] = {"if",    "unless", "where", "let", "matches",
                                      "count", "sum",    "least", "most"};
  return NAMES[kind];
}

/// Conditions that can never be met, the innermost first.
static void check_conditions(why_builder* builder, const why_condition* conditions, size_t count,
                             uint64_t start) {
  const why_program* program = builder->compiler->program;
  uint64_t ready = 0;
  uint64_t bound = why_conditions_bind(program, conditions, count, start, &ready);
  for (size_t i = 0; i < count; i++) {
    const why_condition* condition = &conditions[i];
    if (ready & why_bit((uint32_t)i))
      continue;
    if (condition->group)
      check_conditions(builder, condition->group->inside, condition->group->inside_count,
                       bound & bits_of(condition->group->by, condition->group->by_count));
    if (builder->sound)
      report_unbound(builder, why_condition_flow(program, condition, bound).needs & ~bound,
                     condition->row->place, name_of(condition->kind));
  }
}

/// A variable inside an aggregate that also stands outside looks joined and is not.
static void check_scopes(why_builder* builder) {
  const why_rule* rule = builder->rule;
  for (size_t c = 0; c < rule->condition_count; c++) {
    const why_aggregate* group = rule->conditions[c].group;
    for (uint32_t i = 0; group && i < rule->variable_count; i++) {
      const why_variable* inner = &rule->variables[i];
      if (inner->scope != group->number + 1)
        continue;
      bool meant = i == group->of && inner->name == rule->variables[group->result].name;
      for (size_t k = 0; k < group->keep_count; k++)
        meant = meant || i == group->keep_inside[k];
      for (uint32_t k = 0; k < rule->variable_count && !meant; k++) {
        if (rule->variables[k].scope != 0 || rule->variables[k].name != inner->name)
          continue;
        const char* name = why_symbols_text(builder->compiler->symbols, inner->name);
        why_builder_report(builder, "scope", inner->place,
                           "?%s inside %s is not the ?%s of the rule", name,
                           name_of(rule->conditions[c].kind), name);
        why_problems_hint(builder->compiler->problems,
                          "add ?%s to by= if they are to be the same, else rename one", name);
      }
    }
  }
}

void why_rule_check_safety(why_builder* builder) {
  const why_rule* rule = builder->rule;
  const why_program* program = builder->compiler->program;
  check_scopes(builder);
  check_conditions(builder, rule->conditions, rule->condition_count, 0);
  uint64_t bound = why_conditions_bind(program, rule->conditions, rule->condition_count, 0, NULL);
  for (size_t i = 0; i < builder->head_count; i++) {
    const why_atom* head = &builder->heads[i];
    unsigned slot_count = program->relations[head->relation].info.slot_count;
    report_unbound(builder, why_atom_variables(head, slot_count) & ~bound, head->place, "then");
  }
}
