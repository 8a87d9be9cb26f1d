// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of evidence/measurements, and of every mention of a source in rules and measurements.
#include "check_rows.h"

#include <math.h>
#include <string.h>

/// Report the later of two rows, whichever file was read first.
static void check_pair(const why_inspection* inspection, const char* what, why_place place,
                       why_place other) {
  bool later = why_place_compare(&other, &place) < 0;
  why_inspection_report(inspection, later ? place : other, "%s stands here a second time", what);
  why_problems_also(inspection->problems, later ? other : place);
}

static void check_source_twice(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->sources.count; i++)
    for (size_t j = 0; j < i; j++) {
      const why_source* row = &table->sources.at[i];
      const why_source* other = &table->sources.at[j];
      if (row->id == other->id)
        check_pair(inspection, why_inspection_text(inspection, row->id), row->place, other->place);
      else if (*row->doi && strcmp(row->doi, other->doi) == 0)
        check_pair(inspection, row->doi, row->place, other->place);
    }
}

static void check_measurement_twice(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->measurements.count; i++)
    for (size_t j = 0; j < i; j++)
      if (table->measurements.at[i].id == table->measurements.at[j].id)
        check_pair(inspection, why_inspection_text(inspection, table->measurements.at[i].id),
                   table->measurements.at[i].place, table->measurements.at[j].place);
  for (size_t i = 0; i < table->quantities.count; i++)
    for (size_t j = 0; j < i; j++)
      if (table->quantities.at[i].id == table->quantities.at[j].id &&
          table->quantities.at[i].of == table->quantities.at[j].of)
        check_pair(inspection, why_inspection_text(inspection, table->quantities.at[i].id),
                   table->quantities.at[i].place, table->quantities.at[j].place);
}

/// Figures and cautions name a source of evidence/measurements/sources.xml.
static void check_source(const why_inspection* inspection, why_symbol source, why_place place) {
  if (!source || why_source_find(&inspection->tables->measurements, source))
    return;
  why_inspection_report(inspection, place, "\"%s\" is no source of evidence/measurements",
                        why_inspection_text(inspection, source));
}

static void check_figure_source(const why_inspection* inspection, const why_figure* figure) {
  check_source(inspection, figure->source, figure->place);
}

static void check_sources(const why_inspection* inspection) {
  const why_tables* tables = inspection->tables;
  for (size_t i = 0; i < tables->measurements.mentions.count; i++)
    check_source(inspection, tables->measurements.mentions.at[i].source,
                 tables->measurements.mentions.at[i].place);
  for (size_t i = 0; i < tables->anatomy.heads.count; i++) {
    const why_head* head = &tables->anatomy.heads.at[i];
    check_figure_source(inspection, &head->volume_cm3);
    check_figure_source(inspection, &head->cross_section_cm2);
    check_figure_source(inspection, &head->force_n);
    check_figure_source(inspection, &head->fibre_length_cm);
    check_figure_source(inspection, &head->slack_length_cm);
    check_figure_source(inspection, &head->pennation_deg);
    check_figure_source(inspection, &head->fast_fibre_share);
    check_source(inspection, head->path.source, head->path.place);
  }
  for (size_t i = 0; i < tables->restrictions.cautions.count; i++)
    check_source(inspection, tables->restrictions.cautions.at[i].source,
                 tables->restrictions.cautions.at[i].place);
}

/// Nobody measured what rests on common practice, so it cannot be "read" or "remembered".
static void check_basis(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->mentions.count; i++) {
    const why_mention* row = &table->mentions.at[i];
    bool practice = strcmp(why_inspection_text(inspection, row->source), "common-practice") == 0;
    bool said = strcmp(why_inspection_text(inspection, row->basis), "common-practice") == 0;
    if (practice && !said)
      why_inspection_report(inspection, row->place, "its source is common-practice, its basis %s",
                            why_inspection_text(inspection, row->basis));
  }
}

static void check_one_amount(const why_inspection* inspection, const why_amount* amount,
                             why_place place) {
  if (isnan(amount->value) && isnan(amount->low))
    why_inspection_report(inspection, place, "there is neither a value nor bounds");
  else if (amount->low > amount->high || amount->value < amount->low ||
           amount->value > amount->high)
    why_inspection_report(inspection, place, "value and bounds are out of order");
}

static void check_amount(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->quantities.count; i++)
    check_one_amount(inspection, &table->quantities.at[i].amount, table->quantities.at[i].place);
  for (size_t i = 0; i < table->measurements.count; i++) {
    const why_measurement* row = &table->measurements.at[i];
    for (size_t j = 0; j < row->figures.count; j++)
      check_one_amount(inspection, &row->figures.at[j].amount, row->figures.at[j].place);
  }
}

static void check_relation(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->relations.count; i++) {
    const why_load_relation* row = &table->relations.at[i];
    if (row->factor.value < row->factor.low || row->factor.value > row->factor.high)
      why_inspection_report(inspection, row->place, "factor %g is not between %g and %g",
                            row->factor.value, row->factor.low, row->factor.high);
  }
}

static void check_between(const why_inspection* inspection) {
  const why_tables* tables = inspection->tables;
  for (size_t i = 0; i < tables->measurements.relations.count; i++) {
    const why_load_relation* row = &tables->measurements.relations.at[i];
    for (size_t k = 0; k < row->pairs.count; k++) {
      const why_load_pair* pair = &row->pairs.at[k];
      const why_symbol ends[] = {pair->from, pair->to};
      for (int j = 0; j < 2; j++) {
        const char* typed = why_inspection_text(inspection, ends[j]);
        if (why_exercise_find(&tables->exercises, ends[j]))
          continue;
        why_inspection_report(inspection, pair->place, "there is no exercise \"%s\"", typed);
        why_hint_words(inspection, typed, WHY_MEANS_EXERCISE);
      }
    }
  }
}

static void check_body_mass(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  double sum = 0;
  const why_segment* last = NULL;
  for (size_t i = 0; i < table->segments.count; i++) {
    const why_segment* row = &table->segments.at[i];
    sum += row->body_share * (row->paired ? 2 : 1);
    if (!last || why_place_compare(&last->place, &row->place) < 0)
      last = row;
  }
  if (last && fabs(sum - 1) > 0.001)
    why_inspection_report(inspection, last->place,
                          "the segments add up to %.4f of body mass, not 1", sum);
}

static void check_segment_named(const why_inspection* inspection, why_symbol segment,
                                why_place place) {
  if (!why_segment_find(&inspection->tables->measurements, segment))
    why_inspection_report(inspection, place, "\"%s\" is no segment",
                          why_inspection_text(inspection, segment));
}

static void check_segment(const why_inspection* inspection) {
  const why_measurement_table* table = &inspection->tables->measurements;
  for (size_t i = 0; i < table->joints.count; i++) {
    check_segment_named(inspection, table->joints.at[i].proximal, table->joints.at[i].place);
    check_segment_named(inspection, table->joints.at[i].distal, table->joints.at[i].place);
  }
  for (size_t i = 0; i < table->contacts.count; i++)
    check_segment_named(inspection, table->contacts.at[i].segment, table->contacts.at[i].place);
  for (size_t i = 0; i < table->loads.count; i++)
    check_segment_named(inspection, table->loads.at[i].segment, table->loads.at[i].place);
}

why_check_rows why_measurement_checks = {
    {"source-twice", WHY_ERROR, check_source_twice, "files",
     "a source that stands twice, by id or DOI"},
    {"measurement-twice", WHY_ERROR, check_measurement_twice, "files",
     "a measurement or quantity that stands twice"},
    {"source-unknown", WHY_ERROR, check_sources, "files",
     "a figure or caution that names a source which does not exist"},
    {"practice-basis", WHY_ERROR, check_basis, NULL,
     "a figure from common practice that says it was read or remembered"},
    {"amount", WHY_ERROR, check_amount, NULL,
     "a figure without a value, or with bounds on the wrong side of it"},
    {"relation-factor", WHY_ERROR, check_relation, NULL,
     "a factor between loads that lies outside its own bounds"},
    {"relation-exercise", WHY_ERROR, check_between, "files",
     "a relation between the loads of exercises that do not exist"},
    {"body-mass", WHY_ERROR, check_body_mass, "files",
     "segments that do not add up to the whole body"},
    {"segment-unknown", WHY_ERROR, check_segment, "files",
     "a joint or point at a segment that does not exist"},
    {0},
};
