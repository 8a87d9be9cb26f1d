// SPDX-License-Identifier: GPL-3.0-or-later
// From postures to what could make a head grow.
#include "growth_feature.h"

struct why_workbook {
  const why_tables* tables;
  bool plain;
  const why_feature* const* known; ///< By exercise, or NULL.
  why_arena* arena;
  why_sharer* sharer;
  why_feature* features; ///< Room for those of one exercise.
  const why_work** of_exercise;
};

why_status why_workbook_new(const why_tables* tables, bool plain,
                            const why_feature* const* features, why_arena* arena,
                            why_workbook** result) {
  why_workbook* book = WHY_NEW(arena, why_workbook);
  *book = (why_workbook){.tables = tables, .plain = plain, .known = features, .arena = arena};
  book->of_exercise = WHY_NEW_ARRAY(arena, const why_work*, tables->exercises.rows.count + 1);
  book->features = WHY_NEW_ARRAY(arena, why_feature, tables->anatomy.heads.count + 1);
  *result = book;
  const why_body_model* model;
  why_muscles* muscles;
  why_status status = why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &model);
  if (status == WHY_OK)
    status = why_muscles_new(model, arena, &muscles);
  return status == WHY_OK ? why_sharer_new(muscles, arena, &book->sharer) : status;
}

/// Stress counts while the head moves the exercise: the greatest near failure. Its length is the
/// mean over the path, weighted by stress.
static const why_work* work_of(const why_workbook* book, const why_feature* features) {
  size_t count = book->tables->anatomy.heads.count;
  why_work* work = WHY_NEW_ARRAY(book->arena, why_work, count + 1);
  for (size_t h = 0; h < count; h++) {
    const why_feature* f = &features[h];
    if (book->plain)
      work[h] = (why_work){1, 1};
    else
      work[h] = (why_work){f->moves ? f->peak : 0,
                           f->moving > 0 ? f->moving_length / f->moving : f->peak_length};
  }
  return work;
}

static const why_feature* features_of(const why_workbook* book, const why_exercise* exercise) {
  if (!book->plain)
    why_features_find(book->sharer, why_effort_find(book->sharer, exercise), book->features);
  return book->features;
}

const why_work* why_workbook_exercise(why_workbook* book, size_t exercise) {
  const why_work** kept = &book->of_exercise[exercise];
  if (!*kept)
    *kept =
        work_of(book, book->known ? book->known[exercise]
                                  : features_of(book, &book->tables->exercises.rows.at[exercise]));
  return *kept;
}

/// The exercise with its angles kept within the ranges of an arm.
static why_exercise within_ranges(const why_workbook* book, const why_exercise* exercise,
                                  const why_trained* did) {
  why_exercise cut = *exercise;
  for (int p = 0; p < WHY_POSITIONS; p++) {
    why_angles angles = {0};
    for (size_t i = 0; i < exercise->positions[p].working.count; i++)
      *WHY_LIST_ADD(book->arena, angles) = exercise->positions[p].working.at[i];
    for (size_t r = 0; r < did->joint_ranges.count; r++) {
      const why_joint_range* range = &did->joint_ranges.at[r];
      double least = fmin(range->from_deg, range->to_deg);
      double most = fmax(range->from_deg, range->to_deg);
      double deg = why_position_angle(&exercise->positions[p], range->coordinate, false);
      bool found = false;
      for (size_t i = 0; i < angles.count; i++)
        if (angles.at[i].coordinate == range->coordinate) {
          angles.at[i].deg = fmin(most, fmax(least, deg));
          found = true;
        }
      if (!found)
        *WHY_LIST_ADD(book->arena, angles) =
            (why_angle){range->coordinate, fmin(most, fmax(least, deg))};
    }
    cut.positions[p].working = angles;
  }
  return cut;
}

const why_work* why_workbook_trained(why_workbook* book, size_t exercise, const why_trained* did) {
  if (!did->joint_ranges.count)
    return why_workbook_exercise(book, exercise);
  why_exercise cut = within_ranges(book, &book->tables->exercises.rows.at[exercise], did);
  return work_of(book, features_of(book, &cut));
}
