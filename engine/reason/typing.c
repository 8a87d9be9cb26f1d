// SPDX-License-Identifier: GPL-3.0-or-later
// Every variable of a rule has one kind. Slots tell most kinds at once; results of expressions and
// aggregates follow from those, so they are settled in rounds until nothing changes.
#include "program.h"

#include "value.h"

#include <string.h>

static const char* text_of(const why_builder* builder, why_symbol symbol) {
  return why_symbols_text(builder->compiler->symbols, symbol);
}

static bool is_any(const why_builder* builder, const why_slot* slot) {
  return slot->type == WHY_SLOT_SYMBOL && strcmp(text_of(builder, slot->kind), "any") == 0;
}

bool why_variable_assign(why_builder* builder, uint32_t variable, const why_slot* slot,
                         why_place place) {
  if (variable == WHY_NO_VARIABLE || !slot->kind)
    return false;
  why_variable* known = &builder->rule->variables[variable];
  if (known->slot.kind == slot->kind ||
      (known->slot.kind && is_any(builder, slot) && known->slot.type == WHY_SLOT_SYMBOL))
    return false;
  if (!known->slot.kind || (is_any(builder, &known->slot) && slot->type == WHY_SLOT_SYMBOL)) {
    known->slot = *slot;
    known->slot.key = false;
    known->slot.prefer = WHY_PREFER_NONE;
    return true;
  }
  why_builder_report(builder, "kind", place, "?%s is of kind %s here, but of kind %s elsewhere",
                     text_of(builder, known->name), text_of(builder, slot->kind),
                     text_of(builder, known->slot.kind));
  return false;
}

/// Make two variables agree, whichever is known.
static bool link(why_builder* builder, uint32_t a, uint32_t b, why_place place) {
  if (a == WHY_NO_VARIABLE || b == WHY_NO_VARIABLE)
    return false;
  why_slot of_a = builder->rule->variables[a].slot;
  why_slot of_b = builder->rule->variables[b].slot;
  bool changed = why_variable_assign(builder, b, &of_a, place);
  return why_variable_assign(builder, a, &of_b, place) || changed;
}

static bool type_group(why_builder* builder, const why_condition* condition) {
  const why_aggregate* group = condition->group;
  why_place place = condition->row->place;
  bool changed = false;
  for (size_t i = 0; i < group->keep_count; i++)
    changed = link(builder, group->keep_inside[i], group->keep_outside[i], place) || changed;
  if (condition->kind == WHY_LEAST || condition->kind == WHY_MOST)
    return link(builder, group->of, group->result, place) || changed;
  why_slot number = why_slot_of_kind(builder->compiler->program, builder->compiler->symbols,
                                     why_symbols_add(builder->compiler->symbols, "number"));
  if (condition->kind == WHY_SUM)
    changed = why_variable_assign(builder, group->of, &number, place) || changed;
  return why_variable_assign(builder, group->result, &number, place) || changed;
}

/// One round over conditions; whether any variable became known.
static bool type_round(why_builder* builder, const why_condition* conditions, size_t count) {
  bool changed = false;
  for (size_t i = 0; i < count; i++) {
    const why_condition* condition = &conditions[i];
    why_slot slot;
    if (condition->kind == WHY_LET && condition->left &&
        why_expression_slot(condition->left, &builder->expressions, &slot))
      changed = why_variable_assign(builder, condition->variable, &slot, condition->row->place) ||
                changed;
    if (condition->group) {
      changed = type_group(builder, condition) || changed;
      changed =
          type_round(builder, condition->group->inside, condition->group->inside_count) || changed;
    }
    if (!builder->sound)
      return false;
  }
  return changed;
}

static void settle(why_builder* builder, const why_condition* condition, why_expression* expression,
                   const why_slot* wanted, const char* text) {
  const char* wrong = why_expression_settle(expression, &builder->expressions, wanted);
  if (wrong)
    why_builder_report(builder, "kind", condition->row->place, "\"%s\": %s", text, wrong);
}

static void settle_let(why_builder* builder, const why_condition* condition) {
  const why_slot* wanted = &builder->rule->variables[condition->variable].slot;
  if (!wanted->kind || wanted->type == WHY_SLOT_SYMBOL)
    why_builder_report(builder, "kind", condition->row->place,
                       "\"%s\" gives neither a number nor a level of one known kind",
                       condition->row->left);
  else
    settle(builder, condition, condition->left, wanted, condition->row->left);
}

static void settle_where(why_builder* builder, const why_condition* condition) {
  why_slot wanted;
  if (!why_expression_slot(condition->left, &builder->expressions, &wanted) &&
      !why_expression_slot(condition->right, &builder->expressions, &wanted)) {
    why_builder_report(builder, "kind", condition->row->place,
                       "it is not known of what kind the two sides are");
    return;
  }
  why_slot right;
  // A name of a level takes its kind from the other side.
  if (why_expression_slot(condition->right, &builder->expressions, &right) &&
      right.type == WHY_SLOT_LEVEL && right.levels != wanted.levels &&
      !why_expression_settle(condition->left, &builder->expressions, &right))
    wanted = right;
  settle(builder, condition, condition->left, &wanted, condition->row->left);
  settle(builder, condition, condition->right, &wanted, condition->row->right);
  if (wanted.type == WHY_SLOT_SYMBOL && condition->comparison > WHY_DIFFERS)
    why_builder_report(builder, "kind", condition->row->place,
                       "things of kind %s have no order to compare by",
                       text_of(builder, wanted.kind));
}

static void settle_group(why_builder* builder, const why_condition* condition) {
  why_aggregate* group = condition->group;
  const why_slot* result = &builder->rule->variables[group->result].slot;
  if ((condition->kind == WHY_LEAST || condition->kind == WHY_MOST) &&
      (!result->kind || result->type == WHY_SLOT_SYMBOL))
    why_builder_report(builder, "kind", condition->row->place,
                       "?%s is neither a number nor a level",
                       text_of(builder, condition->row->of.name));
  else if (group->has_none &&
           !why_value_parse(result, builder->compiler->symbols, condition->row->none, &group->none))
    why_builder_report(builder, "value", condition->row->place,
                       "else=\"%s\" is no value of kind %s", condition->row->none,
                       text_of(builder, result->kind));
}

static void settle_all(why_builder* builder, const why_condition* conditions, size_t count) {
  for (size_t i = 0; i < count && builder->sound; i++) {
    const why_condition* condition = &conditions[i];
    if (condition->kind == WHY_LET)
      settle_let(builder, condition);
    else if (condition->kind == WHY_WHERE)
      settle_where(builder, condition);
    else if (condition->group) {
      settle_group(builder, condition);
      settle_all(builder, condition->group->inside, condition->group->inside_count);
    } else if (condition->kind == WHY_MATCHES &&
               builder->rule->variables[condition->variable].slot.type != WHY_SLOT_SYMBOL)
      why_builder_report(builder, "kind", condition->row->place,
                         "a pattern is matched against an id or a text, not a number or level");
  }
}

void why_rule_type(why_builder* builder) {
  why_rule* rule = builder->rule;
  while (builder->sound && type_round(builder, rule->conditions, rule->condition_count)) {
  }
  if (builder->sound)
    why_wheres_build(builder, rule->conditions, rule->condition_count);
  if (builder->sound)
    settle_all(builder, rule->conditions, rule->condition_count);
}
