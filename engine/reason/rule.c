// SPDX-License-Identifier: GPL-3.0-or-later
// One compiled rule for each conclusion: conditions built, typed, checked for safety, and the place
// of every variable's value in a derivation's record settled.
#include "program.h"

#include <stdarg.h>
#include <string.h>

void why_builder_report(why_builder* builder, const char* check, why_place place,
                        const char* format, ...) {
  va_list arguments;
  va_start(arguments, format);
  const char* text = why_arena_vprint(builder->compiler->arena, format, arguments);
  va_end(arguments);
  why_problems_add(builder->compiler->problems, WHY_ERROR, check, place, "rule %s: %s",
                   why_symbols_text(builder->compiler->symbols, builder->row->id), text);
  builder->sound = false;
}

static uint32_t expression_variable(void* user, const char* name, size_t length) {
  why_builder* builder = user;
  return why_builder_variable(builder,
                              why_symbols_add_bytes(builder->compiler->symbols, name, length),
                              builder->row->place);
}

static const why_slot* expression_slot(void* user, uint32_t variable) {
  const why_builder* builder = user;
  return &builder->rule->variables[variable].slot;
}

/// Number the `if` conditions: those of the rule first, then those inside aggregates.
static void number_premises(why_builder* builder) {
  why_rule* rule = builder->rule;
  rule->premises =
      WHY_NEW_ARRAY(builder->compiler->arena, const why_condition*, WHY_PREMISES_LIMIT);
  for (size_t i = 0; i < rule->condition_count; i++)
    if (rule->conditions[i].kind == WHY_IF && rule->premise_count < WHY_PREMISES_LIMIT) {
      rule->conditions[i].premise = rule->premise_count;
      rule->premises[rule->premise_count++] = &rule->conditions[i];
    }
  rule->outer_premise_count = rule->premise_count;
  for (size_t i = 0; i < rule->condition_count; i++) {
    why_aggregate* group = rule->conditions[i].group;
    for (size_t k = 0; group && k < group->inside_count; k++) {
      if (group->inside[k].kind != WHY_IF)
        continue;
      if (rule->premise_count == WHY_PREMISES_LIMIT) {
        why_builder_report(builder, "limit", group->inside[k].row->place,
                           "the rule has more than %d conditions", WHY_PREMISES_LIMIT);
        return;
      }
      group->inside[k].premise = rule->premise_count;
      rule->premises[rule->premise_count++] = &group->inside[k];
    }
  }
}

/// The first outer `if` that surely holds the variable; else the record keeps the value itself.
static why_origin find_origin(why_builder* builder, uint32_t variable) {
  why_rule* rule = builder->rule;
  const why_program* program = builder->compiler->program;
  for (unsigned p = 0; p < rule->outer_premise_count; p++) {
    const why_condition* premise = rule->premises[p];
    unsigned slot_count = program->relations[premise->atom.relation].info.slot_count;
    for (unsigned s = 0; !premise->else_mask && s < slot_count; s++)
      if (premise->atom.terms[s].kind == WHY_TERM_VARIABLE &&
          premise->atom.terms[s].variable == variable)
        return (why_origin){.from = WHY_FROM_PREMISE, .number = p, .slot = s};
  }
  return (why_origin){.from = WHY_FROM_EXTRA, .number = rule->extra_count++};
}

static void find_origins(why_builder* builder) {
  why_rule* rule = builder->rule;
  rule->origins = WHY_NEW_ARRAY(builder->compiler->arena, why_origin, rule->variable_count + 1);
  for (uint32_t i = 0; i < rule->variable_count; i++)
    if (rule->variables[i].scope == 0)
      rule->origins[i] = find_origin(builder, i);
}

/// Every {name} or {name:digits} of a sentence must be a variable of the rule.
static void check_say(why_builder* builder, const char* say, why_place place) {
  for (const char* open = strchr(say, '{'); open; open = strchr(open + 1, '{')) {
    size_t length = strcspn(open + 1, ":}");
    bool known = false;
    for (uint32_t i = 0; i < builder->rule->variable_count; i++) {
      const why_variable* variable = &builder->rule->variables[i];
      const char* name = why_symbols_text(builder->compiler->symbols, variable->name);
      known = known || (variable->scope == 0 && strlen(name) == length &&
                        strncmp(name, open + 1, length) == 0);
    }
    if (known && why_say_ends(open + 1 + length))
      continue;
    if (known) {
      why_builder_report(builder, "say", place,
                         "the sentence has a { that does not end as {name} or {name:1}");
      return;
    }
    why_builder_report(builder, "say", place, "the sentence speaks of {%.*s}, which is no variable",
                       (int)(length < 60 ? length : 60), open + 1);
    why_problems_hint(builder->compiler->problems,
                      "variables inside count, sum, least and most cannot be spoken of");
    return;
  }
}

static void check_sentences(why_builder* builder) {
  check_say(builder, builder->row->say, builder->row->say_place);
  for (size_t i = 0; i < builder->rule->condition_count; i++) {
    const why_condition* condition = &builder->rule->conditions[i];
    if (condition->kind == WHY_UNLESS)
      check_say(builder, condition->row->say, condition->row->place);
  }
}

static void build_heads(why_builder* builder) {
  const why_rule_row* row = builder->row;
  builder->heads = WHY_NEW_ARRAY(builder->compiler->arena, why_atom, row->conclusions.count);
  builder->head_count = row->conclusions.count;
  for (size_t i = 0; i < row->conclusions.count; i++) {
    const why_conclusion_row* conclusion = &row->conclusions.at[i];
    builder->heads[i] =
        why_atom_build(builder, &conclusion->relation, conclusion->place, &conclusion->slots, true);
  }
}

static void add_rules(why_builder* builder) {
  why_program* program = builder->compiler->program;
  for (size_t i = 0; i < builder->head_count; i++) {
    why_rule* made = WHY_LIST_ADD(builder->compiler->arena, program->rules);
    *made = *builder->rule;
    made->number = (unsigned)program->rules.count - 1;
    made->head = builder->heads[i];
  }
}

void why_rule_compile(why_compiler* compiler, const why_rule_row* row) {
  why_rule rule = {.info = {.id = row->id,
                            .grounds = row->grounds,
                            .title = row->title,
                            .say = row->say,
                            .place = row->place,
                            .from = row->from.basis ? &row->from : NULL},
                   .row = row,
                   .variables = WHY_NEW_ARRAY(compiler->arena, why_variable, WHY_VARIABLES_LIMIT)};
  why_builder builder = {.compiler = compiler, .row = row, .rule = &rule, .sound = true};
  builder.expressions = (why_expression_scope){.arena = compiler->arena,
                                               .symbols = compiler->symbols,
                                               .reasoning = compiler->reasoning,
                                               .user = &builder,
                                               .variable = expression_variable,
                                               .slot = expression_slot};
  rule.conditions = why_conditions_build(&builder, &row->conditions);
  rule.condition_count = builder.sound ? row->conditions.count : 0;
  build_heads(&builder);
  if (builder.sound)
    why_rule_type(&builder);
  if (builder.sound)
    why_rule_check_safety(&builder);
  if (builder.sound)
    check_sentences(&builder);
  if (builder.sound)
    number_premises(&builder);
  if (!builder.sound)
    return;
  find_origins(&builder);
  add_rules(&builder);
}
