// SPDX-License-Identifier: GPL-3.0-or-later
#include "rows.h"

why_rows why_rows_find(const why_program* program, why_overlay* overlay, const char* name) {
  why_rows found = {
      .program = program, .overlay = overlay, .relation = why_program_find(program, name)};
  if (found.relation != WHY_NO_RELATION)
    found.facts = why_facts_find(overlay, found.relation, 0, NULL);
  return found;
}

why_rows why_rows_about(const why_program* program, why_overlay* overlay, const char* name,
                        const char* slot, why_symbol symbol) {
  why_rows found = {
      .program = program, .overlay = overlay, .relation = why_program_find(program, name)};
  int at = found.relation == WHY_NO_RELATION ? -1 : why_program_slot(program, found.relation, slot);
  if (at < 0)
    return found;
  why_value values[WHY_SLOTS_LIMIT] = {0};
  values[at] = why_value_of_symbol(symbol);
  found.facts = why_facts_find(overlay, found.relation, 1u << at, values);
  return found;
}

why_symbol why_rows_symbol(const why_rows* rows, size_t index, const char* slot) {
  int at = why_program_slot(rows->program, rows->relation, slot);
  return at < 0 ? 0 : why_fact_symbol(rows->overlay, rows->facts.at[index], at);
}

double why_rows_number(const why_rows* rows, size_t index, const char* slot) {
  int at = why_program_slot(rows->program, rows->relation, slot);
  return at < 0 ? 0 : why_fact_number(rows->overlay, rows->facts.at[index], at);
}

double why_rows_setting(const why_program* program, why_overlay* overlay,
                        const why_symbols* symbols, const char* name, double otherwise) {
  why_rows found =
      why_rows_about(program, overlay, "setting", "name", why_symbols_find(symbols, name));
  return found.facts.count ? why_rows_number(&found, 0, "value") : otherwise;
}
