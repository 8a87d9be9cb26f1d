// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of rules/restrictions.xml, and which exercises have what a caution speaks of. The tests are
// those that the schema describes; how cautions act is decided by rules/reasoning/restrictions.xml.
#include "reason.h"

#include <string.h>

/// An exercise under test in one of its postures.
typedef struct {
  const why_giver* giver;
  const why_exercise* exercise;
  const why_position* position;
} trial;

static bool holds(const why_symbol_list* list, why_symbol symbol) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i] == symbol)
      return true;
  return false;
}

static bool is_text(const trial* at, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(at->giver->symbols, symbol), text) == 0;
}

static bool touches_at(const why_exercise* exercise, why_symbol point, bool pull) {
  for (size_t i = 0; i < exercise->contacts.count; i++)
    if (exercise->contacts.at[i].point == point && (!pull || exercise->contacts.at[i].pull))
      return true;
  return false;
}

/// A closed chain: the feet carry the body or push against a plate.
static bool is_closed(const trial* at) {
  const why_exercise* exercise = at->exercise;
  for (size_t i = 0; i < exercise->contacts.count; i++)
    if (is_text(at, exercise->contacts.at[i].point, "heel") ||
        is_text(at, exercise->contacts.at[i].point, "ball"))
      return true;
  return false;
}

static bool is_loaded(const trial* at, why_symbol loaded) {
  if (!loaded)
    return true;
  if (is_text(at, loaded, "closed-chain"))
    return is_closed(at);
  if (is_text(at, loaded, "open-chain"))
    return !is_closed(at);
  return at->exercise->resistances.count > 0;
}

static bool reaches(const trial* at, const why_caution_test* test) {
  double working = why_position_angle(at->position, test->subject, false);
  double other = why_position_angle(at->position, test->subject, true);
  bool inside = (working >= test->low && working <= test->high) ||
                (other >= test->low && other <= test->high);
  return inside && is_loaded(at, test->loaded);
}

static bool uses_item(const trial* at, why_symbol item) {
  for (size_t i = 0; i < at->exercise->needs.count; i++)
    if (holds(&at->exercise->needs.at[i].items, item))
      return true;
  return false;
}

static bool uses_kind(const trial* at, why_symbol kind) {
  const why_equipment* equipment = &at->giver->tables->equipment;
  for (size_t i = 0; i < equipment->items.count; i++)
    if (equipment->items.at[i].kind == kind && uses_item(at, equipment->items.at[i].id))
      return true;
  return false;
}

static bool is_resisted_at(const why_exercise* exercise, why_symbol point) {
  for (size_t i = 0; i < exercise->resistances.count; i++)
    if (exercise->resistances.at[i].at == point)
      return true;
  return false;
}

/// The trunk leans forward beyond the level line.
static bool head_is_low(const trial* at) {
  why_symbol flexion = why_symbols_find(at->giver->symbols, "trunk-flexion");
  return at->position->pelvis_pitch_deg + why_position_angle(at->position, flexion, false) > 90;
}

/// While no moment is computed, a named action counts as demanded when it is among the moves; "any"
/// action above a share of capacity cannot be told.
static bool demands(const trial* at, why_symbol action) {
  return holds(&at->exercise->moves, action);
}

static bool passes(const trial* at, const why_caution_test* test) {
  switch (test->kind) {
  case WHY_TEST_ALWAYS:
    return true;
  case WHY_TEST_REACHES:
    return reaches(at, test);
  case WHY_TEST_DEMANDS:
    return demands(at, test->subject);
  case WHY_TEST_TAG:
    return holds(&at->exercise->restricted, test->subject);
  case WHY_TEST_ITEM:
    return uses_item(at, test->subject);
  case WHY_TEST_KIND:
    return uses_kind(at, test->subject);
  case WHY_TEST_CONTACT:
    return touches_at(at->exercise, test->subject, test->pull);
  case WHY_TEST_HELD:
    return is_resisted_at(at->exercise, test->subject);
  case WHY_TEST_HEAD_BELOW_HIPS:
    return head_is_low(at);
  case WHY_TEST_PATTERN:
    return at->exercise->pattern == test->subject;
  case WHY_TEST_SIDES:
    return is_text(at, test->subject, at->exercise->unilateral ? "unilateral" : "bilateral");
  case WHY_TEST_PLACE:
    return false; // A place is part of the question, not of the exercise.
  }
  return false;
}

static bool is_position(const trial* at, why_symbol position, int number) {
  static const char* const NAMES[] = {"stretched", "middle", "shortened"};
  return !position || is_text(at, position, NAMES[number]);
}

/// Whether all tests of one way hold together in one posture.
static bool way_fits(const why_giver* giver, const why_caution* caution, unsigned way,
                     const why_exercise* exercise) {
  for (int i = 0; i < WHY_POSITIONS; i++) {
    trial at = {.giver = giver, .exercise = exercise, .position = &exercise->positions[i]};
    bool all = true;
    for (size_t j = 0; all && j < caution->tests.count; j++) {
      const why_caution_test* test = &caution->tests.at[j];
      if (test->way == way)
        all = is_position(&at, test->position, i) && passes(&at, test);
    }
    if (all)
      return true;
  }
  return false;
}

static bool fits(const why_giver* giver, const why_caution* caution, const why_exercise* exercise) {
  unsigned last = 0;
  for (size_t i = 0; i < caution->tests.count; i++)
    if (caution->tests.at[i].way > last)
      last = caution->tests.at[i].way;
  for (unsigned way = 1; way <= last; way++)
    if (way_fits(giver, caution, way, exercise))
      return true;
  return false;
}

static bool is_general(const why_caution* caution) {
  return caution->tests.count == 1 && caution->tests.at[0].kind == WHY_TEST_ALWAYS;
}

/// The easier forms that a caution names, in one row.
static void give_gentler(why_giver* giver, const why_caution* caution) {
  if (!caution->regressions.count)
    return;
  why_buffer forms = {.arena = giver->arena};
  for (size_t i = 0; i < caution->regressions.count; i++)
    why_buffer_print(&forms, "%s%s", i ? "; " : "", caution->regressions.at[i]);
  WHY_GIVE(giver, "gentler", caution->place, WHY_SYM(caution->id),
           WHY_TEXT(why_buffer_text(&forms)));
}

static void give_caution(why_giver* giver, const why_caution* caution) {
  const char* condition =
      caution->condition ? why_symbols_text(giver->symbols, caution->condition) : "any";
  WHY_GIVE(giver, "caution", caution->place, WHY_SYM(caution->id), WHY_TEXT(condition),
           WHY_TEXT(why_effect_name(caution->effect)), WHY_TEXT(caution->say));
  for (size_t i = 0; i < caution->tests.count; i++)
    if (caution->tests.at[i].kind == WHY_TEST_ITEM)
      WHY_GIVE(giver, "caution-item", caution->tests.at[i].place, WHY_SYM(caution->id),
               WHY_SYM(caution->tests.at[i].subject));
  give_gentler(giver, caution);
  // One that fits every exercise is said only to those whom its condition concerns.
  if (is_general(caution) && !caution->condition)
    return;
  for (size_t i = 0; i < giver->tables->exercises.rows.count; i++) {
    const why_exercise* exercise = &giver->tables->exercises.rows.at[i];
    if (fits(giver, caution, exercise))
      WHY_GIVE(giver, "caution-fits", caution->place, WHY_SYM(caution->id), WHY_SYM(exercise->id));
  }
}

void why_given_restrictions(why_giver* giver) {
  const why_restrictions* table = &giver->tables->restrictions;
  for (size_t i = 0; i < table->restrictions.count; i++) {
    const why_restriction* each = &table->restrictions.at[i];
    for (size_t j = 0; j < each->implies.count; j++)
      WHY_GIVE(giver, "implies", each->place, WHY_SYM(each->id), WHY_SYM(each->implies.at[j]));
  }
  for (size_t i = 0; i < table->cautions.count; i++)
    give_caution(giver, &table->cautions.at[i]);
}
