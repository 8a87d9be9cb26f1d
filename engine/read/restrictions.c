// SPDX-License-Identifier: GPL-3.0-or-later
// Reads restrictions, and cautions with their tests.
#include "restrictions.h"

#include "readers.h"

#include <math.h>
#include <string.h>

static const char* const KIND_NAMES[] = {"demand", "complaint", "danger", "situation"};
static const char* const EFFECT_NAMES[] = {"stop", "avoid", "caution", "inform", "prefer"};

const char* why_restriction_kind_name(why_restriction_kind kind) {
  return KIND_NAMES[kind];
}

const char* why_effect_name(why_effect effect) {
  return EFFECT_NAMES[effect];
}

/// The schema allows listed names only, so one is found.
static size_t number_of(const char* name, const char* const* names, size_t count) {
  size_t i = 0;
  while (i + 1 < count && strcmp(names[i], name) != 0)
    i++;
  return i;
}

static const struct {
  const char* element;
  const char* subject; ///< The attribute that names the subject.
  why_test_kind kind;
} TESTS[] = {
    {"always", "", WHY_TEST_ALWAYS},         {"reaches", "coordinate", WHY_TEST_REACHES},
    {"demands", "action", WHY_TEST_DEMANDS}, {"tag", "is", WHY_TEST_TAG},
    {"equipment", "is", WHY_TEST_ITEM},      {"contact", "point", WHY_TEST_CONTACT},
    {"held", "at", WHY_TEST_HELD},           {"head-below-hips", "", WHY_TEST_HEAD_BELOW_HIPS},
    {"pattern", "is", WHY_TEST_PATTERN},     {"sides", "are", WHY_TEST_SIDES},
    {"place", "is", WHY_TEST_PLACE},
};

static why_caution_test read_test(why_reader* reader, const xmlNode* element, size_t row) {
  bool degrees = TESTS[row].kind == WHY_TEST_REACHES;
  why_caution_test test = {
      .kind = TESTS[row].kind,
      .subject = why_xml_symbol(reader, element, TESTS[row].subject),
      .low = why_xml_number(reader, element, degrees ? "low-deg" : "above", -INFINITY),
      .high = why_xml_number(reader, element, degrees ? "high-deg" : "below", INFINITY),
      .loaded = why_xml_symbol(reader, element, "loaded"),
      .position = why_xml_symbol(reader, element, "position"),
      .pull = why_xml_flag(element, "pull"),
      .place = why_xml_place(reader, element),
  };
  if (test.kind == WHY_TEST_ITEM && why_xml_has(element, "kind")) {
    test.kind = WHY_TEST_KIND;
    test.subject = why_xml_symbol(reader, element, "kind");
  }
  return test;
}

static bool find_test(const xmlNode* element, size_t* row) {
  for (*row = 0; *row < sizeof TESTS / sizeof *TESTS; ++*row)
    if (why_xml_is(element, TESTS[*row].element))
      return true;
  return false;
}

/// All tests that must hold together. A test that names several places is copied, with the others,
/// into one way for each place, so that later stages see plain rows only.
static void read_way(why_reader* reader, const xmlNode* const* elements, size_t count,
                     unsigned* way, why_caution* caution) {
  why_symbol_list places = {0};
  for (size_t i = 0; i < count; i++)
    if (why_xml_is(elements[i], "place"))
      places = why_xml_symbols(reader, elements[i], "is");
  for (size_t copy = 0; copy < (places.count ? places.count : 1); copy++) {
    ++*way;
    for (size_t i = 0; i < count; i++) {
      size_t row;
      if (!find_test(elements[i], &row))
        continue;
      why_caution_test test = read_test(reader, elements[i], row);
      test.way = *way;
      if (test.kind == WHY_TEST_PLACE)
        test.subject = places.at[copy];
      *WHY_LIST_ADD(reader->arena, caution->tests) = test;
    }
  }
}

static void read_together(why_reader* reader, const xmlNode* element, unsigned* way,
                          why_caution* caution) {
  WHY_LIST(const xmlNode*) elements = {0};
  for (const xmlNode* n = why_xml_first(element, NULL); n; n = why_xml_next(n, NULL))
    *WHY_LIST_ADD(why_arena_scratch(reader->arena), elements) = n;
  read_way(reader, elements.at, elements.count, way, caution);
}

static why_text_list read_texts(why_reader* reader, const xmlNode* element, const char* name) {
  why_text_list list = {0};
  for (const xmlNode* n = why_xml_first(element, name); n; n = why_xml_next(n, name))
    *WHY_LIST_ADD(reader->arena, list) = why_xml_text(reader, n);
  return list;
}

static void read_caution(why_reader* reader, const xmlNode* element, why_caution* caution) {
  *caution = (why_caution){
      .id = why_xml_symbol(reader, element, "id"),
      .area = why_xml_symbol(reader, element, "area"),
      .condition = why_xml_symbol(reader, element, "condition"),
      .effect = (why_effect)number_of(why_xml_string(reader, element, "effect"), EFFECT_NAMES,
                                      sizeof EFFECT_NAMES / sizeof *EFFECT_NAMES),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .say = why_xml_child_text(reader, element, "say"),
      .regressions = read_texts(reader, element, "regression"),
      .note = why_xml_child_text(reader, element, "note"),
      .place = why_xml_place(reader, element),
  };
  unsigned way = 0;
  size_t row;
  for (const xmlNode* n = why_xml_first(element, NULL); n; n = why_xml_next(n, NULL)) {
    if (why_xml_is(n, "together"))
      read_together(reader, n, &way, caution);
    else if (find_test(n, &row))
      read_way(reader, &n, 1, &way, caution);
    else if (why_xml_is(n, "left-out"))
      *WHY_LIST_ADD(reader->arena, caution->left_out) =
          (why_untested){.what = why_xml_text(reader, n),
                         .reason = why_xml_string(reader, n, "reason"),
                         .place = why_xml_place(reader, n)};
    else if (why_xml_is(n, "say"))
      caution->say_place = why_xml_place(reader, n);
  }
}

static why_restriction read_restriction(why_reader* reader, const xmlNode* element) {
  return (why_restriction){
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .kind = (why_restriction_kind)number_of(why_xml_string(reader, element, "kind"), KIND_NAMES,
                                              sizeof KIND_NAMES / sizeof *KIND_NAMES),
      .means = why_xml_child_text(reader, element, "means"),
      .unmapped = why_xml_string(reader, element, "unmapped"),
      .implies = why_xml_symbols(reader, element, "implies"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

void why_restrictions_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_restrictions* all = &tables->restrictions;
  all->thresholds_basis = why_xml_symbol(reader, root, "thresholds-basis");
  all->closing = why_xml_child_text(reader, root, "closing");
  all->referral = why_xml_child_text(reader, root, "referral");
  const xmlNode* wording = why_xml_first(root, "wording");
  all->never = read_texts(reader, wording, "never");
  all->rather = read_texts(reader, wording, "rather");
  for (const xmlNode* n = why_xml_first(root, "restriction"); n; n = why_xml_next(n, "restriction"))
    *WHY_LIST_ADD(reader->arena, all->restrictions) = read_restriction(reader, n);
  for (const xmlNode* n = why_xml_first(root, "caution"); n; n = why_xml_next(n, "caution"))
    read_caution(reader, n, WHY_LIST_ADD(reader->arena, all->cautions));
}

const why_restriction* why_restriction_find(const why_restrictions* restrictions, why_symbol id) {
  for (size_t i = 0; i < restrictions->restrictions.count; i++)
    if (restrictions->restrictions.at[i].id == id)
      return &restrictions->restrictions.at[i];
  return NULL;
}
