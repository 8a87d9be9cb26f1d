// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of the paths and figures of heads: that a polynomial is about the joints it crosses, holds
// somewhere, and belongs to the force and lengths that stand beside it.
#include "check_rows.h"

#include <math.h>

static bool lists(why_symbol_list list, why_symbol id) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == id)
      return true;
  return false;
}

/// The parts of the pair stand for plane and elevation.
static bool is_part(const why_shoulder* shoulder, why_symbol id) {
  return id && (id == shoulder->cosine_part || id == shoulder->sine_part);
}

static bool crosses(const why_shoulder* shoulder, const why_head* head, why_symbol coordinate) {
  if (is_part(shoulder, coordinate))
    return lists(head->crosses, shoulder->elevation) && lists(head->crosses, shoulder->plane);
  return lists(head->crosses, coordinate);
}

static void check_path_coordinate(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    for (unsigned j = 0; j < head->path.coordinate_count; j++)
      if (!crosses(&anatomy->shoulder, head, head->path.coordinates[j]))
        why_inspection_report(inspection, head->path.place,
                              "the path of \"%s\" has terms in \"%s\", which it does not cross",
                              why_inspection_text(inspection, head->id),
                              why_inspection_text(inspection, head->path.coordinates[j]));
  }
}

static const why_span* range_of(const why_path* path, why_symbol coordinate) {
  for (size_t i = 0; i < path->ranges.count; i++)
    if (path->ranges.at[i].coordinate == coordinate)
      return &path->ranges.at[i];
  return NULL;
}

static void check_path_range(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    for (size_t j = 0; j < head->crosses.count; j++) {
      const why_span* range = range_of(&head->path, head->crosses.at[j]);
      if (!range || !(range->least_deg < range->most_deg))
        why_inspection_report(inspection, head->path.place,
                              "the path of \"%s\" has no range of \"%s\" in which it holds",
                              why_inspection_text(inspection, head->id),
                              why_inspection_text(inspection, head->crosses.at[j]));
    }
  }
}

static void check_path_method(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_path* path = &anatomy->heads.at[i].path;
    bool known = false;
    for (size_t j = 0; j < anatomy->methods.count; j++)
      known = known || anatomy->methods.at[j].id == path->method;
    if (!known)
      why_inspection_report(inspection, path->place, "\"%s\" is no method of rules/anatomy",
                            why_inspection_text(inspection, path->method));
  }
}

/// Length at zero angles: the sum of the terms without coordinates.
static double length_at_zero(const why_path* path) {
  double length = 0;
  for (size_t i = 0; i < path->terms.count; i++) {
    unsigned exponents = 0;
    for (unsigned j = 0; j < path->coordinate_count; j++)
      exponents += path->terms.at[i].exponents[j];
    if (!exponents)
      length += path->terms.at[i].coefficient;
  }
  return length;
}

/// In upright standing a head is longer than its slack tendon and no longer than twice its optimal
/// fibres beyond that; else path and lengths are not of one model.
static void check_path_length(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    double fibre = (length_at_zero(&head->path) * 100 - head->slack_length_cm.value) /
                   head->fibre_length_cm.value;
    if (!(fibre > 0.2 && fibre < 2))
      why_inspection_report(
          inspection, head->path.place,
          "in standing the fibres of \"%s\" would have %.2f of their optimal length",
          why_inspection_text(inspection, head->id), fibre);
  }
}

/// Force belongs to cross-section times the stress that the file states.
static void check_head_force(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    double expected = head->cross_section_cm2.value * head->stress_n_per_cm2;
    double found = head->force_n.value;
    if (isfinite(expected) && fabs(found - expected) > 0.1 * expected)
      why_inspection_report(inspection, head->force_n.place,
                            "force %g N, but cross-section times stress is %.0f N", found,
                            expected);
  }
}

static void check_head_figure(const why_inspection* inspection) {
  const why_anatomy* anatomy = &inspection->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* head = &anatomy->heads.at[i];
    const struct {
      const why_figure* figure;
      double least;
      double most;
    } ROWS[] = {
        {&head->volume_cm3, 1, 2000},          {&head->cross_section_cm2, 0.1, 200},
        {&head->force_n, 10, 10000},           {&head->fibre_length_cm, 1, 60},
        {&head->slack_length_cm, 0.1, 60},     {&head->pennation_deg, 0, 45},
        {&head->fast_fibre_share, 0.01, 0.99},
    };
    for (size_t j = 0; j < sizeof ROWS / sizeof *ROWS; j++)
      if (ROWS[j].figure->value < ROWS[j].least || ROWS[j].figure->value > ROWS[j].most)
        why_inspection_report(inspection, ROWS[j].figure->place,
                              "%g is not between %g and %g, as in a person", ROWS[j].figure->value,
                              ROWS[j].least, ROWS[j].most);
  }
}

why_check_rows why_path_checks = {
    {"path-coordinate", WHY_ERROR, check_path_coordinate, "head-crosses",
     "a path with terms in a coordinate that the head does not cross"},
    {"path-range", WHY_ERROR, check_path_range, "head-crosses",
     "a path without a range for a coordinate that it crosses"},
    {"path-method", WHY_ERROR, check_path_method, "files", "a path made by an unknown method"},
    {"path-length", WHY_ERROR, check_path_length, NULL,
     "a path whose length does not go with fibre and tendon"},
    {"head-force", WHY_WARNING, check_head_force, NULL,
     "a force that is not cross-section times stress within a tenth"},
    {"head-figure", WHY_ERROR, check_head_figure, NULL, "a figure that no person has"},
    {0},
};
