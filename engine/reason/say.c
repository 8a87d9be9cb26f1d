// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences: {name} and {name:digits} replaced by values, ids by their display names.
#include "store.h"

#include "value.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/// Where the values of a sentence come from.
typedef struct {
  const why_overlay* overlay;
  const why_naming* naming;
  why_arena* arena;
  const why_rule* rule; ///< Variables by name; NULL: slots of `relation`.
  const why_value* values;
  const why_relation_info* relation;
  uint32_t unknown; ///< Slots of `relation` without a value.
} sentence;

static bool is_name(const why_symbols* symbols, why_symbol symbol, const char* name,
                    size_t length) {
  const char* text = why_symbols_text(symbols, symbol);
  return strlen(text) == length && strncmp(text, name, length) == 0;
}

/// The slot description and value of {name}; false when there is none.
static bool find_value(const sentence* at, const char* name, size_t length, why_slot* slot,
                       why_value* value) {
  const why_symbols* symbols = at->overlay->store.symbols;
  for (uint32_t i = 0; at->rule && i < at->rule->variable_count; i++) {
    const why_variable* variable = &at->rule->variables[i];
    if (variable->scope != 0 || !is_name(symbols, variable->name, name, length))
      continue;
    *slot = variable->slot;
    *value = at->values[i];
    return true;
  }
  for (unsigned i = 0; !at->rule && i < at->relation->slot_count; i++) {
    if (!is_name(symbols, at->relation->slots[i].name, name, length))
      continue;
    *slot = at->relation->slots[i];
    *value = at->values[i];
    return !(at->unknown >> i & 1);
  }
  return false;
}

bool why_say_ends(const char* text) {
  return *text == '}' || (*text == ':' && isdigit((unsigned char)text[1]) && text[2] == '}');
}

static const char* number_text(const sentence* at, double number, const char* digits) {
  if (!isdigit((unsigned char)*digits))
    return why_arena_print(at->arena, "%g", number);
  int places = *digits - '0';
  // A number that rounds to zero is shown without a sign.
  if (fabs(number) < 0.5 * pow(10, -places))
    number = 0;
  return why_arena_print(at->arena, "%.*f", places, number);
}

static const char* value_text(const sentence* at, const why_slot* slot, why_value value,
                              const char* digits) {
  if (slot->type == WHY_SLOT_NUMBER)
    return number_text(at, value.number, digits);
  const char* id = why_value_text(slot, at->overlay->store.symbols, value, at->arena);
  if (!at->naming || !at->naming->name)
    return id;
  const char* kind = slot->type == WHY_SLOT_LEVEL
                         ? "level"
                         : why_symbols_text(at->overlay->store.symbols, slot->kind);
  return at->naming->name(at->naming->user, kind, id);
}

static const char* fill_in(const sentence* at, const char* say) {
  why_buffer text = {.arena = at->arena};
  for (const char* open = strchr(say, '{'); open; open = strchr(say, '{')) {
    const char* close = strchr(open, '}');
    if (!close)
      break;
    size_t length = strcspn(open + 1, ":}");
    why_slot slot;
    why_value value;
    why_buffer_add_bytes(&text, say, (size_t)(open - say));
    if (find_value(at, open + 1, length, &slot, &value))
      why_buffer_add(
          &text, value_text(at, &slot, value, open[1 + length] == ':' ? open + 2 + length : ""));
    else if (at->unknown)
      why_buffer_add(&text, "...");
    say = close + 1;
  }
  why_buffer_add(&text, say);
  return why_buffer_text(&text);
}

/// An expression as written, with values for its variables: a number to two places.
static const char* with_values(const sentence* at, const char* written) {
  why_buffer text = {.arena = at->arena};
  while (*written) {
    size_t length = 1;
    while (*written == '?' && (isalnum((unsigned char)written[length]) || written[length] == '-'))
      length++;
    why_slot slot;
    why_value value;
    if (*written == '?' && find_value(at, written + 1, length - 1, &slot, &value))
      why_buffer_add(&text, value_text(at, &slot, value, "2"));
    else
      why_buffer_add_bytes(&text, written, length);
    written += length;
  }
  return why_buffer_text(&text);
}

/// One side of a comparison: what is written, and what it comes to where it must be worked out.
static const char* side_text(const sentence* at, const why_expression* side, const char* written) {
  const char* filled = with_values(at, written);
  why_value value;
  if (!strpbrk(written, "*/+( ") || !why_expression_value(side, at->values, &value))
    return filled;
  return why_arena_print(at->arena, "%.2f (%s)", value.number, filled);
}

const char* why_say(const why_overlay* overlay, const why_derivation* derivation,
                    const why_naming* naming, why_arena* arena) {
  const why_relation_info* relation =
      &overlay->store.program->relations[derivation->fact.relation].info;
  sentence at = {.overlay = overlay,
                 .naming = naming,
                 .arena = arena,
                 .rule = derivation->inner,
                 .values = derivation->rule ? derivation->variables
                                            : why_fact_values(overlay, derivation->fact),
                 .relation = relation};
  return fill_in(&at, derivation->rule ? derivation->rule->say : relation->say);
}

const char* why_say_absent(const why_overlay* overlay, const why_derivation* derivation,
                           const why_premise* premise, const why_naming* naming, why_arena* arena) {
  if (!premise->say || !*premise->say || !derivation->rule)
    return "";
  sentence at = {.overlay = overlay,
                 .naming = naming,
                 .arena = arena,
                 .rule = derivation->inner,
                 .values = derivation->variables};
  return fill_in(&at, premise->say);
}

const char* why_say_partly(const why_overlay* overlay, why_relation relation, uint32_t mask,
                           const why_value* values, const why_naming* naming, why_arena* arena) {
  const why_relation_info* info = &overlay->store.program->relations[relation].info;
  sentence at = {.overlay = overlay,
                 .naming = naming,
                 .arena = arena,
                 .values = values,
                 .relation = info,
                 .unknown = why_slots_all(info->slot_count) & ~mask};
  return fill_in(&at, info->say);
}

const char* why_say_miss(const why_overlay* overlay, const why_miss* miss, const why_naming* naming,
                         why_arena* arena) {
  static const char* const WORDS[] = {"is not",       "is",           "is not below",
                                      "is not above", "is more than", "is less than"};
  if (miss->kind != WHY_MISS_COMPARE)
    return "";
  const why_condition* condition = miss->inner;
  sentence at = {.overlay = overlay,
                 .naming = naming,
                 .arena = arena,
                 .rule = miss->whole,
                 .values = miss->variables};
  return why_arena_print(arena, "%s %s %s", side_text(&at, condition->left, condition->row->left),
                         WORDS[condition->comparison],
                         side_text(&at, condition->right, condition->row->right));
}
