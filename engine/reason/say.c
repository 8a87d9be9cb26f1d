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
    return true;
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
    say = close + 1;
  }
  why_buffer_add(&text, say);
  return why_buffer_text(&text);
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
