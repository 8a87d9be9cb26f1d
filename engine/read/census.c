// SPDX-License-Identifier: GPL-3.0-or-later
// Walks a document once more. A number is an attribute whose whole value is a number; its basis is
// that of the nearest element around it that states one.
#include "readers.h"

#include <string.h>

typedef struct {
  why_reader* reader;
  why_census* census;
  size_t numbers; ///< Found on the element at hand.
} count;

static void count_attribute(void* user, const char* name, const char* value) {
  count* at = user;
  double number = 0;
  bool is_year = strcmp(name, "year") == 0;
  if (!is_year && why_parse_number(value, &number))
    at->numbers++;
}

static void add_numbers(count* at, why_symbol basis, size_t numbers) {
  if (!numbers)
    return;
  for (size_t i = 0; i < at->census->bases.count; i++) {
    if (at->census->bases.at[i].basis == basis) {
      at->census->bases.at[i].numbers += numbers;
      return;
    }
  }
  *WHY_LIST_ADD(at->reader->arena, at->census->bases) =
      (why_census_basis){.basis = basis, .numbers = numbers};
}

static void add_left_out(count* at, const xmlNode* element, const char* why) {
  *WHY_LIST_ADD(at->reader->arena, at->census->left_out) =
      (why_census_left_out){.kind = why_symbols_add(at->reader->symbols, why_xml_name(element)),
                            .why = why,
                            .place = why_xml_place(at->reader, element)};
}

static void look_for_gaps(count* at, const xmlNode* element) {
  if (why_xml_has(element, "unmapped"))
    add_left_out(at, element, why_xml_string(at->reader, element, "unmapped"));
  if (!why_xml_is(element, "left-out"))
    return;
  const char* reason = why_xml_string(at->reader, element, "reason");
  add_left_out(at, element->parent, *reason ? reason : why_xml_text(at->reader, element));
}

static void visit(count* at, const xmlNode* element, why_symbol basis) {
  why_symbol_list own = why_xml_symbols(at->reader, element, "basis");
  if (own.count)
    basis = own.at[own.count - 1]; // Several bases: the last is the weakest.
  at->numbers = 0;
  why_xml_each_attribute(element, count_attribute, at);
  add_numbers(at, basis, at->numbers);
  look_for_gaps(at, element);
  for (const xmlNode* n = why_xml_first(element, NULL); n; n = why_xml_next(n, NULL))
    visit(at, n, basis);
}

void why_census_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  count at = {.reader = reader, .census = &tables->census};
  visit(&at, root, 0);
}
