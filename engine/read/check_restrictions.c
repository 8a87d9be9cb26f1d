// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of rules/restrictions.xml that its schema cannot make.
#include "check_rows.h"

#include "spell.h"

#include <math.h>
#include <string.h>

static const why_restrictions* rows_of(const why_inspection* inspection) {
  return &inspection->tables->restrictions;
}

static const char* text_of(const why_inspection* inspection, why_symbol id) {
  return why_symbols_text(inspection->tables->symbols, id);
}

static void check_twice(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->restrictions.count; i++) {
    const why_restriction* row = &all->restrictions.at[i];
    const why_restriction* first = why_restriction_find(all, row->id);
    if (first != row) {
      why_inspection_report(inspection, row->place, "restriction \"%s\" is defined twice",
                            text_of(inspection, row->id));
      why_problems_also(inspection->problems, first->place);
    }
  }
  for (size_t i = 0; i < all->cautions.count; i++)
    for (size_t j = 0; j < i; j++)
      if (all->cautions.at[i].id == all->cautions.at[j].id) {
        why_inspection_report(inspection, all->cautions.at[i].place,
                              "caution \"%s\" is defined twice",
                              text_of(inspection, all->cautions.at[i].id));
        why_problems_also(inspection->problems, all->cautions.at[j].place);
        break;
      }
}

static void report_unknown(const why_inspection* inspection, why_place place, why_meaning kind,
                           why_symbol id) {
  why_inspection_report(inspection, place, "there is no %s \"%s\"", why_meaning_name(kind),
                        text_of(inspection, id));
  why_hint_words(inspection, text_of(inspection, id), kind);
}

static bool is_demand(const why_restrictions* all, why_symbol id) {
  const why_restriction* row = why_restriction_find(all, id);
  return row && row->kind == WHY_RESTRICTION_DEMAND;
}

static void check_unknown(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->restrictions.count; i++) {
    const why_restriction* row = &all->restrictions.at[i];
    for (size_t k = 0; k < row->implies.count; k++)
      if (!why_restriction_find(all, row->implies.at[k]))
        report_unknown(inspection, row->place, WHY_MEANS_RESTRICTION, row->implies.at[k]);
  }
  for (size_t i = 0; i < all->cautions.count; i++) {
    const why_caution* row = &all->cautions.at[i];
    if (row->condition && !why_restriction_find(all, row->condition))
      report_unknown(inspection, row->place, WHY_MEANS_RESTRICTION, row->condition);
  }
}

/// What a test's subject must be, or 0 where any name will do.
static why_meaning subject_kind(const why_caution_test* test, const why_inspection* inspection) {
  switch (test->kind) {
  case WHY_TEST_DEMANDS:
    return strcmp(text_of(inspection, test->subject), "any") == 0 ? 0 : WHY_MEANS_ACTION;
  case WHY_TEST_TAG:
    return WHY_MEANS_RESTRICTION;
  case WHY_TEST_ITEM:
    return WHY_MEANS_ITEM;
  case WHY_TEST_KIND:
    return WHY_MEANS_KIND;
  case WHY_TEST_PATTERN:
    return WHY_MEANS_PATTERN;
  case WHY_TEST_PLACE:
    return WHY_MEANS_PLACE;
  default:
    return (why_meaning)0;
  }
}

/// Whether any exercise is carried or loaded at that point; else the test can never fit.
static bool is_point_used(const why_exercise_table* exercises, const why_caution_test* test) {
  for (size_t i = 0; i < exercises->rows.count; i++) {
    const why_exercise* row = &exercises->rows.at[i];
    for (size_t k = 0; test->kind == WHY_TEST_CONTACT && k < row->contacts.count; k++)
      if (row->contacts.at[k].point == test->subject)
        return true;
    for (size_t k = 0; test->kind == WHY_TEST_HELD && k < row->resistances.count; k++)
      if (row->resistances.at[k].at == test->subject)
        return true;
  }
  return false;
}

static void check_subject(const why_inspection* inspection, const why_caution_test* test) {
  if (test->kind == WHY_TEST_REACHES &&
      !why_coordinate_find(&inspection->tables->anatomy, test->subject))
    why_inspection_report(inspection, test->place, "there is no coordinate \"%s\"",
                          text_of(inspection, test->subject));
  if ((test->kind == WHY_TEST_CONTACT || test->kind == WHY_TEST_HELD) &&
      !is_point_used(&inspection->tables->exercises, test))
    why_inspection_report(inspection, test->place, "no exercise is carried or loaded at \"%s\"",
                          text_of(inspection, test->subject));
  why_meaning kind = subject_kind(test, inspection);
  if (kind && !why_tables_have(inspection->tables, kind, test->subject))
    report_unknown(inspection, test->place, kind, test->subject);
  else if (test->kind == WHY_TEST_TAG && !is_demand(rows_of(inspection), test->subject))
    why_inspection_report(inspection, test->place,
                          "\"%s\" is a restriction of persons, not a demand of exercises",
                          text_of(inspection, test->subject));
}

static void check_tests(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->cautions.count; i++)
    for (size_t k = 0; k < all->cautions.at[i].tests.count; k++)
      check_subject(inspection, &all->cautions.at[i].tests.at[k]);
}

/// Bounds must leave something between them, and shares of capacity lie within 0 to 1.
static void check_bounds(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->cautions.count; i++)
    for (size_t k = 0; k < all->cautions.at[i].tests.count; k++) {
      const why_caution_test* test = &all->cautions.at[i].tests.at[k];
      bool share = test->kind == WHY_TEST_DEMANDS;
      bool outside = share && ((isfinite(test->low) && (test->low < 0 || test->low >= 1)) ||
                               (isfinite(test->high) && (test->high <= 0 || test->high > 1)));
      if (test->low >= test->high || outside)
        why_inspection_report(inspection, test->place, "no %s lies between %g and %g",
                              share ? "share of capacity" : "angle", test->low, test->high);
    }
}

/// Follow `implies` from one restriction; true when it comes back to it.
static bool comes_back(const why_restrictions* all, why_symbol from, why_symbol to, size_t steps) {
  const why_restriction* row = why_restriction_find(all, from);
  for (size_t i = 0; row && steps && i < row->implies.count; i++)
    if (row->implies.at[i] == to || comes_back(all, row->implies.at[i], to, steps - 1))
      return true;
  return false;
}

enum { IMPLIES_LIMIT = 8 }; ///< Longest chain of restrictions that is followed.

static void check_cycle(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->restrictions.count; i++) {
    const why_restriction* row = &all->restrictions.at[i];
    if (comes_back(all, row->id, row->id, IMPLIES_LIMIT))
      why_inspection_report(inspection, row->place, "restriction \"%s\" implies itself",
                            text_of(inspection, row->id));
  }
}

static bool is_used(const why_restrictions* all, why_symbol id, size_t steps) {
  for (size_t i = 0; i < all->cautions.count; i++)
    if (all->cautions.at[i].condition == id)
      return true;
  const why_restriction* row = why_restriction_find(all, id);
  for (size_t i = 0; row && steps && i < row->implies.count; i++)
    if (is_demand(all, row->implies.at[i]) || is_used(all, row->implies.at[i], steps - 1))
      return true;
  return false;
}

static void check_idle(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->restrictions.count; i++) {
    const why_restriction* row = &all->restrictions.at[i];
    if (row->kind != WHY_RESTRICTION_DEMAND && !*row->unmapped &&
        !is_used(all, row->id, IMPLIES_LIMIT)) {
      why_inspection_report(inspection, row->place, "nothing follows from restriction \"%s\"",
                            text_of(inspection, row->id));
      why_problems_hint(inspection->problems,
                        "add a caution with this condition, or say why not in unmapped=\"...\"");
    }
  }
}

/// What needs a doctor first must stop, and nothing else may.
static void check_danger(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->cautions.count; i++) {
    const why_caution* caution = &all->cautions.at[i];
    const why_restriction* row = why_restriction_find(all, caution->condition);
    bool danger = row && row->kind == WHY_RESTRICTION_DANGER;
    if (caution->effect == WHY_EFFECT_STOP && !danger)
      why_inspection_report(inspection, caution->place,
                            "caution \"%s\" stops, but its condition is no danger",
                            text_of(inspection, caution->id));
    if (caution->effect != WHY_EFFECT_STOP && danger)
      why_inspection_report(inspection, caution->place,
                            "caution \"%s\" lets a person train in spite of a danger",
                            text_of(inspection, caution->id));
  }
}

static void check_source(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->cautions.count; i++) {
    const why_caution* row = &all->cautions.at[i];
    bool practice = strcmp(text_of(inspection, row->basis), "common-practice") == 0;
    if (practice == (row->source != 0))
      why_inspection_report(inspection, row->place,
                            practice ? "caution \"%s\" has a source, but says common-practice"
                                     : "caution \"%s\" names no source for its basis",
                            text_of(inspection, row->id));
  }
}

/// Sentences must not diagnose or promise.
static void check_wording(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->cautions.count; i++) {
    const char* say = why_spell_key(inspection->scratch, all->cautions.at[i].say, false);
    for (size_t k = 0; k < all->never.count; k++)
      if (strstr(say, why_spell_key(inspection->scratch, all->never.at[k], false))) {
        why_inspection_report(inspection, all->cautions.at[i].say_place,
                              "a sentence about a complaint must not say \"%s\"", all->never.at[k]);
        why_problems_hint(inspection->problems,
                          "say what often helps, and who can tell what it is");
      }
  }
}

static void check_left_out(const why_inspection* inspection) {
  const why_restrictions* all = rows_of(inspection);
  for (size_t i = 0; i < all->restrictions.count; i++)
    if (*all->restrictions.at[i].unmapped)
      why_inspection_report(
          inspection, all->restrictions.at[i].place, "nothing follows from restriction \"%s\": %s",
          text_of(inspection, all->restrictions.at[i].id), all->restrictions.at[i].unmapped);
  for (size_t i = 0; i < all->cautions.count; i++)
    for (size_t k = 0; k < all->cautions.at[i].left_out.count; k++) {
      const why_untested* row = &all->cautions.at[i].left_out.at[k];
      why_inspection_report(inspection, row->place, "not tested: %s (%s)", row->what, row->reason);
    }
}

why_check_rows why_restriction_checks = {
    {"restriction-twice", WHY_ERROR, check_twice, "files",
     "a restriction or caution that is defined twice"},
    {"restriction-unknown", WHY_ERROR, check_unknown, "files", "a restriction that does not exist"},
    {"restriction-cycle", WHY_ERROR, check_cycle, "restriction-unknown",
     "a restriction that implies itself"},
    {"restriction-idle", WHY_WARNING, check_idle, "restriction-unknown",
     "a complaint, danger or situation from which nothing follows"},
    {"caution-subject", WHY_ERROR, check_tests, "files",
     "a caution that tests for something that does not exist"},
    {"caution-bounds", WHY_ERROR, check_bounds, NULL, "a caution with bounds that nothing meets"},
    {"caution-danger", WHY_ERROR, check_danger, "restriction-unknown",
     "a danger that does not stop, or a stop without danger"},
    {"caution-source", WHY_ERROR, check_source, NULL,
     "a caution whose basis and source do not go together"},
    {"caution-wording", WHY_ERROR, check_wording, NULL, "a sentence that diagnoses or promises"},
    {"restriction-left-out", WHY_NOTE, check_left_out, NULL,
     "what restrictions and cautions leave out, and why"},
    {0},
};
