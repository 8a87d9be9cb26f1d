// SPDX-License-Identifier: GPL-3.0-or-later
// From the rows of a rule's conditions and conclusions to relations, terms and numbered variables.
#include "program.h"

#include "value.h"

#include <string.h>

static const char* text_of(const why_builder* builder, why_symbol symbol) {
  return why_symbols_text(builder->compiler->symbols, symbol);
}

/// Inside an aggregate the variables in `by` are those of the rule.
static bool is_shared(const why_builder* builder, why_symbol name) {
  for (size_t i = 0; builder->around && i < builder->around->by_count; i++)
    if (builder->rule->variables[builder->around->by[i]].name == name)
      return true;
  return false;
}

uint32_t why_builder_variable(why_builder* builder, why_symbol name, why_place place) {
  why_rule* rule = builder->rule;
  unsigned scope = is_shared(builder, name) ? 0 : builder->scope;
  for (uint32_t i = 0; i < rule->variable_count; i++)
    if (rule->variables[i].name == name && rule->variables[i].scope == scope)
      return i;
  if (rule->variable_count == WHY_VARIABLES_LIMIT) {
    why_builder_report(builder, "limit", place, "the rule has more than %d variables",
                       WHY_VARIABLES_LIMIT);
    return WHY_NO_VARIABLE;
  }
  rule->variables[rule->variable_count] =
      (why_variable){.name = name, .place = place, .scope = scope};
  return rule->variable_count++;
}

static void report_slot(why_builder* builder, const why_slot_text* text, const char* relation) {
  why_builder_report(builder, "slot", text->place, "relation %s has no slot %s", relation,
                     text_of(builder, text->slot));
}

/// A constant of a slot, after reporting if it is none.
static why_value read_constant(why_builder* builder, const why_slot* slot,
                               const why_slot_text* text) {
  why_value value = {0};
  if (*text->text == '\0' || !why_value_parse(slot, builder->compiler->symbols, text->text, &value))
    why_builder_report(builder, "value", text->place, "%s=\"%s\" is no value of kind %s",
                       text_of(builder, text->slot), text->text, text_of(builder, slot->kind));
  return value;
}

/// As the schema has it where an attribute can be a variable only.
static bool is_variable_name(const char* text) {
  return *text >= 'a' && *text <= 'z' &&
         !text[strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-")];
}

static why_term read_term(why_builder* builder, const why_slot* slot, const why_slot_text* text) {
  why_term term = {.kind = WHY_TERM_ANY};
  if (strcmp(text->text, "_") == 0)
    return term;
  if (*text->text != '?') {
    term.kind = WHY_TERM_VALUE;
    term.value = read_constant(builder, slot, text);
    return term;
  }
  if (!is_variable_name(text->text + 1)) {
    why_builder_report(builder, "variable", text->place,
                       "\"%s\" is no variable: behind ? come small letters, digits and hyphens",
                       text->text);
    return term;
  }
  why_symbol name = why_symbols_add(builder->compiler->symbols, text->text + 1);
  term.variable = why_builder_variable(builder, name, text->place);
  if (term.variable == WHY_NO_VARIABLE)
    return term;
  term.kind = WHY_TERM_VARIABLE;
  why_variable_assign(builder, term.variable, slot, text->place);
  return term;
}

why_atom why_atom_build(why_builder* builder, const why_named* relation, why_place place,
                        const why_slot_texts* slots, bool conclusion) {
  const why_program* program = builder->compiler->program;
  const char* name = text_of(builder, relation->name);
  why_atom atom = {.relation = why_program_find(program, name), .place = place};
  if (atom.relation == WHY_NO_RELATION) {
    why_builder_report(builder, "relation", relation->place, "there is no relation %s", name);
    why_problems_hint(builder->compiler->problems, "declare it with <relation name=\"%s\">", name);
    return atom;
  }
  const why_relation_info* info = &program->relations[atom.relation].info;
  atom.terms = WHY_NEW_ARRAY(builder->compiler->arena, why_term, info->slot_count);
  for (size_t i = 0; i < slots->count; i++) {
    int slot = why_program_slot(program, atom.relation, text_of(builder, slots->at[i].slot));
    if (slot < 0)
      report_slot(builder, &slots->at[i], name);
    else
      atom.terms[slot] = read_term(builder, &info->slots[slot], &slots->at[i]);
  }
  for (unsigned i = 0; conclusion && i < info->slot_count; i++)
    if (atom.terms[i].kind == WHY_TERM_ANY)
      why_builder_report(builder, "slot", place, "a conclusion of %s needs a value for %s", name,
                         text_of(builder, info->slots[i].name));
  return atom;
}

/// The else- values of an `if`.
static void build_otherwise(why_builder* builder, const why_condition_row* row,
                            why_condition* made) {
  const why_program* program = builder->compiler->program;
  if (made->atom.relation == WHY_NO_RELATION || row->otherwise.count == 0)
    return;
  const why_relation_info* info = &program->relations[made->atom.relation].info;
  made->else_values = WHY_NEW_ARRAY(builder->compiler->arena, why_value, info->slot_count);
  for (size_t i = 0; i < row->otherwise.count; i++) {
    const why_slot_text* text = &row->otherwise.at[i];
    int slot = why_program_slot(program, made->atom.relation, text_of(builder, text->slot));
    if (slot < 0) {
      report_slot(builder, text, text_of(builder, info->name));
    } else if (made->atom.terms[slot].kind != WHY_TERM_VARIABLE) {
      why_builder_report(builder, "slot", text->place, "else-%s needs a variable in %s",
                         text_of(builder, text->slot), text_of(builder, text->slot));
    } else {
      made->else_values[slot] = read_constant(builder, &info->slots[slot], text);
      made->else_mask |= UINT32_C(1) << slot;
    }
  }
}

static why_comparison read_comparison(const char* text) {
  static const char* const NAMES[] = {"equals", "differs", "below", "above", "at-most", "at-least"};
  for (unsigned i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
    if (strcmp(NAMES[i], text) == 0)
      return (why_comparison)i;
  return WHY_EQUALS;
}

static why_expression* parse(why_builder* builder, const char* text, why_place place) {
  const char* wrong = NULL;
  why_expression* made = why_expression_parse(&builder->expressions, text, &wrong);
  if (!made)
    why_builder_report(builder, "expression", place, "\"%s\" is no expression: %s", text, wrong);
  return made;
}

/// A side of a comparison that need not be arithmetic: beside a variable it may be any constant.
static bool is_lone_variable(const char* text) {
  return *text == '?' && text[1] && !text[1 + strcspn(text + 1, " +*/(),?")];
}

static why_expression* parse_constant(why_builder* builder, const char* text) {
  why_slot any = {.kind = why_symbols_add(builder->compiler->symbols, "any")};
  return why_expression_constant(
      builder->compiler->arena, &any,
      why_value_of_symbol(why_symbols_add(builder->compiler->symbols, text)));
}

/// Names can be compared too: with a lone variable that holds a name, anything is a constant.
static void build_where(why_builder* builder, const why_condition_row* row, why_condition* made) {
  made->comparison = read_comparison(row->compare);
  bool left_alone = is_lone_variable(row->left);
  bool right_alone = is_lone_variable(row->right);
  const why_slot* slot = NULL;
  if (left_alone != right_alone) {
    const char* variable = left_alone ? row->left : row->right;
    uint32_t number = why_builder_variable(
        builder, why_symbols_add(builder->compiler->symbols, variable + 1), row->place);
    slot = number == WHY_NO_VARIABLE ? NULL : &builder->rule->variables[number].slot;
  }
  bool names = slot && slot->kind && slot->type == WHY_SLOT_SYMBOL;
  made->left = names && !left_alone ? parse_constant(builder, row->left)
                                    : parse(builder, row->left, row->place);
  made->right = names && !right_alone ? parse_constant(builder, row->right)
                                      : parse(builder, row->right, row->place);
}

static uint32_t* build_variables(why_builder* builder, const why_named_list* names) {
  uint32_t* made = WHY_NEW_ARRAY(builder->compiler->arena, uint32_t, names->count);
  for (size_t i = 0; i < names->count; i++)
    made[i] = why_builder_variable(builder, names->at[i].name, names->at[i].place);
  return made;
}

static uint32_t build_variable(why_builder* builder, const why_named* name) {
  return name->name ? why_builder_variable(builder, name->name, name->place) : WHY_NO_VARIABLE;
}

static void build_group(why_builder* builder, const why_condition_row* row, why_condition* made) {
  why_aggregate* group = WHY_NEW(builder->compiler->arena, why_aggregate);
  made->group = group;
  if (builder->rule->group_count == WHY_GROUPS_LIMIT) {
    why_builder_report(builder, "limit", row->place,
                       "the rule has more than %d of count, sum, least and most", WHY_GROUPS_LIMIT);
    return;
  }
  group->number = builder->rule->group_count++;
  group->result = build_variable(builder, &row->name);
  group->by = build_variables(builder, &row->by);
  group->keep_outside = build_variables(builder, &row->keep);
  group->keep_count = row->keep.count;
  group->has_none = row->none != NULL;
  group->by_count = builder->sound ? row->by.count : 0;
  builder->scope = group->number + 1;
  builder->around = group;
  group->inside = why_conditions_build(builder, &row->inside);
  group->inside_count = row->inside.count;
  group->of = build_variable(builder, &row->of);
  group->over = build_variables(builder, &row->over);
  group->over_count = row->over.count;
  group->keep_inside = build_variables(builder, &row->keep);
  builder->scope = 0;
  builder->around = NULL;
  for (size_t i = 0; i < group->by_count + group->keep_count; i++)
    if ((i < group->by_count ? group->by[i] : group->keep_outside[i - group->by_count]) ==
        group->result)
      why_builder_report(builder, "variable", row->place, "?%s is asked for twice",
                         text_of(builder, row->name.name));
  if (group->has_none && group->keep_count)
    why_builder_report(builder, "variable", row->place, "else and keep cannot stand together");
}

static void build_condition(why_builder* builder, const why_condition_row* row,
                            why_condition* made) {
  made->row = row;
  made->kind = row->kind;
  made->number = builder->compiler->program->condition_count++;
  switch (row->kind) {
  case WHY_IF:
  case WHY_UNLESS:
    made->atom = why_atom_build(builder, &row->relation, row->place, &row->slots, false);
    build_otherwise(builder, row, made);
    break;
  case WHY_WHERE:
    break; // when all kinds are known: why_wheres_build
  case WHY_LET:
    made->variable = build_variable(builder, &row->name);
    made->left = parse(builder, row->left, row->place);
    break;
  case WHY_MATCHES:
    made->variable = build_variable(builder, &row->name);
    made->pattern = why_regex_new(builder->compiler->arena, row->left, builder->compiler->problems,
                                  "pattern", row->place);
    made->match = builder->compiler->program->match_count++;
    if (!made->pattern)
      builder->sound = false;
    break;
  default:
    build_group(builder, row, made);
    break;
  }
}

why_condition* why_conditions_build(why_builder* builder, const why_condition_list* rows) {
  why_condition* made = WHY_NEW_ARRAY(builder->compiler->arena, why_condition, rows->count);
  if (rows->count > WHY_CONDITIONS_LIMIT) {
    why_builder_report(builder, "limit", rows->at[WHY_CONDITIONS_LIMIT].place,
                       "more than %d conditions stand together", WHY_CONDITIONS_LIMIT);
    return made;
  }
  for (size_t i = 0; i < rows->count; i++)
    build_condition(builder, &rows->at[i], &made[i]);
  return made;
}

void why_wheres_build(why_builder* builder, why_condition* conditions, size_t count) {
  for (size_t i = 0; i < count; i++) {
    why_aggregate* group = conditions[i].group;
    if (conditions[i].kind == WHY_WHERE)
      build_where(builder, conditions[i].row, &conditions[i]);
    if (!group)
      continue;
    builder->scope = group->number + 1;
    builder->around = group;
    why_wheres_build(builder, group->inside, group->inside_count);
    builder->scope = 0;
    builder->around = NULL;
  }
}
